/* The sling picture of the crane sheet: to one scale, nothing on it that the boat file does not give. */
#include "report/crane_picture.h"

#include <glib.h>
#include <math.h>

#include "report/sketch.h"

#define WIDE 182.0
#define AIR_MM 26.0   /* above her, for the slings' legs */
#define BELOW_MM 12.0 /* for the lengths */
#define TALLEST_MM 62.0

typedef struct {
    const HullLine *deck, *bottom;
    double x_low, x_high, z_low, z_high, scale;
} View;

static double
to_x(const View *v, double x_m)
{
    return (WIDE - v->scale * (v->x_high - v->x_low)) / 2 + v->scale * (x_m - v->x_low);
}

static double
to_y(const View *v, double z_m)
{
    return AIR_MM + v->scale * (v->z_high - z_m);
}

static void
widen(View *v, double x_m, double z_m)
{
    if (!isfinite(x_m) || !isfinite(z_m))
        return;
    v->x_low = fmin(v->x_low, x_m);
    v->x_high = fmax(v->x_high, x_m);
    v->z_low = fmin(v->z_low, z_m);
    v->z_high = fmax(v->z_high, z_m);
}

static bool
look(View *v, const ArrangementPicture *a)
{
    *v = (View){.x_low = INFINITY, .x_high = -INFINITY, .z_low = INFINITY, .z_high = -INFINITY};
    for (size_t i = 0; i < a->lines; i++) {
        const HullLine *line = &a->line[i];
        if (line->n < 2 || line->kind == HULL_KNUCKLE)
            continue;
        *(line->kind == HULL_DECK_EDGE ? &v->deck : &v->bottom) = line;
        for (size_t k = 0; k < line->n; k++)
            widen(v, line->x_m[k], line->z_m[k]);
    }
    for (size_t i = 0; i < a->houses; i++) {
        widen(v, a->house[i].x_aft_m, a->house[i].z_high_m);
        widen(v, a->house[i].x_fwd_m, a->house[i].z_high_m);
    }
    bool seen =
        v->deck != NULL && v->bottom != NULL && v->x_high > v->x_low && v->z_high > v->z_low;
    if (seen)
        v->scale = fmin(0.92 * WIDE / (v->x_high - v->x_low), TALLEST_MM / (v->z_high - v->z_low));
    return seen;
}

static void
draw_hull(Sketch *s, const View *v)
{
    size_t n = v->deck->n + v->bottom->n, k = 0;
    g_autofree Pen *pen = g_new(Pen, n);
    for (size_t i = 0; i < v->deck->n; i++)
        if (isfinite(v->deck->x_m[i]) && isfinite(v->deck->z_m[i]))
            pen[k++] = (Pen){to_x(v, v->deck->x_m[i]), to_y(v, v->deck->z_m[i])};
    for (size_t i = v->bottom->n; i-- > 0;)
        if (isfinite(v->bottom->x_m[i]) && isfinite(v->bottom->z_m[i]))
            pen[k++] = (Pen){to_x(v, v->bottom->x_m[i]), to_y(v, v->bottom->z_m[i])};
    sketch_solid(s, k, pen);
}

static void
draw_houses(Sketch *s, const View *v, const ArrangementPicture *a)
{
    for (size_t i = 0; i < a->houses; i++) {
        const Block *b = &a->house[i];
        if (!isfinite(b->x_aft_m + b->x_fwd_m + b->z_low_m + b->z_high_m))
            continue;
        double l = to_x(v, b->x_aft_m), r = to_x(v, b->x_fwd_m), t = to_y(v, b->z_high_m),
               u = to_y(v, b->z_low_m);
        Pen box[] = {{l, u}, {l, t}, {r, t}, {r, u}};
        sketch_run(s, LINE_THIN, G_N_ELEMENTS(box), box);
    }
}

/* Height of a line of the hull at x: between its neighbours; NAN outside it. */
static double
height_at(const HullLine *line, double x_m)
{
    for (size_t i = 1; i < line->n; i++) {
        double a = line->x_m[i - 1], b = line->x_m[i];
        if (x_m >= a && x_m <= b && b > a)
            return line->z_m[i - 1] + (line->z_m[i] - line->z_m[i - 1]) * (x_m - a) / (b - a);
    }
    return NAN;
}

static void
draw_sling(Sketch *s, const View *v, const CraneSling *sling, bool aft)
{
    double keel = isfinite(sling->x_m) ? height_at(v->bottom, sling->x_m) : NAN;
    if (!isfinite(keel))
        return;
    double x = to_x(v, sling->x_m), low = to_y(v, v->z_low) + 5.0;
    sketch_line(s, LINE_THICK, x, 12.0, x, to_y(v, keel));
    sketch_arrow(s, x, 12.0, x, 6.0);
    sketch_span(s, to_x(v, 0.0), low + (aft ? 0.0 : 4.0), x, low + (aft ? 0.0 : 4.0));
    sketch_line(s, LINE_DASHED, x, to_y(v, keel), x, low + (aft ? 0.0 : 4.0));
    TextAnchor side = aft ? TEXT_END : TEXT_START;
    sketch_bold(s, x + (aft ? -1.5 : 1.5), 9.0, side, sling->name);
    if (sling->load != NULL)
        sketch_text(s, x + (aft ? -1.5 : 1.5), 13.0, side, sling->load);
}

char *
crane_picture(const ArrangementPicture *arrangement, const CraneSling sling[2], double lcg_m)
{
    View v;
    if (!look(&v, arrangement))
        return NULL;
    Sketch s;
    sketch_begin(&s, WIDE, AIR_MM + v.scale * (v.z_high - v.z_low) + BELOW_MM);
    draw_hull(&s, &v);
    draw_houses(&s, &v, arrangement);
    sketch_text(&s, to_x(&v, v.x_low), 3.0, TEXT_START, "stern");
    sketch_text(&s, to_x(&v, v.x_high), 3.0, TEXT_END, "bow");
    for (int i = 0; i < 2; i++)
        draw_sling(&s, &v, &sling[i], i == 0);
    double deck = isfinite(lcg_m) ? height_at(v.deck, lcg_m) : NAN,
           keel = isfinite(lcg_m) ? height_at(v.bottom, lcg_m) : NAN;
    if (isfinite(deck) && isfinite(keel)) {
        double x = to_x(&v, lcg_m), y = (to_y(&v, deck) + to_y(&v, keel)) / 2;
        sketch_circle(&s, false, x, y, 1.8);
        sketch_line(&s, LINE_THIN, x - 3.0, y, x + 3.0, y);
        sketch_line(&s, LINE_THIN, x, y - 3.0, x, y + 3.0);
        sketch_text(&s, x + 3.5, y + 1.0, TEXT_START, "centre of weight, along");
    }
    return sketch_end(&s);
}
