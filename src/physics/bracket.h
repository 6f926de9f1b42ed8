/* A root held between two ends of opposite sign: false position that halves the weight of an end kept twice, and the
 * interval when an end was kept too often.
 *
 * Given    a < b, f_a and f_b of opposite sign (one may be 0), kept 0
 * Source   Dowell and Jarratt, A modified regula falsi method, BIT 11 (1971) 168-174 (Illinois) */
#pragma once

#include <stdbool.h>

enum { BRACKET_PATIENCE = 5 };

typedef struct {
    double a, b, f_a, f_b;
    int kept; /* how often in a row: a < 0, b > 0 */
} Bracket;

static inline double
bracket_next(const Bracket *k)
{
    double x = k->a + (k->b - k->a) * (k->f_a / (k->f_a - k->f_b));
    bool drags = k->kept <= -BRACKET_PATIENCE || k->kept >= BRACKET_PATIENCE;
    return x > k->a && x < k->b && !drags ? x : 0.5 * (k->a + k->b);
}

static inline void
bracket_narrow(Bracket *k, double x, double f)
{
    if ((f > 0.0) == (k->f_b > 0.0)) {
        k->b = x;
        k->f_b = f;
        k->kept = k->kept < 0 && k->kept > -BRACKET_PATIENCE ? k->kept - 1 : -1;
        k->f_a *= k->kept < -1 ? 0.5 : 1.0;
    } else {
        k->a = x;
        k->f_a = f;
        k->kept = k->kept > 0 && k->kept < BRACKET_PATIENCE ? k->kept + 1 : 1;
        k->f_b *= k->kept > 1 ? 0.5 : 1.0;
    }
}
