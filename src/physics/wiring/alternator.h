/* Charging current and belt power of an alternator, from its curve.
 *
 *     I along straight lines at n r    P = U I    P_belt = U I / eta
 *
 * Given    curve   speeds of the shaft it was taken by, rising, and currents >= 0 A, n >= 2; engine_rad_s >= 0
 *          ratio   shaft turns of the curve to one of the engine: 1 for a curve over engine speed, crank
 *                  over alternator pulley for one over alternator speed; > 0
 *          voltage_V > 0; efficiency above 0 to 1 (0.5 to 0.6 of a claw-pole machine, memory)
 * Gives    AlternatorPoint
 * Returns  VALID; REFUSED off the curve: below it does not charge, above nobody measured
 * Misses   heat (a hot machine gives 70 to 80 % of the cold curve, memory) and the field's regulator: this
 *          is what it can give, not what a full battery takes. A lithium bank takes all of it for hours
 * Source   docs/methods/wires.md 4.5
 * Checked  alternator-curve in tests/cases/wires.csv; tests/physics/test_charging.c */
#pragma once

#include <stddef.h>

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double current_A, output_W, belt_W;
} AlternatorPoint;

Validity alternator_at(size_t n, const double speed_rad_per_s[static n],
                       const double current_A[static n], double engine_rad_per_s, double ratio,
                       double voltage_V, double efficiency, AlternatorPoint *out);

extern const Method alternator_current_method, alternator_belt_method;
