/* Straight-line algebra of too many readings: the terms that miss them least, and how far each
 * reading is held by the others.
 *
 *     sum(residual^2) is least, residual = aim - row * value
 *
 * Given    n readings, terms <= LEAST_SQUARES_MOST and <= n; row_kt[n * terms]; aim[n]
 * Gives    value; inverse, the covariance of the values when one reading has variance 1;
 *          residual[n]; leverage[n], the share of its own misfit that a reading hides, 0 to 1
 *          (either may be NULL)
 * Returns  false when terms cannot be told apart (a column hangs on the others to 1e-7), when a
 *          number is not finite, or when memory is not to be had
 * Source   modified Gram and Schmidt, as in Bjorck, Numerical Methods for Least Squares Problems,
 *          1996, 2.4.4
 * Checked  tests/physics/test_survey.c, test_inclining.c */
#pragma once

#include <stdbool.h>
#include <stddef.h>

enum { LEAST_SQUARES_MOST = 4 };

typedef struct {
    size_t terms, freedom; /* freedom: readings beyond terms */
    double value[LEAST_SQUARES_MOST];
    double inverse[LEAST_SQUARES_MOST][LEAST_SQUARES_MOST];
    double sum_squares;
} LeastSquares;

bool least_squares(size_t n, size_t terms, const double row[], const double aim[],
                   LeastSquares *out, double *residual, double *leverage);

/* Half-width that holds 95 % in standard errors, for a scatter found from so many readings beyond
 * the terms; NAN for none. */
double student_95(size_t freedom);

/* What the largest of n normalised misfits passes by chance once in twenty series: freedom 0 for a
 * known scatter. */
double largest_by_chance(size_t n, size_t freedom);
