/* Profile, plan and midship section to one scale. The boat is drawn level in her own axes; the
 * water line leans. */
#include "draw/arrangement.h"

#include <math.h>

#define ROOM (CANVAS_WIDTH - 2.0 * CANVAS_MARGIN - 8.0) /* across the sheet */
#define TALLEST 230.0 /* of one view: a short tub must still leave room for the lists */
#define NAME 16.0     /* base line of a view's name below the end of what stands above it */
#define ROW 44.0      /* from that base line to the view: a row of tags and their lines */
#define ROW_LESS 20.0 /* without one */
#define BELOW 28.0    /* a row of tags under a view */
#define HIGHER 0.2    /* of the height of hull and houses: what else is drawn above them */

static Extent
whole_extent(const ArrangementPicture *fig)
{
    Extent e = extent_new();
    for (size_t i = 0; i < fig->lines; i++)
        for (size_t k = 0; k < fig->line[i].n; k++) {
            extent_take(&e, fig->line[i].x_m[k], fig->line[i].y_m[k], fig->line[i].z_m[k]);
            extent_take(&e, NAN, -fig->line[i].y_m[k], NAN);
        }
    for (size_t i = 0; i < fig->midship.n; i++) {
        extent_take(&e, NAN, fig->midship.y_m[i], fig->midship.z_m[i]);
        extent_take(&e, NAN, -fig->midship.y_m[i], NAN);
    }
    for (size_t i = 0; i < fig->houses; i++)
        extent_take_block(&e, &fig->house[i]);
    for (size_t i = 0; i < fig->openings; i++)
        extent_take(&e, fig->opening[i].at.x_m, fig->opening[i].at.y_m, fig->opening[i].at.z_m);
    if (isfinite(fig->lie.origin_depth_m)) {
        extent_take(&e, NAN, NAN, water_z(&fig->lie, e.x_low, 0.0));
        extent_take(&e, NAN, NAN, water_z(&fig->lie, e.x_high, 0.0));
    }
    return e;
}

/* Items too, but a mast must not make the hull small: what would is left above the sheet. */
static void
take_items(const ArrangementPicture *fig, Extent *e)
{
    double base = e->z_high, roof = base + HIGHER * range_span(e->z_low, base);
    for (size_t i = 0; i < fig->items; i++)
        extent_take(e, fig->item[i].at.x_m, fig->item[i].at.y_m, fig->item[i].at.z_m);
    double long_m = range_span(e->x_low, e->x_high);
    if (isfinite(base) && range_span(e->z_low, e->z_high) * ROOM / long_m > TALLEST)
        e->z_high = fmin(e->z_high, roof);
}

/* Whether a view may have tags above it; else its name stands close. */
static double
row_above(const ArrangementPicture *fig, SeenFrom seen)
{
    bool any = fig->openings > 0;
    for (size_t i = 0; seen == SEEN_FROM_ABOVE && !any && i < fig->items; i++)
        any = fabs(fig->item[i].at.y_m) > ON_MIDDLE_m;
    return any ? ROW : ROW_LESS;
}

/* One scale for all three views: the width decides, unless a view would grow too tall. */
static void
lay_out(Arrangement *a, const Extent *e)
{
    double long_m = range_span(e->x_low, e->x_high), high_m = range_span(e->z_low, e->z_high);
    double wide_m = range_span(e->y_low, e->y_high);
    a->scale = fmin(ROOM / long_m, fmin(TALLEST / high_m, TALLEST / wide_m));
    double left = CANVAS_MARGIN + 4.0 + (ROOM - a->scale * long_m) / 2;
    a->profile = frame_scaled(a->scale, e->x_low, e->x_high, e->z_low, e->z_high, left,
                              NAME + row_above(a->fig, SEEN_FROM_SIDE));
    a->plan = frame_scaled(a->scale, e->x_low, e->x_high, e->y_low, e->y_high, left,
                           a->profile.bottom + BELOW + NAME + row_above(a->fig, SEEN_FROM_ABOVE));
    a->section = frame_scaled(a->scale, -e->y_high, -e->y_low, e->z_low, e->z_high,
                              CANVAS_MARGIN + 8.0, a->plan.bottom + BELOW + 2.0 * NAME);
    a->mid_x = isfinite(a->fig->midship.x_m) ? a->fig->midship.x_m : (e->x_low + e->x_high) / 2;
}

