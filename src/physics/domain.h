/* Ranges that closed forms ask for; a NAN is in none of them. The upper end keeps products far from
 * overflow. */
#pragma once

#include <math.h>
#include <stdbool.h>

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

static inline double
degrees(double deg)
{
    return deg * (M_PI / 180.0);
}
