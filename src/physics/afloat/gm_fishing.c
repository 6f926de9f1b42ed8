/* Least GM of small decked boats. Invariant: a sanity check, never a verdict. */
#include "physics/afloat/gm_fishing.h"

#include "physics/domain.h"

const Method gm_fishing_method = {"Approximate least metacentric height",
                                  "GM_min = 0.53 + 2 * B * (0.075 - 0.37 * f / B + 0.82 * (f / "
                                  "B)^2 - 0.014 * B / D - 0.032 * l_s / L)",
                                  {"IMO recommendation for fishing vessels below 30 m, "
                                   "coefficients as remembered; docs/methods/float.md 5.8",
                                   STANDING_MEMORY}};

Validity
gm_fishing(double length_m, double beam_m, double depth_m, double freeboard_m,
           double superstructure_m, double *gm_m)
{
    *gm_m = NAN;
    if (!is_positive(length_m) || !is_positive(beam_m) || !is_positive(depth_m) ||
        !is_not_negative(freeboard_m) || !is_not_negative(superstructure_m))
        return REFUSED;
    double f = freeboard_m / beam_m, slim = beam_m / depth_m, house = superstructure_m / length_m;
    *gm_m = 0.53 + 2.0 * beam_m * (0.075 - 0.37 * f + 0.82 * f * f - 0.014 * slim - 0.032 * house);
    bool inside =
        is_within(f, 0.02, 0.20) && house < 0.60 && is_within(slim, 1.75, 2.15) && length_m < 30.0;
    return inside ? VALID : EXTRAPOLATED;
}
