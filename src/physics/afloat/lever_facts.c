/* What is read from a curve of levers: peak, vanishing, areas. Peak and vanishing are solved again,
 * not read off the points. Invariant: a bracket always holds its root, so corners of the curve do
 * no harm. */
#include "physics/afloat/lever.h"

#include <math.h>

#include "physics/afloat/poise.h"

static const double degree = M_PI / 180.0;

typedef struct {
    Floater floater;
    bool trim_free;
    const LeverCurve *curve;
} Track;

/* A heel at which she has been settled. */
typedef struct {
    Attitude at;
    Follow follow;
    double lever, slope;
    bool lies;
} Stop;

/* Along the tangent of the last stop; the slope is that of the place itself, not of the step before. */
static Stop
stop_next(const Track *track, const Stop *last, double heel)
{
    Stop stop = *last;
    Poise poise;
    stop.lies =
        settle_onward(&track->floater, track->trim_free, heel, &stop.at, &stop.follow, &poise);
    if (stop.lies)
        poise_at(&track->floater, &stop.at, &poise);
    stop.lever = stop.lies ? poise_lever_m(&track->floater, &poise) : NAN;
    stop.slope = stop.lies ? poise_lever_slope(&track->floater, &poise, track->trim_free) : NAN;
    return stop;
}

static Stop
stop_on_curve(const Track *track, size_t i)
{
    const LeverCurve *c = track->curve;
    const Stop start = {.at = {c->depth_m[i], c->heel_rad[i], c->trim_rad[i]}};
    return stop_next(track, &start, c->heel_rad[i]);
}

/* Lever at any heel, started from the nearest point of the curve. */
static double
solve_lever(const Track *track, double heel)
{
    const LeverCurve *c = track->curve;
    size_t near = 0;
    for (size_t i = 1; i < c->n; i++)
        if (fabs(c->heel_rad[i] - heel) < fabs(c->heel_rad[near] - heel))
            near = i;
    const Stop start = {.at = {c->depth_m[near], heel, c->trim_rad[near]}};
    return stop_next(track, &start, heel).lever;
}

/* The curve's own point when it has one there, else a solution. */
static double
lever_near(const Track *track, double heel)
{
    const LeverCurve *c = track->curve;
    size_t low = 0, high = c->n;
    while (low < high) {
        size_t mid = low + (high - low) / 2;
        if (c->heel_rad[mid] < heel - 1e-9)
            low = mid + 1;
        else
            high = mid;
    }
    if (low < c->n && fabs(c->heel_rad[low] - heel) <= 1e-9 && isfinite(c->gz_m[low]))
        return c->gz_m[low];
    return solve_lever(track, heel);
}

static const double close_enough = 1e-10; /* rad; a step as small leaves its square */

static double
inside(double x, double a, double b)
{
    return x > fmin(a, b) && x < fmax(a, b) ? x : 0.5 * (a + b);
}

/* Root of the lever between points i and i + 1 of the curve, where it changes sign: Newton, halved when it leaves or
 * drags. */
static double
lever_root(const Track *track, size_t i)
{
    const LeverCurve *c = track->curve;
    double a = c->heel_rad[i], b = c->heel_rad[i + 1];
    bool rises = c->gz_m[i + 1] > c->gz_m[i];
    Stop s = stop_on_curve(track, fabs(c->gz_m[i]) < fabs(c->gz_m[i + 1]) ? i : i + 1);
    for (int k = 0; k < 100 && s.lies && s.lever != 0.0 && b - a > close_enough; k++) {
        *((s.lever > 0.0) == rises ? &b : &a) = s.at.heel_rad;
        double step = -s.lever / s.slope, x = inside(s.at.heel_rad + step, a, b);
        if (fabs(step) <= close_enough)
            return s.at.heel_rad + step;
        s = stop_next(track, &s, k % 4 == 3 ? 0.5 * (a + b) : x);
    }
    return s.lies ? s.at.heel_rad : NAN;
}

/* Where the cubic through two levers with their slopes has its peak. */
static double
cubic_peak(const Stop *a, const Stop *b)
{
    double h = b->at.heel_rad - a->at.heel_rad;
    double bend = 6.0 * (b->lever - a->lever) / h - 3.0 * (a->slope + b->slope);
    /* slope = a (1 - t) + b t + bend t (1 - t): the root between a > 0 and b < 0 */
    double p = b->slope - a->slope + bend;
    double root = sqrt(p * p + 4.0 * bend * a->slope);
    return a->at.heel_rad + h * (2.0 * a->slope / (root - p));
}

