/* Round hull. Invariant: the metacentre is the axis. */
#include "physics/afloat/cylinder.h"

#include "physics/domain.h"

const Method cylinder_area_method = {"Wet section of a round hull",
                                     "A = R^2 * (t - sin(t) * cos(t))",
                                     {"docs/methods/float.md 9.3", STANDING_DERIVED}};
const Method cylinder_lever_method = {"Righting lever of a round hull",
                                      "GZ = (R - KG) * sin(heel)",
                                      {"docs/methods/float.md 9.3", STANDING_DERIVED}};

Validity
cylinder_float(double radius_m, double draught_m, double vcg_m, double heel_rad, Cylinder *cylinder)
{
    *cylinder = (Cylinder){NAN, NAN, NAN, NAN, NAN, NAN};
    const double R = radius_m;
    if (!is_positive(R) || !is_positive(draught_m) || !(draught_m < 2.0 * R) ||
        !(fabs(heel_rad) <= M_PI))
        return REFUSED;
    double t = acos((R - draught_m) / R), s3 = pow(sin(t), 3.0);
    double part = t - sin(t) * cos(t);
    cylinder->area_m2 = R * R * part;
    cylinder->kb_m = R - 2.0 * R * s3 / (3.0 * part);
    cylinder->bm_m = 2.0 * R * s3 / (3.0 * part);
    cylinder->km_m = R;
    cylinder->girth_m = 2.0 * R * t;
    if (is_number(vcg_m))
        cylinder->gz_m = (R - vcg_m) * sin(heel_rad);
    return VALID;
}
