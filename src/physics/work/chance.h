/* How sure a chance is that was counted from trials, and which of the sorted trials bracket a percentile.
 *
 *     Wilson   see counted_chance.h
 *     exact    BetaInv(a; k, N - k + 1) to BetaInv(1 - a; k + 1, N - k)      a = (1 - confidence)/2
 *
 * This is the noise of the simulation alone; what the model does not know is larger.
 * Source   Wilson, JASA 22 (1927) 209-212; Clopper and Pearson, Biometrika 26 (1934) 404-413 (memory); docs/methods/work.md 1.7
 * Checked  chance-interval, quantile-ranks in tests/cases/work.csv */
#pragma once

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double chance, wilson_low, wilson_high, exact_low, exact_high;
} ChanceInterval;

/* met of trials, whole numbers, 0 <= met <= trials, trials >= 1; confidence between 0 and 1. */
Validity chance_interval(double met, double trials, double confidence, ChanceInterval *interval);
/* Trials for a half width > 0 of the interval around the chance (0 to 1), rounded up. */
Validity chance_trials(double chance, double half_width, double confidence, double *trials);

typedef struct {
    double low, high, coverage; /* ranks from 1 */
} QuantileRanks;

/* low: the largest r with P(B < r) <= a; high: the smallest s with P(B < s) >= 1 - a; B binomial of trials and quantile. REFUSED when
 * the sample has no such ranks. */
Validity quantile_ranks(double trials, double quantile, double confidence, QuantileRanks *ranks);

extern const Method chance_wilson_method, chance_exact_method, chance_trials_method;
