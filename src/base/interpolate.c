/* Straight lines in tables that strictly increase, plain or of logarithms. */
#include "base/interpolate.h"

#include <math.h>

/* The row that `at`, which lies within the table, is not below; never the last one. */
static size_t
row_below(size_t n, const double x[static n], double at)
{
    size_t low = 0, high = n - 1;
    while (high - low > 1) {
        size_t middle = low + (high - low) / 2;
        if (at >= x[middle])
            low = middle;
        else
            high = middle;
    }
    return low;
}

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
    size_t low = row_below(n, x, at), high = low + 1;
    double share = (at - x[low]) / (x[high] - x[low]);
    /* This form, not y + share * dy: it meets both table values exactly. */
    *value = (1.0 - share) * y[low] + share * y[high];
    return VALID;
}

Validity
interpolate_log(size_t n, const double x[static n], const double y[static n], double at,
                double *value)
{
    *value = NAN;
    if (n < 2 || !(x[0] > 0.0) || !(at >= x[0]) || !(at <= x[n - 1]))
        return REFUSED;
    size_t low = row_below(n, x, at), high = low + 1;
    if (at == x[low] || at == x[high]) {
        *value = at == x[low] ? y[low] : y[high];
        return VALID;
    }
    double share = log(at / x[low]) / log(x[high] / x[low]);
    *value = y[low] * pow(y[high] / y[low], share);
    return VALID;
}
