/* Uncertainty of a result from those of its inputs.
 *
 *     u_c^2 = sum_i sum_j c_i c_j r_ij u_i u_j   nu = u_c^4/sum((c_i u_i)^4/nu_i)   U = k u_c
 *     with second order: u^2 = u_c^2 + sum (f_ij u_i u_j)^2
 *
 * Given    n >= 1 inputs: sensitivity c, standard uncertainty u >= 0, freedom nu >= 1 or INFINITY
 *          pairs (i < n, j < n, i != j): correlations -1 to 1; mixed second derivatives; confidence between 0 and 1
 * Gives    contribution[i] = |c_i| u_i; cross_contribution[k] = |f_ij| u_i u_j; freedom, NAN when every input is settled or inputs are
 *          correlated: coverage is then that of the normal, else Student's at the whole part of nu
 * Returns  VALID; REFUSED outside the ranges above and when the correlations make the variance negative
 * Source   JCGM 100:2008 5.1, 5.2, G.4, H.1, as transcribed in public test suites; docs/methods/work.md 6.1
 * Checked  uncertainty-budget in tests/cases/work.csv (gauge block of H.1); tests/physics/test_uncertainty.c */
#pragma once

#include <stddef.h>

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double sensitivity, uncertainty, freedom;
} BudgetInput;

typedef struct {
    size_t i, j;
    double value;
} BudgetPair;

typedef struct {
    size_t n, correlations, crosses;
    const BudgetInput *input;
    const BudgetPair *correlation, *cross;
    double confidence;
} Budget;

typedef struct {
    double combined, freedom, coverage, expanded, combined_second;
} BudgetResult;

Validity uncertainty_budget(const Budget *budget, double contribution[],
                            double cross_contribution[], BudgetResult *out);

extern const Method budget_combined_method, budget_freedom_method, budget_second_method;
