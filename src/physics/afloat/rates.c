/* Rates. Invariant: what is not known stays NAN and spoils nothing else. */
#include "physics/afloat/rates.h"

#include "physics/domain.h"

#define BOOK "Barrass and Derrett, Ship Stability for Masters and Mates, 5th ed., p. 74-79"
const Method tpc_method = {"Mass per depth of immersion", "TPC = rho * A", {BOOK, STANDING_READ}};
const Method mct_method = {
    "Moment to change trim, per length of trim", "MCT = D * GM_L / L", {BOOK, STANDING_READ}};
const Method fresh_water_allowance_method = {
    "Fresh-water allowance", "FWA = D / (40 * TPC)", {BOOK, STANDING_READ}};
const Method block_coefficient_method = {
    "Block coefficient", "C_B = V / (L * B * T)", {"docs/methods/float.md 2.5", STANDING_DERIVED}};

static bool
known_bad(double x)
{
    return !isnan(x) && !is_positive(x);
}

Validity
displacement_rates(double volume_m3, double waterplane_m2, double density_kg_per_m3, double gm_l_m,
                   double length_m, double beam_m, double draught_m, Rates *rates)
{
    *rates = (Rates){NAN, NAN, NAN, NAN, NAN};
    if (!is_positive(volume_m3) || !is_positive(waterplane_m2) || !is_positive(density_kg_per_m3) ||
        known_bad(length_m) || known_bad(beam_m) || known_bad(draught_m) || isinf(gm_l_m))
        return REFUSED;
    double mass = density_kg_per_m3 * volume_m3, tpc = density_kg_per_m3 * waterplane_m2;
    *rates = (Rates){.mass_kg = mass,
                     .tpc_kg_per_m = tpc,
                     .mct_kgm_per_m = mass * gm_l_m / length_m,
                     .fresh_water_allowance_m = mass / (40.0 * tpc),
                     .block_coefficient = volume_m3 / (length_m * beam_m * draught_m)};
    return VALID;
}
