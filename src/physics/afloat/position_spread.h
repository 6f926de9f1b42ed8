/* Give or take of draught, metacentric height, heel and trim that follows from the spread of the
 * weights.
 *
 *     s_T = s_M / (rho A)    s_GM = sqrt(s_KG^2 + (dKM/dM s_M)^2)    s_heel = s_y / GM    s_trim =
 * L s_x / GM_L
 *
 * Given    spreads >= 0, all of the same kind (one standard deviation, or two); waterplane_m2,
 * density > 0; gm_m, gm_l_m > 0; length_m > 0 between the marks; km_slope_m_per_kg change of KM
 * with mass Gives    the same kind of spread as was given Returns  VALID or REFUSED Source
 * docs/methods/float.md 1, derived, first order Checked  position-spread in tests/cases/float.csv
 */
#pragma once

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double draught_m, gm_m, heel_rad, trim_m;
} PositionSpread;

Validity position_spread(double mass_spread_kg, double lcg_spread_m, double tcg_spread_m,
                         double vcg_spread_m, double waterplane_m2, double density_kg_per_m3,
                         double gm_m, double gm_l_m, double length_m, double km_slope_m_per_kg,
                         PositionSpread *out);

extern const Method draught_spread_method, gm_spread_method, heel_spread_method, trim_spread_method;
