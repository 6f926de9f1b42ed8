/* The section at the worst opening, drawn as it stands to the water: level water, leaning boat.
 * Looking forward. */
#include "draw/axes.h"
#include "draw/views.h"

#include <math.h>

typedef struct {
    double u, w; /* to the right looking forward (starboard), and above the water */
} Seen;

static Seen
see(const Lie *lie, Spot at)
{
    double across = at.y_m * cos(lie->heel_rad) - at.z_m * sin(lie->heel_rad);
    return (Seen){-across, above_water(lie, at)};
}

typedef struct {
    Canvas *canvas;
    const HeeledSectionPicture *fig;
    const SectionLie *at;
    Frame frame;
    bool flooded;
} Half;

static void
take_seen(Extent *e, Seen s)
{
    extent_take(e, s.u, NAN, s.w);
}

static void
block_corners(const Block *b, double x, Spot corner[4])
{
    double y[] = {b->y_stbd_m, b->y_port_m, b->y_port_m, b->y_stbd_m};
    double z[] = {b->z_low_m, b->z_low_m, b->z_high_m, b->z_high_m};
    for (int i = 0; i < 4; i++)
        corner[i] = (Spot){x, y[i], z[i]};
}

static Extent
extent_of(const HeeledSectionPicture *fig, const SectionLie *at)
{
    Extent e = extent_new();
    double x = fig->section.x_m;
    for (size_t i = 0; i < fig->section.n; i++) {
        take_seen(&e, see(&at->lie, (Spot){x, fig->section.y_m[i], fig->section.z_m[i]}));
        take_seen(&e, see(&at->lie, (Spot){x, -fig->section.y_m[i], fig->section.z_m[i]}));
    }
    for (size_t i = 0; i < fig->houses; i++) {
        Spot corner[4];
        block_corners(&fig->house[i], x, corner);
        for (int k = 0; k < 4; k++)
            take_seen(&e, see(&at->lie, corner[k]));
    }
    for (size_t i = 0; i < fig->openings; i++)
        take_seen(&e, see(&at->lie, fig->opening[i].at));
    take_seen(&e, see(&at->lie, fig->g));
    extent_take(&e, NAN, NAN, 0.0);
    return e;
}

static void
draw_spots(Half *h, const char *classes, size_t n, const Spot spot[])
{
    g_autofree double *x = g_new(double, n), *y = g_new(double, n);
    for (size_t i = 0; i < n; i++) {
        Seen s = see(&h->at->lie, spot[i]);
        x[i] = frame_x(&h->frame, s.u);
        y[i] = frame_y(&h->frame, s.w);
    }
    draw_path(h->canvas, classes, n, x, y, true);
}

static void
draw_outline(Half *h)
{
    const HalfSection *s = &h->fig->section;
    g_autofree Spot *ring = g_new(Spot, 2 * s->n);
    for (size_t i = 0; i < s->n; i++) {
        ring[s->n - 1 - i] = (Spot){s->x_m, s->y_m[i], s->z_m[i]};
        ring[s->n + i] = (Spot){s->x_m, -s->y_m[i], s->z_m[i]};
    }
    for (size_t i = 0; i < h->fig->houses; i++) {
        Spot corner[4];
        block_corners(&h->fig->house[i], s->x_m, corner);
        draw_spots(h, "house", 4, corner);
    }
    draw_spots(h, "deck-edge", 2 * s->n, ring);
    Seen low = see(&h->at->lie, (Spot){s->x_m, 0.0, 0.0});
    double top = s->n > 0 ? s->z_m[s->n - 1] : 0.0;
    Seen high = see(&h->at->lie, (Spot){s->x_m, 0.0, top});
    draw_line(h->canvas, "centreline", frame_x(&h->frame, low.u), frame_y(&h->frame, low.w),
              frame_x(&h->frame, high.u), frame_y(&h->frame, high.w));
}

/* G pulls down, B pushes up; between their lines lies the righting lever. */
static void
draw_forces(Half *h, const Box *bounds)
{
    Seen g = see(&h->at->lie, h->fig->g), b = see(&h->at->lie, h->at->b);
    double gx = frame_x(&h->frame, g.u), bx = frame_x(&h->frame, b.u);
    double gy = frame_y(&h->frame, g.w), by = frame_y(&h->frame, b.w);
    if (h->flooded && isfinite(h->at->gz_m)) {
        double foot = fmin(h->frame.bottom + 6.0, fmax(gy, by) + 60.0);
        draw_line(h->canvas, "force", gx, gy, gx, foot);
        draw_line(h->canvas, "force", bx, by, bx, gy);
        draw_line(h->canvas, "gz", gx, gy, bx, gy);
    }
    draw_centre(h->canvas, "G", gx, gy, bounds);
    draw_centre(h->canvas, "B", bx, by, bounds);
}

