/* Depth and trim of a loaded body at a given heel: Newton with limited steps, and a search that
 * cannot fail to end when Newton does. Invariant: every loop is bounded, and a result balances
 * volume and (trim free) trim stably. */
#include "physics/afloat/poise.h"

#include <math.h>

enum { NEWTON_STEPS = 25, DEPTH_STEPS = 100 };
static const double most_trim =
    1.3; /* rad; steeper she stands on end and X along the ship has no meaning */

bool
step_is_last(const Floater *floater, const Poise *poise, double depth, double trim, double heel)
{
    double scale = fmin(1.0, floater->size);
    return fabs(depth) < 1e-7 * scale && fabs(trim) < 1e-7 && fabs(heel) < 1e-7 &&
           fabs(poise->r[0]) <=
               1e-6 * floater->v0; /* a feather on a barge moves it by less than any length */
}

/* Heights of the lowest and the highest point of the body above the level of its origin. */
static void
reach(const Floater *floater, const Attitude *at, double *low, double *high)
{
    Attitude zero = {0.0, at->heel_rad, at->trim_rad};
    const Body *body = floater->body;
    *low = INFINITY;
    *high = -INFINITY;
    for (size_t i = 0; i < body->lofts; i++) {
        const Loft *loft = &body->loft[i];
        for (size_t k = 0; k < loft->stations * loft->points; k++) {
            double x = loft->x_m[k / loft->points];
            double p = attitude_height_m(&zero, x, loft->y_mid_m + loft->y_m[k], loft->z_m[k]);
            double s = attitude_height_m(&zero, x, loft->y_mid_m - loft->y_m[k], loft->z_m[k]);
            *low = fmin(*low, fmin(p, s));
            *high = fmax(*high, fmax(p, s));
        }
    }
    for (size_t i = 0; i < body->balls; i++) {
        double c =
            attitude_height_m(&zero, body->ball[i].x_m, body->ball[i].y_m, body->ball[i].z_m);
        double radius = cbrt(body->ball[i].volume_m3);
        *low = fmin(*low, c - radius);
        *high = fmax(*high, c + radius);
    }
}

bool
settle_depth(const Floater *floater, Attitude *at, double share)
{
    double low, high;
    reach(floater, at, &low, &high);
    if (!(at->origin_depth_m > low && at->origin_depth_m < high))
        at->origin_depth_m =
            low + (high - low) * pow(floater->v0 / floater->whole, 0.8); /* a usual hull */
    for (int i = 0; i < DEPTH_STEPS; i++) {
        Immersed u;
        body_immersed(floater->body, at, &u);
        double excess = u.volume_m3 - floater->v0;
        if (fabs(excess) <= share * floater->v0)
            return true;
        *(excess > 0.0 ? &high : &low) = at->origin_depth_m;
        if (high - low <= 1e-15 * (fabs(low) + fabs(high)))
            return true; /* no number lies between: the last digit of the depth is what it is */
        double next = at->origin_depth_m - excess / u.plane_m2;
        if (!(next > low && next < high))
            next = 0.5 * (low + high);
        at->origin_depth_m = next;
    }
    return false;
}

/* Moves by a Newton step, shortened to what the linear picture can bear; true when it was the last.
 */
static bool
take_step(const Floater *floater, Attitude *at, Poise *poise, double depth, double trim)
{
    double share = fmin(1.0, fmin(0.3 * floater->size / fabs(depth), 0.1 / fabs(trim)));
    at->origin_depth_m += share * depth;
    at->trim_rad += share * trim;
    if (!step_is_last(floater, poise, depth, trim, 0.0))
        return false;
    for (int i = 0; i < 3; i++)
        poise->r[i] += poise->j[i][0] * depth + poise->j[i][1] * trim;
    return true;
}

