/* The curve of righting levers. Invariant: each heel starts from what its neighbours foretell, and
 * the result does not depend on it beyond the tolerance of the solution. */
#include "physics/afloat/lever.h"

#include <math.h>

#include "physics/afloat/poise.h"

const Method lever_method = {"Righting lever, free to sink and trim",
                             "GZ = Y_G - Y_B",
                             {"docs/methods/float.md 2.8", STANDING_DERIVED}};
const Method kn_method = {"Lever about the base line",
                          "KN = GZ + KG * sin(heel)",
                          {"docs/methods/float.md 2.8", STANDING_DERIVED}};
const Method lever_area_method = {"Area under the curve of levers by Simpson's rule",
                                  "A = d_heel / 3 * sum(c * GZ)",
                                  {"docs/methods/float.md 2.8", STANDING_DERIVED}};

/* A solved heel, and how depth and trim go on from there. */
typedef struct {
    Attitude at;
    Follow follow;
} Solved;

/* The cubic through two values with their slopes, x counted from the later; only the later's tangent when there is but
 * one, or the step is so wide that corners of the curve matter more than its bend. */
static double
foretell(double x, double v1, double d1, double h, double v0, double d0)
{
    if (!(fabs(x) <= 2.0 * fabs(h)))
        return v1 + d1 * x;
    double s = (v1 - v0) / h;
    return v1 + x * (d1 + x / h * (d1 - s + (x + h) / h * (d1 - 2.0 * s + d0)));
}

static Attitude
start_for(const Solved *last, const Solved *before, double heel)
{
    double x = heel - last->at.heel_rad, h = last->at.heel_rad - before->at.heel_rad;
    return (Attitude){foretell(x, last->at.origin_depth_m, last->follow.depth, h,
                               before->at.origin_depth_m, before->follow.depth),
                      heel,
                      foretell(x, last->at.trim_rad, last->follow.trim, h, before->at.trim_rad,
                               before->follow.trim)};
}

Validity
lever_curve(const Body *body, const Load *load, double density_kg_per_m3, bool trim_free,
            double fixed_trim_rad, LeverCurve *curve)
{
    Floater floater;
    Validity validity = VALID;
    bool able = fabs(fixed_trim_rad) < 1.3 &&
                floater_make(body, load, density_kg_per_m3, &floater) == REST_FOUND;
    Solved last = {0}, before = {0};
    bool started = false;
    for (size_t i = 0; i < curve->n; i++) {
        double heel = curve->heel_rad[i];
        Attitude at = {INFINITY, heel, fixed_trim_rad};
        Poise poise;
        curve->gz_m[i] = curve->trim_rad[i] = curve->depth_m[i] = NAN;
        bool lies = able && fabs(heel) <= 2.0 * M_PI;
        if (lies && started)
            at = start_for(&last, &before, heel);
        else if (lies)
            lies = settle_depth(&floater, &at, 0.1);
        if (!trim_free)
            at.trim_rad = fixed_trim_rad;
        if (lies && settle(&floater, trim_free, &at, &poise)) {
            curve->gz_m[i] = poise_lever_m(&floater, &poise);
            curve->trim_rad[i] = at.trim_rad;
            curve->depth_m[i] = at.origin_depth_m;
            before = started ? last : (Solved){.at = at};
            last = (Solved){at, poise_follow(&poise, trim_free)};
            started = true;
        } else {
            validity = REFUSED;
            started = false;
        }
    }
    return validity;
}
