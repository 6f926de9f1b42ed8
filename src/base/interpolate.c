/* Straight-line interpolation; the table is strictly increasing, outside it the end value holds. */
#include "base/interpolate.h"

#include <math.h>

Validity
interpolate_linear(size_t n, const double x[static n], const double y[static n], double at,
                   double *value)
{
    if (n < 2 || isnan(at)) {
        *value = NAN;
        return REFUSED;
    }
    if (at < x[0] || at > x[n - 1]) {
        *value = at < x[0] ? y[0] : y[n - 1];
        return EXTRAPOLATED;
    }
    size_t low = 0, high = n - 1;
    while (high - low > 1) {
        size_t middle = low + (high - low) / 2;
        if (at >= x[middle])
            low = middle;
        else
            high = middle;
    }
    double share = (at - x[low]) / (x[high] - x[low]);
    /* This form, not y + share * dy: it meets both table values exactly. */
    *value = (1.0 - share) * y[low] + share * y[high];
    return VALID;
}
