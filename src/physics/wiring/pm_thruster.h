/* A permanent-magnet thruster running steadily behind the resistance of battery and cable, and the thrust that costs.
 *
 *     (R c / k) w^2 + k w = E    T = c w^2 = k I    thrust ratio = (w / w')^2, w' with another resistance
 *     by its plate: r y^2 + (1 - r) y = u,  I / I_n = T / T_n = y^2,  y = w / w_n
 *
 * Given    emf_V, armature_ohm, constant_V_s, load_Nm_s2 > 0; source_ohm and compared_ohm >= 0
 *          by its plate: volts_frac u = U / U_n at its terminals, >= 0; armature_frac r = R I_n / U_n, 0 to below 1
 * Gives    ThrusterPoint; motor_V behind source_ohm
 *          share: thrust and current alike, of those at the plate's voltage; NAN outside the ranges
 *          exponent: slope of ln I over ln U at the plate's point; I_n u^exponent lies within 1 % of the share down to u = 0.7
 * Returns  VALID, or REFUSED outside the ranges
 * Misses   friction, the boat's own speed, and how long the motor bears it (two or three minutes)
 * Source   docs/methods/wires.md 8; thrust as the square of the speed of the propeller (bollard, derived)
 * Checked  pm-thruster in tests/cases/wires.csv; tests/physics/test_motor.c: as the end of a start */
#pragma once

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double emf_V, source_ohm, armature_ohm, constant_V_s, load_Nm_s2;
} Thruster;

typedef struct {
    double speed_rad_per_s, current_A, motor_V, torque_Nm, shaft_W, thrust_ratio;
} ThrusterPoint;

/* Speed at which motor and propeller agree, R of the whole circuit; NAN outside the ranges. load 0: no-load speed. */
double pm_thruster_speed(double emf_V, double whole_ohm, double constant_V_s, double load_Nm_s2);
Validity pm_thruster(const Thruster *thruster, double compared_ohm, ThrusterPoint *out);

double pm_thruster_share(double volts_frac, double armature_frac);
double pm_thruster_exponent(double armature_frac);

extern const Method pm_thruster_speed_method, pm_thruster_ratio_method, pm_thruster_share_method;
