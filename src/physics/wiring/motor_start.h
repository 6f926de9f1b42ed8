/* A permanent-magnet motor switched on against a propeller, from rest: current, and the trough of the supply.
 *
 *     L di/dt = E - R i - k w    J dw/dt = k i - c w^2    R = source + armature
 *     at rest i = E/R when held fast; at the end (R c / k) w^2 + k w = E
 *
 * Given    emf_V, armature_ohm, constant_V_s (V s/rad and N m/A alike), inertia_kgm2 > 0; source_ohm,
 *          inductance_H, load_Nm_s2 >= 0
 *          time_s >= 0, or NAN: current and speed at that time are then NAN
 * Gives    MotorStart; lowest_V behind source_ohm, at the peak. A current that only creeps up to its end has
 *          that end for its peak and no time of it (NAN)
 * Returns  VALID; REFUSED outside the ranges, or when it has not settled in 100000 steps
 * Misses   friction, saturation, brushes, the bounce of the contactor, sag of the battery beyond source_ohm
 * Source   derived; docs/methods/wires.md 2.5
 * Checked  motor-start in tests/cases/wires.csv (circuit simulator, Runge-Kutta); tests/physics/test_motor.c:
 *          energy, closed forms without load and without inductance */
#pragma once

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double emf_V, source_ohm, armature_ohm, inductance_H, constant_V_s, inertia_kgm2, load_Nm_s2;
} StartingMotor;

typedef struct {
    double peak_A, peak_s, lowest_V;
    double current_A, speed_rad_per_s; /* at time_s */
    double steady_rad_per_s, steady_A, locked_A;
} MotorStart;

Validity motor_start(const StartingMotor *motor, double time_s, MotorStart *out);

extern const Method motor_start_current_method, motor_start_speed_method, motor_start_locked_method,
    motor_start_steady_method, motor_start_trough_method;
