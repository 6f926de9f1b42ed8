/* Approximate least metacentric height of a decked boat below 30 m.
 *
 *     GM_min = 0.53 + 2 B (0.075 - 0.37 f/B + 0.82 (f/B)^2 - 0.014 B/D - 0.032 l_s/L)
 *
 * Given    length_m, beam_m, depth_m > 0; freeboard_m >= 0, the least; superstructure_m >= 0,
 * enclosed length Gives    gm_m Returns  VALID; EXTRAPOLATED outside f/B 0.02 to 0.20, l_s/L <
 * 0.60, B/D 1.75 to 2.15, L < 30 m; REFUSED outside the ranges Source   IMO recommendation for
 * fishing vessels (ranges read, coefficients from memory); docs/methods/float.md 5.8 Checked
 * gm-min-fishing in tests/cases/float.csv */
#pragma once

#include "base/source.h"
#include "base/validity.h"

Validity gm_fishing(double length_m, double beam_m, double depth_m, double freeboard_m,
                    double superstructure_m, double *gm_m);

extern const Method gm_fishing_method;
