/* A rectangular barge, upright and at any heel to 90 degrees, free to sink.
 *
 *     KB = T/2    BM = B^2/(12 T)    BM_L = L^2/(12 T)    GZ = -tcb cos(heel) + (vcb - KG)
 * sin(heel)
 *
 * Given    length_m, beam_m, depth_m > 0; 0 < draught_m < depth_m; vcg_m above the bottom;
 * |heel_rad| <= pi/2 Gives    BoxBarge; tcb to port, so negative at heel to starboard Returns
 * VALID, or REFUSED outside those ranges Source   docs/methods/float.md 9.1, derived and agreed
 * with clipping to 1e-15 (float-gz-box.csv) Checked  box-barge in tests/cases/float.csv, and
 * body_immersed on the same box */
#pragma once

#include "base/source.h"
#include "base/validity.h"

typedef enum { BOX_WALL_SIDED, BOX_DECK_WET, BOX_BILGE_OUT, BOX_BOTH } BoxPhase;

typedef struct {
    double volume_m3, kb_m, bm_m, bm_l_m, km_m, gm_m, gm_l_m;
    double gz_m, tcb_m, vcb_m;
    BoxPhase phase;
} BoxBarge;

Validity box_barge(double length_m, double beam_m, double depth_m, double draught_m, double vcg_m,
                   double heel_rad, BoxBarge *box);

extern const Method box_volume_method, box_bm_method, box_lever_method;
