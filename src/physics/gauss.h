/* Gauss-Legendre rules on the unit interval: sum(weight * f(at)) is exact for polynomials of degree
 * 2 n - 1.
 *
 * Source   Abramowitz and Stegun, Handbook of Mathematical Functions, 25.4.30; the figures are the
 * roots of the Legendre polynomials found by Newton in extended precision */
#pragma once

#include <stddef.h>

typedef struct {
    size_t n;
    const double *at, *weight;
} Gauss;

extern const Gauss gauss_2, gauss_4, gauss_6, gauss_8, gauss_12, gauss_16;
