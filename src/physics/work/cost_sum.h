/* What several uncertain costs come to together.
 *
 *     mean = sum m_i   variance = (1 - r) sum s_i^2 + r (sum s_i)^2, all pairs correlated by r
 *     drawn: z_i = sqrt(r) z_0 + sqrt(1 - r) e_i, cost_i = F_i^-1(Phi(z_i)), one factor for all items
 *
 * Given    n items by three points (physics/work/duration: a cost is no different from a time); correlation 0 to 1
 *          budget, or NAN: none; trials >= 1
 * Gives    moments by the linear formula, the 80 % points of the normal and of the lognormal with these moments (the latter NAN unless
 *          the mean is positive), and what the trials say: order statistics between ranks, and shares
 * Returns  VALID; EXTRAPOLATED for fewer than 1000 trials; REFUSED outside the ranges above
 * Misses   the correlation stands on the normal scores in the trials and on the costs in the formula: the two spreads
 *          differ a little for skewed items
 * Source   moments derived; the one-factor model: common practice in cost-risk handbooks, from memory; docs/methods/work.md 4
 * Checked  cost-risk in tests/cases/work.csv; tests/physics/test_money.c */
#pragma once

#include <stddef.h>
#include <stdint.h>

#include "base/source.h"
#include "base/validity.h"
#include "physics/work/duration.h"

typedef struct {
    double sum_likely, mean, sd, p80_normal, p80_lognormal;
} CostMoments;

typedef struct {
    double sd, p50, p80, p90, chance_likely, chance_budget;
} CostDrawn;

Validity cost_moments(size_t n, const Duration item[], double correlation, CostMoments *out);
Validity cost_drawn(size_t n, const Duration item[], double correlation, double budget,
                    double trials, uint64_t seed, CostDrawn *out);

extern const Method cost_mean_method, cost_sd_method, cost_lognormal_method, cost_drawn_method;
