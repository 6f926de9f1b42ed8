/* How far two lists rise together, by their ranks: Pearson's correlation of the ranks, equal values sharing theirs.
 *
 * Gives    -1 to 1; 0 when one of the lists is constant
 * Source   Spearman 1904 (memory); docs/methods/work.md 1.6
 * Checked  tests/physics/test_risk.c: W1.28 */
#pragma once

#include <stddef.h>

/* Fills rank[n], 1 for the smallest, means for equal ones. */
void rank_of(size_t n, const double value[], double rank[]);
double rank_correlation(size_t n, const double rank_a[], const double rank_b[]);
