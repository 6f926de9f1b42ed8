/* A series-wound motor (starter) at a torque.
 *
 *     T = k I^2    w = (V - I R) / (k I)    I_st = V/R    T_st = k (V/R)^2
 *
 * Given    voltage_V, resistance_ohm (with cable and battery when V is theirs), torque_coefficient (N m/A2),
 *          torque_Nm > 0
 * Gives    SeriesPoint
 * Returns  VALID; REFUSED outside the ranges (without a load it runs away) and above the stall torque
 * Misses   iron that saturates (a real starter gives less torque at large currents), friction, brushes
 * Source   textbook; docs/methods/wires.md 8
 * Checked  series-motor in tests/cases/wires.csv; tests/physics/test_motor.c: energy */
#pragma once

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double current_A, speed_rad_per_s, stall_A, stall_Nm;
} SeriesPoint;

Validity series_motor(double voltage_V, double resistance_ohm, double torque_coefficient,
                      double torque_Nm, SeriesPoint *out);

extern const Method series_current_method, series_speed_method, series_stall_method;
