/* Sum of independent rectangular errors: the interval it keeps to, exact, and what the normal says.
 *
 *     (n - 1) M(x; w) = sum_i [t M(x; w without i) + (1 - t) M(x - w_i; w without i)],  t = x/sum w,  0 <= x <= sum w
 *
 * M is the density of sum w_i u_i, u from 0 to 1; with one more width, as wide as all others together, W M is its distribution. Every
 * term is positive: nothing cancels, however different the widths.
 * Given    half_width[n] > 0, n 1 to RECTANGLES_MOST; confidence between 0 and 1
 * Gives    sd; half_interval, within which the sum stays with this confidence; half_interval_normal = z sd
 * Returns  VALID; REFUSED outside the ranges above
 * Source   de Boor and Hollig, B-splines from parallelepipeds, J. d'Analyse Math. 42 (1982) 99-115, from memory;
 *          docs/methods/work.md 6.2
 * Checked  rectangular-sum in tests/cases/work.csv; tests/physics/test_uncertainty.c: the truncated powers say the same */
#pragma once

#include <stddef.h>

#include "base/source.h"
#include "base/validity.h"

enum { RECTANGLES_MOST = 12 };

typedef struct {
    double sd, half_interval, half_interval_normal;
} RectangularSum;

Validity rectangular_sum(size_t n, const double half_width[], double confidence,
                         RectangularSum *out);
/* Chance that the sum is not above x; half_width as above. */
double rectangular_sum_chance(size_t n, const double half_width[], double x);

extern const Method rectangular_sd_method, rectangular_sum_method;
