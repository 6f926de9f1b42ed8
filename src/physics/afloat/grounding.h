/* A boat whose keel takes a block, the slip or the ground while the water falls, or while the lift
 * comes up: what the block bears, how she trims, and the stability that is left.
 *
 *     height(P) = -depth    rho V = m - R    rho V X_B + R X_P = m X_G        (upright)
 *     GM_a = (1 - R/m) KM - KG - FS    GM_b = GM_a m / (m - R)
 *
 * KM and KG are heights above the point of contact, along the true vertical, at the water plane as
 * it lies. The righting moment is m g GM_a sin(heel): GM_a is what to hold against a least height.
 *
 * Given    a load as of rest_find; it is taken as upright, lcg and vcg count, tcg does not
 *          block   x_m, z_m  point of the keel that touches first, on the centreline
 *                  bed_trim_rad  trim at which the keel lies along the blocks or the slip; from
 *                                there on the whole keel bears; NAN: there is one block only
 *          fall_m  how far the water has gone down since the keel first touched, >= 0
 *          A narrow keel only: a flat bottom on wide blocks stands by itself.
 * Gives    reaction_x_m  where the reaction acts: the block; between the ends of the keel when the
 *                  whole keel bears (outside them she would tip: the caller knows the ends)
 * Returns  VALID; REFUSED when she does not float upright and level enough to begin with (past 75
 *          deg of trim, sinking, unstable lengthwise), when the trim by that block leads away from
 *          the bed, or outside the ranges
 * Source   docs/methods/float.md 10.1; Barrass and Derrett, Ship Stability for Masters and Mates,
 *          5th ed., p. 247-249
 * Checked  keel-on-block in tests/cases/float.csv; tests/physics/test_grounding.c */
#pragma once

#include <stdbool.h>
#include <stddef.h>

#include "base/source.h"
#include "base/validity.h"
#include "physics/afloat/body.h"
#include "physics/afloat/load.h"

typedef struct {
    double x_m, z_m;
    double bed_trim_rad;
} KeelBlock;

typedef struct {
    double fall_m, depth_m; /* depth_m: of the block's point of the keel below the water */
    double reaction_kg, reaction_x_m;
    double trim_rad, origin_depth_m;
    double km_m, vcg_m; /* above the point of contact */
    double gm_a_m, gm_b_m;
    bool all_along; /* the whole keel bears */
} KeelStep;

/* afloat: the moment of first touch, no reaction yet; may be NULL. */
Validity keel_on_block(const Body *body, const Load *load, double density_kg_per_m3,
                       const KeelBlock *block, double fall_m, KeelStep *afloat, KeelStep *step);

/* n >= 2 steps from first touch to fall_m, evenly spaced. */
Validity keel_steps(const Body *body, const Load *load, double density_kg_per_m3,
                    const KeelBlock *block, double fall_m, size_t n, KeelStep step[]);

/* The moment at which the whole keel comes to bear; REFUSED when there is no bed, or the water is
 * gone before. Her stability is least secure here: afterwards shores can be set. */
Validity keel_landing(const Body *body, const Load *load, double density_kg_per_m3,
                      const KeelBlock *block, KeelStep *step);

/* Where to stop: the first fall at which GM_a comes down to gm_least_m. REFUSED when it is below
 * already as she touches, or never comes down to it until the water is gone. */
Validity keel_stop(const Body *body, const Load *load, double density_kg_per_m3,
                   const KeelBlock *block, double gm_least_m, KeelStep *step);

extern const Method keel_reaction_method, keel_trim_method, keel_gm_a_method, keel_gm_b_method;
