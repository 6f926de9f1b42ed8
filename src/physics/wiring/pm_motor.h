/* A permanent-magnet direct-current motor at rest in its speed: of voltage, speed and torque two are given.
 *
 *     V = k_e w + R I    T = k_t I - T_f    P = T w
 *     without friction: w_0 = V/k_e    I_st = V/R    T_st = k_t V/R    P_max = V^2/(4 R)
 *
 * Given    emf_constant, torque_constant > 0 (one number in SI: V s/rad is N m/A), resistance_ohm > 0 with
 *          cable and battery when V is that of the battery, friction_Nm >= 0; exactly one of voltage_V, speed
 *          and torque NAN; voltage and speed >= 0
 * Gives    PmPoint; loss is what does not leave by the shaft
 * Returns  VALID; EXTRAPOLATED when the two constants differ by more than 10 % (they are one number: energy
 *          would come from nothing or go nowhere), and when the load drives the shaft (speed or voltage found
 *          below 0: friction then has the wrong sign); REFUSED outside the ranges
 * Misses   armature reaction, demagnetising, heat in the magnets and the copper
 * Source   textbook; docs/methods/wires.md 8
 * Checked  pm-motor in tests/cases/wires.csv; tests/physics/test_motor.c: energy, all three ways round */
#pragma once

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double emf_constant, torque_constant, resistance_ohm, friction_Nm;
} PmMotor;

typedef struct {
    double voltage_V, speed_rad_per_s, torque_Nm, current_A, back_emf_V;
    double input_W, shaft_W, loss_W;
    double no_load_rad_per_s, stall_A, stall_Nm, power_limit_W;
} PmPoint;

Validity pm_motor(const PmMotor *motor, double voltage_V, double speed_rad_per_s, double torque_Nm,
                  PmPoint *out);

extern const Method pm_voltage_method, pm_torque_method, pm_no_load_method, pm_stall_method,
    pm_power_limit_method;
