/* Going on the slip or into the dock by handbook: trimmed keel on its heel, and a box barge on a
 * narrow centreline block.
 *
 *     R = MCT t / l + TPC fall    loss a = R KM / D, times D    loss b = R KG / (D - R), times D - R
 *
 * Given    trim_m            by which she must turn to lie on the blocks, over the length of MCT; 0:
 *                            she lies on them already, MCT and l are then not read
 *          contact_to_lcf_m  distance l of the first block from the centre of flotation; trim and l
 *                            of the same sign
 *          fall_m            of the water after the keel has taken all along
 *          km_m, vcg_m       above the keel; free_surface_kgm >= 0
 * Gives    gm_a_m, gm_b_m    the same moment by two names: a goes with D, b with D - R
 * Returns  VALID; REFUSED when R is not between 0 and D, or outside the ranges
 * Source   Barrass and Derrett, Ship Stability for Masters and Mates, 5th ed., p. 247-249;
 *          docs/methods/float.md 10.1
 * Checked  docking, box-on-block in tests/cases/float.csv; tests/physics/test_grounding.c against
 *          keel_on_block */
#pragma once

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double reaction_kg, loss_a_m, loss_b_m, gm_a_m, gm_b_m;
} Docking;

Validity docking(double mass_kg, double km_m, double vcg_m, double mct_kgm_per_m, double trim_m,
                 double contact_to_lcf_m, double tpc_kg_per_m, double fall_m,
                 double free_surface_kgm, Docking *out);

/* Depth of the keel below the water at which a box barge loses her stability on the block.
 *
 *     d = sqrt(2 (T KG - B^2 / 12))
 *
 * REFUSED when there is none: she is stable down to dry blocks, or not stable afloat. */
typedef struct {
    double gm_afloat_m, critical_depth_m;
} BoxOnBlock;

Validity box_on_block(double beam_m, double draught_m, double vcg_m, BoxOnBlock *out);

extern const Method docking_reaction_method, docking_loss_a_method, docking_loss_b_method,
    box_on_block_method;
