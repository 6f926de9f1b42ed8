/* Clipped sections and their sum along a stretch. Invariant: between two events no corner of the
 * clipped section comes or goes, so that every integrand is smooth there. */
#include "physics/afloat/section_cut.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

#include "physics/gauss.h"

static inline double
outside(const Bound *b, double x, Spot p)
{
    return b->across * p.y + b->up * p.z - (b->level + b->slope * x);
}

static inline Spot
between(Spot a, Spot b, double s)
{
    return (Spot){a.y + s * (b.y - a.y), a.z + s * (b.z - a.z)};
}

/* Share at which a value straight in s passes zero. */
static void
add_event(Cutter *c, double s)
{
    if (s > 0.0 && s < 1.0 && c->events < c->most_events)
        c->event[c->events++] = s;
}

static void
add_crossing(Cutter *c, double at_aft, double at_fwd)
{
    if ((at_aft < 0.0) != (at_fwd < 0.0))
        add_event(c, at_aft / (at_aft - at_fwd));
}

/* Where two bounds meet in the section at x; false when they are parallel. */
static bool
corner(const Bound *a, const Bound *b, double x, Spot *spot)
{
    double det = a->across * b->up - a->up * b->across;
    if (fabs(det) < 1e-9)
        return false;
    double la = a->level + a->slope * x, lb = b->level + b->slope * x;
    *spot = (Spot){(la * b->up - a->up * lb) / det, (a->across * lb - la * b->across) / det};
    return true;
}

static double
side_of(Spot p, Spot q, Spot r)
{
    return (q.y - p.y) * (r.z - p.z) - (q.z - p.z) * (r.y - p.y);
}

/* Real roots of a + b s + c s^2, without loss when c is small. */
static size_t
roots(double a, double b, double c, double s[2])
{
    double inner = b * b - 4.0 * a * c;
    if (inner < 0.0)
        return 0;
    double q = -0.5 * (b + copysign(sqrt(inner), b));
    size_t n = 0;
    if (c != 0.0)
        s[n++] = q / c;
    if (q != 0.0)
        s[n++] = a / q;
    return n;
}

/* A corner of bounds passes through edge j: their cross product is a square in s. */
static void
add_edge_events(Cutter *c, size_t j, const Spot corner_at[3])
{
    size_t k = (j + 1) % c->ring;
    double f[3];
    for (size_t i = 0; i < 3; i++) {
        double s = 0.5 * (double) i;
        f[i] = side_of(between(c->aft[j], c->fwd[j], s), between(c->aft[k], c->fwd[k], s),
                       corner_at[i]);
    }
    double s[2];
    size_t n = roots(f[0], 4.0 * f[1] - 3.0 * f[0] - f[2], 2.0 * (f[0] + f[2]) - 4.0 * f[1], s);
    for (size_t i = 0; i < n; i++) {
        if (!(s[i] > 0.0 && s[i] < 1.0))
            continue;
        Spot p = between(c->aft[j], c->fwd[j], s[i]), q = between(c->aft[k], c->fwd[k], s[i]);
        Spot r = between(corner_at[0], corner_at[2], s[i]);
        double along = (r.y - p.y) * (q.y - p.y) + (r.z - p.z) * (q.z - p.z);
        double whole = (q.y - p.y) * (q.y - p.y) + (q.z - p.z) * (q.z - p.z);
        if (along >= -1e-6 * whole && along <= (1.0 + 1e-6) * whole)
            add_event(c, s[i]);
    }
}

static int
compare(const void *a, const void *b)
{
    double x = *(const double *) a, y = *(const double *) b;
    return (x > y) - (x < y);
}

/* Sections run straight from end to end: what leaves out no corner there leaves out nothing between. The water counts always. */
static void
find_cuts(Cutter *c)
{
    for (size_t b = 0; b < BOUNDS; b++) {
        c->cuts[b] = b == WATER;
        for (size_t j = 0; j < c->ring && !c->cuts[b]; j++)
            c->cuts[b] = outside(&c->bound[b], c->from, c->aft[j]) > 0.0 ||
                         outside(&c->bound[b], c->from + c->length, c->fwd[j]) > 0.0;
    }
}

static void
find_events(Cutter *c)
{
    const double end[2] = {c->from, c->from + c->length};
    c->events = 0;
    for (size_t b = 0; b < BOUNDS; b++)
        for (size_t j = 0; j < c->ring && c->cuts[b]; j++)
            add_crossing(c, outside(&c->bound[b], end[0], c->aft[j]),
                         outside(&c->bound[b], end[1], c->fwd[j]));
    for (size_t a = 0; a < BOUNDS; a++)
        for (size_t b = a + 1; b < BOUNDS; b++) {
            Spot at[3];
            bool meet = c->cuts[a] && c->cuts[b];
            for (size_t i = 0; i < 3 && meet; i++)
                meet = corner(&c->bound[a], &c->bound[b], end[0] + 0.5 * (double) i * c->length,
                              &at[i]);
            if (!meet)
                continue;
            if (b != WATER)
                add_crossing(c, outside(&c->bound[WATER], end[0], at[0]),
                             outside(&c->bound[WATER], end[1], at[2]));
            for (size_t j = 0; j < c->ring; j++)
                add_edge_events(c, j, at);
        }
    qsort(c->event, c->events, sizeof(double), compare);
}

