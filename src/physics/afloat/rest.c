/* Position of rest of a loaded body: three unknowns by Newton where she lies near upright, else by
 * walking the curve of levers outward to both sides. Invariant: what is returned as found is stable
 * in heel and in trim. */
#include "physics/afloat/rest.h"

#include <math.h>

#include "physics/afloat/poise.h"

const Method rest_volume_method = {
    "Displaced volume", "V = m / rho", {"Archimedes; docs/methods/float.md 2.6", STANDING_DERIVED}};
const Method rest_trim_method = {
    "Balance in trim: buoyancy below the centre of gravity, fore and aft",
    "X_B = X_G",
    {"docs/methods/float.md 2.6", STANDING_DERIVED}};
const Method rest_heel_method = {
    "Balance in heel: buoyancy below the centre of gravity, athwartships",
    "Y_B = Y_G",
    {"docs/methods/float.md 2.7", STANDING_DERIVED}};
const Method bm_method = {"Metacentre above the centre of buoyancy",
                          "BM = I_T / V",
                          {"docs/methods/float.md 2.5", STANDING_DERIVED}};
const Method km_method = {"Metacentre above the base line",
                          "KM = KB + BM",
                          {"docs/methods/float.md 2.5", STANDING_DERIVED}};
const Method free_surface_method = {"What slack tanks take from the metacentric height",
                                    "FS = sum(rho_t * i_t) / m",
                                    {"Barrass and Derrett, Ship Stability for Masters and Mates, "
                                     "5th ed., p. 193-195; docs/methods/float.md 3",
                                     STANDING_READ}};
const Method gm_method = {
    "Metacentric height", "GM = BM - BG - FS", {"docs/methods/float.md 2.5, 3", STANDING_DERIVED}};

/* Newton in depth, trim and heel together; under: what is under water at the start, where known. *foretold: heel to which the first step leads, NAN when she does not right
 * herself at the start. */
static bool
newton3(const Floater *floater, const Immersed *under, Attitude *at, Poise *poise, double *foretold)
{
    Step step;
    *foretold = NAN;
    for (int i = 0; i < 25; i++) {
        if (i == 0 && under != NULL)
            poise_of(floater, at, under, poise);
        else
            poise_at(floater, at, poise);
        if (!poise_step(poise, &step))
            return false;
        if (i == 0 && step.rights)
            *foretold = at->heel_rad + step.heel;
        step_take(floater, &step, at);
        if (step_is_last(floater, poise, step.depth, step.trim, step.heel))
            return true;
        if (fabs(at->trim_rad) > 1.3 || fabs(at->heel_rad) > 1.5)
            return false;
    }
    return false;
}

/* Whether the root Newton found is the nearest to upright: the lever, followed from upright with its slope there,
 * must lead to about the same heel. Anything else is left to the walk. Depth and trim for upright by the linear
 * picture: what it misses is of the square of a small heel, or of how far off the start was. */
static bool
is_nearest(const Floater *floater, const Attitude *found, double foretold)
{
    if (fabs(found->heel_rad) < 1e-9)
        return true;
    if (fabs(found->heel_rad) > 0.15)
        return false;
    double ratio = found->heel_rad / foretold;
    if (ratio > 0.8 && ratio < 1.25)
        return true;
    Attitude at = *found;
    Poise p;
    at.heel_rad = 0.0;
    poise_at(floater, &at, &p);
    double det = p.j[0][0] * p.j[1][1] - p.j[0][1] * p.j[1][0];
    double depth = (-p.r[0] * p.j[1][1] + p.r[1] * p.j[0][1]) / det;
    double trim = (-p.r[1] * p.j[0][0] + p.r[0] * p.j[1][0]) / det;
    double lever = -(p.r[2] + p.j[2][0] * depth + p.j[2][1] * trim) / floater->v0;
    double slope = poise_lever_slope(floater, &p, true);
    ratio = -found->heel_rad * slope / lever;
    return det > 0.0 && slope > 0.0 && ratio > 0.6 && ratio < 1.6;
}

/* The rest near upright, from upright at the depth and trim of *at. */
static bool
near_upright(const Floater *floater, const Immersed *under, Attitude *at)
{
    Poise poise;
    double foretold;
    at->heel_rad = 0.0;
    if (!newton3(floater, under, at, &poise, &foretold))
        return false;
    if (fabs(at->heel_rad) < 1e-14) /* rounding in sums over two like sides */
        at->heel_rad = 0.0;
    return poise_lever_slope(floater, &poise, true) > 0.0 && is_nearest(floater, at, foretold);
}

typedef struct {
    Attitude at;
    double lever, slope;
    bool lies;
} Stop;

