/* Uncertainty budget. Invariant: contributions that hang together in nothing add in squares. */
#include "physics/work/uncertainty_budget.h"

#include <gsl/gsl_cdf.h>

#include "physics/domain.h"

#define JCGM "JCGM 100:2008 as transcribed in public test suites; docs/methods/work.md 6.1"
const Method budget_combined_method = {"Combined uncertainty",
                                       "u_c = sqrt(sum(c_i * c_j * r_ij * u_i * u_j))",
                                       {JCGM, STANDING_SECONDARY}};
const Method budget_freedom_method = {
    "Effective freedom", "nu = u_c^4 / sum((c_i * u_i)^4 / nu_i)", {JCGM, STANDING_SECONDARY}};
const Method budget_second_method = {"Combined uncertainty with terms of the second order",
                                     "u = sqrt(u_c^2 + sum((f_ij * u_i * u_j)^2))",
                                     {JCGM, STANDING_SECONDARY}};

static bool
pairs_hold(size_t n, size_t pairs, const BudgetPair pair[], double most)
{
    for (size_t k = 0; k < pairs; k++)
        if (pair[k].i >= n || pair[k].j >= n || pair[k].i == pair[k].j ||
            !is_within(pair[k].value, -most, most))
            return false;
    return true;
}

static bool
inputs_hold(const Budget *b)
{
    for (size_t i = 0; i < b->n; i++)
        if (!is_number(b->input[i].sensitivity) || !is_not_negative(b->input[i].uncertainty) ||
            !(b->input[i].freedom >= 1.0))
            return false;
    return b->n > 0 && b->confidence > 0.0 && b->confidence < 1.0 &&
           pairs_hold(b->n, b->correlations, b->correlation, 1.0) &&
           pairs_hold(b->n, b->crosses, b->cross, 1e30);
}

/* NAN when correlations that cannot hold together make it negative. */
static double
combined_variance(const Budget *b)
{
    double squares = 0.0, together = 0.0;
    for (size_t i = 0; i < b->n; i++)
        squares += pow(b->input[i].sensitivity * b->input[i].uncertainty, 2.0);
    for (size_t k = 0; k < b->correlations; k++) {
        const BudgetInput *x = &b->input[b->correlation[k].i], *y = &b->input[b->correlation[k].j];
        together += 2.0 * b->correlation[k].value * x->sensitivity * x->uncertainty *
                    y->sensitivity * y->uncertainty;
    }
    double variance = squares + together;
    if (variance < -1e-12 * squares)
        return NAN;
    return fmax(0.0, variance);
}

static double
effective_freedom(const Budget *b, double combined)
{
    double sum = 0.0;
    for (size_t i = 0; i < b->n; i++)
        sum += pow(b->input[i].sensitivity * b->input[i].uncertainty / combined, 4.0) /
               b->input[i].freedom;
    return b->correlations == 0 && sum > 0.0 ? 1.0 / sum : NAN;
}

Validity
uncertainty_budget(const Budget *b, double contribution[], double cross_contribution[],
                   BudgetResult *out)
{
    *out = (BudgetResult){NAN, NAN, NAN, NAN, NAN};
    double variance = inputs_hold(b) ? combined_variance(b) : NAN;
    if (isnan(variance))
        return REFUSED;
    for (size_t i = 0; i < b->n; i++)
        contribution[i] = fabs(b->input[i].sensitivity) * b->input[i].uncertainty;
    double second = variance;
    for (size_t k = 0; k < b->crosses; k++) {
        const BudgetPair *c = &b->cross[k];
        cross_contribution[k] =
            fabs(c->value) * b->input[c->i].uncertainty * b->input[c->j].uncertainty;
        second += cross_contribution[k] * cross_contribution[k];
    }
    double share = 0.5 * (1.0 + b->confidence);
    out->combined = sqrt(variance);
    out->freedom = effective_freedom(b, out->combined);
    out->coverage = isnan(out->freedom) ? gsl_cdf_ugaussian_Pinv(share)
                                        : gsl_cdf_tdist_Pinv(share, floor(out->freedom + 1e-9));
    out->expanded = out->coverage * out->combined;
    out->combined_second = sqrt(second);
    return VALID;
}
