/* Readings taken again and again, and a straight line through readings.
 *
 *     mean, s^2 = sum (x - mean)^2/(n - 1), u = s/sqrt(n)
 *     y = y_1 + y_2 (x - origin) by least squares, s^2 = sum residual^2/(n - 2)
 *
 * Given    n >= 2 readings, a second series of as many or NULL; n >= 3 points, not all at one x; at, or NAN
 * Gives    mean and its uncertainty, correlation of the series (NAN without one or when one does not vary); line with uncertainties,
 *          correlation of intercept and slope, value of the line at a place
 * Returns  VALID; REFUSED outside the ranges above
 * Source   JCGM 100:2008 4.2, H.3 (rounded values from memory); docs/methods/work.md 6.1
 * Checked  repeat-readings and line-fit in tests/cases/work.csv; tests/physics/test_uncertainty.c */
#pragma once

#include <stddef.h>

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double mean, sd, mean_uncertainty, correlation;
} Repeated;

Validity repeat_readings(size_t n, const double reading[], const double *second, Repeated *out);

typedef struct {
    double intercept, intercept_u, slope, slope_u, correlation, residual_sd, value, value_u;
} FittedLine;

Validity line_fit(size_t n, const double x[], const double y[], double origin, double at,
                  FittedLine *out);

extern const Method readings_mean_method, line_slope_method, line_value_method;