static void
draw_hull_line(Arrangement *a, const HullLine *line, SeenFrom seen, double side)
{
    static const char *const classes[] = {"deck-edge", "keel", "knuckle"};
    g_autofree double *x = g_new(double, line->n), *y = g_new(double, line->n);
    for (size_t i = 0; i < line->n; i++) {
        const Frame *frame = seen == SEEN_FROM_SIDE ? &a->profile : &a->plan;
        x[i] = frame_x(frame, line->x_m[i]);
        y[i] = frame_y(frame, seen == SEEN_FROM_SIDE ? line->z_m[i] : side * line->y_m[i]);
    }
    draw_path(&a->canvas, classes[line->kind], line->n, x, y, false);
}

/* Ends of the hull: the end sections close it in both views. */
static void
mark_stations(Arrangement *a)
{
    const ArrangementPicture *fig = a->fig;
    for (size_t i = 0; i < fig->sections; i++) {
        const HalfSection *s = &fig->section[i];
        bool end = i == 0 || i + 1 == fig->sections;
        Extent e = extent_new();
        for (size_t k = 0; k < s->n; k++)
            extent_take(&e, s->x_m, s->y_m[k], s->z_m[k]);
        double px = frame_x(&a->profile, s->x_m);
        draw_line(&a->canvas, end ? "deck-edge" : "station", px, frame_y(&a->profile, e.z_low), px,
                  frame_y(&a->profile, e.z_high));
        px = frame_x(&a->plan, s->x_m);
        draw_line(&a->canvas, end ? "deck-edge" : "station", px, frame_y(&a->plan, e.y_high), px,
                  frame_y(&a->plan, -e.y_high));
    }
}

static void
draw_hull(Arrangement *a)
{
    const ArrangementPicture *fig = a->fig;
    for (size_t i = 0; i < fig->lines; i++) {
        draw_hull_line(a, &fig->line[i], SEEN_FROM_SIDE, 1.0);
        if (fig->line[i].kind == HULL_BOTTOM)
            continue;
        draw_hull_line(a, &fig->line[i], SEEN_FROM_ABOVE, 1.0);
        draw_hull_line(a, &fig->line[i], SEEN_FROM_ABOVE, -1.0);
    }
    mark_stations(a);
    const HalfSection *mid = &fig->midship;
    g_autofree double *x = g_new(double, 2 * mid->n), *y = g_new(double, 2 * mid->n);
    for (size_t i = 0; i < mid->n; i++) {
        size_t up = mid->n - 1 - i, down = mid->n + i;
        x[up] = frame_x(&a->section, -mid->y_m[i]);
        x[down] = frame_x(&a->section, mid->y_m[i]);
        y[up] = y[down] = frame_y(&a->section, mid->z_m[i]);
    }
    draw_path(&a->canvas, "deck-edge", 2 * mid->n, x, y, true);
}

static double
bounded(double value, double other)
{
    return isfinite(value) ? value : other;
}

Walls
arrangement_walls(const Arrangement *a, const Block *b)
{
    const Frame *p = &a->profile, *q = &a->plan;
    return (Walls){bounded(b->x_aft_m, p->x_low),  bounded(b->x_fwd_m, p->x_high),
                   bounded(b->y_stbd_m, q->y_low), bounded(b->y_port_m, q->y_high),
                   bounded(b->z_low_m, p->y_low),  bounded(b->z_high_m, p->y_high)};
}

static void
draw_block(Arrangement *a, const char *classes, const Block *b, bool in_section)
{
    const Walls w = arrangement_walls(a, b);
    double length = a->scale * (w.x1 - w.x0), breadth = a->scale * (w.y1 - w.y0);
    double height = a->scale * (w.z1 - w.z0), left = frame_x(&a->profile, w.x0);
    draw_box(&a->canvas, classes, left, frame_y(&a->profile, w.z1), length, height);
    draw_box(&a->canvas, classes, left, frame_y(&a->plan, w.y1), length, breadth);
    if (in_section && w.x0 <= a->mid_x && a->mid_x <= w.x1)
        draw_box(&a->canvas, classes, frame_x(&a->section, -w.y1), frame_y(&a->section, w.z1),
                 breadth, height);
}

