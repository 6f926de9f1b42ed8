/* Alternating-current load. Invariant: apparent power is the hypotenuse of real and reactive power. */
#include "physics/wiring/ac_load.h"

#include "physics/domain.h"

#define SHEET                                                                                      \
    {                                                                                              \
        "docs/methods/wires.md 5.4", STANDING_DERIVED                                              \
    }
const Method ac_current_method = {"Current of the load", "I = P / (U * eta * cos(phi))", SHEET};
const Method ac_reactive_method = {"Reactive power", "Q = U * I * sin(phi)", SHEET};
const Method ac_drop_method = {
    "Voltage lost in the cable",
    "Delta_U = 2 * I * l * (2.25e-8 / A * cos(phi) + 8e-5 * sin(phi))",
    {"IEC 60364-5-52 Annex G (constants as remembered); docs/methods/wires.md 5.3",
     STANDING_MEMORY}};
const Method ac_capacitor_method = {"Capacitor for another power factor",
                                    "C = P * (tan(phi_1) - tan(phi_2)) / (2 * pi * f * U^2)",
                                    SHEET};

static const double rho1_ohm_m = 0.0225e-6, reactance_ohm_per_m = 0.08e-3;

static bool
usable(const AcLoad *l)
{
    bool one = isnan(l->current_A) != isnan(l->shaft_W);
    return one && (isnan(l->current_A) || is_not_negative(l->current_A)) &&
           (isnan(l->shaft_W) || is_not_negative(l->shaft_W)) && is_share(l->power_factor) &&
           is_share(l->efficiency) && is_positive(l->voltage_V) && is_positive(l->frequency_Hz) &&
           (isnan(l->run_m) || is_not_negative(l->run_m)) &&
           (isnan(l->area_m2) || is_positive(l->area_m2)) &&
           (isnan(l->start_factor) || (l->start_factor >= 1.0 && is_number(l->start_factor))) &&
           (isnan(l->target_factor) || is_within(l->target_factor, l->power_factor, 1.0));
}

Validity
ac_load(const AcLoad *load, AcPoint *out)
{
    const AcLoad *l = load;
    *out = (AcPoint){NAN, NAN, NAN, NAN, NAN, NAN, NAN};
    if (!usable(l))
        return REFUSED;
    double U = l->voltage_V, real = l->power_factor, phi = acos(real), across = sin(phi);
    double I = isnan(l->current_A) ? l->shaft_W / (U * l->efficiency * real) : l->current_A;
    double drop =
        2.0 * I * l->run_m * (rho1_ohm_m / l->area_m2 * real + reactance_ohm_per_m * across);
    if (drop >= U)
        return REFUSED;
    double moved = U * I * real * (tan(phi) - tan(acos(l->target_factor)));
    *out = (AcPoint){I,
                     U * I,
                     U * I * across,
                     l->start_factor * I,
                     moved / (2.0 * M_PI * l->frequency_Hz * U * U),
                     drop,
                     drop / U};
    return VALID;
}