static Stop
stop_at(const Floater *floater, const Attitude *from, double heel)
{
    Stop stop = {.at = {from->origin_depth_m, heel, from->trim_rad}};
    Poise poise;
    stop.lies = settle(floater, true, &stop.at, &poise);
    stop.lever = stop.lies ? poise_lever_m(floater, &poise) : NAN;
    stop.slope = stop.lies ? poise_lever_slope(floater, &poise, true) : NAN;
    return stop;
}

/* Heel between inner and outer where the lever, seen outward, turns from capsizing to righting. The
 * sign at the inner end is taken for granted: with a negative GM the lever there is zero, and leads
 * away from upright. */
static bool
close_in(const Floater *floater, Stop inner, Stop outer, Attitude *found)
{
    double side = outer.at.heel_rad > inner.at.heel_rad ? 1.0 : -1.0;
    Stop s = outer;
    for (int i = 0; i < 100; i++) {
        double next = s.at.heel_rad - s.lever / s.slope;
        double low = fmin(inner.at.heel_rad, outer.at.heel_rad);
        double high = fmax(inner.at.heel_rad, outer.at.heel_rad);
        bool last = fabs(next - s.at.heel_rad) < 1e-12 || high - low < 1e-12;
        if (!(next > low && next < high)) {
            next = 0.5 * (low + high);
            last = high - low < 1e-12;
        }
        s = stop_at(floater, &s.at, next);
        if (!s.lies)
            return false;
        if (last) {
            *found = s.at;
            return true;
        }
        if (side * s.lever >= 0.0)
            outer = s;
        else
            inner = s;
    }
    return false;
}

/* Outward in steps of two degrees to both sides at once, so that the nearer position is met first;
 * starboard when both lie in the same step and as far. */
static bool
walk(const Floater *floater, const Attitude *upright, double most_rad, Attitude *found)
{
    const double stride = M_PI / 90.0;
    Stop first = stop_at(floater, upright, 0.0);
    if (!first.lies)
        return false;
    Stop side[2] = {first, first};
    double sign[2];
    for (int k = 0; k < 2; k++) {
        double out = k == 0 ? 1.0 : -1.0;
        bool zero = fabs(first.lever) < 1e-13 * floater->size;
        sign[k] = zero ? first.slope : out * first.lever;
    }
    for (int i = 1; stride * i <= most_rad; i++) {
        Attitude met[2];
        bool has[2] = {false, false};
        for (int k = 0; k < 2; k++) {
            double out = k == 0 ? 1.0 : -1.0;
            if (!side[k].lies)
                continue;
            Stop next = stop_at(floater, &side[k].at, out * stride * i);
            if (next.lies && sign[k] <= 0.0 && out * next.lever > 0.0)
                has[k] = close_in(floater, side[k], next, &met[k]);
            sign[k] = out * next.lever;
            side[k] = next;
        }
        if (has[0] || has[1]) {
            bool port = has[1] && (!has[0] || fabs(met[1].heel_rad) < fabs(met[0].heel_rad) - 1e-9);
            *found = met[port];
            return true;
        }
    }
    return false;
}

static void
describe(const Floater *floater, const Poise *poise, Rest *rest)
{
    const Immersed *u = &poise->under;
    const Attitude *at = &rest->at;
    double sh = sin(at->heel_rad), ch = cos(at->heel_rad), st = sin(at->trim_rad),
           ct = cos(at->trim_rad);
    rest->under = *u;
    rest->volume_m3 = u->volume_m3;
    rest->lcb_m = u->x_m4 / u->volume_m3;
    rest->tcb_m = u->y_m4 / u->volume_m3;
    rest->vcb_m = u->z_m4 / u->volume_m3;
    rest->waterplane_m2 = u->plane_m2;
    double X = u->plane_X_m3 / u->plane_m2, Y = u->plane_Y_m3 / u->plane_m2;
    rest->inertia_t_m4 = u->plane_YY_m4 - Y * u->plane_Y_m3;
    rest->inertia_l_m4 = u->plane_XX_m4 - X * u->plane_X_m3;
    /* Back from earth to body axes; the plane lies at the height of the origin's depth. */
    double q = X * st + at->origin_depth_m * ct;
    rest->lcf_m = X * ct - at->origin_depth_m * st;
    rest->tcf_m = Y * ch + q * sh;
    rest->bm_m = rest->inertia_t_m4 / u->volume_m3;
    rest->km_m = rest->vcb_m / (ch * ct) + rest->bm_m;
    double g_up = ((poise->g[1] * sh + poise->g[2] * ch) * ct - poise->g[0] * st) / floater->v0;
    double b_up = (rest->tcb_m * sh + rest->vcb_m * ch) * ct - rest->lcb_m * st;
    rest->bg_m = g_up - b_up;
    rest->free_surface_m = poise->free_yy / floater->v0;
    rest->solid_gm_m = rest->bm_m - rest->bg_m;
    rest->gm_m = rest->solid_gm_m - rest->free_surface_m;
    rest->gm_l_m = rest->inertia_l_m4 / u->volume_m3 - rest->bg_m;
}

