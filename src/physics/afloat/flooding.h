/* Where a boat comes to rest with spaces open to the sea, by lost buoyancy: mass and centre of
 * gravity unchanged, the spaces displace nothing and their water plane is lost.
 *
 *     V - sum(V_lost) = m / rho    X_B = X_G    Y_B = Y_G
 *
 * Given    a load within the limits of rest_find; compartments without fault that do not overlap;
 *          density_kg_per_m3 > 0. The water in a space stands at the sea's level: air can get out.
 *          A compartment takes from every loft of the body that it reaches into.
 * Gives    Rest: lcb and so on, water plane and inertias of what is left; bm by the inertia left
 *          over the unchanged volume; the stable position nearest to upright, starboard when both
 *          sides are alike
 * Returns  VALID; REFUSED when there is none within 90 deg, with the outcome
 * Source   docs/methods/float.md 10.2, 2.7
 * Checked  flooded-position in tests/cases/float.csv; tests/physics/test_flooding.c */
#pragma once

#include <stddef.h>

#include "base/source.h"
#include "base/validity.h"
#include "physics/afloat/compartment.h"
#include "physics/afloat/rest.h"

Validity flooded_rest(const Body *body, const Load *load, size_t n, const Compartment compartment[],
                      double density_kg_per_m3, Rest *rest);

/* Righting lever with the same spaces open, at a given heel, free to sink and trim. *at is start
 * and result. */
Validity flooded_lever(const Body *body, const Load *load, size_t n,
                       const Compartment compartment[], double density_kg_per_m3, double heel_rad,
                       Attitude *at, double *lever_m);

extern const Method flooded_volume_method, flooded_trim_method, flooded_heel_method;
