/* First-order spread of the position. Invariant: linear in the spreads but for the root of squares
 * in GM. */
#include "physics/afloat/position_spread.h"

#include "physics/domain.h"

#define SHEET "docs/methods/float.md 1"
const Method draught_spread_method = {
    "Spread of the draught", "s_T = s_M / (rho * A)", {SHEET, STANDING_DERIVED}};
const Method gm_spread_method = {"Spread of the metacentric height",
                                 "s_GM = sqrt(s_KG^2 + (k * s_M)^2)",
                                 {SHEET, STANDING_DERIVED}};
const Method heel_spread_method = {
    "Spread of the heel", "s_heel = s_y / GM", {SHEET, STANDING_DERIVED}};
const Method trim_spread_method = {
    "Spread of the trim", "s_trim = L * s_x / GM_L", {SHEET, STANDING_DERIVED}};

Validity
position_spread(double mass_spread_kg, double lcg_spread_m, double tcg_spread_m,
                double vcg_spread_m, double waterplane_m2, double density_kg_per_m3, double gm_m,
                double gm_l_m, double length_m, double km_slope_m_per_kg, PositionSpread *out)
{
    *out = (PositionSpread){NAN, NAN, NAN, NAN};
    if (!is_not_negative(mass_spread_kg) || !is_not_negative(lcg_spread_m) ||
        !is_not_negative(tcg_spread_m) || !is_not_negative(vcg_spread_m) ||
        !is_positive(waterplane_m2) || !is_positive(density_kg_per_m3) || !is_positive(gm_m) ||
        !is_positive(gm_l_m) || !is_positive(length_m) || !is_number(km_slope_m_per_kg))
        return REFUSED;
    *out = (PositionSpread){mass_spread_kg / (density_kg_per_m3 * waterplane_m2),
                            hypot(vcg_spread_m, km_slope_m_per_kg * mass_spread_kg),
                            tcg_spread_m / gm_m, length_m * lcg_spread_m / gm_l_m};
    return VALID;
}
