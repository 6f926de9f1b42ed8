/* Anodes. Invariant: more metal in the water never has more resistance. */
#include "physics/wiring/anode.h"

#include "physics/domain.h"

#define DNV "DNV-RP-B401:2010 Table 10-7; docs/methods/wires.md 7.2"
const Method anode_stand_off_method = {"Resistance of a long anode held off the hull",
                                       "R = rho / (2 * pi * L) * (ln(4 * L / r) - 1)",
                                       {DNV, STANDING_READ}};
const Method anode_short_stand_off_method = {
    "Resistance of a short anode held off the hull",
    "R = rho / (2 * pi * L) * (ln(2 * L / r * (1 + sqrt(1 + (r / (2 * L))^2))) + r / (2 * L) - "
    "sqrt(1 + (r / (2 * L))^2))",
    {DNV " (as remembered)", STANDING_MEMORY}};
const Method anode_long_flush_method = {
    "Resistance of a long anode on the hull", "R = rho / (L + W)", {DNV, STANDING_READ}};
const Method anode_short_flush_method = {
    "Resistance of a short anode on the hull", "R = 0.315 * rho / sqrt(A)", {DNV, STANDING_READ}};
const Method anode_mass_method = {
    "Anode mass", "m = I * t / (q * u)", {"charge; docs/methods/wires.md 7.3", STANDING_DERIVED}};
const Method anode_hull_area_method = {
    "Wetted area for anodes",
    "A = f * L_WL * (B + D)",
    {"ABYC corrosion study guide; docs/methods/wires.md 7.3", STANDING_READ}};

static double
long_rod(double rho, double L, double r)
{
    return rho / (2.0 * M_PI * L) * (log(4.0 * L / r) - 1.0);
}

static double
short_rod(double rho, double L, double r)
{
    double half = r / (2.0 * L), s = sqrt(1.0 + half * half);
    return rho / (2.0 * M_PI * L) * (log(2.0 * L / r * (1.0 + s)) + half - s);
}

Validity
anode_resistance(AnodeShape shape, double resistivity_ohm_m, const AnodeSize *size,
                 double *resistance_ohm)
{
    const double rho = resistivity_ohm_m, L = size->length_m, r = size->radius_m, W = size->width_m;
    const bool rod = is_positive(L) && is_positive(r), plate = is_positive(L) && is_positive(W);
    double R = NAN;
    bool fits = true;
    switch (shape) {
    case ANODE_LONG_STAND_OFF:
    case ANODE_NEAR_STAND_OFF:
        R = rod ? long_rod(rho, L, r) * (shape == ANODE_NEAR_STAND_OFF ? 1.3 : 1.0) : NAN;
        fits = L >= 4.0 * r;
        break;
    case ANODE_SHORT_STAND_OFF:
        R = rod ? short_rod(rho, L, r) : NAN;
        fits = L < 4.0 * r;
        break;
    case ANODE_LONG_FLUSH:
        R = plate ? rho / (L + W) : NAN;
        fits = L >= 4.0 * W;
        break;
    case ANODE_SHORT_FLUSH:
    case ANODE_BRACELET:
        R = is_positive(size->exposed_m2) ? 0.315 * rho / sqrt(size->exposed_m2) : NAN;
        break;
    }
    *resistance_ohm = NAN;
    if (!is_positive(rho) || !is_positive(R))
        return REFUSED;
    *resistance_ohm = R;
    return fits ? VALID : EXTRAPOLATED;
}

double
anode_hull_area_m2(WettedForm form, double waterline_m, double beam_m, double draught_m)
{
    static const double factor[] = {
        [WETTED_FULL] = 1.0, [WETTED_MEDIUM] = 0.75, [WETTED_LIGHT] = 0.50};
    if (!is_positive(waterline_m) || !is_positive(beam_m) || !is_positive(draught_m))
        return NAN;
    return factor[form] * waterline_m * (beam_m + draught_m);
}

double
anode_guide_capacity_C_per_kg(AnodeMetal metal)
{
    static const double Ah_per_lb[] = {
        [ANODE_OF_ZINC] = 368.0, [ANODE_OF_ALUMINIUM] = 1108.0, [ANODE_OF_MAGNESIUM] = NAN};
    return Ah_per_lb[metal] * 3600.0 / 0.45359237;
}

Validity
anode_mass(double current_A, double duration_s, double capacity_C_per_kg, double utilisation,
           double *mass_kg)
{
    *mass_kg = NAN;
    if (!is_not_negative(current_A) || !is_not_negative(duration_s) ||
        !is_positive(capacity_C_per_kg) || !is_share(utilisation))
        return REFUSED;
    *mass_kg = current_A * duration_s / (capacity_C_per_kg * utilisation);
    return VALID;
}
