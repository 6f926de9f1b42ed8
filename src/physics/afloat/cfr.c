/* Rules of 46 CFR. Invariant: heels asked about never pass 14 degrees. */
#include "physics/afloat/cfr.h"

#include "physics/domain.h"

const Method wind_pressure_method = {"Wind pressure as mass on area",
                                     "P = p_0 + 1000 * (L / 1309)^2",
                                     {"46 CFR 170.170; docs/methods/float.md 5.7", STANDING_READ}};
const Method wind_gm_method = {"Metacentric height asked against wind",
                               "GM = P * A * H / (D * tan(T))",
                               {"46 CFR 170.170; docs/methods/float.md 5.7", STANDING_READ}};
const Method passenger_gm_method = {"Metacentric height asked against crowding",
                                    "GM = W / D * 2 / 3 * b / tan(T)",
                                    {"46 CFR 171.050; docs/methods/float.md 5.7", STANDING_READ}};
const Method passenger_moment_method = {
    "Moment of people at the side",
    "M = W * B_p / 6",
    {"46 CFR 178.330; docs/methods/float.md 5.7", STANDING_READ}};
const Method wind_moment_method = {
    "Moment of the wind",
    "M = P * A * H",
    {"46 CFR 178.330, pressures as remembered; docs/methods/float.md 5.7", STANDING_MEMORY}};
const Method immersion_method = {"Side that may go under",
                                 "i = f * (2 * L - k * L_c) / (4 * L)",
                                 {"46 CFR 178.330; docs/methods/float.md 5.7", STANDING_READ}};
const Method hook_moment_method = {"Hook moment that asks for a lifting check",
                                   "M = 0.67 * D * GM * F / B",
                                   {"46 CFR 173.005; docs/methods/float.md 5.7", STANDING_READ}};

static const double most_deg = 14.0;

Validity
wind_gm(double length_m, double lateral_m2, double lever_m, double mass_kg, double freeboard_m,
        double beam_m, CfrWaters waters, WindGm *out)
{
    static const double p0_t_per_m2[] = {
        [WATERS_EXPOSED] = 0.055, [WATERS_PARTIALLY_PROTECTED] = 0.036, [WATERS_PROTECTED] = 0.028};
    *out = (WindGm){NAN, NAN, NAN};
    if (!is_positive(length_m) || !is_positive(lateral_m2) || !is_positive(lever_m) ||
        !is_positive(mass_kg) || !is_positive(freeboard_m) || !is_positive(beam_m))
        return REFUSED;
    double l = length_m / 1309.0, pressure = 1000.0 * (p0_t_per_m2[waters] + l * l);
    double heel = fmin(degrees(most_deg), atan(freeboard_m / beam_m));
    *out = (WindGm){pressure, heel, pressure * lateral_m2 * lever_m / (mass_kg * tan(heel))};
    return VALID;
}

Validity
passenger_gm(double passenger_kg, double mass_kg, double offset_m, double deck_edge_rad,
             double *heel_rad, double *gm_m)
{
    *heel_rad = *gm_m = NAN;
    if (!is_positive(passenger_kg) || !is_positive(mass_kg) || !is_positive(offset_m) ||
        !is_positive(deck_edge_rad))
        return REFUSED;
    *heel_rad = fmin(degrees(most_deg), deck_edge_rad);
    *gm_m = passenger_kg / mass_kg * 2.0 / 3.0 * offset_m / tan(*heel_rad);
    return VALID;
}

Validity
proof_test(double passenger_kg, double deck_beam_m, double lateral_m2, double lever_m,
           double freeboard_m, CfrWaters waters, double deck_m, double cockpit_m, ProofTest *out)
{
    static const double pressure_kg_per_m2[] = {
        [WATERS_EXPOSED] = 73.3, [WATERS_PARTIALLY_PROTECTED] = 48.8, [WATERS_PROTECTED] = 36.6};
    *out = (ProofTest){NAN, NAN, NAN, NAN};
    if (!is_not_negative(passenger_kg) || !is_positive(deck_beam_m) ||
        !is_not_negative(lateral_m2) || !is_positive(lever_m) || !is_positive(freeboard_m) ||
        !is_not_negative(cockpit_m) ||
        (cockpit_m > 0.0 && !(is_positive(deck_m) && cockpit_m <= deck_m)))
        return REFUSED;
    double people = passenger_kg * deck_beam_m / 6.0,
           wind = pressure_kg_per_m2[waters] * lateral_m2 * lever_m;
    double k = waters == WATERS_EXPOSED ? 1.5 : 1.0;
    double share = cockpit_m > 0.0 ? (2.0 * deck_m - k * cockpit_m) / (4.0 * deck_m) : 0.5;
    *out = (ProofTest){people, wind, fmax(people, wind), freeboard_m * share};
    return VALID;
}

double
hook_moment_kgm(double mass_kg, double gm_m, double freeboard_m, double beam_m)
{
    if (!is_positive(mass_kg) || !is_positive(gm_m) || !is_positive(freeboard_m) ||
        !is_positive(beam_m))
        return NAN;
    return 0.67 * mass_kg * gm_m * freeboard_m / beam_m;
}
