/* Balance of a loaded body at an attitude, with its exact derivatives.
 * Invariant: the derivative matrix belongs to the same water plane as the residuals. */
#include "physics/afloat/poise.h"

#include <math.h>

static void
bounds(const Body *body, double *breadth, double *height)
{
    double y[2] = {INFINITY, -INFINITY}, z[2] = {INFINITY, -INFINITY};
    for (size_t i = 0; i < body->lofts; i++) {
        const Loft *loft = &body->loft[i];
        double half = 0.0;
        for (size_t k = 0; k < loft->stations * loft->points; k++) {
            double up = loft->z_m[k];
            half = loft->y_m[k] > half ? loft->y_m[k] : half;
            z[0] = up < z[0] ? up : z[0];
            z[1] = up > z[1] ? up : z[1];
        }
        y[0] = fmin(y[0], loft->y_mid_m - half);
        y[1] = fmax(y[1], loft->y_mid_m + half);
    }
    *breadth = y[1] - y[0];
    *height = z[1] - z[0];
}

RestOutcome
floater_make(const Body *body, const Load *load, double density_kg_per_m3, Floater *floater)
{
    *floater = (Floater){.body = body, .load = load, .density = density_kg_per_m3};
    const double place[] = {load->lcg_m, load->tcg_m, load->vcg_m};
    if (!(density_kg_per_m3 > 0.0 && density_kg_per_m3 < 1e6) ||
        !(load->mass_kg > 0.0 && load->mass_kg < 1e15))
        return REST_NO_PLANE;
    floater->v0 = load->mass_kg / density_kg_per_m3;
    for (size_t i = 0; i < 3; i++) {
        if (!(fabs(place[i]) <= 1e5))
            return REST_NO_PLANE;
        floater->solid[i] = floater->v0 * place[i];
    }
    for (size_t i = 0; i < load->tanks; i++) {
        TankLiquid upright;
        if (tank_fault(&load->tank[i]) != NULL)
            return REST_NO_PLANE;
        tank_lies(&load->tank[i], 0.0, 0.0, &upright);
        double v = tank_liquid_kg(&load->tank[i]) / density_kg_per_m3;
        floater->solid[0] -= v * upright.x_m;
        floater->solid[1] -= v * upright.y_m;
        floater->solid[2] -= v * upright.z_m;
    }
    double breadth, height;
    bounds(body, &breadth, &height);
    floater->size = fmax(breadth, height);
    if (!(floater->size > 0.0 && isfinite(floater->size)))
        return REST_NO_PLANE;
    floater->whole = body_volume_m3(body);
    return floater->v0 < floater->whole ? REST_FOUND : REST_SINKS;
}

typedef struct {
    double sh, ch, st, ct;
} Angles;

/* Moments of a volume in earth axes: X, Y, height above the origin's level, and q. */
typedef struct {
    double X, Y, up, q;
} Earth;

static Earth
earth_moments(const Angles *a, double x, double y, double z)
{
    double q = y * a->sh + z * a->ch;
    return (Earth){x * a->ct + q * a->st, y * a->ch - z * a->sh, q * a->ct - x * a->st, q};
}

void
poise_at(const Floater *floater, const Attitude *at, Poise *poise)
{
    Immersed under;
    body_immersed(floater->body, at, &under);
    poise_of(floater, at, &under, poise);
}

