/* Position of rest with spaces open to the sea. Depth and trim by Newton, or by halving where Newton
 * does not end; heel followed from upright to both sides. Invariant: what is returned
 * as found is stable in heel and in trim. */
#include "physics/afloat/flooding.h"

#include <math.h>

#include "physics/afloat/poise.h"

#define SHEET "docs/methods/float.md 10.2"
const Method flooded_volume_method = {"Displaced volume with spaces open to the sea",
                                      "V - sum(V_lost) = m / rho",
                                      {SHEET, STANDING_DERIVED}};
const Method flooded_trim_method = {
    "Balance in trim of what is left", "X_B = X_G", {SHEET, STANDING_DERIVED}};
const Method flooded_heel_method = {
    "Balance in heel of what is left", "Y_B = Y_G", {SHEET, STANDING_DERIVED}};

typedef struct {
    Floater floater;
    size_t n;
    const Compartment *compartment;
    double left; /* volume of the whole closed body less what the spaces can take, m3 */
} Flooded;

static const double most_trim = 1.3;

static bool
lost_at(const Flooded *f, const Attitude *at, Immersed *lost)
{
    *lost = (Immersed){0};
    for (size_t i = 0; i < f->n; i++)
        for (size_t k = 0; k < f->floater.body->lofts; k++)
            if (!compartment_lost(&f->floater.body->loft[k], &f->compartment[i], at, lost))
                return false;
    return true;
}

static RestOutcome
make(const Body *body, const Load *load, size_t n, const Compartment compartment[], double density,
     Flooded *f)
{
    *f = (Flooded){.n = n, .compartment = compartment};
    RestOutcome outcome = floater_make(body, load, density, &f->floater);
    if (outcome != REST_FOUND)
        return outcome;
    f->left = f->floater.whole;
    for (size_t i = 0; i < n; i++) {
        if (compartment_fault(&compartment[i]) != NULL)
            return REST_NO_PLANE;
        for (size_t k = 0; k < i; k++)
            if (compartments_overlap(&compartment[i], &compartment[k]))
                return REST_NO_PLANE;
        for (size_t k = 0; k < body->lofts; k++)
            f->left -= compartment_volume_m3(&body->loft[k], &compartment[i]);
    }
    if (isnan(f->left))
        return REST_NO_PLANE;
    return f->floater.v0 < f->left * (1.0 - 1e-12) ? REST_FOUND : REST_SINKS;
}

/* The intact balance less what the spaces take: every term is linear in the integrals. */
static bool
balance(const Flooded *f, const Attitude *at, Poise *p)
{
    Immersed lost;
    poise_at(&f->floater, at, p);
    if (!lost_at(f, at, &lost))
        return false;
    double *to = (double *) &p->under;
    const double *less = (const double *) &lost;
    for (size_t i = 0; i < sizeof lost / sizeof(double); i++)
        to[i] -= less[i];
    double sh = sin(at->heel_rad), ch = cos(at->heel_rad), st = sin(at->trim_rad),
           ct = cos(at->trim_rad);
    double q = lost.y_m4 * sh + lost.z_m4 * ch, X = lost.x_m4 * ct + q * st;
    double Y = lost.y_m4 * ch - lost.z_m4 * sh, up = q * ct - lost.x_m4 * st;
    p->r[0] -= lost.volume_m3;
    p->r[1] -= X;
    p->r[2] -= Y;
    p->j[0][0] -= lost.plane_m2;
    p->j[0][1] -= lost.plane_X_m3;
    p->j[0][2] += ct * lost.plane_Y_m3;
    p->j[1][0] -= lost.plane_X_m3;
    p->j[1][1] -= up + lost.plane_XX_m4;
    p->j[1][2] -= st * Y - ct * lost.plane_XY_m4;
    p->j[2][0] -= lost.plane_Y_m3;
    p->j[2][1] -= lost.plane_XY_m4;
    p->j[2][2] += q + ct * lost.plane_YY_m4;
    return true;
}

