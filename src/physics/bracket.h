/* A root held between two ends of opposite sign: false position that halves the weight of an end kept twice, and the
 * interval when that drags.
 *
 * Given    a < b, f_a and f_b of opposite sign (one may be 0), kept 0
 * Source   Dowell and Jarratt, A modified regula falsi method, BIT 11 (1971) 168-174 (Illinois) */
#pragma once

typedef struct {
    double a, b, f_a, f_b;
    int kept; /* end kept last: -1 a, +1 b; doubled each time it is kept again */
} Bracket;

static inline double
bracket_next(const Bracket *k)
{
    double mid = 0.5 * (k->a + k->b), x = k->a + (k->b - k->a) * (k->f_a / (k->f_a - k->f_b));
    return x > k->a && x < k->b && k->kept > -16 && k->kept < 16 ? x : mid;
}

static inline void
bracket_narrow(Bracket *k, double x, double f)
{
    if ((f > 0.0) == (k->f_b > 0.0)) {
        k->b = x;
        k->f_b = f;
        k->kept = k->kept < 0 ? 2 * k->kept : -1;
        k->f_a *= k->kept < -1 ? 0.5 : 1.0;
    } else {
        k->a = x;
        k->f_a = f;
        k->kept = k->kept > 0 ? 2 * k->kept : 1;
        k->f_b *= k->kept > 1 ? 0.5 : 1.0;
    }
}
