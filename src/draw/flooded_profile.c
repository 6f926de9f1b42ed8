/* One space open to the sea: water line before and after, the water in the space, and what goes under next.
 * Invariant: heights are those of the place itself, heel counted; lines are drawn on the centreline. */
#include "draw/axes.h"
#include "draw/profile.h"

#include <math.h>

enum { OPENINGS_SHOWN = 8, STRIPS = 48 };

typedef struct {
    Canvas canvas;
    const FloodedProfilePicture *fig;
    Frame frame;
    bool floats;
} View;

/* The part of the space inside the hull and below the water; all of it when she is lost. */
static void
shade(View *v)
{
    const FloodedProfilePicture *fig = v->fig;
    const Block *b = &fig->space;
    double x[2 * STRIPS + 2], y[2 * STRIPS + 2];
    size_t wet = 0;
    double step = (b->x_fwd_m - b->x_aft_m) / STRIPS;
    if (!isfinite(step) || fig->hull.n == 0)
        return;
    for (size_t i = 0; i <= STRIPS; i++) {
        double at = b->x_aft_m + step * (double) i;
        double low = profile_at(&fig->hull, fig->hull.bottom_m, at),
               high = profile_at(&fig->hull, fig->hull.deck_m, at);
        low = isfinite(b->z_low_m) ? fmax(low, b->z_low_m) : low;
        high = isfinite(b->z_high_m) ? fmin(high, b->z_high_m) : high;
        if (v->floats)
            high = fmin(high, water_z(&fig->flooded, at, 0.0));
        bool here = isfinite(low) && isfinite(high) && high > low;
        double px = frame_x(&v->frame, at);
        x[i] = x[2 * STRIPS + 1 - i] = here ? px : NAN;
        y[i] = frame_y(&v->frame, low);
        y[2 * STRIPS + 1 - i] = frame_y(&v->frame, high);
        wet += here;
    }
    g_autofree char *name = name_plain(b->name);
    part_open(&v->canvas, "part", b->path, "along", name);
    if (wet > 1) {
        /* Dry strips are left out, not jumped over: the outline stays one piece. */
        size_t n = 0;
        for (size_t i = 0; i < 2 * STRIPS + 2; i++)
            if (isfinite(x[i])) {
                x[n] = x[i];
                y[n++] = y[i];
            }
        draw_path(&v->canvas, "liquid", n, x, y, true);
    }
    const double side[] = {b->x_aft_m, b->x_fwd_m};
    for (int k = 0; k < 2; k++) {
        double px = frame_x(&v->frame, side[k]);
        double low = profile_at(&fig->hull, fig->hull.bottom_m, side[k]),
               high = profile_at(&fig->hull, fig->hull.deck_m, side[k]);
        draw_line(&v->canvas, "space", px, frame_y(&v->frame, low), px, frame_y(&v->frame, high));
    }
    part_close(&v->canvas);
}

static double
height_then(const View *v, const OpeningMark *o)
{
    return v->floats ? above_water(&v->fig->flooded, o->at) : o->above_m;
}

/* The next to go under, then by height; those that close tight last. */
static size_t *
order_of(const View *v)
{
    const FloodedProfilePicture *fig = v->fig;
    g_autofree double *rank = g_new(double, fig->openings);
    for (size_t i = 0; i < fig->openings; i++) {
        const OpeningMark *o = &fig->opening[i];
        double height = height_then(v, o);
        rank[i] = o->worst ? 2e9 : 1e9 - (isfinite(height) ? height : 1e6) - (o->tight ? 1e7 : 0.0);
    }
    return heaviest_first(fig->openings, rank);
}

static void
draw_openings(View *v, const size_t order[])
{
    const FloodedProfilePicture *fig = v->fig;
    Box bounds = profile_bounds(&v->frame, 30.0, 30.0);
    for (size_t k = 0; k < fig->openings; k++) {
        const OpeningMark *o = &fig->opening[order[k]];
        g_autofree char *name = name_plain(o->name);
        part_open(&v->canvas, "part", o->path, "height", name);
        draw_opening(&v->canvas,
                     o->worst   ? "opening worst"
                     : o->tight ? "opening tight"
                                : "opening",
                     frame_x(&v->frame, o->at.x_m), frame_y(&v->frame, o->at.z_m));
        part_close(&v->canvas);
    }
    for (size_t k = 0; k < fig->openings && k < OPENINGS_SHOWN; k++) {
        const OpeningMark *o = &fig->opening[order[k]];
        char tag[2] = {(char) ('A' + k), '\0'};
        draw_tag(&v->canvas, "tag opening-tag", frame_x(&v->frame, o->at.x_m),
                 frame_y(&v->frame, o->at.z_m), tag, &bounds);
    }
}

static bool
marked(const FloodedProfilePicture *fig)
{
    for (size_t i = 0; i < fig->openings; i++)
        if (fig->opening[i].worst)
            return true;
    return false;
}

/* A deck edge is no opening with a mark of its own. */
static void
draw_next(View *v)
{
    const FloodedProfilePicture *fig = v->fig;
    double x = frame_x(&v->frame, fig->next.x_m), y = frame_y(&v->frame, fig->next.z_m);
    if (marked(fig) || fig->next_name == NULL || !isfinite(x) || !isfinite(y))
        return;
    Box bounds = profile_bounds(&v->frame, 30.0, 30.0);
    draw_circle(&v->canvas, "next", x, y, 6.0);
    keep_free(&v->canvas, x - 6, y - 6, x + 6, y + 6);
    draw_label(&v->canvas, "label", x, y - 14.0, "next", &bounds);
}