/* Spaces are bounded by the hull across and in height, so only their ends are drawn, in plan. */
static void
draw_spaces(Arrangement *a)
{
    const Frame *q = &a->plan;
    for (size_t i = 0; i < a->fig->spaces; i++) {
        const Block *b = &a->fig->space[i];
        part_open(&a->canvas, "part", b->path, "along", b->name);
        double y0 = frame_y(q, bounded(b->y_stbd_m, q->y_low));
        double y1 = frame_y(q, bounded(b->y_port_m, q->y_high));
        double x0 = frame_x(q, b->x_aft_m), x1 = frame_x(q, b->x_fwd_m);
        draw_line(&a->canvas, "space", x0, y0, x0, y1);
        draw_line(&a->canvas, "space", x1, y0, x1, y1);
        part_close(&a->canvas);
    }
}

static void
draw_tank(Arrangement *a, const TankBlock *tank)
{
    const Block *b = &tank->block;
    g_autofree char *fill = show(&a->canvas, tank->fill_frac, Q_FRACTION);
    g_autofree char *label = g_strdup_printf("%s, filled %s", b->name, fill);
    part_open(&a->canvas, "part", b->path, "tank.volume", label);
    if (isfinite(tank->fill_frac)) {
        Block liquid = *b;
        double share = fmin(fmax(tank->fill_frac, 0.0), 1.0);
        liquid.z_high_m = b->z_low_m + share * (b->z_high_m - b->z_low_m);
        draw_block(a, "liquid", &liquid, true);
    }
    draw_block(a, "tank", b, true);
    part_close(&a->canvas);
}

static void
draw_water(Arrangement *a)
{
    const Lie *lie = &a->fig->lie;
    const Frame *p = &a->profile, *s = &a->section;
    if (!isfinite(lie->origin_depth_m))
        return;
    double x0 = CANVAS_MARGIN / 2, x1 = CANVAS_WIDTH - CANVAS_MARGIN / 2;
    double m0 = (x0 - p->x0) / p->xk, m1 = (x1 - p->x0) / p->xk;
    draw_line(&a->canvas, "water", x0, frame_y(p, water_z(lie, m0, 0.0)), x1,
              frame_y(p, water_z(lie, m1, 0.0)));
    double u0 = s->left - 8.0, u1 = s->right + 8.0;
    draw_line(&a->canvas, "water", u0, frame_y(s, water_z(lie, a->mid_x, -(u0 - s->x0) / s->xk)),
              u1, frame_y(s, water_z(lie, a->mid_x, -(u1 - s->x0) / s->xk)));
}

static void
name_views(Arrangement *a)
{
    Canvas *c = &a->canvas;
    draw_text_kept(c, "view-name", CANVAS_MARGIN,
                   a->profile.top - row_above(a->fig, SEEN_FROM_SIDE), ANCHOR_START,
                   "From starboard, bow to the right");
    draw_text_kept(c, "view-name", CANVAS_MARGIN, a->plan.top - row_above(a->fig, SEEN_FROM_ABOVE),
                   ANCHOR_START, "From above, port uppermost");
    g_autofree char *at = show(c, a->mid_x, Q_LENGTH);
    g_autofree char *text = g_strdup_printf("Section %s from the stern, looking forward", at);
    draw_text_kept(c, "view-name", CANVAS_MARGIN, a->section.top - 16.0, ANCHOR_START, text);
}

void
draw_arrangement(const ArrangementPicture *fig, const DrawHow *how, Markup *svg)
{
    Arrangement a = {.fig = fig};
    canvas_begin(&a.canvas, svg, how, "group", "Arrangement", fig->caption);
    Extent extent = whole_extent(fig);
    take_items(fig, &extent);
    lay_out(&a, &extent);
    g_autofree double *mass = g_new(double, fig->items);
    for (size_t i = 0; i < fig->items; i++)
        mass[i] = fig->item[i].mass_kg;
    a.order = heaviest_first(fig->items, mass);
    name_views(&a);
    draw_spaces(&a);
    for (size_t i = 0; i < fig->tanks; i++)
        draw_tank(&a, &fig->tank[i]);
    for (size_t i = 0; i < fig->houses; i++) {
        part_open(&a.canvas, "part", fig->house[i].path, "along", fig->house[i].name);
        draw_block(&a, "house", &fig->house[i], true);
        part_close(&a.canvas);
    }
    draw_hull(&a);
    draw_water(&a);
    arrangement_marks(&a);
    arrangement_lists(&a);
    canvas_end(&a.canvas);
    g_free(a.order);
    g_free(a.marked);
}