/* Lowest and highest point of the body above the level of its origin, balls counted as cubes. */
static void
reach(const Flooded *f, const Attitude *at, double *low, double *high)
{
    const Body *body = f->floater.body;
    Attitude zero = {0.0, at->heel_rad, at->trim_rad};
    *low = INFINITY;
    *high = -INFINITY;
    for (size_t i = 0; i < body->lofts; i++) {
        const Loft *l = &body->loft[i];
        for (size_t k = 0; k < 2 * l->stations * l->points; k++) {
            size_t at_k = k / 2;
            double y = l->y_mid_m + (k & 1 ? -l->y_m[at_k] : l->y_m[at_k]);
            double h = attitude_height_m(&zero, l->x_m[at_k / l->points], y, l->z_m[at_k]);
            *low = fmin(*low, h);
            *high = fmax(*high, h);
        }
    }
    for (size_t i = 0; i < body->balls; i++) {
        const Ball *b = &body->ball[i];
        double h = attitude_height_m(&zero, b->x_m, b->y_m, b->z_m), r = cbrt(b->volume_m3);
        *low = fmin(*low, h - r);
        *high = fmax(*high, h + r);
    }
}

/* Depth at this heel and trim that leaves the load's volume: the volume grows with the depth, so a
 * bracket holds. */
static bool
find_depth(const Flooded *f, Attitude *at, double share, Poise *p)
{
    double low, high;
    reach(f, at, &low, &high);
    if (!(at->origin_depth_m > low && at->origin_depth_m < high))
        at->origin_depth_m = low + (high - low) * pow(f->floater.v0 / f->left, 0.8);
    for (int i = 0; i < 100; i++) {
        if (!balance(f, at, p))
            return false;
        if (fabs(p->r[0]) <= share * f->floater.v0)
            return true;
        *(p->r[0] > 0.0 ? &high : &low) = at->origin_depth_m;
        if (high - low <= 1e-15 * (fabs(low) + fabs(high)))
            return true;
        double next = at->origin_depth_m - p->r[0] / p->under.plane_m2;
        at->origin_depth_m = next > low && next < high ? next : 0.5 * (low + high);
    }
    return false;
}

static bool
newton(const Flooded *f, Attitude *at, Poise *p)
{
    for (int i = 0; i < 25; i++) {
        if (!balance(f, at, p))
            return false;
        double(*j)[3] = p->j, det = j[0][0] * j[1][1] - j[0][1] * j[1][0];
        if (!(j[0][0] > 0.0) || !(det > 1e-9 * j[0][0] * fabs(j[1][1])))
            return false;
        double depth = (-p->r[0] * j[1][1] + p->r[1] * j[0][1]) / det;
        double trim = (-p->r[1] * j[0][0] + p->r[0] * j[1][0]) / det;
        if (!isfinite(depth) || !isfinite(trim))
            return false;
        double share = fmin(1.0, fmin(0.3 * f->floater.size / fabs(depth), 0.1 / fabs(trim)));
        at->origin_depth_m += share * depth;
        at->trim_rad += share * trim;
        if (step_is_last(&f->floater, p, depth, trim, 0.0)) {
            for (int k = 0; k < 3; k++)
                p->r[k] += j[k][0] * depth + j[k][1] * trim;
            return true;
        }
        if (fabs(at->trim_rad) > most_trim)
            return false;
    }
    return false;
}

static double
trimming(const Flooded *f, Attitude *at, Poise *p)
{
    return fabs(at->trim_rad) < most_trim && find_depth(f, at, 1e-13, p) ? p->r[1] : NAN;
}

/* Both ways from the start to the nearest trim where the moment turns from aft to forward, the
 * stable crossing; then halves. */
static bool
search_trim(const Flooded *f, Attitude *at, Poise *p)
{
    const double stride = 0.04;
    Attitude side[2] = {*at, *at};
    double moment[2], low = NAN;
    moment[0] = moment[1] = trimming(f, at, p);
    for (int i = 0; i < 65 && isnan(low); i++)
        for (int k = 0; k < 2 && isnan(low); k++) {
            double out = k == 0 ? 1.0 : -1.0, before = moment[k];
            side[k].trim_rad += out * stride;
            moment[k] = trimming(f, &side[k], p);
            double aft = k == 0 ? before : moment[k], fwd = k == 0 ? moment[k] : before;
            if (aft <= 0.0 && fwd > 0.0)
                low = side[k].trim_rad - (k == 0 ? stride : 0.0);
        }
    if (isnan(low))
        return false;
    double high = low + stride;
    for (int i = 0; i < 60 && high - low > 1e-13; i++) {
        at->trim_rad = 0.5 * (low + high);
        *(trimming(f, at, p) > 0.0 ? &high : &low) = at->trim_rad;
    }
    return isfinite(trimming(f, at, p));
}

