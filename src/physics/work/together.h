/* Tasks that go wrong together: what a common factor does to two of them and to their sum.
 *
 *     share of the common factor in the normal scores   r = (s_c/s)^2
 *     correlation of the two lognormal durations         (exp(s_c^2) - 1)/(exp(s^2) - 1)
 *     rank correlation                                   (6/pi) asin(r/2)
 *     sd of a sum                                        sqrt(sum_i sum_j r_ij s_i s_j)
 *
 * Source   lognormal and normal distributions, derived; docs/methods/work.md 1.5
 * Checked  task-correlation, sum-spread in tests/cases/work.csv; by simulation in tests/physics/test_durations.c */
#pragma once

#include <stddef.h>

#include "base/source.h"
#include "base/validity.h"

/* 0 <= common_log_sd <= log_sd, log_sd > 0. */
Validity together_share(double log_sd, double common_log_sd, double *share);
/* Correlation of two lognormal durations of log_sd > 0 whose scores are correlated by share (-1 to 1). */
Validity together_correlation(double log_sd, double share, double *correlation);
Validity together_rank(double share, double *rank_correlation);

typedef struct {
    double sd_h, independent_h, together_h;
} SumSpread;

/* sd_h[n] >= 0; one correlation for all pairs, -1/(n - 1) to 1. */
Validity together_sum(size_t n, const double sd_h[], double correlation, SumSpread *sum);

extern const Method together_share_method, together_correlation_method, together_rank_method,
    together_sum_method;
