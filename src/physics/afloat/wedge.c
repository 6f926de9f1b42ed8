/* Triangular prism. Invariant: the wet area is the same at every heel. */
#include "physics/afloat/wedge.h"

#include "physics/domain.h"

const Method wedge_kn_method = {
    "Lever of a wedge about its apex",
    "KN = T * sin(2 * heel) / (3 * cos(a) * sqrt(cos(a - heel) * cos(a + heel)))",
    {"docs/methods/float.md 9.2", STANDING_DERIVED}};

Validity
wedge_float(double half_angle_rad, double draught_m, double heel_rad, double vcg_m, Wedge *wedge)
{
    *wedge = (Wedge){NAN, NAN, NAN, NAN, NAN};
    const double a = half_angle_rad, right = degrees(90.0);
    if (!(a > 0.0 && a < right) || !is_positive(draught_m) || !is_number(vcg_m) ||
        !(fabs(heel_rad) < right - a - 1e-12))
        return REFUSED;
    wedge->area_m2 = draught_m * draught_m * tan(a);
    wedge->kb_m = 2.0 * draught_m / 3.0;
    wedge->km_m = wedge->kb_m / (cos(a) * cos(a));
    wedge->kn_m = draught_m * sin(2.0 * heel_rad) /
                  (3.0 * cos(a) * sqrt(cos(a - heel_rad) * cos(a + heel_rad)));
    wedge->gz_m = wedge->kn_m - vcg_m * sin(heel_rad);
    return VALID;
}