static bool
settled(const Flooded *f, Attitude *at, Poise *p)
{
    Attitude start = *at;
    if (isfinite(start.origin_depth_m) && newton(f, at, p))
        return true;
    *at = start;
    if (find_depth(f, at, 1e-3, p) && newton(f, at, p))
        return true;
    *at = (Attitude){start.origin_depth_m, start.heel_rad, 0.0};
    return search_trim(f, at, p);
}

typedef struct {
    Attitude at;
    Poise poise;
    double lever, slope;
    bool lies;
} Stop;

/* stop->at is where it begins. */
static void
settle_here(const Flooded *f, Stop *stop)
{
    stop->lies = settled(f, &stop->at, &stop->poise);
    stop->lever = stop->lies ? poise_lever_m(&f->floater, &stop->poise) : NAN;
    stop->slope = stop->lies ? poise_lever_slope(&f->floater, &stop->poise, true) : NAN;
}

/* From one heel to the next along the tangent. */
static void
go_on(const Flooded *f, double heel, Stop *stop)
{
    Follow along = poise_follow(&stop->poise, true);
    double by = heel - stop->at.heel_rad;
    stop->at = (Attitude){stop->at.origin_depth_m + along.depth * by, heel,
                          stop->at.trim_rad + along.trim * by};
    settle_here(f, stop);
}

/* Between inner, where the lever drives her outward, and *stop, where it rights her. */
static bool
close_in(const Flooded *f, double inner, Stop *stop)
{
    double outer = stop->at.heel_rad, side = outer > inner ? 1.0 : -1.0;
    for (int i = 0; i < 100; i++) {
        double heel = stop->at.heel_rad, next = heel - stop->lever / stop->slope;
        bool small = fabs(outer - inner) < 1e-12;
        if (fabs(next - heel) < 1e-9 || small) {
            if (!small && (next - inner) * (next - outer) < 0.0)
                go_on(f, next, stop);
            return stop->lies && stop->slope > 0.0;
        }
        if (!((next - inner) * (next - outer) < 0.0))
            next = 0.5 * (inner + outer);
        go_on(f, next, stop);
        if (!stop->lies)
            return false;
        *(side * stop->lever >= 0.0 ? &outer : &inner) = next;
    }
    return false;
}

/* Outward to one side in steps of two degrees, no farther than `most`: the first heel at which the
 * lever turns from driving her outward to righting her. */
static bool
follow(const Flooded *f, const Stop *upright, double side, double most, Stop *stop)
{
    const double stride = M_PI / 90.0;
    bool balanced = fabs(upright->lever) < 1e-12 * f->floater.size;
    double inner = 0.0, outward = balanced ? upright->slope : side * upright->lever;
    *stop = *upright;
    for (int i = 1; i <= 45 && fabs(inner) < most; i++) {
        go_on(f, side * stride * i, stop);
        if (!stop->lies)
            return false;
        if (outward <= 0.0 && side * stop->lever > 0.0)
            return close_in(f, inner, stop);
        outward = side * stop->lever;
        inner = stop->at.heel_rad;
    }
    return false;
}

/* Newton in depth, trim and heel together from upright. Its first step, the lever followed with its slope upright, must
 * lead to about the heel that is found; anything else is left to the search to both sides. */
static bool
near_upright(const Flooded *f, Stop *stop)
{
    double foretold = NAN;
    for (int i = 0; i < 12; i++) {
        Step step;
        if (!balance(f, &stop->at, &stop->poise) || !poise_step(&stop->poise, &step))
            return false;
        if (i == 0 && step.rights)
            foretold = step.heel;
        step_take(&f->floater, &step, &stop->at);
        double heel = stop->at.heel_rad, ratio = heel / foretold;
        if (!(fabs(heel) < 0.15 && fabs(stop->at.trim_rad) < 0.5))
            return false;
        if (step_is_last(&f->floater, &stop->poise, step.depth, step.trim, step.heel))
            return step.rights && (fabs(heel) < 1e-9 || (ratio > 0.8 && ratio < 1.25));
    }
    return false;
}

