/* Fault loop. Invariant: a longer or thinner cable never gives more fault current. */
#include "physics/wiring/fault_loop.h"

#include "physics/domain.h"

#define SHEET                                                                                      \
    {                                                                                              \
        "sum of resistances; docs/methods/wires.md 5.3", STANDING_DERIVED                          \
    }
const Method fault_loop_method = {"Fault loop impedance", "Z = Z_e + f * sum(l * (r + r_pe))",
                                  SHEET};
const Method fault_loop_current_method = {"Fault current", "I = c * U / Z", SHEET};

Validity
fault_loop(double external_ohm, size_t n, const LoopCable cable[static n], double factor,
           double voltage_V, double voltage_factor, double *loop_ohm, double *fault_A)
{
    *loop_ohm = *fault_A = NAN;
    if (!is_not_negative(external_ohm) || !(factor >= 1.0 && is_number(factor)) ||
        !is_positive(voltage_V) || !is_share(voltage_factor))
        return REFUSED;
    double Z = external_ohm;
    for (size_t i = 0; i < n; i++) {
        const LoopCable *c = &cable[i];
        if (!is_not_negative(c->run_m) || !is_positive(c->line_ohm_per_m) ||
            !is_positive(c->return_ohm_per_m))
            return REFUSED;
        Z += factor * c->run_m * (c->line_ohm_per_m + c->return_ohm_per_m);
    }
    if (!is_positive(Z))
        return REFUSED;
    *loop_ohm = Z;
    *fault_A = voltage_factor * voltage_V / Z;
    return VALID;
}
