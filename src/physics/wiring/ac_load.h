/* A single-phase alternating-current load: current, reactive power, start, capacitor, and the drop of its cable.
 *
 *     I = P/(U eta cos)    S = U I    Q = U I sin    I_start = factor I
 *     dU = 2 I l (rho1/A cos + x sin)    rho1 = 0.0225e-6 ohm m    x = 0.08e-3 ohm/m
 *     C = U I cos (tan phi1 - tan phi2)/(2 pi f U^2)
 *
 * Given    current_A or shaft_W (what the load delivers; the other NAN), >= 0; voltage_V > 0; power_factor and
 *          efficiency above 0 to 1; one-way run_m >= 0 and area_m2 > 0, or NAN; start_factor >= 1 or NAN;
 *          target_factor from power_factor to 1, or NAN; frequency_Hz > 0
 * Gives    AcPoint; what lacks its inputs is NAN
 * Returns  VALID; REFUSED outside the ranges, and when the cable would take the whole voltage
 * Misses   copper is taken at 20 deg C times 1.25; harmonics; a load that draws more as its voltage falls; the
 *          current leads or lags alike in the drop: lagging is assumed. Says nothing about protection
 * Source   IEC 60364-5-52 Annex G (form read, constants from memory); docs/methods/wires.md 5.3, 5.4
 * Checked  ac-circuit in tests/cases/wires.csv; tests/physics/test_mains.c: phasors */
#pragma once

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double current_A, shaft_W, power_factor, efficiency, voltage_V;
    double run_m, area_m2, start_factor, target_factor, frequency_Hz;
} AcLoad;

typedef struct {
    double current_A, apparent_VA, reactive_VA, start_A, capacitance_F, drop_V, drop_frac;
} AcPoint;

Validity ac_load(const AcLoad *load, AcPoint *out);

extern const Method ac_current_method, ac_reactive_method, ac_drop_method, ac_capacitor_method;
