/* How sure a chance is that was counted from trials.
 *
 *     p = k/N    (p + z^2/(2 N) -+ z sqrt(p (1 - p)/N + z^2/(4 N^2)))/(1 + z^2/N)
 *
 * Given    met k of trials N, k <= N, N > 0; score z, two-sided: 1.959963985 for 95 %
 * Gives    the ends of the interval, within 0 to 1; NAN without trials
 * Misses   what is wrong in the model the trials were made of
 * Source   Wilson, Journal of the American Statistical Association 22 (1927) 209 (memory); docs/methods/work.md 1.7
 * Checked  tests/physics/test_risk.c: W1.30, W1.31 */
#pragma once

#include <stddef.h>

#define SCORE_95 1.959963984540054

void counted_chance(size_t met, size_t trials, double score, double *low, double *high);
