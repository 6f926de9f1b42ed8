/* A common factor. */
#include "physics/work/together.h"

#include "physics/domain.h"

#define SHEET                                                                                      \
    {                                                                                              \
        "docs/methods/work.md 1.5", STANDING_DERIVED                                               \
    }
const Method together_share_method = {"Share of the common factor", "r = (s_c / s)^2", SHEET};
const Method together_correlation_method = {"Correlation of two lognormal durations",
                                            "c = (exp(s_c^2) - 1) / (exp(s^2) - 1)", SHEET};
const Method together_rank_method = {"Rank correlation", "c_r = 6 / pi * asin(r / 2)", SHEET};
const Method together_sum_method = {"Spread of a sum",
                                    "s = ((1 - r) * sum(s_i^2) + r * sum(s_i)^2)^0.5", SHEET};

Validity
together_share(double log_sd, double common_log_sd, double *share)
{
    *share = NAN;
    if (!is_positive(log_sd) || !is_within(common_log_sd, 0.0, log_sd))
        return REFUSED;
    *share = (common_log_sd / log_sd) * (common_log_sd / log_sd);
    return VALID;
}

Validity
together_correlation(double log_sd, double share, double *correlation)
{
    *correlation = NAN;
    if (!is_positive(log_sd) || log_sd > 20.0 || !is_within(share, -1.0, 1.0))
        return REFUSED;
    *correlation = expm1(share * log_sd * log_sd) / expm1(log_sd * log_sd);
    return VALID;
}

Validity
together_rank(double share, double *rank_correlation)
{
    *rank_correlation = NAN;
    if (!is_within(share, -1.0, 1.0))
        return REFUSED;
    *rank_correlation = 6.0 / M_PI * asin(0.5 * share);
    return VALID;
}

Validity
together_sum(size_t n, const double sd_h[], double correlation, SumSpread *sum)
{
    *sum = (SumSpread){NAN, NAN, NAN};
    double whole = 0.0, squares = 0.0;
    double least = n > 1 ? -1.0 / (double) (n - 1) : -1.0;
    if (n == 0 || !is_within(correlation, least, 1.0))
        return REFUSED;
    for (size_t i = 0; i < n; i++) {
        if (!is_not_negative(sd_h[i]))
            return REFUSED;
        whole += sd_h[i];
        squares += sd_h[i] * sd_h[i];
    }
    double variance = (1.0 - correlation) * squares + correlation * whole * whole;
    *sum = (SumSpread){sqrt(fmax(0.0, variance)), sqrt(squares), whole};
    return VALID;
}
