/* Intervals of counted chances. */
#include "physics/work/chance.h"

#include <gsl/gsl_cdf.h>

#include "physics/domain.h"
#include "physics/work/counted_chance.h"

const Method chance_wilson_method = {
    "Wilson interval",
    "w = z / (1 + z^2 / N) * (p * (1 - p) / N + z^2 / (4 * N^2))^0.5",
    {"Wilson 1927; docs/methods/work.md 1.7", STANDING_MEMORY}};
const Method chance_exact_method = {
    "Exact interval",
    "l = beta_inv(a, k, N - k + 1)",
    {"Clopper and Pearson 1934; docs/methods/work.md 1.7", STANDING_MEMORY}};
const Method chance_trials_method = {
    "Trials needed", "N = z^2 * p * (1 - p) / h^2", {"docs/methods/work.md 1.7", STANDING_DERIVED}};

/* Numbers beyond this are no counts of trials. */
static const double most_trials = 4e9;

static bool
is_count(double x)
{
    return is_within(x, 0.0, most_trials) && x == floor(x);
}

static bool
is_open_share(double x)
{
    return x > 0.0 && x < 1.0;
}

static double
score(double confidence)
{
    return gsl_cdf_ugaussian_Qinv(0.5 * (1.0 - confidence));
}

Validity
chance_interval(double met, double trials, double confidence, ChanceInterval *interval)
{
    *interval = (ChanceInterval){NAN, NAN, NAN, NAN, NAN};
    if (!is_count(met) || !is_count(trials) || trials < 1.0 || met > trials ||
        !is_open_share(confidence))
        return REFUSED;
    double n = trials, a = 0.5 * (1.0 - confidence);
    interval->chance = met / n;
    counted_chance((size_t) met, (size_t) trials, score(confidence), &interval->wilson_low,
                   &interval->wilson_high);
    interval->exact_low = met == 0.0 ? 0.0 : gsl_cdf_beta_Pinv(a, met, n - met + 1.0);
    interval->exact_high = met == n ? 1.0 : gsl_cdf_beta_Qinv(a, met + 1.0, n - met);
    return VALID;
}

Validity
chance_trials(double chance, double half_width, double confidence, double *trials)
{
    *trials = NAN;
    if (!is_within(chance, 0.0, 1.0) || !is_positive(half_width) || !is_open_share(confidence))
        return REFUSED;
    double z = score(confidence);
    *trials = ceil(z * z * chance * (1.0 - chance) / (half_width * half_width));
    return VALID;
}

/* The smallest whole r with P(B < r) >= share, by halving: P rises with r. trials + 2 when there is none. */
static double
rank_reaching(double trials, double quantile, double share)
{
    double low = 0.0, high = trials + 2.0;
    while (high - low > 1.0) {
        double middle = floor(0.5 * (low + high));
        double below = middle < 1.0 ? 0.0
                                    : gsl_cdf_binomial_P((unsigned) (middle - 1.0), quantile,
                                                         (unsigned) trials);
        if (below >= share)
            high = middle;
        else
            low = middle;
    }
    return high;
}

static double
chance_below(double rank, double trials, double quantile)
{
    return rank < 1.0 ? 0.0
                      : gsl_cdf_binomial_P((unsigned) (rank - 1.0), quantile, (unsigned) trials);
}

Validity
quantile_ranks(double trials, double quantile, double confidence, QuantileRanks *ranks)
{
    *ranks = (QuantileRanks){NAN, NAN, NAN};
    if (!is_count(trials) || trials < 1.0 || !is_open_share(quantile) || !is_open_share(confidence))
        return REFUSED;
    double a = 0.5 * (1.0 - confidence);
    double low = rank_reaching(trials, quantile, a),
           high = rank_reaching(trials, quantile, 1.0 - a);
    if (chance_below(low, trials, quantile) > a)
        low -= 1.0;
    if (low < 1.0 || high > trials)
        return REFUSED;
    *ranks = (QuantileRanks){
        low, high, chance_below(high, trials, quantile) - chance_below(low, trials, quantile)};
    return VALID;
}
