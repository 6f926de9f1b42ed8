/* Freeboard of an inland vessel with sheer and superstructures, zone 3.
 *
 *     F = 150 (1 - alpha) - (beta_v S_ev + beta_a S_ea)/15 mm, not below 0
 *     alpha = sum(l_e)/L    l_e = l (2.5 b/B - 1.5) h/0.36    beta = 1 - 3 l_e/L    S_e = S p    p
 * = 4 x/L
 *
 * Given    length_m, beam_m > 0; superstructures by place with length, breadth, height > 0; sheers
 * >= 0 at the ends and the distances from the ends to where they are a quarter of that, >= 0 h
 * counts to 0.36 m, nothing when b/B < 0.6; sheer to 1.0 m forward and 0.5 m aft; p to 1 what the
 * sheer aft brings never counts for more than what the sheer forward brings Gives InlandFreeboard,
 * m Returns  VALID; EXTRAPOLATED when superstructures are so long that alpha > 1 or a beta < 0;
 * REFUSED outside the ranges Source   Directive 2006/87/EC Annex II ch. 4 (150 mm read; the
 * formulas from memory); docs/methods/float.md 5.6 Checked  freeboard-inland-eu in
 * tests/cases/float.csv */
#pragma once

#include <stddef.h>

#include "base/source.h"
#include "base/validity.h"

typedef enum { PLACE_AFT, PLACE_MID, PLACE_FORE } HousePlace;

typedef struct {
    HousePlace place;
    double length_m, breadth_m, height_m;
} Superstructure;

typedef struct {
    double alpha, beta_fwd, beta_aft, sheer_fwd_m, sheer_aft_m, freeboard_m;
} InlandFreeboard;

Validity freeboard_inland(double length_m, double beam_m, size_t n, const Superstructure house[],
                          double sheer_fwd_m, double sheer_aft_m, double quarter_fwd_m,
                          double quarter_aft_m, InlandFreeboard *out);

extern const Method freeboard_inland_method, freeboard_inland_plain_method;
