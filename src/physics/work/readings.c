/* Readings. Invariant: a line is fitted about the mean of its x, so that no origin spoils it. */
#include "physics/work/readings.h"

#include <gsl/gsl_statistics_double.h>

#include "physics/domain.h"

#define JCGM "docs/methods/work.md 6.1"
const Method readings_mean_method = {"Uncertainty of the mean of repeated readings",
                                     "u = s / sqrt(n)",
                                     {"JCGM 100:2008 4.2 as remembered; " JCGM, STANDING_MEMORY}};
const Method line_slope_method = {"Slope of a line through readings",
                                  "y_2 = sum((x - x_m) * (y - y_m)) / sum((x - x_m)^2)",
                                  {"least squares; " JCGM, STANDING_DERIVED}};
const Method line_value_method = {"Uncertainty of a line at a place",
                                  "u = s * sqrt(1 / n + (x - x_m)^2 / sum((x - x_m)^2))",
                                  {"least squares; " JCGM, STANDING_DERIVED}};

static bool
are_numbers(size_t n, const double x[])
{
    for (size_t i = 0; i < n; i++)
        if (!is_number(x[i]))
            return false;
    return true;
}

Validity
repeat_readings(size_t n, const double reading[], const double *second, Repeated *out)
{
    *out = (Repeated){NAN, NAN, NAN, NAN};
    if (n < 2 || !are_numbers(n, reading) || (second != NULL && !are_numbers(n, second)))
        return REFUSED;
    out->mean = gsl_stats_mean(reading, 1, n);
    out->sd = gsl_stats_sd(reading, 1, n);
    out->mean_uncertainty = out->sd / sqrt((double) n);
    if (second != NULL && out->sd > 0.0 && gsl_stats_sd(second, 1, n) > 0.0)
        out->correlation = gsl_stats_correlation(reading, 1, second, 1, n);
    return VALID;
}

Validity
line_fit(size_t n, const double x[], const double y[], double origin, double at, FittedLine *out)
{
    *out = (FittedLine){NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN};
    if (n < 3 || !are_numbers(n, x) || !are_numbers(n, y) || !is_number(origin))
        return REFUSED;
    double x_m = gsl_stats_mean(x, 1, n), y_m = gsl_stats_mean(y, 1, n), S_xx = 0.0, S_xy = 0.0;
    for (size_t i = 0; i < n; i++) {
        S_xx += (x[i] - x_m) * (x[i] - x_m);
        S_xy += (x[i] - x_m) * (y[i] - y_m);
    }
    if (gsl_stats_max(x, 1, n) == gsl_stats_min(x, 1, n) || !(S_xx > 0.0))
        return REFUSED;
    double slope = S_xy / S_xx, squares = 0.0, lever = x_m - origin, N = (double) n;
    for (size_t i = 0; i < n; i++) {
        double residual = y[i] - y_m - slope * (x[i] - x_m);
        squares += residual * residual;
    }
    double s = sqrt(squares / (N - 2.0)), away = at - x_m;
    *out = (FittedLine){.intercept = y_m - slope * lever,
                        .intercept_u = s * sqrt(1.0 / N + lever * lever / S_xx),
                        .slope = slope,
                        .slope_u = s / sqrt(S_xx),
                        .correlation = -lever / sqrt(S_xx / N + lever * lever),
                        .residual_sd = s,
                        .value = y_m + slope * away,
                        .value_u = s * sqrt(1.0 / N + away * away / S_xx)};
    return VALID;
}
