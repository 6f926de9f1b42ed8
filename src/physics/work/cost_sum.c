/* Sum of costs. Invariant: for independent items and many trials the drawn spread is that of the formula. */
#include "physics/work/cost_sum.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>

#include "physics/dice.h"
#include "physics/domain.h"
#include "physics/memory.h"

#define SHEET "docs/methods/work.md 4"
const Method cost_mean_method = {
    "Mean of a sum of costs", "M = sum(m)", {"moments of a sum; " SHEET, STANDING_DERIVED}};
const Method cost_sd_method = {"Spread of a sum of costs that go wrong together",
                               "s = sqrt((1 - r) * sum(s_i^2) + r * sum(s_i)^2)",
                               {"moments of a sum; " SHEET, STANDING_DERIVED}};
const Method cost_lognormal_method = {
    "80 % point of a lognormal sum",
    "P_80 = M / sqrt(1 + (s / M)^2) * exp(0.8416212 * sqrt(ln(1 + (s / M)^2)))",
    {"lognormal with the same moments; " SHEET, STANDING_DERIVED}};
const Method cost_drawn_method = {"Costs drawn with a common factor",
                                  "z = sqrt(r) * z_0 + sqrt(1 - r) * e",
                                  {"one-factor model as remembered; " SHEET, STANDING_MEMORY}};

enum { LEAST_TRIALS = 1000 };
static const double MOST_TRIALS = 1e7;

Validity
cost_moments(size_t n, const Duration item[], double correlation, CostMoments *out)
{
    *out = (CostMoments){NAN, NAN, NAN, NAN, NAN};
    if (n == 0 || !is_within(correlation, 0.0, 1.0))
        return REFUSED;
    double likely = 0.0, M = 0.0, variances = 0.0, sds = 0.0;
    for (size_t i = 0; i < n; i++) {
        likely += item[i].likely_h;
        M += item[i].mean_h;
        variances += item[i].variance_h2;
        sds += sqrt(item[i].variance_h2);
    }
    double s = sqrt((1.0 - correlation) * variances + correlation * sds * sds);
    double z80 = gsl_cdf_ugaussian_Pinv(0.8), log_variance = log1p(s * s / (M * M));
    *out = (CostMoments){likely, M, s, M + z80 * s, NAN};
    if (M > 0.0)
        out->p80_lognormal = M * exp(z80 * sqrt(log_variance) - 0.5 * log_variance);
    return is_number(M) && is_number(s) ? VALID : REFUSED;
}

static void
draw(size_t n, const DurationCurve curve[], double correlation, size_t trials, Dice *dice,
     double sum[])
{
    double common = sqrt(correlation), own = sqrt(1.0 - correlation);
    for (size_t t = 0; t < trials; t++) {
        double z_0 = dice_normal(dice);
        sum[t] = 0.0;
        for (size_t i = 0; i < n; i++)
            sum[t] += duration_curve_at(&curve[i], common * z_0 + own * dice_normal(dice));
    }
}

static double
share_within(size_t n, const double sorted[], double limit)
{
    size_t low = 0, high = n;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (sorted[middle] <= limit)
            low = middle + 1;
        else
            high = middle;
    }
    return (double) low / (double) n;
}

Validity
cost_drawn(size_t n, const Duration item[], double correlation, double budget, double trials,
           uint64_t seed, CostDrawn *out)
{
    *out = (CostDrawn){NAN, NAN, NAN, NAN, NAN, NAN};
    if (n == 0 || !is_within(correlation, 0.0, 1.0) || !is_whole(trials, 1.0, MOST_TRIALS))
        return REFUSED;
    size_t many = (size_t) trials;
    DurationCurve *curve = fresh(n, sizeof *curve);
    double *sum = fresh(many, sizeof *sum), likely = 0.0;
    for (size_t i = 0; i < n; i++) {
        curve[i] = duration_curve(&item[i]);
        likely += item[i].likely_h;
    }
    Dice dice = {seed};
    draw(n, curve, correlation, many, &dice, sum);
    gsl_sort(sum, 1, many);
    out->sd = many > 1 ? gsl_stats_sd(sum, 1, many) : 0.0;
    out->p50 = gsl_stats_quantile_from_sorted_data(sum, 1, many, 0.5);
    out->p80 = gsl_stats_quantile_from_sorted_data(sum, 1, many, 0.8);
    out->p90 = gsl_stats_quantile_from_sorted_data(sum, 1, many, 0.9);
    /* The sum of constants is met whatever its rounding. */
    out->chance_likely = share_within(many, sum, likely * (1.0 + 1e-12));
    out->chance_budget = isnan(budget) ? NAN : share_within(many, sum, budget * (1.0 + 1e-12));
    for (size_t i = 0; i < n; i++)
        duration_curve_clear(&curve[i]);
    free(curve);
    free(sum);
    return trials < LEAST_TRIALS ? EXTRAPOLATED : VALID;
}