void
poise_of(const Floater *floater, const Attitude *at, const Immersed *under, Poise *poise)
{
    const Angles a = {sin(at->heel_rad), cos(at->heel_rad), sin(at->trim_rad), cos(at->trim_rad)};
    const Load *load = floater->load;
    double xx = 0.0, yy = 0.0, xy = 0.0;
    const EarthAxes axes = earth_axes(a.sh, a.ch, a.st, a.ct);
    for (size_t i = 0; i < 3; i++)
        poise->g[i] = floater->solid[i];
    for (size_t i = 0; i < load->tanks; i++) {
        TankLiquid lies;
        tank_lies_at(&load->tank[i], &axes, &lies);
        double v = tank_liquid_kg(&load->tank[i]) / floater->density;
        double ratio = load->tank[i].density_kg_per_m3 / floater->density;
        poise->g[0] += v * lies.x_m;
        poise->g[1] += v * lies.y_m;
        poise->g[2] += v * lies.z_m;
        xx += ratio * lies.surface_XX_m4;
        yy += ratio * lies.surface_YY_m4;
        xy += ratio * lies.surface_XY_m4;
    }
    poise->free_yy = yy;

    poise->under = *under;
    const Immersed *u = &poise->under;
    Earth b = earth_moments(&a, u->x_m4, u->y_m4, u->z_m4);
    Earth g = earth_moments(&a, poise->g[0], poise->g[1], poise->g[2]);
    poise->r[0] = u->volume_m3 - floater->v0;
    poise->r[1] = b.X - g.X;
    poise->r[2] = b.Y - g.Y;

    double(*j)[3] = poise->j;
    j[0][0] = u->plane_m2;
    j[0][1] = u->plane_X_m3;
    j[0][2] = -a.ct * u->plane_Y_m3;
    j[1][0] = u->plane_X_m3;
    j[1][1] = b.up - g.up + u->plane_XX_m4 - xx;
    j[1][2] = a.st * (b.Y - g.Y) - a.ct * (u->plane_XY_m4 - xy);
    j[2][0] = u->plane_Y_m3;
    j[2][1] = u->plane_XY_m4 - xy;
    j[2][2] = g.q - b.q - a.ct * (u->plane_YY_m4 - yy);
}

double
poise_lever_m(const Floater *floater, const Poise *poise)
{
    return -poise->r[2] / floater->v0;
}

Follow
poise_follow(const Poise *poise, bool trim_free)
{
    const double *v = poise->j[0], *t = poise->j[1];
    if (!trim_free)
        return (Follow){-v[2] / v[0], 0.0};
    double det = v[0] * t[1] - v[1] * t[0];
    return (Follow){(-v[2] * t[1] + t[2] * v[1]) / det, (-t[2] * v[0] + v[2] * t[0]) / det};
}

bool
poise_step(const Poise *poise, Step *step)
{
    const double *r = poise->r, *v = poise->j[0], *t = poise->j[1], *h = poise->j[2];
    double det = v[0] * t[1] - v[1] * t[0];
    if (!(v[0] > 0.0) || !(det > 0.0))
        return false;
    /* Heel by the lever's own slope, then depth and trim follow: the block form of the 3 x 3
     * system. */
    Follow follow = poise_follow(poise, true);
    double depth = (-r[0] * t[1] + r[1] * v[1]) / det, trim = (-r[1] * v[0] + r[0] * t[0]) / det;
    double slope = h[2] + h[0] * follow.depth + h[1] * follow.trim;
    step->heel = -(r[2] + h[0] * depth + h[1] * trim) / slope;
    step->depth = depth + follow.depth * step->heel;
    step->trim = trim + follow.trim * step->heel;
    step->rights = slope < 0.0;
    return isfinite(step->heel) && isfinite(step->depth) && isfinite(step->trim);
}

void
step_take(const Floater *floater, const Step *step, Attitude *at)
{
    double share = fmin(fmin(1.0, 0.3 * floater->size / fabs(step->depth)),
                        fmin(0.1 / fabs(step->trim), 0.1 / fabs(step->heel)));
    at->origin_depth_m += share * step->depth;
    at->trim_rad += share * step->trim;
    at->heel_rad += share * step->heel;
}

double
poise_lever_slope(const Floater *floater, const Poise *poise, bool trim_free)
{
    const double *h = poise->j[2];
    Follow follow = poise_follow(poise, trim_free);
    return -(h[2] + h[0] * follow.depth + h[1] * follow.trim) / floater->v0;
}