static void
draw_openings(Half *h, const Box *bounds)
{
    for (size_t i = 0; i < h->fig->openings; i++) {
        const OpeningMark *o = &h->fig->opening[i];
        Seen s = see(&h->at->lie, o->at);
        double x = frame_x(&h->frame, s.u), y = frame_y(&h->frame, s.w);
        if (!isfinite(x) || !isfinite(y))
            continue;
        double px[] = {x - 4.5, x + 4.5, x}, py[] = {y - 4.5, y - 4.5, y + 4.5};
        part_open(h->canvas, "part", o->path, "height", o->name);
        draw_path(h->canvas, i == 0 || o->worst ? "opening worst" : "opening", 3, px, py, true);
        part_close(h->canvas);
        keep_free(h->canvas, x - 4.5, y - 4.5, x + 4.5, y + 4.5);
    }
    for (size_t i = 0; i < h->fig->openings && i < 6; i++) {
        Seen s = see(&h->at->lie, h->fig->opening[i].at);
        char tag[2] = {(char) ('A' + i), '\0'};
        draw_tag(h->canvas, "tag opening-tag", frame_x(&h->frame, s.u), frame_y(&h->frame, s.w),
                 tag, bounds);
    }
}

static void
draw_half(Half *h, double left, double width)
{
    Box bounds = {left, h->frame.top - 26.0, left + width, h->frame.bottom + 24.0};
    double y = frame_y(&h->frame, 0.0);
    draw_outline(h);
    draw_line(h->canvas, "water", left, y, left + width, y);
    draw_openings(h, &bounds);
    draw_forces(h, &bounds);
}

static void
head(Half *h, double left)
{
    double heel = h->at->lie.heel_rad;
    g_autofree char *angle = show(h->canvas, fabs(heel), Q_ANGLE);
    g_autofree char *text = h->flooded ? g_strdup_printf("water in at %s", angle)
                                       : g_strdup_printf("at rest, list %s", angle);
    draw_text_kept(h->canvas, "view-name", left, 18.0, ANCHOR_START, text);
}

static void
list(Canvas *canvas, const HeeledSectionPicture *fig, bool two, double y)
{
    g_autofree char *at = show(canvas, fig->section.x_m, Q_LENGTH);
    g_autofree char *cut = g_strdup_printf("Section %s from the stern, looking forward", at);
    key_head(canvas, &y, cut);
    for (size_t i = 0; i < fig->openings && i < 6; i++) {
        const OpeningMark *o = &fig->opening[i];
        char tag[2] = {(char) ('A' + i), '\0'};
        g_autofree char *above = show(canvas, above_water(&fig->rest.lie, o->at), Q_LENGTH);
        g_autofree char *name = name_plain(o->name);
        g_autofree char *text = g_strdup_printf("%s above the water at rest: %s", above, name);
        key_tag(canvas, "tag opening-tag", tag, &y, text);
    }
    if (two && isfinite(fig->flooded.gz_m)) {
        g_autofree char *gz = show(canvas, fabs(fig->flooded.gz_m), Q_LENGTH);
        g_autofree char *text = g_strdup_printf("lever between G and B there: %s", gz);
        key_line(canvas, "gz", &y, text);
    }
    if (fig->caption != NULL) {
        y += 4.0;
        draw_paragraph(canvas, "caption", CANVAS_MARGIN, &y, fig->caption);
    }
}

void
draw_heeled_section(const HeeledSectionPicture *fig, const DrawHow *how, Markup *svg)
{
    Canvas canvas;
    canvas_begin(&canvas, svg, how, "group", "Heeled section", fig->caption);
    bool two = isfinite(fig->flooded.lie.heel_rad) && isfinite(fig->flooded.lie.origin_depth_m);
    const SectionLie *lies[] = {&fig->rest, &fig->flooded};
    double width = two ? (CANVAS_WIDTH - 3 * CANVAS_MARGIN) / 2 : CANVAS_WIDTH - 2 * CANVAS_MARGIN;
    double scale = INFINITY, high = -INFINITY, low = INFINITY;
    Extent e[2];
    for (int i = 0; i < (two ? 2 : 1); i++) {
        e[i] = extent_of(fig, lies[i]);
        scale = fmin(scale, (width - 28.0) / range_span(e[i].x_low, e[i].x_high));
        high = fmax(high, e[i].z_high);
        low = fmin(low, e[i].z_low);
    }
    scale = fmin(scale, 240.0 / range_span(low, high));
    double bottom = 0.0;
    for (int i = 0; i < (two ? 2 : 1); i++) {
        double left = CANVAS_MARGIN + i * (width + CANVAS_MARGIN);
        double span = range_span(e[i].x_low, e[i].x_high);
        Half h = {&canvas, fig, lies[i], .flooded = i == 1};
        h.frame = frame_scaled(scale, e[i].x_low, e[i].x_high, low, high,
                               left + (width - scale * span) / 2, 54.0);
        head(&h, left);
        draw_half(&h, left, width);
        bottom = fmax(bottom, h.frame.bottom);
    }
    list(&canvas, fig, two, bottom + 22.0);
    canvas_end(&canvas);
}
