/* A possible mishap. Invariant: the percentiles rise, and the chance at a percentile is its own. */
#include "physics/work/risk_event.h"

#include <gsl/gsl_cdf.h>

#include "physics/bracket.h"
#include "physics/domain.h"

#define SHEET "docs/methods/work.md 4"
const Method risk_event_mean_method = {"Mean cost with a mishap",
                                       "M = mu + p * m",
                                       {"moments of a mixture; " SHEET, STANDING_DERIVED}};
const Method risk_event_sd_method = {"Spread of the cost with a mishap",
                                     "S = sqrt(s^2 + p * v + p * (1 - p) * m^2)",
                                     {"moments of a mixture; " SHEET, STANDING_DERIVED}};
const Method risk_event_spread_method = {
    "Chance to keep to a sum when a mishap may come",
    "F = (1 - p) * Phi((x - mu) / s) + p * Phi((x - mu - m) / sqrt(s^2 + v))",
    {"mixture of two normal costs; " SHEET, STANDING_DERIVED}};

static double
chance_within(const RiskEvent *e, double x)
{
    double spared = gsl_cdf_ugaussian_P((x - e->base_mean) / e->base_sd);
    double struck =
        gsl_cdf_ugaussian_P((x - e->base_mean - e->impact_mean) / hypot(e->base_sd, e->impact_sd));
    return (1.0 - e->chance) * spared + e->chance * struck;
}

/* Between the percentiles of the two normal costs lies that of their mixture. */
static double
percentile(const RiskEvent *e, double share)
{
    double z = gsl_cdf_ugaussian_Pinv(share);
    double spared = e->base_mean + z * e->base_sd;
    double struck = e->base_mean + e->impact_mean + z * hypot(e->base_sd, e->impact_sd);
    Bracket k = {fmin(spared, struck), fmax(spared, struck), 0.0, 0.0, 0};
    k.f_a = chance_within(e, k.a) - share;
    k.f_b = chance_within(e, k.b) - share;
    double near = 1e-12 * (fabs(k.a) + fabs(k.b) + e->base_sd);
    while (k.b - k.a > near && k.f_a < 0.0 && k.f_b > 0.0) {
        double x = bracket_next(&k), f = chance_within(e, x) - share;
        if (f == 0.0)
            return x;
        bracket_narrow(&k, x, f);
    }
    return k.f_a >= 0.0 ? k.a : k.f_b <= 0.0 ? k.b : 0.5 * (k.a + k.b);
}

Validity
risk_event(const RiskEvent *e, double budget, RiskCost *out)
{
    *out = (RiskCost){NAN, NAN, NAN, NAN, NAN, NAN, NAN};
    if (!is_number(e->base_mean) || !is_positive(e->base_sd) || !is_within(e->chance, 0.0, 1.0) ||
        !is_number(e->impact_mean) || !is_not_negative(e->impact_sd))
        return REFUSED;
    double p = e->chance, m = e->impact_mean;
    out->mean = e->base_mean + p * m;
    out->sd =
        sqrt(e->base_sd * e->base_sd + p * e->impact_sd * e->impact_sd + p * (1.0 - p) * m * m);
    out->p50 = percentile(e, 0.5);
    out->p80 = percentile(e, 0.8);
    out->p90 = percentile(e, 0.9);
    out->p80_normal = out->mean + gsl_cdf_ugaussian_Pinv(0.8) * out->sd;
    out->chance_budget = isnan(budget) ? NAN : chance_within(e, budget);
    return VALID;
}
