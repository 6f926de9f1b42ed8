/* Constant power behind a resistance. Invariant: the voltage given is the upper root. */
#include "physics/wiring/constant_power.h"

#include "physics/domain.h"

const Method constant_power_limit_method = {"Most power a source can give",
                                            "P_max = E^2 / (4 * R)",
                                            {"docs/methods/wires.md 2.3", STANDING_DERIVED}};
const Method constant_power_voltage_method = {"Voltage under constant power",
                                              "v = (E + sqrt(E^2 - 4 * R * P)) / 2",
                                              {"docs/methods/wires.md 2.3", STANDING_DERIVED}};

Validity
constant_power(double emf_V, double resistance_ohm, double power_W, ConstantPower *out)
{
    *out = (ConstantPower){NAN, NAN, NAN, NAN, NAN, NAN, NAN};
    if (!is_positive(emf_V) || !is_positive(resistance_ohm) || !is_not_negative(power_W))
        return REFUSED;
    out->limit_voltage_V = 0.5 * emf_V;
    out->limit_current_A = 0.5 * emf_V / resistance_ohm;
    out->power_limit_W = out->limit_voltage_V * out->limit_current_A;
    out->loading = power_W / out->power_limit_W;
    if (out->loading > 1.0)
        return REFUSED;
    out->voltage_V = 0.5 * emf_V * (1.0 + sqrt(1.0 - out->loading));
    out->current_A = power_W / out->voltage_V;
    out->voltage_low_V = out->current_A * resistance_ohm; /* the roots add up to the emf */
    return VALID;
}
