/* Bends of a stretch of deck. Invariant: places grow by more than a hair. */
#include "physics/afloat/deck_bends.h"

#include <math.h>
#include <stdlib.h>

static int
ascending(const void *a, const void *b)
{
    const double *p = a, *q = b;
    return *p < *q ? -1 : *p > *q;
}

/* Where the deck edge of a bay passes a height inside the stretch. */
static size_t
add_corner(const Loft *hull, size_t aft, double height, double x_aft, double x_fwd, double *x,
           size_t n)
{
    size_t last = hull->points - 1;
    double z0 = hull->z_m[aft * hull->points + last] - height;
    double z1 = hull->z_m[(aft + 1) * hull->points + last] - height;
    if (!isfinite(height) || (z0 < 0.0) == (z1 < 0.0))
        return n;
    double at = hull->x_m[aft] + (hull->x_m[aft + 1] - hull->x_m[aft]) * z0 / (z0 - z1);
    if (at > x_aft && at < x_fwd)
        x[n++] = at;
    return n;
}

double *
deck_bends(const Loft *hull, double x_aft_m, double x_fwd_m, size_t n, const double height_m[],
           size_t *kept)
{
    double *x = malloc(((1 + n) * hull->stations + 2) * sizeof *x);
    size_t found = 0;
    if (x == NULL)
        abort();
    x[found++] = x_aft_m;
    x[found++] = x_fwd_m;
    for (size_t i = 0; i < hull->stations; i++)
        if (hull->x_m[i] > x_aft_m && hull->x_m[i] < x_fwd_m)
            x[found++] = hull->x_m[i];
    for (size_t i = 0; i + 1 < hull->stations; i++)
        for (size_t k = 0; k < n; k++)
            found = add_corner(hull, i, height_m[k], x_aft_m, x_fwd_m, x, found);
    qsort(x, found, sizeof *x, ascending);
    *kept = 0;
    for (size_t i = 0; i < found; i++)
        if (*kept == 0 || x[i] - x[*kept - 1] > 1e-9)
            x[(*kept)++] = x[i];
    return x;
}
