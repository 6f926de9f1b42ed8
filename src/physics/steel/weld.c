/* Weld metal. Invariant: the area is never below the bare one. */
#include "physics/steel/weld.h"

#include "physics/domain.h"

#define SHEET "docs/methods/steel.md D4"
const Method weld_fillet_method = {
    "Section of a fillet weld", "A = z^2 / 2 * (1 + c)", {"geometry; " SHEET, STANDING_DERIVED}};
const Method weld_butt_method = {"Section of a V butt weld",
                                 "A = t * g + (t - f)^2 * tan(a / 2) + 2 / 3 * h * (w + 0.002)",
                                 {"geometry; " SHEET, STANDING_DERIVED}};
const Method weld_metal_method = {
    "Weld metal", "m = A * L * rho", {"geometry; " SHEET, STANDING_DERIVED}};
const Method weld_filler_method = {
    "Filler to buy",
    "m_f = m / eta",
    {"filler-metal handbook, Calculating Filler Metal Consumption; " SHEET, STANDING_READ}};
const Method weld_time_method = {
    "Elapsed time of a weld",
    "t = m / (D * k)",
    {"definition of deposition rate and operating factor; " SHEET, STANDING_DERIVED}};

Validity
weld_fillet(double leg_m, double convexity, WeldArea *out)
{
    *out = (WeldArea){NAN, NAN, NAN};
    if (!is_positive(leg_m) || !is_not_negative(convexity))
        return REFUSED;
    double bare = 0.5 * leg_m * leg_m;
    *out = (WeldArea){bare, bare * (1.0 + convexity), M_SQRT2 * leg_m};
    return VALID;
}

Validity
weld_butt(const ButtWeld *b, WeldArea *out)
{
    *out = (WeldArea){NAN, NAN, NAN};
    if (!is_positive(b->thickness_m) || !is_not_negative(b->gap_m) ||
        !is_not_negative(b->angle_rad) || b->angle_rad >= degrees(179.0) ||
        !is_within(b->root_face_m, 0.0, b->thickness_m) || !is_not_negative(b->cap_m))
        return REFUSED;
    double deep = b->thickness_m - b->root_face_m, slope = tan(0.5 * b->angle_rad);
    double bare = b->thickness_m * b->gap_m + deep * deep * slope;
    double w = b->gap_m + 2.0 * deep * slope;
    double cap = b->cap_m > 0.0 ? 2.0 / 3.0 * b->cap_m * (w + 0.002) : 0.0;
    *out = (WeldArea){bare, bare + cap, w};
    return VALID;
}

double
weld_efficiency(WeldProcess process)
{
    static const double row[] = {
        [WELD_SUBMERGED] = 0.99,     [WELD_MIG_ARGON] = 0.98,     [WELD_MAG_MIXED] = 0.96,
        [WELD_MAG_CO2] = 0.93,       [WELD_METAL_CORED] = 0.93,   [WELD_FLUX_CORED] = 0.86,
        [WELD_SELF_SHIELDED] = 0.78, [WELD_ELECTRODE_300] = 0.59, [WELD_ELECTRODE_350] = 0.62,
        [WELD_ELECTRODE_450] = 0.66};
    return row[process];
}

Validity
weld_consumption(const WeldRun *r, WeldConsumption *out)
{
    *out = (WeldConsumption){NAN, NAN, NAN, NAN, NAN};
    if (!is_not_negative(r->area_m2) || !is_not_negative(r->length_m) ||
        !is_positive(r->rate_kg_per_s) || !is_share(r->operating_factor) ||
        !is_share(r->efficiency) || !is_not_negative(r->gas_m3_per_s) ||
        !is_positive(r->density_kg_per_m3))
        return REFUSED;
    double metal = r->area_m2 * r->length_m * r->density_kg_per_m3, arc = metal / r->rate_kg_per_s;
    *out = (WeldConsumption){metal, metal / r->efficiency, arc, arc / r->operating_factor,
                             arc * r->gas_m3_per_s};
    return VALID;
}
