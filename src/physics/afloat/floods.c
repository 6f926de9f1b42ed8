/* Heel at which a point of the boat comes under water. Invariant: the first crossing on each side
 * is taken, found between two neighbouring heels of that side's curve. */
#include "physics/afloat/lever.h"

#include <math.h>

#include "physics/afloat/poise.h"

typedef struct {
    const Floater *floater;
    double x, y, z;
} Point;

static double
height(const Point *p, const Attitude *at)
{
    return attitude_height_m(at, p->x, p->y, p->z);
}

/* How the height changes with heel as she follows. */
static double
height_slope(const Point *p, const Attitude *at, const Follow *follow)
{
    double sh = sin(at->heel_rad), ch = cos(at->heel_rad), q = p->y * sh + p->z * ch;
    double X = p->x * cos(at->trim_rad) + q * sin(at->trim_rad), Y = p->y * ch - p->z * sh;
    return Y * cos(at->trim_rad) - follow->depth - X * follow->trim;
}

/* Heel between a dry and a wet attitude at which the point meets the water: Newton, halved when it leaves or drags. */
static double
meet(const Point *p, const Attitude *dry, const Attitude *wet)
{
    const double close_enough = 1e-10; /* rad; a step as small leaves its square */
    double a = dry->heel_rad, b = wet->heel_rad;
    Attitude at = height(p, dry) < -height(p, wet) ? *dry : *wet;
    Follow follow = {0};
    Poise poise;
    double x = at.heel_rad;
    for (int i = 0; i < 100; i++) {
        if (!settle_onward(p->floater, true, x, &at, &follow, &poise))
            return NAN;
        double f = height(p, &at), step = -f / height_slope(p, &at, &follow);
        *(f > 0.0 ? &a : &b) = x;
        if (f == 0.0 || fabs(b - a) <= close_enough)
            break;
        if (fabs(step) <= close_enough)
            return x + step;
        x += step;
        if (i % 4 == 3 || !(x > fmin(a, b) && x < fmax(a, b)))
            x = 0.5 * (a + b);
    }
    return x;
}

/* Follows one side's curve away from upright. */
static double
first_meeting(const Point *p, const LeverCurve *c, bool starboard, double limit)
{
    Attitude before = {0};
    bool started = false;
    for (size_t k = 0; k < c->n; k++) {
        size_t i = starboard ? k : c->n - 1 - k;
        Attitude at = {c->depth_m[i], c->heel_rad[i], c->trim_rad[i]};
        if (starboard ? at.heel_rad < -1e-12 : at.heel_rad > 1e-12)
            continue;
        if (isnan(at.origin_depth_m))
            return NAN;
        bool last = fabs(at.heel_rad) >= limit - 1e-12;
        if (height(p, &at) <= 0.0) {
            double heel = started ? meet(p, &before, &at) : at.heel_rad;
            return fabs(heel) <= limit + 1e-12 ? fabs(heel) : NAN;
        }
        if (last)
            return NAN;
        before = at;
        started = true;
    }
    return NAN;
}

double
point_floods_rad(const Body *body, const Load *load, double density_kg_per_m3,
                 const LeverCurve *starboard, const LeverCurve *port, double x_m, double y_m,
                 double z_m, double limit_rad, int *side)
{
    *side = 0;
    Floater floater;
    if (!isfinite(x_m) || !isfinite(y_m) || !isfinite(z_m) ||
        floater_make(body, load, density_kg_per_m3, &floater) != REST_FOUND)
        return NAN;
    Point p = {&floater, x_m, y_m, z_m};
    double s = first_meeting(&p, starboard, true, limit_rad);
    double t = first_meeting(&p, port, false, limit_rad);
    if (isnan(s) && isnan(t))
        return NAN;
    bool to_port = isnan(s) || t < s;
    *side = to_port ? -1 : 1;
    return to_port ? t : s;
}
