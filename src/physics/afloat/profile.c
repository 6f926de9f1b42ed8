/* Side and front views. Invariant: at every x the silhouette is the union of the hull and the
 * rectangles, so what stands behind something else is not counted again. */
#include "physics/afloat/profile.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

#include "physics/afloat/panel.h"

typedef struct {
    double low, high;
} Span;

typedef struct {
    const Loft *hull;
    const Attitude *at;
    size_t rectangles;
    const SideRectangle *rectangle;
    Span *span; /* [rectangles + 1] */
} Scene;

static void *
reserve(size_t n, size_t size)
{
    void *p = calloc(n > 0 ? n : 1, size);
    if (p == NULL)
        abort();
    return p;
}

static Span
station_span(const Loft *hull, size_t station)
{
    Span s = {INFINITY, -INFINITY};
    for (size_t j = 0; j < hull->points; j++) {
        double z = hull->z_m[station * hull->points + j];
        s.low = z < s.low ? z : s.low;
        s.high = z > s.high ? z : s.high;
    }
    return s;
}

static Span
bay_span(const Loft *hull, size_t aft, double x)
{
    Span a = station_span(hull, aft), b = station_span(hull, aft + 1);
    double t = (x - hull->x_m[aft]) / (hull->x_m[aft + 1] - hull->x_m[aft]);
    return (Span){a.low + t * (b.low - a.low), a.high + t * (b.high - a.high)};
}

static int
by_low(const void *a, const void *b)
{
    const Span *p = a, *q = b;
    return p->low < q->low ? -1 : p->low > q->low;
}

/* Silhouette at x as separate spans, lowest first. */
static size_t
silhouette(const Scene *scene, double x)
{
    size_t n = 0, kept = 0;
    const Loft *hull = scene->hull;
    for (size_t i = 0; i + 1 < hull->stations; i++)
        if (x > hull->x_m[i] && x <= hull->x_m[i + 1])
            scene->span[n++] = bay_span(hull, i, x);
    for (size_t i = 0; i < scene->rectangles; i++) {
        const SideRectangle *r = &scene->rectangle[i];
        if (x > r->x_aft_m && x <= r->x_fwd_m && r->z_top_m > r->z_bottom_m)
            scene->span[n++] = (Span){r->z_bottom_m, r->z_top_m};
    }
    qsort(scene->span, n, sizeof *scene->span, by_low);
    for (size_t i = 0; i < n; i++) {
        Span *last = kept > 0 ? &scene->span[kept - 1] : NULL;
        if (last != NULL && scene->span[i].low <= last->high)
            last->high = fmax(last->high, scene->span[i].high);
        else
            scene->span[kept++] = scene->span[i];
    }
    return kept;
}

typedef struct {
    double above, above_z, above_x, below, below_z;
} Areas;

static void
add_at(const Scene *scene, double x, double width, Areas *sum)
{
    double water = attitude_draught_m(scene->at, x);
    size_t n = silhouette(scene, x);
    for (size_t i = 0; i < n; i++) {
        Span s = scene->span[i];
        double up[2] = {fmax(s.low, water) - water, s.high - water};
        double down[2] = {water - fmin(s.high, water), water - s.low};
        if (up[1] > up[0]) {
            sum->above += width * (up[1] - up[0]);
            sum->above_x += width * (up[1] - up[0]) * x;
            sum->above_z += width * 0.5 * (up[1] * up[1] - up[0] * up[0]);
        }
        if (down[1] > down[0]) {
            sum->below += width * (down[1] - down[0]);
            sum->below_z += width * 0.5 * (down[1] * down[1] - down[0] * down[0]);
        }
    }
}

/* Abscissa between x0 and x1 where a height that runs straight from v0 to v1 passes zero; NAN when
 * it does not. */
static double
zero_between(double x0, double x1, double v0, double v1)
{
    return (v0 < 0.0) != (v1 < 0.0) ? x0 + (x1 - x0) * v0 / (v0 - v1) : NAN;
}

static void
push(double *event, size_t *n, double x)
{
    if (isfinite(x))
        event[(*n)++] = x;
}

static int
ascending(const void *a, const void *b)
{
    const double *p = a, *q = b;
    return *p < *q ? -1 : *p > *q;
}

/* Every x at which the silhouette or its cut by the water has a corner: between them all edges are
 * straight. */
