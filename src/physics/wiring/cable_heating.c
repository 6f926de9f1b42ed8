/* Heating of cables: one body, heat lost in proportion to its excess temperature. */
#include "physics/wiring/cable_heating.h"

#include "physics/domain.h"

const Method cable_time_constant_method = {
    "Thermal time constant of a conductor",
    "tau = 3.45e6 * S * (theta_max - theta_ref) / (I_z^2 * r)",
    {"docs/methods/wires.md 1.6, copper alone", STANDING_DERIVED}};
const Method cable_short_time_method = {"Current a cable bears for a short time",
                                        "I_st = I_z / sqrt(1 - exp(-t / tau))",
                                        {"docs/methods/wires.md 1.6", STANDING_DERIVED}};
const Method cable_temperature_method = {"Temperature of a loaded conductor",
                                         "theta = theta_a + (theta_max - theta_ref) * (I / I_z)^2",
                                         {"docs/methods/wires.md 1.1", STANDING_DERIVED}};

const Method cable_run_method = {
    "Current a warm cable bears for a short time",
    "I_run = sqrt(I_0^2 + (I_z^2 - I_0^2) / (1 - exp(-t / tau)))",
    {"docs/methods/wires.md 1.6, from the warmth of a lasting current", STANDING_DERIVED}};

static double
rise_K(const LoadedCable *cable)
{
    double rise = cable->insulation_K - cable->reference_K;
    return is_positive(rise) && is_positive(cable->reference_K) && is_positive(cable->ampacity_A)
               ? rise
               : NAN;
}

double
cable_time_constant_s(const LoadedCable *cable)
{
    const double heat_J_per_m3K = 3.45e6;
    if (!is_positive(cable->area_m2) || !is_positive(cable->ohm_per_m))
        return NAN;
    double loss_W_per_m = cable->ampacity_A * cable->ampacity_A * cable->ohm_per_m;
    return heat_J_per_m3K * cable->area_m2 * rise_K(cable) / loss_W_per_m;
}

/* Share of the rise that is reached by then. */
static double
warmed(const LoadedCable *cable, double time_s)
{
    return is_positive(time_s) ? -expm1(-time_s / cable_time_constant_s(cable)) : NAN;
}

static double
square(double x)
{
    return x * x;
}

double
cable_run_A(const LoadedCable *cable, double lasting_A, double time_s)
{
    double left = square(cable->ampacity_A) - square(lasting_A);
    if (!is_not_negative(lasting_A))
        return NAN;
    return left <= 0.0 ? 0.0 : sqrt(square(lasting_A) + left / warmed(cable, time_s));
}

double
cable_short_time_A(const LoadedCable *cable, double time_s)
{
    return cable_run_A(cable, 0.0, time_s);
}

double
cable_equal_A(const LoadedCable *cable, double lasting_A, double run_A, double time_s)
{
    double more = square(run_A) - square(lasting_A);
    if (!is_not_negative(lasting_A) || !is_not_negative(run_A))
        return NAN;
    return sqrt(square(lasting_A) + more * warmed(cable, time_s));
}

double
cable_temperature_K(const LoadedCable *cable, double ambient_K, double current_A)
{
    double share = current_A / cable->ampacity_A;
    if (!is_positive(ambient_K) || !is_not_negative(current_A))
        return NAN;
    return ambient_K + rise_K(cable) * share * share;
}
