/* Triangular prism floating apex down.
 *
 *     KN = T sin(2 heel) / (3 cos(a) sqrt(cos(a - heel) cos(a + heel)))
 *
 * Given    half_angle_rad  half the apex angle, 0 < a < pi/2
 *          draught_m       > 0
 *          heel_rad        |heel_rad| < pi/2 - a (both sides stay in the water)
 *          vcg_m           above the apex
 * Gives    area_m2, kb_m, km_m upright; kn_m and gz_m at the heel
 * Returns  VALID or REFUSED
 * Source   docs/methods/float.md 9.2, derived
 * Checked  wedge-kn in tests/cases/float.csv; body_immersed on the same prism */
#pragma once

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double area_m2, kb_m, km_m, kn_m, gz_m;
} Wedge;

Validity wedge_float(double half_angle_rad, double draught_m, double heel_rad, double vcg_m,
                     Wedge *wedge);

extern const Method wedge_kn_method;