static Validity
refuse(Rest *rest, RestOutcome outcome)
{
    *rest = (Rest){.outcome = outcome,
                   .at = {NAN, NAN, NAN},
                   .volume_m3 = NAN,
                   .lcb_m = NAN,
                   .tcb_m = NAN,
                   .vcb_m = NAN,
                   .waterplane_m2 = NAN,
                   .lcf_m = NAN,
                   .tcf_m = NAN,
                   .inertia_t_m4 = NAN,
                   .inertia_l_m4 = NAN,
                   .bm_m = NAN,
                   .km_m = NAN,
                   .bg_m = NAN,
                   .free_surface_m = NAN,
                   .gm_m = NAN,
                   .gm_l_m = NAN,
                   .solid_gm_m = NAN};
    return REFUSED;
}

/* Without a start to lean on: upright first, and the walk when she does not rest near it. */
static RestOutcome
search(const Floater *floater, double most_rad, Attitude *at)
{
    Attitude upright = {.origin_depth_m = INFINITY};
    if (!settle_depth(floater, &upright, 0.1))
        return REST_NO_PLANE;
    *at = upright;
    if (near_upright(floater, NULL, at))
        return REST_FOUND;
    Poise poise;
    if (!settle(floater, true, &upright, &poise))
        return REST_PITCHES;
    return walk(floater, &upright, most_rad, at) ? REST_FOUND : REST_UNSTABLE;
}

void
hold_upright(const Body *body, const Load *load, double density_kg_per_m3, Upright *upright)
{
    Floater floater;
    Poise poise;
    *upright = (Upright){.at.origin_depth_m = INFINITY};
    if (floater_make(body, load, density_kg_per_m3, &floater) != REST_FOUND ||
        !settle(&floater, true, &upright->at, &poise))
        upright->at.origin_depth_m = NAN;
    else
        body_immersed(body, &upright->at, &upright->under);
}

static const double over = 90.5 * M_PI / 180.0; /* 90 deg and what rounding takes */

static Validity
find(const Upright *upright, double most_rad, const Body *body, const Load *load, double density,
     Rest *rest)
{
    Floater floater;
    RestOutcome outcome = floater_make(body, load, density, &floater);
    if (outcome != REST_FOUND)
        return refuse(rest, outcome);
    Attitude at = upright->at;
    if (isnan(at.origin_depth_m) || !near_upright(&floater, &upright->under, &at))
        outcome = search(&floater, most_rad, &at);
    if (outcome != REST_FOUND)
        return refuse(rest, outcome);
    Poise poise;
    poise_at(&floater, &at, &poise);
    if (!(poise.under.plane_m2 > 0.0) || !(fabs(poise.r[0]) <= 1e-6 * floater.v0))
        return refuse(rest, REST_NO_PLANE);
    *rest = (Rest){.outcome = REST_FOUND, .at = at};
    describe(&floater, &poise, rest);
    return VALID;
}

Validity
rest_find(const Body *body, const Load *load, double density_kg_per_m3, Rest *rest)
{
    return rest_find_within(over, body, load, density_kg_per_m3, rest);
}

Validity
rest_find_within(double most_heel_rad, const Body *body, const Load *load, double density_kg_per_m3,
                 Rest *rest)
{
    const Upright unknown = {.at.origin_depth_m = NAN};
    return find(&unknown, most_heel_rad, body, load, density_kg_per_m3, rest);
}

Validity
rest_find_from(const Upright *upright, const Body *body, const Load *load, double density_kg_per_m3,
               Rest *rest)
{
    return find(upright, over, body, load, density_kg_per_m3, rest);
}

Validity
rest_at_heel(const Body *body, const Load *load, double density_kg_per_m3, double heel_rad,
             bool trim_free, Attitude *at, double *lever_m)
{
    Floater floater;
    Poise poise;
    *lever_m = NAN;
    if (!(fabs(heel_rad) <= 2.0 * M_PI) || !(fabs(at->trim_rad) < 1.3) ||
        floater_make(body, load, density_kg_per_m3, &floater) != REST_FOUND)
        return REFUSED;
    at->heel_rad = heel_rad;
    if (!settle(&floater, trim_free, at, &poise))
        return REFUSED;
    *lever_m = poise_lever_m(&floater, &poise);
    return VALID;
}