/* Peak between a heel where the lever rises and one where it falls. */
static Stop
peak_between(const Track *track, Stop a, Stop b)
{
    Stop s = a;
    for (int k = 0; k < 100; k++) {
        double from = s.at.heel_rad, low = a.at.heel_rad, high = b.at.heel_rad;
        double x = k % 4 == 3 ? 0.5 * (low + high) : inside(cubic_peak(&a, &b), low, high);
        s = stop_next(track, x - low < high - x ? &a : &b, x);
        if (!s.lies || fabs(x - from) <= close_enough || high - low <= close_enough)
            return s;
        if (s.slope > 0.0)
            a = s;
        else
            b = s;
    }
    return s;
}

static size_t
first_upright(const LeverCurve *c)
{
    size_t i = 0;
    while (i < c->n && c->heel_rad[i] < -1e-12)
        i++;
    return i;
}

/* Returns the index of the highest point, and the peak itself solved between its neighbours. */
static size_t
find_peak(const Track *track, LeverFacts *facts)
{
    const LeverCurve *c = track->curve;
    size_t first = first_upright(c), top = first;
    for (size_t i = first; i < c->n; i++)
        if (c->gz_m[i] > c->gz_m[top])
            top = i;
    facts->max_m = c->gz_m[top];
    facts->max_rad = c->heel_rad[top];
    if (top == first || top + 1 >= c->n)
        return top;
    Stop a = stop_on_curve(track, top), b = a;
    if (a.slope > 0.0)
        b = stop_on_curve(track, top + 1);
    else
        a = stop_on_curve(track, top - 1);
    if (!(a.slope > 0.0 && b.slope < 0.0))
        return top;
    Stop peak = peak_between(track, a, b);
    if (peak.lever >= facts->max_m) {
        facts->max_rad = peak.at.heel_rad;
        facts->max_m = peak.lever;
    }
    return top;
}

static double
find_vanishing(const Track *track, size_t top)
{
    const LeverCurve *c = track->curve;
    if (!(c->gz_m[top] > 0.0))
        return NAN;
    for (size_t i = top; i + 1 < c->n; i++) {
        if (isnan(c->gz_m[i + 1]))
            return NAN;
        if (c->gz_m[i + 1] <= 0.0)
            return lever_root(track, i);
    }
    return NAN;
}

/* Heel at which the boat lies still before the peak; the first heel of the curve when that already
 * rights her. */
static double
find_rest(const Track *track, size_t top)
{
    const LeverCurve *c = track->curve;
    for (size_t i = top; i > 0; i--)
        if (!(c->gz_m[i - 1] > 0.0)) {
            if (c->gz_m[i - 1] == 0.0 || fabs(c->gz_m[i - 1]) < 1e-12)
                return c->heel_rad[i - 1];
            return lever_root(track, i - 1);
        }
    return c->heel_rad[0];
}

/* Simpson on steps of one degree to the last even degree, and once more over what is left. */
static double
exact_area(const Track *track, double to)
{
    if (!(to > 0.0))
        return 0.0;
    int whole = 2 * (int) floor(to / (2.0 * degree) + 1e-9);
    double sum = 0.0;
    for (int k = 0; k <= whole && whole > 0; k++) {
        double c = k == 0 || k == whole ? 1.0 : k % 2 ? 4.0 : 2.0;
        sum += c * lever_near(track, k * degree);
    }
    sum *= degree / 3.0;
    double from = whole * degree, left = to - from;
    if (left > 1e-9)
        sum += left / 6.0 *
               (lever_near(track, from) + 4.0 * lever_near(track, from + 0.5 * left) +
                lever_near(track, to));
    return sum;
}

/* Slope of the monotone cubic at a point (Steffen 1990): never steeper than twice the gentler
 * neighbour. */
