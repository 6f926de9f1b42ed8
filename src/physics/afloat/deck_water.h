/* Rain or a sea lying in a well, between bulwarks or in an open boat: weight added, free to move.
 *
 *     m1 = m + rho_w * v    and the water finds its own level in the basin
 *
 * Given    basin       of a loft and box without fault, whole_m3 reckoned
 *          water       its density and how much of it, > 0 and not more than the basin holds upright
 *          load        as of rest_find, without this water
 * Gives    wet         at rest with the water; wet.free_surface_m holds all slack surfaces, the
 *                      basin's among them
 *          depth_m     of the body's origin below the water in the basin, as wet.at tells it of the sea
 *          holds_m3    what the basin can hold at that heel and trim before it runs over its lowest rim
 * Returns  VALID; EXTRAPOLATED when she would tip part of it over the rim (reckoned as if it were
 *          kept in); REFUSED when there is no rest within 40 deg of upright, with wet.outcome, or outside the ranges
 * Source   docs/methods/float.md 3, 10.4
 * Checked  tests/physics/test_basin.c: a box barge in closed form, and the moment of its levers */
#pragma once

#include "base/source.h"
#include "base/validity.h"
#include "physics/afloat/basin.h"
#include "physics/afloat/rest.h"

typedef struct {
    double water_m3, water_kg, holds_m3, depth_m;
    Rest wet;
} DeckWater;

Validity deck_water(const Body *body, const Load *load, double density_kg_per_m3,
                    const Basin *basin, double water_kg_per_m3, double water_m3, DeckWater *out);

/* As much as stays in it: filled to a thousandth below where it runs over, as she then lies. REFUSED when she finds no rest
 * before that. */
Validity deck_water_brim(const Body *body, const Load *load, double density_kg_per_m3,
                         const Basin *basin, double water_kg_per_m3, DeckWater *out);

extern const Method deck_water_mass_method, deck_water_brim_method;
