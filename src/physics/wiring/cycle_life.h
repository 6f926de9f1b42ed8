/* Cycles a battery lasts at a depth of discharge, through two known points.
 *
 *     N = N1 (D1 / D)^b    b = ln(N1 / N2) / ln(D2 / D1)
 *
 * Given    depths above 0 to 1, two of them different; cycles > 0, not more at the greater depth
 * Gives    exponent, cycles
 * Returns  VALID between the two depths, EXTRAPOLATED outside them, REFUSED outside the ranges
 * Misses   age and heat, which end most batteries aboard before their cycles do
 * Source   power law through makers' figures; docs/methods/wires.md 4.5
 * Checked  cycle-life in tests/cases/wires.csv; tests/physics/test_charging.c: through both points */
#pragma once

#include "base/source.h"
#include "base/validity.h"

Validity cycle_life(double depth_1, double cycles_1, double depth_2, double cycles_2, double depth,
                    double *exponent, double *cycles);

extern const Method cycle_life_method, cycle_life_exponent_method;
