/* A box barge with a midship compartment, as wide as she is, open to the sea.
 *
 *     T1 = T L/(L - mu l)    BM = (L - mu l) B^3 / (12 V)    KM = T1/2 + BM    GM = KM - KG
 *
 * Given    length_m, beam_m, draught_m > 0; 0 < compartment_m < length_m;
 *          0 < permeability_frac <= 1; vcg_m above the bottom, NAN: no gm
 * Gives    the barge's depth is not known here: draught_m must be compared with it
 * Returns  VALID or REFUSED
 * Source   Barrass and Derrett, Ship Stability for Masters and Mates, 5th ed., bilging chapter;
 *          docs/methods/float.md 10.2
 * Checked  box-bilged in tests/cases/float.csv; flooded_rest on the same box */
#pragma once

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double draught_m, rise_m, bm_m, km_m, gm_m;
} BoxBilged;

Validity box_bilged(double length_m, double beam_m, double draught_m, double compartment_m,
                    double permeability_frac, double vcg_m, BoxBilged *out);

extern const Method box_bilged_draught_method, box_bilged_bm_method;
