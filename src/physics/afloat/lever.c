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

/* Where the last (up to) three solved points lead, by Newton's divided differences. */
static double
foretell(size_t known, const double heel[static 3], const double value[static 3], double at)
{
    if (known == 1)
        return value[0];
    double first = (value[1] - value[0]) / (heel[1] - heel[0]);
    double guess = value[0] + first * (at - heel[0]);
    if (known > 2) {
        double second = (value[2] - value[1]) / (heel[2] - heel[1]);
        guess += (second - first) / (heel[2] - heel[0]) * (at - heel[0]) * (at - heel[1]);
    }
    return guess;
}

static Attitude
start_for(const LeverCurve *curve, size_t i, size_t solved, double heel)
{
    double h[3] = {heel}, depth[3] = {0}, trim[3] = {0};
    size_t known = 0;
    for (; known < 3 && known < solved; known++) {
        size_t k = i - 1 - known;
        h[known] = curve->heel_rad[k];
        depth[known] = curve->depth_m[k];
        trim[known] = curve->trim_rad[k];
        if (known > 0 && h[known] == h[known - 1])
            break;
    }
    if (fabs(heel - h[0]) > 0.2) /* too far apart to foretell a curve with corners */
        known = 1;
    return (Attitude){foretell(known, h, depth, heel), heel, foretell(known, h, trim, heel)};
}

Validity
lever_curve(const Body *body, const Load *load, double density_kg_per_m3, bool trim_free,
            double fixed_trim_rad, LeverCurve *curve)
{
    Floater floater;
    Validity validity = VALID;
    bool able = fabs(fixed_trim_rad) < 1.3 &&
                floater_make(body, load, density_kg_per_m3, &floater) == REST_FOUND;
    size_t solved = 0;
    for (size_t i = 0; i < curve->n; i++) {
        double heel = curve->heel_rad[i];
        Attitude at = {INFINITY, heel, fixed_trim_rad};
        Poise poise;
        curve->gz_m[i] = curve->trim_rad[i] = curve->depth_m[i] = NAN;
        bool lies = able && fabs(heel) <= 2.0 * M_PI;
        if (lies && solved > 0)
            at = start_for(curve, i, solved, heel);
        else if (lies)
            lies = settle_depth(&floater, &at, 0.1);
        if (!trim_free)
            at.trim_rad = fixed_trim_rad;
        if (lies && settle(&floater, trim_free, &at, &poise)) {
            curve->gz_m[i] = poise_lever_m(&floater, &poise);
            curve->trim_rad[i] = at.trim_rad;
            curve->depth_m[i] = at.origin_depth_m;
            solved++;
        } else {
            validity = REFUSED;
            solved = 0;
        }
    }
    return validity;
}