/* Sutherland and Hodgman: bridges along the bound have no area and no moment. */
static size_t
clip(const Bound *b, double x, size_t n, const Spot in[], Spot out[])
{
    size_t m = 0;
    for (size_t i = 0; i < n; i++) {
        Spot p = in[i], q = in[i + 1 < n ? i + 1 : 0];
        double fp = outside(b, x, p), fq = outside(b, x, q);
        if (fp < 0.0)
            out[m++] = p;
        if ((fp < 0.0) != (fq < 0.0))
            out[m++] = between(p, q, fp / (fp - fq));
    }
    return m;
}

/* Below the water: what lies between the polygon's edges and the line w = 0, and where they cross
 * it. */
static void
add_section(Cutter *c, size_t n, const Spot p[], double x, double weight, double sum[SUMS])
{
    const Turn *t = &c->turn;
    double level = turn_level(t, x), X = (x + t->depth * t->sin_trim) / t->cos_trim;
    double area = 0.0, mu = 0.0, mw = 0.0, a = 0.0, aY = 0.0, aYY = 0.0;
    for (size_t i = 0; i < n; i++) {
        Spot from = p[i], to = p[i + 1 < n ? i + 1 : 0];
        double u1 = from.y * t->cos_heel - from.z * t->sin_heel;
        double u2 = to.y * t->cos_heel - to.z * t->sin_heel;
        double w1 = from.y * t->sin_heel + from.z * t->cos_heel - level;
        double w2 = to.y * t->sin_heel + to.z * t->cos_heel - level;
        bool wet1 = w1 < 0.0, wet2 = w2 < 0.0;
        if (!wet1 && !wet2)
            continue;
        if (wet1 != wet2) {
            double Y = u1 + (u2 - u1) * w1 / (w1 - w2), out = wet1 ? 1.0 : -1.0;
            a += out * Y;
            aY += out * Y * Y / 2.0;
            aYY += out * Y * Y * Y / 3.0;
            *(wet1 ? &u2 : &u1) = Y;
            *(wet1 ? &w2 : &w1) = 0.0;
        }
        double du = u2 - u1, w = w1 + w2;
        area -= w * du / 2.0;
        mu -= du * (u1 * (w + w1) + u2 * (w + w2)) / 6.0;
        mw -= du * (w * w - w1 * w2) / 6.0;
    }
    const double value[SUMS] = {area, x * area, mu, mw, a, X * a, X * X * a, aY, X * aY, aYY};
    for (size_t i = 0; i < SUMS; i++)
        sum[i] += weight * value[i];
}

static void
add_rule(Cutter *c, double from, double to, double sum[SUMS])
{
    for (size_t i = 0; i < gauss_6.n; i++) {
        double s = from + (to - from) * gauss_6.at[i], x = c->from + s * c->length;
        for (size_t j = 0; j < c->ring; j++)
            c->polygon[0][j] = between(c->aft[j], c->fwd[j], s);
        size_t n = c->ring, now = 0;
        for (size_t b = 0; b < WATER && n > 0; b++)
            if (c->cuts[b]) {
                n = clip(&c->bound[b], x, n, c->polygon[now], c->polygon[1 - now]);
                now = 1 - now;
            }
        add_section(c, n, c->polygon[now], x, gauss_6.weight[i] * (to - from) * c->length, sum);
    }
}

/* Halves until both halves give the whole. Of the sixth order rule a half errs 1/4096 of the whole,
 * so what is kept is better than what is compared. */
static void
add_smooth(Cutter *c, double from, double to, const double whole[SUMS], int depth, double sum[SUMS])
{
    double mid = 0.5 * (from + to), half[2][SUMS] = {{0}};
    add_rule(c, from, mid, half[0]);
    add_rule(c, mid, to, half[1]);
    bool same = true;
    for (size_t i = 0; i < SUMS; i++)
        same = same && fabs(half[0][i] + half[1][i] - whole[i]) <= 1e-11 * c->scale[i];
    if (same || depth == 0) {
        for (size_t i = 0; i < SUMS; i++)
            sum[i] += half[0][i] + half[1][i];
        return;
    }
    add_smooth(c, from, mid, half[0], depth - 1, sum);
    add_smooth(c, mid, to, half[1], depth - 1, sum);
}

void
section_cut_integrate(Cutter *c, double sum[SUMS])
{
    enum { HALVINGS = 18 };
    double from = 0.0;
    find_cuts(c);
    find_events(c);
    for (size_t i = 0; i <= c->events; i++) {
        double to = i < c->events ? c->event[i] : 1.0;
        if (to - from <= 1e-13)
            continue;
        double whole[SUMS] = {0};
        add_rule(c, from, to, whole);
        add_smooth(c, from, to, whole, HALVINGS, sum);
        from = to;
    }
}
