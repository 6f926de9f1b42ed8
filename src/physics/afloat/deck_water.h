/* Rain or a sea lying in a well or on a deck with bulwarks: weight added, free to move.
 *
 *     m1 = m + rho_w * v    and the water finds its own level in the well
 *
 * Given    well        a box without tank_fault; its density is the water's, its fill is not read
 *          water_m3    water in it, > 0 and not more than the box
 *          load        as of rest_find, without this water
 * Gives    dry, wet    at rest without and with the water; wet.free_surface_m holds all slack
 *                      surfaces, the well's among them
 *          holds_m3    what the well can hold at that heel and trim before it runs over its lowest
 *                      rim
 * Returns  VALID; EXTRAPOLATED when she would tip part of it over the rim (reckoned as if it were
 *          kept in); REFUSED when there is no rest, with wet.outcome, or outside the ranges
 * Source   docs/methods/float.md 3, 10.3
 * Checked  tests/physics/test_flooding.c: a box barge in closed form, and the moment of its levers */
#pragma once

#include "base/source.h"
#include "base/validity.h"
#include "physics/afloat/rest.h"

typedef struct {
    double water_kg, holds_m3;
    Rest dry, wet;
} DeckWater;

Validity deck_water(const Body *body, const Load *load, double density_kg_per_m3, const Tank *well,
                    double water_m3, DeckWater *out);

extern const Method deck_water_mass_method;
