/* Earth fault loop at the end of a chain of cables, and the current that flows in it.
 *
 *     Z = Z_e + factor sum(l (r + r_pe))    I = c U / Z
 *
 * Given    external_ohm >= 0, of the supply with its lead's beginning; cables with one-way run_m >= 0, line and
 *          return (protective conductor) resistances per length at 20 deg C > 0; factor >= 1 for the heat of the
 *          fault (1.2: 70 deg C), voltage_V > 0, voltage_factor above 0 to 1 (0.95 in the practice of the UK)
 * Gives    loop_ohm, fault_A
 * Returns  VALID; REFUSED outside the ranges, and for a loop without any resistance
 * Misses   reactance (added as plain numbers: at or below 35 mm2 it does not count), the fault's own resistance, the
 *          water as a parallel path, and whether the protective conductor is there at all: measure
 * Source   docs/methods/wires.md 5.3
 * Checked  fault-loop in tests/cases/wires.csv; tests/physics/test_mains.c */
#pragma once

#include <stddef.h>

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double run_m, line_ohm_per_m, return_ohm_per_m;
} LoopCable;

Validity fault_loop(double external_ohm, size_t n, const LoopCable cable[static n], double factor,
                    double voltage_V, double voltage_factor, double *loop_ohm, double *fault_A);

extern const Method fault_loop_method, fault_loop_current_method;
