/* Metal that a current dissolves, and how deep it eats: Faraday's law.
 *
 *     q = z F/M    m = I t/q    depth = m/(rho A)
 *
 * Given    metal; current_A, duration_s >= 0; area_m2 > 0, or NAN
 * Gives    capacity in C/kg; mass_kg; depth_m, the mean over the area, NAN without one
 * Returns  VALID, or REFUSED outside the ranges
 * Misses   pits: a scratch in good paint takes the whole current on its own small area. Real anodes give 50 to
 *          95 % of this capacity
 * Source   Faraday's law, F = 96485.33 C/mol; masses and densities of the elements; docs/methods/wires.md 7.1
 * Checked  faraday-corrosion in tests/cases/wires.csv; tests/physics/test_corrosion.c */
#pragma once

#include "base/source.h"
#include "base/validity.h"

typedef enum {
    DISSOLVES_IRON,
    DISSOLVES_ZINC,
    DISSOLVES_ALUMINIUM,
    DISSOLVES_MAGNESIUM
} Dissolving;

double faraday_capacity_C_per_kg(Dissolving metal);
Validity faraday_loss(Dissolving metal, double current_A, double duration_s, double area_m2,
                      double *mass_kg, double *depth_m);

extern const Method faraday_capacity_method, faraday_mass_method, faraday_depth_method;
