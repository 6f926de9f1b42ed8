/* The plan of the boat with her cables: each runs along her first and then across, as nobody has written down its way. Boards bear
 * letters, devices numbers; the list below has them all with their lengths.
 *
 * A page's picture is as wide as a telephone; a file's has room for two columns of the list, which goes on on further sheets where
 * print on one could not be read. */
#include "base/number.h"
#include "draw/axes.h"
#include "draw/deck_plan.h"

#include <math.h>
#include <string.h>

#define TOP 30.0
#define PLAN_MARGIN 26.0 /* for tags outside the hull */
#define THICK_M2 15e-6
#define ENTRY_GAP 3.0
/* A sheet of A4 that stands upright, with two columns: print of 3.2 mm. */
#define SHEET_BOTTOM 1270.0
enum { ABREAST = 2 };

typedef struct {
    Canvas canvas;
    const CableRoutesPicture *fig;
    Frame frame;
    char (*tag)[8]; /* [ends] */
    unsigned sheet; /* of several, from 1; 0: all on one */
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

/* No longer than a line of the list: what stands behind it must not be pushed out of sight. */
static char *
short_name(const char *name)
{
    g_autofree char *plain = name_plain(name);
    return text_fitted(plain, CANVAS_WIDTH - 100.0);
}

/* "cable 12 from B: 4.5 m, straight 2.9 m"; with the circuit's name where that says more than the end's. */
static char *
route_words(const Plan *p, const CableRoute *route)
{
    g_autofree char *name = short_name(route->name), *end = short_name(p->fig->end[route->to].name);
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

/* ---- the plan ---- */

/* With what its lines mean and what is not drawn; returns where it ends. */
static double
draw_plan(Plan *p)
{
    const CableRoutesPicture *fig = p->fig;
    DeckOutline deck = deck_of(fig);
    deck_draw(&p->canvas, &p->frame, &deck);
    draw_routes(p);
    draw_ends(p);
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
    return y + 8.0;
}

/* ---- the list: boards first, then devices, each from aft forward ---- */

typedef struct {
    double y, bottom;
    double top, next_top; /* where columns begin: on the sheet of the plan, on the others */
    unsigned column, abreast;
    bool sheets; /* there are more when the columns of one are full */
} List;

/* The end with the first cable that leads to it, then a line a further one. char * */
static GPtrArray *
end_lines(const Plan *p, size_t i)
{
    const CableRoutesPicture *fig = p->fig;
    g_autofree char *name = short_name(fig->end[i].name);
    GPtrArray *lines = g_ptr_array_new_with_free_func(g_free);
    for (size_t k = 0; k < fig->routes; k++) {
        if (fig->route[k].to != i)
            continue;
        g_autofree char *words = route_words(p, &fig->route[k]);
        g_ptr_array_add(lines, lines->len == 0 ? g_strdup_printf("%s, %s", name, words)
                                               : g_steal_pointer(&words));
    }
    if (lines->len == 0)
        g_ptr_array_add(lines, g_steal_pointer(&name));
    return lines;
}

static double
entry_height(const GPtrArray *lines)
{
    double height = ENTRY_GAP;
    for (guint i = 0; i < lines->len; i++)
        height += key_step(g_ptr_array_index(lines, i));
    return height;
}

static double
column_top(const List *list)
{
    return list->column < list->abreast ? list->top : list->next_top;
}

static void
make_room(List *list, double height)
{
    bool more = list->sheets || list->column + 1 < list->abreast;
    if (list->y + height <= list->bottom || list->y <= column_top(list) || !more)
        return;
    list->column++;
    list->y = column_top(list);
}

static unsigned
sheet_of(const List *list)
{
    return list->column / list->abreast + 1;
}

static void
draw_entry(Plan *p, size_t i, const GPtrArray *lines, const List *list)
{
    double y = list->y;
    p->canvas.left = list->column % list->abreast * CANVAS_WIDTH;
    key_tag(&p->canvas, p->fig->end[i].feeds ? "opening-tag" : "tag", p->tag[i], &y,
            g_ptr_array_index(lines, 0));
    for (guint k = 1; k < lines->len; k++)
        key_line(&p->canvas, "none", &y, g_ptr_array_index(lines, k));
}

/* What is on another sheet takes its place there. */
static void
list_ends(Plan *p, List *list)
{
    for (int boards = 1; boards >= 0; boards--)
        for (size_t i = 0; i < p->fig->ends; i++) {
            if (p->fig->end[i].feeds != (boards == 1))
                continue;
            g_autoptr(GPtrArray) lines = end_lines(p, i);
            double height = entry_height(lines);
            make_room(list, height);
            if (p->sheet == 0 || p->sheet == sheet_of(list))
                draw_entry(p, i, lines, list);
            list->y += height;
        }
}

static double
list_height(const Plan *p)
{
    double height = 0.0;
    for (size_t i = 0; i < p->fig->ends; i++) {
        g_autoptr(GPtrArray) lines = end_lines(p, i);
        height += entry_height(lines);
    }
    return height;
}

static List
list_below(const Plan *p, double y)
{
    unsigned abreast = p->canvas.how->in_page ? 1 : ABREAST;
    return (List){.y = y,
                  .top = y,
                  .next_top = TOP + 12.0,
                  .abreast = abreast,
                  .sheets = p->sheet > 0,
                  .bottom =
                      p->sheet > 0 ? SHEET_BOTTOM : y + list_height(p) / abreast + LINE_HEIGHT};
}

/* ---- whole, or sheet by sheet ---- */

static void
plan_begin(Plan *p, const CableRoutesPicture *fig, const DrawHow *how, Markup *svg)
{
    *p = (Plan){.fig = fig, .sheet = how->sheet};
    canvas_begin(&p->canvas, svg, how, "group", "Cable routes", fig->caption);
    p->canvas.width = (how->in_page ? 1 : ABREAST) * CANVAS_WIDTH;
    p->frame = frame_of(p);
    name_ends(p);
}

static void
plan_end(Plan *p)
{
    canvas_end(&p->canvas);
    g_free(p->tag);
}

/* How far the plan reaches, and how many sheets it takes with its list; *scale of all on one. */
static double
measure(const CableRoutesPicture *fig, const DrawHow *how, unsigned *sheets, double *scale)
{
    g_autoptr(Markup) unseen = markup_new();
    DrawHow first = *how;
    first.sheet = 1;
    Plan p;
    plan_begin(&p, fig, &first, unseen);
    double below = draw_plan(&p);
    List list = list_below(&p, below);
    list_ends(&p, &list);
    *sheets = sheet_of(&list);
    *scale = best_sheet_scale(p.canvas.width, below + list_height(&p) / ABREAST + LINE_HEIGHT);
    plan_end(&p);
    return below;
}

unsigned
cable_routes_sheets(const CableRoutesPicture *fig, const DrawHow *how)
{
    unsigned sheets;
    double scale;
    measure(fig, how, &sheets, &scale);
    return scale >= LEAST_MM_A_UNIT ? 1 : sheets;
}

static char *
title_of(const Plan *p, unsigned sheets)
{
    return p->sheet == 0 ? g_strdup("From above")
                         : g_strdup_printf("Cable routes, sheet %u of %u", p->sheet, sheets);
}

void
draw_cable_routes(const CableRoutesPicture *fig, const DrawHow *how, Markup *svg)
{
    unsigned sheets;
    double scale, below = measure(fig, how, &sheets, &scale);
    Plan p;
    plan_begin(&p, fig, how, svg);
    g_autofree char *title = title_of(&p, sheets);
    draw_text_kept(&p.canvas, "view-name", CANVAS_MARGIN, 18.0, ANCHOR_START, title);
    if (p.sheet <= 1)
        draw_plan(&p);
    List list = list_below(&p, below);
    list_ends(&p, &list);
    if (p.sheet > 0)
        p.canvas.height = SHEET_BOTTOM;
    plan_end(&p);
}
