/* The plan of the boat with her cables: each runs along her first and then across, as nobody has written down its way. Boards bear
 * letters, devices numbers; the list below has them all with their lengths.
 *
 * A page's picture is as wide as a telephone; a file's has room for two columns of the list. */
#include "base/number.h"
#include "draw/axes.h"
#include "draw/deck_plan.h"

#include <math.h>
#include <string.h>

#define TOP 30.0
#define PLAN_MARGIN 26.0 /* for tags outside the hull */
#define THICK_M2 15e-6

typedef struct {
    Canvas canvas;
    const CableRoutesPicture *fig;
    Frame frame;
    char (*tag)[8]; /* [ends] */
} Plan;

static void
name_ends(Plan *p)
{
    const CableRoutesPicture *fig = p->fig;
    size_t letters = 0, numbers = 0;
    p->tag = g_malloc0((fig->ends + 1) * sizeof *p->tag);
    for (size_t i = 0; i < fig->ends; i++) {
        if (!fig->end[i].feeds)
            g_snprintf(p->tag[i], sizeof *p->tag, "%zu", ++numbers);
        else if (letters < 26)
            g_snprintf(p->tag[i], sizeof *p->tag, "%c", (char) ('A' + letters++));
        else
            g_snprintf(p->tag[i], sizeof *p->tag, "Z%zu", ++letters - 26);
    }
}

static DeckOutline
deck_of(const CableRoutesPicture *fig)
{
    return (DeckOutline){fig->deck_points, fig->deck_x_m, fig->deck_y_m};
}

static Frame
frame_of(Plan *p)
{
    const CableRoutesPicture *fig = p->fig;
    DeckOutline deck = deck_of(fig);
    Extent e = extent_new();
    deck_take(&e, &deck);
    for (size_t i = 0; i < fig->ends; i++)
        extent_take(&e, fig->end[i].at.x_m, fig->end[i].at.y_m, NAN);
    return deck_frame(&p->canvas, &e, TOP, PLAN_MARGIN);
}

static double
end_x(const Plan *p, size_t i)
{
    return frame_x(&p->frame, p->fig->end[i].at.x_m);
}

static double
end_y(const Plan *p, size_t i)
{
    return frame_y(&p->frame, p->fig->end[i].at.y_m);
}

/* "cable 12 from B: 4.5 m, straight 2.9 m"; with the circuit's name where that says more than the end's. */
static char *
route_words(const Plan *p, const CableRoute *route)
{
    g_autofree char *name = name_plain(route->name), *end = name_plain(p->fig->end[route->to].name);
    g_autofree char *straight = number_show(route->straight_m, 0.1, Q_LENGTH, p->canvas.how->units);
    g_autofree char *length = isfinite(route->length_m)
                                  ? show_typed(&p->canvas, route->length_m, Q_LENGTH)
                                  : g_strdup("length not known");
    bool same = strstr(end, name) != NULL || strstr(name, end) != NULL;
    g_autofree char *cable =
        route->label != NULL ? g_strdup_printf("cable %s ", route->label) : g_strdup("");
    return g_strdup_printf("%s%s%sfrom %s: %s, straight %s%s", same ? "" : name, same ? "" : ", ",
                           cable, p->tag[route->from], length,
                           isfinite(route->straight_m) ? straight : "not known",
                           route->too_short ? " (too short)" : "");
}

static const char *
route_class(const CableRoute *route)
{
    return route->too_short            ? "route too-short"
           : route->area_m2 > THICK_M2 ? "route thick"
                                       : "route";
}

static void
draw_routes(Plan *p)
{
    for (size_t i = 0; i < p->fig->routes; i++) {
        const CableRoute *route = &p->fig->route[i];
        double x[] = {end_x(p, route->from), end_x(p, route->to), end_x(p, route->to)};
        double y[] = {end_y(p, route->from), end_y(p, route->from), end_y(p, route->to)};
        g_autofree char *words = route_words(p, route);
        part_open(&p->canvas, "part circuit", route->path, "one-way", words);
        draw_path(&p->canvas, route_class(route), 3, x, y, false);
        part_close(&p->canvas);
    }
}

