/* A figure that a table has for some sizes only.
 *
 *     ln y = ln y_1 + (ln y_2 - ln y_1) (ln x - ln x_1) / (ln x_2 - ln x_1)
 *
 * Given    n rows, size strictly increasing, figure > 0 or NAN where the table has none; at, the size asked for
 * Gives    the figure
 * Returns  VALID on a row (to 1e-9), EXTRAPOLATED between two by a straight line of logarithms, REFUSED
 *          outside the rows that have a figure
 * Source   docs/methods/wires.md 1.1; resistance and ampacity both run close to a power of the area (1.4)
 * Checked  tests/physics/test_conductors.c; ampacity and conductor cases of tests/cases/wires.csv */
#pragma once

#include <stddef.h>

#include "base/validity.h"

Validity size_figure(size_t n, const double size[], const double figure[], double at,
                     double *value);
