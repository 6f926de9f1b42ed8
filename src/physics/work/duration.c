/* Uncertain durations. Invariant: a Duration handed out as VALID or EXTRAPOLATED has finite moments, and its percentiles rise. */
#include "physics/work/duration.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_randist.h>

#include "physics/bracket.h"
#include "physics/domain.h"
#include "physics/memory.h"

#define SHEET(standing)                                                                            \
    {                                                                                              \
        "docs/methods/work.md 1.2", standing                                                       \
    }
const Method duration_classic_method = {"Mean of three points", "mu = (a + 4 * m + b) / 6",
                                        SHEET(STANDING_MEMORY)};
const Method duration_beta_method = {"Mean of a beta through three points",
                                     "mu = (a + L * m + b) / (L + 2)", SHEET(STANDING_MEMORY)};
const Method duration_triangular_method = {"Mean of a triangle", "mu = (a + m + b) / 3",
                                           SHEET(STANDING_DERIVED)};
const Method duration_uniform_method = {"Mean between two ends", "mu = (a + b) / 2",
                                        SHEET(STANDING_DERIVED)};
const Method duration_lognormal_method = {"Spread of a lognormal", "s = (ln(1 + k^2))^0.5",
                                          SHEET(STANDING_DERIVED)};

/* Standard normal score of 0.9. */
#define SCORE_90 1.2815515655446004

static const Duration nothing = {.low_h = NAN,
                                 .likely_h = NAN,
                                 .high_h = NAN,
                                 .alpha = NAN,
                                 .beta = NAN,
                                 .log_mean = NAN,
                                 .log_sd = NAN,
                                 .mean_h = NAN,
                                 .variance_h2 = NAN};

bool
duration_is_constant(const Duration *duration)
{
    return duration->variance_h2 == 0.0;
}

static void
beta_fit(Duration *d, double weight)
{
    double a = d->low_h, m = d->likely_h, b = d->high_h;
    d->mean_h = (a + weight * m + b) / (weight + 2.0);
    d->variance_h2 = (d->mean_h - a) * (b - d->mean_h) / (weight + 3.0);
    if (b > a) {
        d->alpha = 1.0 + weight * (m - a) / (b - a);
        d->beta = 1.0 + weight * (b - m) / (b - a);
    }
}

static Validity
lognormal_fit(Duration *d, double mean, double variation)
{
    double s2 = log1p(variation * variation);
    d->model = DURATION_LOGNORMAL;
    d->log_sd = sqrt(s2);
    d->log_mean = log(mean) - 0.5 * s2;
    d->mean_h = mean;
    d->variance_h2 = variation * variation * mean * mean;
    return is_number(d->log_mean) && is_number(d->variance_h2) ? VALID : REFUSED;
}

static Validity
three_fit(Duration *d, double weight)
{
    double a = d->low_h, m = d->likely_h, b = d->high_h;
    double mean = (a + 4.0 * m + b) / 6.0, sd = (b - a) / 6.0;
    switch (d->model) {
    case DURATION_CLASSIC:
        d->mean_h = mean;
        d->variance_h2 = sd * sd;
        break;
    case DURATION_BETA:
        beta_fit(d, weight);
        break;
    case DURATION_TRIANGULAR:
        d->mean_h = (a + m + b) / 3.0;
        d->variance_h2 = ((b - a) * (b - a) - (m - a) * (b - m)) / 18.0;
        break;
    case DURATION_UNIFORM:
        d->likely_h = NAN;
        d->mean_h = 0.5 * (a + b);
        d->variance_h2 = (b - a) * (b - a) / 12.0;
        break;
    case DURATION_LOGNORMAL:
        d->low_h = d->likely_h = d->high_h = NAN;
        if (sd > 0.0)
            return lognormal_fit(d, mean, sd / mean);
        d->mean_h = mean;
        d->variance_h2 = 0.0;
        break;
    }
    return VALID;
}

Validity
duration_three(DurationModel model, double low_h, double likely_h, double high_h, double weight,
               Duration *duration)
{
    *duration = nothing;
    double likely = model == DURATION_UNIFORM ? low_h : likely_h;
    if (!is_not_negative(low_h) || !(low_h <= likely && likely <= high_h) ||
        !is_not_negative(high_h) || (model == DURATION_BETA && !is_positive(weight)))
        return REFUSED;
    duration->model = model;
    duration->low_h = low_h;
    duration->likely_h = likely_h;
    duration->high_h = high_h;
    return three_fit(duration, weight);
}

/* How far a tenth lies from the peak, in units of the base, when the peak stands at share c of it. */
static double
tenth(double c)
{
    return c - sqrt(0.1 * c);
}

Validity
duration_triangle(double p10_h, double likely_h, double p90_h, Duration *duration)
{
    double u = likely_h - p10_h, v = p90_h - likely_h;
    *duration = nothing;
    if (!is_positive(u) || !is_positive(v) || !is_not_negative(p10_h))
        return REFUSED;
    /* The two conditions of the sheet hold together for one share c between 0.1 and 0.9. */
    Bracket k = {.a = 0.1, .b = 0.9, .f_a = u * tenth(0.9), .f_b = -v * tenth(0.9)};
    double c = 0.5, f = 1.0;
    for (int round = 0; round < 200 && f != 0.0 && k.b - k.a > 1e-16; round++) {
        c = bracket_next(&k);
        f = u * tenth(1.0 - c) - v * tenth(c);
        bracket_narrow(&k, c, f);
    }
    double base = (u + v) / (tenth(c) + tenth(1.0 - c));
    duration->model = DURATION_TRIANGULAR;
    duration->low_h = likely_h - c * base;
    duration->likely_h = likely_h;
    duration->high_h = likely_h + (1.0 - c) * base;
    three_fit(duration, 0.0);
    return duration->low_h < 0.0 ? EXTRAPOLATED : VALID;
}

