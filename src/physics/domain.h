/* Ranges that closed forms ask for; a NAN is in none of them. The upper end keeps products far from
 * overflow. */
#pragma once

#include <math.h>
#include <stdbool.h>
#include <stddef.h>

static inline bool
is_number(double x)
{
    return fabs(x) < 1e30;
}

static inline bool
is_positive(double x)
{
    return x > 0.0 && x < 1e30;
}

static inline bool
is_not_negative(double x)
{
    return x >= 0.0 && x < 1e30;
}

static inline bool
is_within(double x, double low, double high)
{
    return x >= low && x <= high;
}

/* An efficiency, a power factor, a usable part: above 0 to 1. */
static inline bool
is_share(double x)
{
    return x > 0.0 && x <= 1.0;
}

/* A whole number within these. */
static inline bool
is_whole(double x, double low, double high)
{
    return is_within(x, low, high) && x == floor(x);
}

/* Chances of all that may come: each 0 to 1, together 1 within 1e-6. */
static inline bool
is_distribution(size_t n, const double chance[])
{
    double sum = 0.0;
    for (size_t i = 0; i < n; i++) {
        if (!is_within(chance[i], 0.0, 1.0))
            return false;
        sum += chance[i];
    }
    return fabs(sum - 1.0) <= 1e-6;
}

static inline double
degrees(double deg)
{
    return deg * (M_PI / 180.0);
}
