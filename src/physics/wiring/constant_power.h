/* A load that takes the same power at whatever voltage it gets, behind the resistance of its source.
 *
 *     power = voltage (emf - voltage) / resistance
 *
 * Given    emf_V > 0; resistance_ohm of source and path, > 0; power_W >= 0
 * Gives    power_limit_W = emf^2 / (4 resistance), with limit_current_A and limit_voltage_V there;
 *          loading, power over that limit; voltage_V and current_A where she runs (the upper root);
 *          voltage_low_V, the other root, on which such a load does not stay
 * Returns  VALID; REFUSED past the limit, where voltage, current and low voltage are NAN and the rest
 *          stands, and for a source outside the ranges above, where all are NAN
 * Source   docs/methods/wires.md 2.3, by the quadratic
 * Checked  constant-power in tests/cases/wires.csv */
#pragma once

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double power_limit_W, limit_current_A, limit_voltage_V, loading;
    double voltage_V, current_A, voltage_low_V;
} ConstantPower;

Validity constant_power(double emf_V, double resistance_ohm, double power_W, ConstantPower *out);

extern const Method constant_power_limit_method, constant_power_voltage_method;