Validity
duration_lognormal(double mean_h, double variation, Duration *duration)
{
    *duration = nothing;
    if (!is_positive(mean_h) || !is_positive(variation))
        return REFUSED;
    return lognormal_fit(duration, mean_h, variation);
}

Validity
duration_lognormal_between(double p10_h, double p90_h, Duration *duration)
{
    *duration = nothing;
    if (!is_positive(p10_h) || !is_positive(p90_h) || !(p10_h < p90_h))
        return REFUSED;
    double s = log(p90_h / p10_h) / (2.0 * SCORE_90);
    double mean = exp(0.5 * (log(p10_h) + log(p90_h)) + 0.5 * s * s);
    return lognormal_fit(duration, mean, sqrt(expm1(s * s)));
}

static double
triangle_at(const Duration *d, double share)
{
    double a = d->low_h, m = d->likely_h, b = d->high_h;
    if (share * (b - a) < m - a)
        return a + sqrt(share * (b - a) * (m - a));
    return b - sqrt((1.0 - share) * (b - a) * (b - m));
}

double
duration_at(const Duration *duration, double share)
{
    const Duration *d = duration;
    if (duration_is_constant(d))
        return d->mean_h;
    switch (d->model) {
    case DURATION_CLASSIC:
        return NAN;
    case DURATION_BETA:
        return d->low_h + (d->high_h - d->low_h) * gsl_cdf_beta_Pinv(share, d->alpha, d->beta);
    case DURATION_TRIANGULAR:
        return triangle_at(d, share);
    case DURATION_UNIFORM:
        return d->low_h + (d->high_h - d->low_h) * share;
    case DURATION_LOGNORMAL:
        return exp(d->log_mean + d->log_sd * gsl_cdf_ugaussian_Pinv(share));
    }
    return NAN;
}

static double
triangle_chance(const Duration *d, double t)
{
    double a = d->low_h, m = d->likely_h, b = d->high_h;
    if (t < m)
        return (t - a) * (t - a) / ((b - a) * (m - a));
    return 1.0 - (b - t) * (b - t) / ((b - a) * (b - m));
}

double
duration_chance(const Duration *duration, double at_h)
{
    const Duration *d = duration;
    if (duration_is_constant(d))
        return at_h >= d->mean_h ? 1.0 : 0.0;
    if (d->model == DURATION_CLASSIC || isnan(at_h))
        return NAN;
    if (d->model == DURATION_LOGNORMAL)
        return at_h > 0.0 ? gsl_cdf_ugaussian_P((log(at_h) - d->log_mean) / d->log_sd) : 0.0;
    if (at_h <= d->low_h || at_h >= d->high_h)
        return at_h >= d->high_h ? 1.0 : 0.0;
    double share = (at_h - d->low_h) / (d->high_h - d->low_h);
    if (d->model == DURATION_BETA)
        return gsl_cdf_beta_P(share, d->alpha, d->beta);
    return d->model == DURATION_UNIFORM ? share : triangle_chance(d, at_h);
}

/* --- by score ------------------------------------------------------------------------------------------------------ */

/* Cubic between exact values and slopes, an eighth of a standard deviation apart; beyond the table the exact function. */
enum { CURVE_STEPS = 80 };
static const double curve_end = 5.0, curve_step = 10.0 / CURVE_STEPS;

DurationCurve
duration_curve(const Duration *duration)
{
    DurationCurve curve = {.of = *duration};
    if (duration->model != DURATION_BETA || duration_is_constant(duration))
        return curve;
    double base = duration->high_h - duration->low_h;
    curve.value_h = fresh(CURVE_STEPS + 1, sizeof(double));
    curve.slope_h = fresh(CURVE_STEPS + 1, sizeof(double));
    for (size_t i = 0; i <= CURVE_STEPS; i++) {
        double z = -curve_end + (double) i * curve_step;
        double x = gsl_cdf_beta_Pinv(gsl_cdf_ugaussian_P(z), duration->alpha, duration->beta);
        double density = gsl_ran_beta_pdf(x, duration->alpha, duration->beta);
        curve.value_h[i] = duration->low_h + base * x;
        curve.slope_h[i] = density > 0.0 ? base * gsl_ran_ugaussian_pdf(z) / density : 0.0;
    }
    return curve;
}

void
duration_curve_clear(DurationCurve *curve)
{
    free(curve->value_h);
    free(curve->slope_h);
    curve->value_h = curve->slope_h = NULL;
}

static double
table_at(const DurationCurve *curve, double score)
{
    double place = (score + curve_end) / curve_step;
    size_t i = (size_t) place;
    double t = place - (double) i, s = 1.0 - t;
    double left = curve->value_h[i], right = curve->value_h[i + 1];
    return s * s * ((1.0 + 2.0 * t) * left + t * curve_step * curve->slope_h[i]) +
           t * t * ((1.0 + 2.0 * s) * right - s * curve_step * curve->slope_h[i + 1]);
}

double
duration_curve_at(const DurationCurve *curve, double score)
{
    const Duration *d = &curve->of;
    if (duration_is_constant(d))
        return d->mean_h;
    if (d->model == DURATION_LOGNORMAL)
        return exp(d->log_mean + d->log_sd * score);
    if (curve->value_h != NULL && fabs(score) < curve_end)
        return table_at(curve, score);
    return duration_at(d, 0.5 * erfc(-score * M_SQRT1_2));
}