static size_t
find_events(const Scene *scene, double *event)
{
    const Loft *hull = scene->hull;
    size_t n = 0;
    for (size_t i = 0; i < hull->stations; i++)
        push(event, &n, hull->x_m[i]);
    for (size_t k = 0; k < scene->rectangles; k++) {
        const SideRectangle *r = &scene->rectangle[k];
        push(event, &n, r->x_aft_m);
        push(event, &n, r->x_fwd_m);
        double w0 = attitude_draught_m(scene->at, r->x_aft_m),
               w1 = attitude_draught_m(scene->at, r->x_fwd_m);
        push(event, &n,
             zero_between(r->x_aft_m, r->x_fwd_m, r->z_bottom_m - w0, r->z_bottom_m - w1));
        push(event, &n, zero_between(r->x_aft_m, r->x_fwd_m, r->z_top_m - w0, r->z_top_m - w1));
    }
    for (size_t i = 0; i + 1 < hull->stations; i++) {
        double x0 = hull->x_m[i], x1 = hull->x_m[i + 1];
        double w0 = attitude_draught_m(scene->at, x0), w1 = attitude_draught_m(scene->at, x1);
        Span a = station_span(hull, i), b = station_span(hull, i + 1);
        push(event, &n, zero_between(x0, x1, a.low - w0, b.low - w1));
        push(event, &n, zero_between(x0, x1, a.high - w0, b.high - w1));
        for (size_t k = 0; k < scene->rectangles; k++) {
            const double z[] = {scene->rectangle[k].z_bottom_m, scene->rectangle[k].z_top_m};
            for (size_t e = 0; e < 2; e++) {
                push(event, &n, zero_between(x0, x1, a.low - z[e], b.low - z[e]));
                push(event, &n, zero_between(x0, x1, a.high - z[e], b.high - z[e]));
            }
        }
    }
    qsort(event, n, sizeof *event, ascending);
    return n;
}

static void
measure_areas(Scene *scene, SideView *view)
{
    size_t bays = scene->hull->stations, r = scene->rectangles;
    double *event = reserve(bays + 4 * r + bays * (2 + 4 * r), sizeof *event);
    scene->span = reserve(r + 1, sizeof *scene->span);
    size_t n = find_events(scene, event);
    Areas sum = {0};
    for (size_t i = 0; i + 1 < n; i++) {
        const double half = 0.5 * (event[i + 1] - event[i]), mid = 0.5 * (event[i + 1] + event[i]);
        const double off =
            half / sqrt(3.0); /* two Gauss points: exact for what is quadratic in x */
        if (!(half > 0.0))
            continue;
        add_at(scene, mid - off, half, &sum);
        add_at(scene, mid + off, half, &sum);
    }
    double upright = cos(scene->at->heel_rad) * cos(scene->at->trim_rad);
    view->above_m2 = sum.above;
    view->above_height_m = sum.above > 0.0 ? sum.above_z / sum.above * upright : NAN;
    view->above_x_m = sum.above > 0.0 ? sum.above_x / sum.above : NAN;
    view->below_m2 = sum.below;
    view->below_depth_m = sum.below > 0.0 ? sum.below_z / sum.below * upright : NAN;
    free(event);
    free(scene->span);
}

static void
measure_waterline(const Loft *hull, const Attitude *at, SideView *view)
{
    double aft = INFINITY, fwd = -INFINITY, x0 = NAN, d0 = NAN;
    for (size_t i = 0; i < hull->stations; i++) {
        double x1 = hull->x_m[i], d1 = station_span(hull, i).low - attitude_draught_m(at, x1);
        double x = i > 0 ? zero_between(x0, x1, d0, d1) : NAN;
        if (isfinite(x)) {
            aft = fmin(aft, x);
            fwd = fmax(fwd, x);
        }
        if (d1 < 0.0) {
            aft = fmin(aft, x1);
            fwd = fmax(fwd, x1);
        }
        x0 = x1;
        d0 = d1;
    }
    view->waterline_aft_m = fwd > aft ? aft : NAN;
    view->waterline_fwd_m = fwd > aft ? fwd : NAN;
    view->waterline_m = fwd > aft ? fwd - aft : 0.0;
}

/* Where the ring of a section crosses the water: its reach to port and to starboard, measured level. */
typedef struct {
    double low, high, u, w;
} Reach;

static inline void
reach_point(Reach *reach, double u, double w)
{
    if ((w < 0.0) != (reach->w < 0.0)) {
        double cross = reach->u + (u - reach->u) * reach->w / (reach->w - w);
        reach->low = cross < reach->low ? cross : reach->low;
        reach->high = cross > reach->high ? cross : reach->high;
    }
    reach->u = u;
    reach->w = w;
}

