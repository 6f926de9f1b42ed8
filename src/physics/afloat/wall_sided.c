/* Wall-sided lever. Invariant: odd in heel. */
#include "physics/afloat/wall_sided.h"

#include "physics/domain.h"

const Method wall_sided_method = {"Righting lever between vertical sides",
                                  "GZ = (GM + BM * tan(heel)^2 / 2) * sin(heel)",
                                  {"Barrass and Derrett, Ship Stability for Masters and Mates, 5th "
                                   "ed., p. 130; docs/methods/float.md 9.1",
                                   STANDING_READ}};

Validity
wall_sided_lever(double gm_m, double bm_m, double heel_rad, double wall_rad, double *gz_m)
{
    *gz_m = NAN;
    /* One part in 1e12 of a right angle: pi/2 typed as 90 deg must not slip through. */
    if (!is_number(gm_m) || !is_not_negative(bm_m) || !(fabs(heel_rad) < degrees(90.0) - 1e-12) ||
        !(wall_rad > 0.0))
        return REFUSED;
    double t = tan(heel_rad);
    *gz_m = (gm_m + 0.5 * bm_m * t * t) * sin(heel_rad);
    return fabs(heel_rad) <= wall_rad ? VALID : EXTRAPOLATED;
}