static void
draw_ends(Plan *p)
{
    Box bounds = {2.0, p->frame.top - PLAN_MARGIN, p->canvas.width - 2.0,
                  p->frame.bottom + PLAN_MARGIN};
    for (size_t i = 0; i < p->fig->ends; i++) {
        double x = end_x(p, i), y = end_y(p, i);
        if (p->fig->end[i].feeds)
            draw_box(&p->canvas, "item", x - 4.0, y - 4.0, 8.0, 8.0);
        else
            draw_circle(&p->canvas, "item", x, y, 3.0);
        keep_free(&p->canvas, x - 4.0, y - 4.0, x + 4.0, y + 4.0);
    }
    for (int boards = 1; boards >= 0; boards--)
        for (size_t i = 0; i < p->fig->ends; i++)
            if (p->fig->end[i].feeds == (boards == 1))
                draw_tag(&p->canvas, boards ? "opening-tag" : "tag", end_x(p, i), end_y(p, i),
                         p->tag[i], &bounds);
}

/* Below the plan: boards first, then devices, each from aft forward. */
typedef struct {
    double y, first, lowest; /* of the list */
    double turn;             /* where the first column ends */
} Column;

static void
next_column(Plan *p, Column *list)
{
    list->lowest = fmax(list->lowest, list->y);
    if (list->y < list->turn || p->canvas.left > 0.0 || p->canvas.width <= CANVAS_WIDTH)
        return;
    p->canvas.left = CANVAS_WIDTH;
    list->y = list->first;
}

/* The end, and the first cable that leads to it, in one entry; further ones below. */
static void
list_end(Plan *p, size_t i, Column *list)
{
    const CableRoutesPicture *fig = p->fig;
    g_autofree char *name = name_plain(fig->end[i].name);
    const char *classes = fig->end[i].feeds ? "opening-tag" : "tag";
    bool told = false;
    for (size_t k = 0; k < fig->routes; k++) {
        if (fig->route[k].to != i)
            continue;
        g_autofree char *words = route_words(p, &fig->route[k]);
        g_autofree char *both = g_strdup_printf("%s, %s", name, words);
        if (told)
            key_line(&p->canvas, "none", &list->y, words);
        else
            key_tag(&p->canvas, classes, p->tag[i], &list->y, both);
        told = true;
    }
    if (!told)
        key_tag(&p->canvas, classes, p->tag[i], &list->y, name);
    list->y += 3.0;
    next_column(p, list);
}

static void
list_ends(Plan *p, Column *list)
{
    for (int boards = 1; boards >= 0; boards--)
        for (size_t i = 0; i < p->fig->ends; i++)
            if (p->fig->end[i].feeds == (boards == 1))
                list_end(p, i, list);
}

static double
list_height(const CableRoutesPicture *fig)
{
    return 1.7 * LINE_HEIGHT * (double) fig->ends;
}

static void
draw_list(Plan *p)
{
    const CableRoutesPicture *fig = p->fig;
    double y = p->frame.bottom + PLAN_MARGIN + 8.0;
    key_line(&p->canvas, "route", &y,
             "a cable: drawn along, then across; its true way is not known");
    key_line(&p->canvas, "route thick", &y, "thicker than 15 mm2");
    size_t too_short = 0;
    for (size_t i = 0; i < fig->routes; i++)
        too_short += fig->route[i].too_short;
    if (too_short > 0)
        key_line(&p->canvas, "route too-short", &y,
                 "shorter, as typed, than the straight way: length or place is wrong");
    y += 6.0;
    if (fig->caption != NULL)
        draw_paragraph(&p->canvas, "caption", CANVAS_MARGIN, &y, fig->caption);
    if (fig->unplaced != NULL)
        draw_paragraph(&p->canvas, "caption", CANVAS_MARGIN, &y, fig->unplaced);
    y += 8.0;
    Column list = {y, y, y, y + list_height(fig) / 2.0};
    list_ends(p, &list);
    p->canvas.height = fmax(p->canvas.height, list.lowest);
}

void
draw_cable_routes(const CableRoutesPicture *fig, const DrawHow *how, Markup *svg)
{
    Plan p = {.fig = fig};
    canvas_begin(&p.canvas, svg, how, "group", "Cable routes", fig->caption);
    p.canvas.width = how->in_page ? CANVAS_WIDTH : 2.0 * CANVAS_WIDTH;
    p.frame = frame_of(&p);
    name_ends(&p);
    draw_text_kept(&p.canvas, "view-name", CANVAS_MARGIN, 18.0, ANCHOR_START, "From above");
    DeckOutline deck = deck_of(fig);
    deck_draw(&p.canvas, &p.frame, &deck);
    draw_routes(&p);
    draw_ends(&p);
    draw_list(&p);
    canvas_end(&p.canvas);
    g_free(p.tag);
}
