/* Whether one of two spreads is better whatever the limit, or for everyone who dislikes to pass it. Small values are good.
 *
 *     first order    F_a(x) >= F_b(x) for every x
 *     convex order   E(A - t)+ <= E(B - t)+ for every t
 *
 * Both are straight or level between the values, so the values decide; within DOMINANCE_SLACK both count as the same.
 * Given    value[n] that rise; chances 0 to 1, each list together 1 within 1e-6; n >= 1
 * Gives    who is better; means in the unit of the values
 * Returns  VALID; REFUSED outside the ranges above
 * Source   stochastic dominance, from memory; docs/methods/work.md 5
 * Checked  dominance in tests/cases/work.csv; tests/physics/test_options.c: first order carries convex order */
#pragma once

#include <stddef.h>

#include "base/source.h"
#include "base/validity.h"

#define DOMINANCE_SLACK 1e-9

typedef enum { BETTER_A, BETTER_B, BETTER_BOTH, BETTER_NEITHER } Better;

typedef struct {
    Better first_order, convex_order;
    double mean_a, mean_b;
} Dominance;

Validity dominance(size_t n, const double value[], const double chance_a[], const double chance_b[],
                   Dominance *out);

extern const Method dominance_first_method, dominance_convex_method;
