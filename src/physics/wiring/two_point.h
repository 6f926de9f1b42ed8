/* Resistance and open voltage of a battery from two loads, or from its cranking rating.
 *
 *     R = (U1 - U2) / (I2 - I1)    E = U1 + R I1    I_sc = E / R
 *
 * Given    voltages at the battery's own posts, currents drawn (charging negative), two of them
 * Gives    TwoPoint; NAN when refused
 * Returns  VALID; REFUSED when the voltage does not fall with the larger current, or E <= 0
 * Misses   the chemistry's slow sag: wait equally long at both loads (5 s, then 20 s is usual). A cranking
 *          rating, the pair (open voltage, 0 A) and (7.2 V, rated current), gives the 30 s resistance at
 *          -18 deg C: an upper figure; a warm full battery has about half (memory). Short-circuit currents
 *          for breaking capacity are those of a new, full and warm battery
 * Source   straight line; the test in the manner of IEC 60896-21 (memory); docs/methods/wires.md 4.2
 * Checked  battery-two-point in tests/cases/wires.csv; tests/physics/test_battery.c */
#pragma once

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double resistance_ohm, emf_V, short_circuit_A;
} TwoPoint;

Validity two_point(double voltage_1_V, double current_1_A, double voltage_2_V, double current_2_A,
                   TwoPoint *out);

extern const Method two_point_resistance_method, two_point_emf_method, two_point_short_method;
