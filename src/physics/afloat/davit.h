/* A weight on her own davit or derrick: how far she heels, by a fixed GM and exactly.
 *
 *     KG1 = (m KG + w z) / (m + w)    GM1 = KM - KG1 - FSM / (m + w)    tan(heel) = lever / GM1
 *
 * A weight that hangs acts at the point it hangs from, however long the fall: the moment it leaves
 * the ground or the deck, its mass is at the head of the davit.
 *
 * Given    boat    mass and centre without the weight, or with it when it is lifted from her own
 *                  deck (from_deck): it is then moved from deck_* to the head
 *          w_kg > 0; head of the davit in body axes
 *          fixed   km_m of the boat as she floats, free_surface_kgm >= 0 of slack tanks (the
 *                  exact way takes them from the load)
 * Gives    heel_fixed_rad + to starboard; NAN when GM1 <= 0
 *          moment_kgm     about the centreline, positive to starboard, of the weight at the head
 *          rest           exact: load with the weight at the head
 * Returns  VALID or REFUSED, of each by itself
 * Source   statics; docs/methods/float.md 1, 2.5, 2.7, 6
 * Checked  tests/physics/test_slings.c: both ways against each other, and a box in closed form */
#pragma once

#include <stdbool.h>

#include "base/source.h"
#include "base/validity.h"
#include "physics/afloat/rest.h"

typedef struct {
    double w_kg;
    double x_m, y_m, z_m; /* head of the davit */
    bool from_deck;
    double deck_x_m, deck_y_m, deck_z_m; /* where it lay, with from_deck */
} HungWeight;

typedef struct {
    double moment_kgm, vcg_m, gm_m, heel_rad;
} DavitHeel;

Validity davit_heel(double mass_kg, double tcg_m, double vcg_m, double km_m,
                    double free_surface_kgm, const HungWeight *hung, DavitHeel *out);

/* *load is without the weight unless from_deck. */
Validity davit_rest(const Body *body, const Load *load, double density_kg_per_m3,
                    const HungWeight *hung, Rest *rest);

extern const Method davit_gm_method, davit_heel_method;