static bool
newton(const Floater *floater, bool trim_free, Attitude *at, Poise *poise)
{
    for (int i = 0; i < NEWTON_STEPS; i++) {
        poise_at(floater, at, poise);
        double(*j)[3] = poise->j;
        double depth, trim = 0.0;
        if (trim_free) {
            double det = j[0][0] * j[1][1] - j[0][1] * j[1][0];
            if (!(det > 1e-9 * j[0][0] * fabs(j[1][1])) || !(j[0][0] > 0.0))
                return false; /* no water plane, or she would go over her end */
            depth = (-poise->r[0] * j[1][1] + poise->r[1] * j[0][1]) / det;
            trim = (-poise->r[1] * j[0][0] + poise->r[0] * j[1][0]) / det;
        } else {
            if (!(j[0][0] > 0.0))
                return false;
            depth = -poise->r[0] / j[0][0];
        }
        if (!isfinite(depth) || !isfinite(trim))
            return false;
        if (take_step(floater, at, poise, depth, trim))
            return true;
        if (fabs(at->trim_rad) > most_trim)
            return false;
    }
    return false;
}

/* Moment by which she would trim at this trim, volume in balance; NAN when she has no depth there.
 */
static double
trimming(const Floater *floater, Attitude *at, Poise *poise)
{
    if (!settle_depth(floater, at, 1e-13))
        return NAN;
    poise_at(floater, at, poise);
    return poise->r[1];
}

/* Looks both ways from the start for the nearest trim where the moment turns from aft to forward:
 * the stable crossing; then halves. */
static bool
search_trim(const Floater *floater, Attitude *at, Poise *poise)
{
    const double stride = 0.04;
    double start = fabs(at->trim_rad) < most_trim ? at->trim_rad : 0.0;
    Attitude fore = {at->origin_depth_m, at->heel_rad, start}, aft = fore;
    double m_fore = trimming(floater, &fore, poise), m_aft = m_fore, low = NAN, high = NAN;
    for (int i = 0; i < 70 && isnan(low); i++) {
        double before = m_fore;
        fore.trim_rad += stride;
        m_fore = fore.trim_rad < most_trim ? trimming(floater, &fore, poise) : NAN;
        if (before <= 0.0 && m_fore > 0.0) {
            low = fore.trim_rad - stride;
            high = fore.trim_rad;
            break;
        }
        before = m_aft;
        aft.trim_rad -= stride;
        m_aft = aft.trim_rad > -most_trim ? trimming(floater, &aft, poise) : NAN;
        if (m_aft <= 0.0 && before > 0.0) {
            low = aft.trim_rad;
            high = aft.trim_rad + stride;
        }
    }
    if (isnan(low))
        return false;
    for (int i = 0; i < 60 && high - low > 1e-13; i++) {
        at->trim_rad = 0.5 * (low + high);
        *(trimming(floater, at, poise) > 0.0 ? &high : &low) = at->trim_rad;
    }
    return isfinite(trimming(floater, at, poise));
}

bool
settle(const Floater *floater, bool trim_free, Attitude *at, Poise *poise)
{
    Attitude start = *at;
    if (newton(floater, trim_free, at, poise))
        return true;
    *at = start;
    if (settle_depth(floater, at, 1e-3) && newton(floater, trim_free, at, poise))
        return true;
    *at = start;
    if (trim_free)
        return search_trim(floater, at, poise);
    if (!settle_depth(floater, at, 1e-13))
        return false;
    poise_at(floater, at, poise);
    return true;
}

bool
settle_onward(const Floater *floater, bool trim_free, double heel_rad, Attitude *at, Follow *follow,
              Poise *poise)
{
    double by = heel_rad - at->heel_rad;
    at->origin_depth_m += follow->depth * by;
    at->heel_rad = heel_rad;
    at->trim_rad += follow->trim * by;
    bool lies = settle(floater, trim_free, at, poise);
    if (lies)
        *follow = poise_follow(poise, trim_free);
    return lies;
}