/* The stable heel nearest to upright; starboard when both sides are alike. */
static bool
find_heel(const Flooded *f, Stop *stop)
{
    const Stop upright = *stop;
    bool balanced = fabs(upright.lever) < 1e-12 * f->floater.size;
    if (balanced && upright.slope > 0.0)
        return true;
    double side = balanced || upright.lever < 0.0 ? 1.0 : -1.0;
    bool found = follow(f, &upright, side, M_PI_2, stop);
    Stop other;
    double most = found ? fabs(stop->at.heel_rad) : M_PI_2;
    if (follow(f, &upright, -side, most, &other) && fabs(other.at.heel_rad) < most - 1e-9) {
        *stop = other;
        return true;
    }
    return found;
}

static void
describe(const Flooded *f, const Stop *stop, Rest *rest)
{
    const Immersed *u = &stop->poise.under;
    const Attitude *at = &stop->at;
    double sh = sin(at->heel_rad), ch = cos(at->heel_rad), st = sin(at->trim_rad),
           ct = cos(at->trim_rad), v = u->volume_m3, v0 = f->floater.v0;
    double X = u->plane_X_m3 / u->plane_m2, Y = u->plane_Y_m3 / u->plane_m2;
    *rest = (Rest){.outcome = REST_FOUND, .at = *at, .under = *u, .volume_m3 = v};
    rest->lcb_m = u->x_m4 / v;
    rest->tcb_m = u->y_m4 / v;
    rest->vcb_m = u->z_m4 / v;
    rest->waterplane_m2 = u->plane_m2;
    rest->inertia_t_m4 = u->plane_YY_m4 - Y * u->plane_Y_m3;
    rest->inertia_l_m4 = u->plane_XX_m4 - X * u->plane_X_m3;
    double q = X * st + at->origin_depth_m * ct;
    rest->lcf_m = X * ct - at->origin_depth_m * st;
    rest->tcf_m = Y * ch + q * sh;
    rest->bm_m = rest->inertia_t_m4 / v;
    rest->km_m = rest->vcb_m / (ch * ct) + rest->bm_m;
    const double *g = stop->poise.g;
    rest->bg_m = ((g[1] * sh + g[2] * ch) * ct - g[0] * st) / v0 -
                 ((rest->tcb_m * sh + rest->vcb_m * ch) * ct - rest->lcb_m * st);
    rest->free_surface_m = stop->poise.free_yy / v0;
    rest->solid_gm_m = rest->bm_m - rest->bg_m;
    rest->gm_m = rest->solid_gm_m - rest->free_surface_m;
    rest->gm_l_m = rest->inertia_l_m4 / v - rest->bg_m;
}

static Validity
refuse(Rest *rest, RestOutcome outcome)
{
    double *all = &rest->volume_m3;
    *rest = (Rest){.outcome = outcome, .at = {NAN, NAN, NAN}};
    while (all <= &rest->solid_gm_m)
        *all++ = NAN;
    return REFUSED;
}

Validity
flooded_rest(const Body *body, const Load *load, size_t n, const Compartment compartment[],
             double density_kg_per_m3, Rest *rest)
{
    Flooded f;
    RestOutcome outcome = make(body, load, n, compartment, density_kg_per_m3, &f);
    if (outcome != REST_FOUND)
        return refuse(rest, outcome);
    const Stop nowhere = {.at.origin_depth_m = NAN};
    Stop stop = nowhere;
    if (!find_depth(&f, &stop.at, 0.1, &stop.poise) || !near_upright(&f, &stop)) {
        stop = nowhere;
        settle_here(&f, &stop);
        if (!stop.lies)
            return refuse(rest, REST_PITCHES);
        if (!find_heel(&f, &stop))
            return refuse(rest, REST_UNSTABLE);
    }
    if (!balance(&f, &stop.at, &stop.poise) || !(stop.poise.under.plane_m2 > 0.0))
        return refuse(rest, REST_NO_PLANE);
    describe(&f, &stop, rest);
    return VALID;
}

Validity
flooded_lever(const Body *body, const Load *load, size_t n, const Compartment compartment[],
              double density_kg_per_m3, double heel_rad, Attitude *at, double *lever_m)
{
    Flooded f;
    *lever_m = NAN;
    if (!(fabs(heel_rad) <= 2.0 * M_PI) || !(fabs(at->trim_rad) < most_trim) ||
        make(body, load, n, compartment, density_kg_per_m3, &f) != REST_FOUND)
        return REFUSED;
    Stop stop = {.at = {at->origin_depth_m, heel_rad, at->trim_rad}};
    settle_here(&f, &stop);
    if (!stop.lies)
        return REFUSED;
    *at = stop.at;
    *lever_m = stop.lever;
    return VALID;
}
