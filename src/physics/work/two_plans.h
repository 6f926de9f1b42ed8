/* Which of two plans is likelier in time.
 *
 *     chance = Phi((D - mu)/s)   crossing = (mu_a s_b - mu_b s_a)/(s_b - s_a)
 *     P(A earlier) = Phi((mu_b - mu_a)/sqrt(s_a^2 + s_b^2))
 *     trials seen by both: difference = (n_a - n_b)/N   se = sqrt(n_a + n_b - (n_a - n_b)^2/N)/N
 *
 * Given    normal finishes that hang together in nothing, sd_h > 0; deadline_h, h, or NAN: none
 *          counts of trials in which only one of the two was in time; whole, together no more than trials
 * Gives    chances and expected lateness, NAN without a deadline; the deadline at which both have the same chance, and that
 *          chance, NAN when the spreads are equal
 * Returns  VALID; REFUSED outside the ranges above
 * Source   derived; docs/methods/work.md 5
 * Checked  two-plans and paired-trials in tests/cases/work.csv; tests/physics/test_options.c */
#pragma once

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double mean_h, sd_h;
} NormalFinish;

typedef struct {
    double chance_a, chance_b, lateness_a_h, lateness_b_h;
    double crossing_h, crossing_chance, a_earlier;
} TwoPlans;

Validity two_plans(NormalFinish a, NormalFinish b, double deadline_h, TwoPlans *out);
Validity paired_trials(double trials, double only_a, double only_b, double *difference,
                       double *standard_error);

extern const Method two_plans_crossing_method, two_plans_earlier_method, paired_trials_method;
