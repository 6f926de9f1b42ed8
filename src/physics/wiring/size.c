/* Figures of tables of sizes. Invariant: a row's own figure comes back unchanged. */
#include "physics/wiring/size.h"

#include "base/interpolate.h"
#include "physics/domain.h"

enum { MOST_ROWS = 64 };

Validity
size_figure(size_t n, const double size[], const double figure[], double at, double *value)
{
    double x[MOST_ROWS], y[MOST_ROWS];
    size_t rows = 0;
    *value = NAN;
    for (size_t i = 0; i < n && rows < MOST_ROWS; i++) {
        if (!is_positive(figure[i]))
            continue;
        if (fabs(size[i] - at) <= 1e-9 * size[i]) {
            *value = figure[i];
            return VALID;
        }
        x[rows] = size[i];
        y[rows++] = figure[i];
    }
    if (rows < 2 || interpolate_log(rows, x, y, at, value) == REFUSED)
        return REFUSED;
    return EXTRAPOLATED;
}
