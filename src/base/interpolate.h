/* Straight-line interpolation in small tables. */
#pragma once

#include <stddef.h>

#include "base/validity.h"

/* x strictly increasing, n >= 2. Outside the table the end value holds and EXTRAPOLATED is returned. */
Validity interpolate_linear(size_t n, const double x[static n], const double y[static n], double at,
                            double *value);

/* The same between the logarithms of x and of y, all of them positive. VALID from the first row to the last; outside REFUSED
 * and NAN. */
Validity interpolate_log(size_t n, const double x[static n], const double y[static n], double at,
                         double *value);
