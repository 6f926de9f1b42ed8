/* The deck from above with every space: hatched while something keeps it open, plain when it may be closed, filled when its cover is
 * on. Each bears a letter; the list below says what keeps it open. */
#include "draw/deck_plan.h"
#include "draw/axes.h"

#include <math.h>

#define TOP 30.0
#define MARGIN 26.0
#define MOST_REASONS 6 /* a space; the rest are counted */

typedef struct {
    Canvas canvas;
    const ClosingUpPicture *fig;
    DeckOutline deck;
    Frame frame;
    double half_beam_m;
} Sheet;

/* "A" ... "Z", "A2" ...; of the spaces in their order. */
static void
tag_of(size_t i, char tag[8])
{
    if (i < 26)
        g_snprintf(tag, 8, "%c", (char) ('A' + i));
    else
        g_snprintf(tag, 8, "%c%zu", (char) ('A' + i % 26), i / 26 + 1);
}

static const char *
space_class(const OpenSpace *space)
{
    return space->closed ? "room closed" : space->reasons > 0 ? "room open" : "room ready";
}

static bool
has_extent(const OpenSpace *space)
{
    return isfinite(space->block.x_aft_m) && isfinite(space->block.x_fwd_m);
}

static Frame
frame_of(Sheet *s)
{
    Extent e = extent_new();
    deck_take(&e, &s->deck);
    for (size_t i = 0; i < s->fig->spaces; i++)
        extent_take_block(&e, &s->fig->space[i].block);
    s->half_beam_m = isfinite(e.y_high) && e.y_high > e.y_low ? e.y_high : 1.0;
    if (!(e.y_high > e.y_low))
        extent_take(&e, NAN, -1.0, NAN), extent_take(&e, NAN, 1.0, NAN);
    return deck_frame(&s->canvas, &e, TOP, MARGIN);
}

static void
draw_hatch(Sheet *s, double x0, double y0, double x1, double y1)
{
    const double step = 9.0;
    for (double c = x0 + y0 + step; c < x1 + y1; c += step) { /* x + y = c */
        double ax = fmin(x1, c - y0), bx = fmax(x0, c - y1);
        draw_line(&s->canvas, "hatch", ax, c - ax, bx, c - bx);
    }
}

static void
draw_space(Sheet *s, size_t i)
{
    const OpenSpace *space = &s->fig->space[i];
    const Block *b = &space->block;
    double inset = 0.94 * s->half_beam_m;
    double x0 = frame_x(&s->frame, b->x_aft_m), x1 = frame_x(&s->frame, b->x_fwd_m);
    double y0 = frame_y(&s->frame, isfinite(b->y_port_m) ? b->y_port_m : inset);
    double y1 = frame_y(&s->frame, isfinite(b->y_stbd_m) ? b->y_stbd_m : -inset);
    g_autofree char *name = name_plain(b->name);
    char tag[8];
    tag_of(i, tag);
    part_open(&s->canvas, "part", b->path, NULL, name);
    draw_box(&s->canvas, space_class(space), x0, y0, x1 - x0, y1 - y0);
    if (!space->closed && space->reasons > 0)
        draw_hatch(s, x0, y0, x1, y1);
    Box bounds = {x0, y0, x1, y1};
    draw_tag(&s->canvas, space->closed ? "opening-tag" : "tag", (x0 + x1) / 2.0, (y0 + y1) / 2.0,
             tag, &bounds);
    part_close(&s->canvas);
}

static char *
state_words(const OpenSpace *space)
{
    g_autofree char *cover = space->cover_name != NULL ? name_plain(space->cover_name) : NULL;
    if (space->closed)
        return g_strdup("closed");
    if (cover == NULL)
        return g_strdup("nothing covers it");
    if (space->reasons == 0)
        return g_strdup_printf("may be closed; next: %s", cover);
    return g_strdup_printf("stays open; before: %s", cover);
}

static void
list_reasons(Sheet *s, const OpenSpace *space, double *y)
{
    size_t shown = MIN(space->reasons, MOST_REASONS);
    for (size_t i = 0; i < shown; i++) {
        const OpenReason *reason = &space->reason[i];
        g_autofree char *name = name_plain(reason->name);
        g_autofree char *words = g_strdup_printf("%s: %s", name, reason->why);
        part_open(&s->canvas, "part", reason->path, NULL, words);
        key_box(&s->canvas, reason->misses_test ? "tick-box warn" : "tick-box", y, words);
        part_close(&s->canvas);
    }
    if (space->reasons > shown) {
        g_autofree char *words = g_strdup_printf("and %zu more", space->reasons - shown);
        key_line(&s->canvas, "none", y, words);
    }
}

static void
write_list(Sheet *s, double y)
{
    for (size_t i = 0; i < s->fig->spaces; i++) {
        const OpenSpace *space = &s->fig->space[i];
        g_autofree char *name = name_plain(space->block.name), *state = state_words(space);
        g_autofree char *words = g_strdup_printf("%s: %s", name, state);
        char tag[8];
        tag_of(i, tag);
        key_tag(&s->canvas, space->closed ? "opening-tag" : "tag", tag, &y, words);
        list_reasons(s, space, &y);
        y += 4.0;
    }
    if (s->fig->caption != NULL)
        draw_paragraph(&s->canvas, "caption", CANVAS_MARGIN, &y, s->fig->caption);
}

void
draw_closing_up(const ClosingUpPicture *fig, const DrawHow *how, Markup *svg)
{
    Sheet s = {.fig = fig, .deck = {fig->deck_points, fig->deck_x_m, fig->deck_y_m}};
    canvas_begin(&s.canvas, svg, how, "group", "Closing up", fig->caption);
    s.frame = frame_of(&s);
    draw_text_kept(&s.canvas, "view-name", CANVAS_MARGIN, 18.0, ANCHOR_START,
                   "What must not be closed yet, from above");
    deck_draw(&s.canvas, &s.frame, &s.deck);
    for (size_t i = 0; i < fig->spaces; i++)
        if (has_extent(&fig->space[i]))
            draw_space(&s, i);
    double y = s.frame.bottom + MARGIN;
    key_box(&s.canvas, "room open", &y, "stays open");
    key_box(&s.canvas, "room ready", &y, "may be closed, or nothing covers it");
    key_box(&s.canvas, "room closed", &y, "closed");
    y += 6.0;
    s.canvas.height = y;
    write_list(&s, y);
    canvas_end(&s.canvas);
}
