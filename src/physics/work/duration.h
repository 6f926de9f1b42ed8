/* Duration of a task that is not known yet: three points or two percentiles made into a distribution.
 *
 *     classic        mean = (a + 4 m + b)/6                variance = ((b - a)/6)^2, moments only
 *     beta           mean = (a + L m + b)/(L + 2)          variance = (mean - a)(b - mean)/(L + 3)
 *                    alpha = 1 + L (m - a)/(b - a)         beta = 1 + L (b - m)/(b - a)
 *     triangular     mean = (a + m + b)/3                  variance = (a^2 + m^2 + b^2 - a m - a b - m b)/18
 *     uniform        mean = (a + b)/2                      variance = (b - a)^2/12
 *     lognormal      s^2 = ln(1 + k^2)   mu = ln M - s^2/2, or through P10 and P90
 *
 * Time is in hours throughout physics/work; every function here is of one unit only and would do as well in days, but for log_mean.
 * Misses   the classic variance and that of the beta differ (4 and 4.571 for 5, 8, 17): one of them in one report
 * Source   Malcolm and others, Operations Research 7 (1959) 646-669 (classic); Vose, Risk Analysis (beta with weight);
 *          from memory; docs/methods/work.md 1.2
 * Checked  duration-spread in tests/cases/work.csv; tests/physics/test_durations.c */
#pragma once

#include <stdbool.h>
#include <stddef.h>

#include "base/source.h"
#include "base/validity.h"

typedef enum {
    DURATION_CLASSIC,
    DURATION_BETA,
    DURATION_TRIANGULAR,
    DURATION_UNIFORM,
    DURATION_LOGNORMAL
} DurationModel;

typedef struct {
    DurationModel model;
    double low_h, likely_h, high_h; /* NAN where the model has none */
    double alpha, beta;             /* of the beta; NAN else */
    double log_mean, log_sd;        /* of the lognormal, of its hours; NAN else */
    double mean_h, variance_h2;
} Duration;

/* low_h <= likely_h <= high_h, low_h >= 0; weight > 0 (4 is usual) for the beta. The uniform does not look at likely_h. A
 * lognormal takes the classic mean and variance of its three points. REFUSED outside. low_h = high_h is a constant. */
Validity duration_three(DurationModel model, double low_h, double likely_h, double high_h,
                        double weight, Duration *duration);
/* The triangle whose tenth and ninetieth percentiles these are; p10_h < likely_h < p90_h. EXTRAPOLATED when its lower end
 * comes out below 0. */
Validity duration_triangle(double p10_h, double likely_h, double p90_h, Duration *duration);
/* mean_h > 0, variation (sd/mean) > 0; or 0 < p10_h < p90_h. */
Validity duration_lognormal(double mean_h, double variation, Duration *duration);
Validity duration_lognormal_between(double p10_h, double p90_h, Duration *duration);

bool duration_is_constant(const Duration *duration);
/* The time that a share (0 to 1) of such tasks does not exceed, and the share that is done by at_h. NAN for the classic model
 * unless it is a constant. */
double duration_at(const Duration *duration, double share);
double duration_chance(const Duration *duration, double at_h);

/* The same by the standard normal score of the share, quick enough for a simulation. A beta is tabled: within 1e-6 of its
 * range of duration_at. Free with duration_curve_clear. */
typedef struct {
    Duration of;
    double *value_h, *slope_h; /* at the scores of the table; NULL unless a beta */
} DurationCurve;

DurationCurve duration_curve(const Duration *duration);
double duration_curve_at(const DurationCurve *curve, double score);
void duration_curve_clear(DurationCurve *curve);

extern const Method duration_classic_method, duration_beta_method, duration_triangular_method,
    duration_uniform_method, duration_lognormal_method;