static double
gentle_slope(const LeverCurve *c, size_t i)
{
    if (i == 0 || i + 1 == c->n) {
        size_t k = i == 0 ? 0 : c->n - 2;
        return (c->gz_m[k + 1] - c->gz_m[k]) / (c->heel_rad[k + 1] - c->heel_rad[k]);
    }
    double h0 = c->heel_rad[i] - c->heel_rad[i - 1], h1 = c->heel_rad[i + 1] - c->heel_rad[i];
    double s0 = (c->gz_m[i] - c->gz_m[i - 1]) / h0, s1 = (c->gz_m[i + 1] - c->gz_m[i]) / h1;
    double p = (s0 * h1 + s1 * h0) / (h0 + h1);
    if (s0 * s1 <= 0.0)
        return 0.0;
    return copysign(fmin(fmin(fabs(s0), fabs(s1)) * 2.0, fabs(p)), s0);
}

/* Integral of the cubic over one interval from its start to share t of it. */
static double
cubic_area(double h, double y0, double y1, double m0, double m1, double t)
{
    double t2 = t * t, t3 = t2 * t, t4 = t3 * t;
    return h * (y0 * (t - t3 + 0.5 * t4) + y1 * (t3 - 0.5 * t4) +
                h * m0 * (0.5 * t2 - 2.0 * t3 / 3.0 + 0.25 * t4) + h * m1 * (0.25 * t4 - t3 / 3.0));
}

static double
read_area_from_start(const LeverCurve *c, double to)
{
    double sum = 0.0;
    for (size_t i = 0; i + 1 < c->n && c->heel_rad[i] < to; i++) {
        double h = c->heel_rad[i + 1] - c->heel_rad[i];
        double t = fmin(1.0, (to - c->heel_rad[i]) / h);
        sum += cubic_area(h, c->gz_m[i], c->gz_m[i + 1], gentle_slope(c, i), gentle_slope(c, i + 1),
                          t);
    }
    return sum;
}

static double
area_to(const Track *track, double to, bool exact)
{
    const LeverCurve *c = track->curve;
    if (exact)
        return exact_area(track, to);
    if (c->n < 2 || c->heel_rad[0] > 1e-12 || c->heel_rad[c->n - 1] < to - 1e-9)
        return NAN;
    return read_area_from_start(c, to) - read_area_from_start(c, 0.0);
}

static double
lever_past_30(const Track *track, double flooding, const LeverFacts *facts)
{
    const LeverCurve *c = track->curve;
    double from = 30.0 * degree, best = NAN;
    if (flooding < from)
        return 0.0;
    double last = c->heel_rad[c->n - 1];
    if (last >= from - 1e-9)
        best = lever_near(track, from);
    if (flooding <= last)
        best = fmax(best, lever_near(track, flooding));
    for (size_t i = 0; i < c->n; i++)
        if (c->heel_rad[i] >= from && c->heel_rad[i] <= flooding)
            best = fmax(best, c->gz_m[i]);
    if (facts->max_rad >= from && facts->max_rad <= flooding)
        best = fmax(best, facts->max_m);
    return best;
}

Validity
lever_facts(const Body *body, const Load *load, double density_kg_per_m3, bool trim_free,
            const LeverCurve *curve, double flooding_rad, bool exact, LeverFacts *facts)
{
    *facts = (LeverFacts){NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN};
    Track track = {.trim_free = trim_free, .curve = curve};
    if (curve->n < 2 || isnan(flooding_rad) ||
        floater_make(body, load, density_kg_per_m3, &track.floater) != REST_FOUND)
        return REFUSED;
    for (size_t i = 0; i < curve->n; i++)
        if (!isfinite(curve->gz_m[i]) || (i > 0 && !(curve->heel_rad[i] > curve->heel_rad[i - 1])))
            return REFUSED;
    if (curve->heel_rad[0] > 1e-12 || curve->heel_rad[curve->n - 1] <= 0.0)
        return REFUSED;

    size_t top = find_peak(&track, facts);
    facts->vanishing_rad = find_vanishing(&track, top);
    double end = isnan(facts->vanishing_rad) ? INFINITY : facts->vanishing_rad;
    end = fmin(end, flooding_rad);
    if (end <= curve->heel_rad[curve->n - 1] && curve->gz_m[top] > 0.0)
        facts->range_rad = fmax(0.0, end - find_rest(&track, top));
    facts->area_30 = area_to(&track, 30.0 * degree, exact);
    facts->area_40 = area_to(&track, fmin(40.0 * degree, flooding_rad), exact);
    facts->area_30_40 = facts->area_40 - facts->area_30;
    facts->area_peak = area_to(&track, facts->max_rad, exact);
    facts->gz_30_m = lever_past_30(&track, flooding_rad, facts);
    return VALID;
}
