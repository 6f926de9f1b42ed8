/* Draught survey. Invariant: both volumes are of the level body, so trim enters only through the
 * draught at the centre of flotation. */
#include "physics/afloat/draught_survey.h"

#include "physics/domain.h"

#define SHEET "docs/methods/float.md 7.3, 7.4"
const Method draught_lcf_method = {"Draught at the centre of flotation",
                                   "T_F = T_mid + (x_F - x_mid) * (T_f - T_a) / (x_f - x_a)",
                                   {SHEET, STANDING_DERIVED}};
const Method draught_mass_method = {
    "Displacement from the volume under water", "m = rho * V", {SHEET, STANDING_DERIVED}};
const Method draught_mass_spread_method = {"Spread of the displacement",
                                           "s_m = sqrt((rho * A * s_T)^2 + (V * s_rho)^2)",
                                           {SHEET, STANDING_DERIVED}};

static bool
cut_level(const Body *body, double draught, Immersed *under)
{
    body_immersed(body, &(Attitude){.origin_depth_m = draught}, under);
    return under->volume_m3 > 0.0 && under->plane_m2 > 0.0;
}

static double
lowest_deck(const Loft *hull)
{
    double z = INFINITY;
    for (size_t i = 0; i < hull->stations; i++)
        z = fmin(z, hull->z_m[(i + 1) * hull->points - 1]);
    return z;
}

Validity
draught_survey(const Body *body, double x_aft_m, double draught_aft_m, double x_fwd_m,
               double draught_fwd_m, double draught_spread_m, double density_kg_per_m3,
               double density_spread_kg_per_m3, DraughtSurvey *out)
{
    *out = (DraughtSurvey){NAN, NAN, NAN, NAN, NAN, NAN};
    Immersed mid, lcf;
    if (body->lofts == 0 || !is_within(x_aft_m, -1e4, 1e4) || !is_within(x_fwd_m, -1e4, 1e4) ||
        !(x_aft_m < x_fwd_m) || !is_within(draught_aft_m, -1e4, 1e4) ||
        !is_within(draught_fwd_m, -1e4, 1e4) || !is_not_negative(draught_spread_m) ||
        !is_positive(density_kg_per_m3) || !is_not_negative(density_spread_kg_per_m3))
        return REFUSED;
    double t_mid = 0.5 * (draught_aft_m + draught_fwd_m), x_mid = 0.5 * (x_aft_m + x_fwd_m);
    if (!cut_level(body, t_mid, &mid))
        return REFUSED;
    double slope = (draught_fwd_m - draught_aft_m) / (x_fwd_m - x_aft_m);
    double t_f = t_mid + (mid.plane_X_m3 / mid.plane_m2 - x_mid) * slope;
    if (!cut_level(body, t_f, &lcf))
        return REFUSED;
    double rho = density_kg_per_m3, v = lcf.volume_m3;
    *out = (DraughtSurvey){
        t_mid, t_f,     mid.volume_m3,
        v,     rho * v, hypot(rho * lcf.plane_m2 * draught_spread_m, v * density_spread_kg_per_m3)};
    return t_f > lowest_deck(&body->loft[0]) ? EXTRAPOLATED : VALID;
}