static void
list_water(View *v, double *y)
{
    const FloodedProfilePicture *fig = v->fig;
    g_autofree char *space = name_plain(fig->space.name);
    if (isfinite(fig->rest.origin_depth_m))
        key_line(&v->canvas, "water before", y, "water line before");
    if (v->floats) {
        g_autofree char *heel = show(&v->canvas, fabs(fig->flooded.heel_rad), Q_ANGLE);
        g_autofree char *trim = show(&v->canvas, fabs(fig->flooded.trim_rad), Q_ANGLE);
        g_autofree char *text =
            g_strdup_printf("and with the space open: heel %s to %s, trim %s by the %s", heel,
                            fig->flooded.heel_rad < 0.0 ? "port" : "starboard", trim,
                            fig->flooded.trim_rad < 0.0 ? "stern" : "bow");
        key_line(&v->canvas, "water", y, text);
    }
    g_autofree char *text =
        v->floats ? g_strdup_printf("open to the sea, full to its level: %s", space)
                  : g_strdup_printf("open to the sea she finds no position to float in: %s", space);
    key_box(&v->canvas, "liquid", y, text);
    if (fig->next_name == NULL || !isfinite(fig->height_m))
        return;
    g_autofree char *next = name_plain(fig->next_name);
    g_autofree char *height = show_spread(&v->canvas, fabs(fig->height_m), fig->spread_m, Q_LENGTH);
    g_autofree char *end = g_strdup_printf("next to go under, %s %s the water: %s", height,
                                           fig->height_m < 0.0 ? "below" : "above", next);
    if (marked(fig))
        key_tag(&v->canvas, "tag opening-tag", "A", y, end);
    else
        key_line(&v->canvas, "next", y, end);
}

static void
list_openings(View *v, const size_t order[], double *y)
{
    const FloodedProfilePicture *fig = v->fig;
    if (fig->openings > 0)
        key_head(&v->canvas, y,
                 v->floats ? "Openings above the water, then and before"
                           : "Openings above the water before");
    for (size_t k = 0; k < fig->openings && k < OPENINGS_SHOWN; k++) {
        const OpeningMark *o = &fig->opening[order[k]];
        char tag[2] = {(char) ('A' + k), '\0'};
        g_autofree char *name = name_plain(o->name);
        g_autofree char *then = show(&v->canvas, height_then(v, o), Q_LENGTH);
        g_autofree char *before = show(&v->canvas, o->above_m, Q_LENGTH);
        g_autofree char *text =
            v->floats
                ? g_strdup_printf("%s (%s): %s%s", then, before, name, o->tight ? ", tight" : "")
                : g_strdup_printf("%s: %s%s", before, name, o->tight ? ", tight" : "");
        key_tag(&v->canvas, "tag opening-tag", tag, y, text);
    }
    if (fig->openings > OPENINGS_SHOWN) {
        g_autofree char *text =
            g_strdup_printf("and %zu that stand higher", fig->openings - OPENINGS_SHOWN);
        key_line(&v->canvas, "none", y, text);
    }
}

void
draw_flooded_profile(const FloodedProfilePicture *fig, const DrawHow *how, Markup *svg)
{
    View v = {.fig = fig, .floats = isfinite(fig->flooded.origin_depth_m)};
    Extent extent = extent_new();
    profile_take(&extent, &fig->hull, &fig->rest);
    profile_take(&extent, &fig->hull, &fig->flooded);
    for (size_t i = 0; i < fig->houses; i++)
        extent_take_block(&extent, &fig->house[i]);
    for (size_t i = 0; i < fig->openings; i++)
        extent_take(&extent, fig->opening[i].at.x_m, NAN, fig->opening[i].at.z_m);
    canvas_begin(&v.canvas, svg, how, "group", "Flooded profile", fig->caption);
    v.frame = profile_frame(&extent, 62.0);
    draw_text_kept(&v.canvas, "view-name", CANVAS_MARGIN, 18.0, ANCHOR_START,
                   "From starboard, bow to the right");
    shade(&v);
    for (size_t i = 0; i < fig->houses; i++)
        profile_house(&v.canvas, &v.frame, &fig->house[i]);
    profile_hull(&v.canvas, &v.frame, &fig->hull);
    profile_water(&v.canvas, &v.frame, "water before", &fig->rest);
    profile_water(&v.canvas, &v.frame, "water", &fig->flooded);
    g_autofree size_t *order = order_of(&v);
    draw_openings(&v, order);
    draw_next(&v);
    double y = v.frame.bottom + 44.0;
    scale_bar(&v.canvas, v.frame.xk, CANVAS_MARGIN, y, 110.0);
    v.canvas.height = y;
    list_water(&v, &y);
    list_openings(&v, order, &y);
    y += 4.0;
    if (fig->caption != NULL)
        draw_paragraph(&v.canvas, "caption", CANVAS_MARGIN, &y, fig->caption);
    canvas_end(&v.canvas);
}
