/* Two banks joined through a resistance: what flows, and where they settle.
 *
 *     c = capacity / voltage_slope;   tau = R c_1 c_2 / (c_1 + c_2)
 *
 * Given    voltage_V at rest and capacity_As > 0 of each; loop_ohm > 0; slope_V, what the open voltage
 *          rises from empty to full, > 0
 * Gives    current_A at the first instant, from the first bank into the second; time constant;
 *          voltage in the end; charge moved in all, with the sign of the current
 * Returns  VALID, or REFUSED outside the ranges
 * Source   docs/methods/wires.md 2.6, 4.3: open voltage a straight line in the charge
 * Checked  bank-equalise in tests/cases/wires.csv; charge kept, in tests/physics/test_conductors.c */
#pragma once

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double voltage_V, capacity_As;
} RestingBank;

typedef struct {
    double current_A, time_constant_s, final_voltage_V, charge_moved_As;
} BankEqualise;

Validity bank_equalise(const RestingBank *first, const RestingBank *second, double loop_ohm,
                       double slope_V, BankEqualise *out);

extern const Method bank_equalise_current_method, bank_equalise_time_method,
    bank_equalise_voltage_method;
