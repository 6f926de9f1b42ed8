/* How calm an order is: shared by the timings of plans and forecasts. */
#pragma once

#include <stddef.h>

/* Of the pairs of tasks other than `changed`, the share whose starts changed their order. */
static inline double
turned(size_t n, const double a[], const double b[], size_t changed)
{
    size_t pairs = 0, kept = 0;
    for (size_t i = 0; i < n; i++)
        for (size_t k = i + 1; k < n; k++)
            if (i != changed && k != changed && a[i] != a[k]) {
                pairs++;
                kept += (a[i] < a[k]) == (b[i] < b[k]) && b[i] != b[k];
            }
    return pairs > 0 ? 1.0 - (double) kept / (double) pairs : 0.0;
}