/* Breadth of the water line across a section at a share of the bay. */
static double
breadth_at(const Loft *hull, const Turn *turn, size_t aft, double share)
{
    const double sh = turn->sin_heel, ch = turn->cos_heel;
    const double x = hull->x_m[aft] + share * (hull->x_m[aft + 1] - hull->x_m[aft]);
    const double level = turn_level(turn, x);
    const size_t n = hull->points;
    Reach reach = {INFINITY, -INFINITY, NAN, NAN};
    double first[2] = {NAN, NAN};
    for (size_t k = 0; k < 2 * n; k++) {
        size_t p = aft * n + (k < n ? n - 1 - k : k - n);
        double y = hull->y_m[p] + share * (hull->y_m[p + n] - hull->y_m[p]);
        double z = hull->z_m[p] + share * (hull->z_m[p + n] - hull->z_m[p]);
        double across = hull->y_mid_m + (k < n ? -y : y);
        double u = across * ch - z * sh, w = across * sh + z * ch - level;
        if (k == 0) {
            first[0] = reach.u = u;
            first[1] = reach.w = w;
        }
        reach_point(&reach, u, w);
    }
    reach_point(&reach, first[0], first[1]);
    return reach.high > reach.low ? reach.high - reach.low : 0.0;
}

/* No water line of the bay is wider than this. */
static double
widest(const Loft *hull, const Turn *turn, size_t aft)
{
    double half = 0.0, low = INFINITY, high = -INFINITY;
    for (size_t p = aft * hull->points; p < (aft + 2) * hull->points; p++) {
        double y = hull->y_m[p], z = hull->z_m[p];
        half = y > half ? y : half;
        low = z < low ? z : low;
        high = z > high ? z : high;
    }
    return 2.0 * half * fabs(turn->cos_heel) + (high - low) * fabs(turn->sin_heel);
}

static void
measure_beam(const Loft *hull, const Attitude *at, SideView *view)
{
    enum {
        CUTS = 4
    }; /* the water line is straight but for its corners; they lie at most an eighth of a bay off
        */
    const Turn turn = turn_of(at);
    view->beam_m = breadth_at(hull, &turn, 0, 0.0);
    for (size_t i = 0; i + 1 < hull->stations; i++)
        view->beam_m = fmax(view->beam_m, breadth_at(hull, &turn, i, 1.0));
    for (size_t i = 0; i + 1 < hull->stations; i++)
        for (int k = 1; k < CUTS && widest(hull, &turn, i) > view->beam_m; k++)
            view->beam_m = fmax(view->beam_m, breadth_at(hull, &turn, i, (double) k / CUTS));
}

static void
measure_deck_edge(const Loft *hull, const Attitude *at, SideView *view)
{
    double least[2] = {INFINITY, INFINITY}, x_of[2] = {NAN, NAN}, heel = INFINITY;
    for (size_t i = 0; i < hull->stations; i++) {
        size_t p = i * hull->points + hull->points - 1;
        double x = hull->x_m[i], up = hull->z_m[p] - attitude_draught_m(at, x);
        for (int k = 0; k < 2; k++) {
            double y = hull->y_mid_m + (k == 0 ? -hull->y_m[p] : hull->y_m[p]);
            double free_m = attitude_height_m(at, x, y, hull->z_m[p]);
            if (free_m < least[k]) {
                least[k] = free_m;
                x_of[k] = x;
            }
            /* Turning about the middle of the water line: the edge is seen from there under this
             * angle. */
            double seen = k == 0 ? atan2(up, -y) - at->heel_rad : atan2(up, y) + at->heel_rad;
            heel = fmin(heel, seen);
        }
    }
    bool starboard = least[0] <= least[1];
    view->least_freeboard_m = fmin(least[0], least[1]);
    view->least_freeboard_x_m = starboard ? x_of[0] : x_of[1];
    view->least_freeboard_side = fabs(least[0] - least[1]) < 1e-6 ? 0 : starboard ? 1 : -1;
    view->deck_edge_rad = fmax(0.0, heel);
}

void
side_view(const Loft *hull, const Attitude *at, size_t rectangles, const SideRectangle rectangle[],
          SideView *view)
{
    side_lines(hull, at, view);
    Scene scene = {hull, at, rectangles, rectangle, NULL};
    measure_areas(&scene, view);
}

void
side_lines(const Loft *hull, const Attitude *at, SideView *view)
{
    *view = (SideView){NAN, NAN, NAN, NAN, NAN};
    measure_waterline(hull, at, view);
    measure_beam(hull, at, view);
    measure_deck_edge(hull, at, view);
}
