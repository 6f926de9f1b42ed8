/* Closed volume of a house on a hull's deck. Invariant: its bottom is the hull's deck wherever that
 * is higher than the house's own, so nothing is counted twice and nothing left out above a sheered
 * deck. */
#include "physics/afloat/station.h"

#include <math.h>
#include <stdlib.h>

static int
ascending(const void *a, const void *b)
{
    const double *p = a, *q = b;
    return *p < *q ? -1 : *p > *q;
}

static double
floor_at(const Loft *hull, double x, double bottom, double top)
{
    double deck = loft_deck_m(hull, x);
    return fmin(top, isnan(deck) ? bottom : fmax(bottom, deck));
}

/* Where the deck edge of a bay passes a height inside the house. */
static size_t
add_corner(const Loft *hull, size_t aft, double height, double x_aft, double x_fwd, double *x,
           size_t n)
{
    size_t last = hull->points - 1;
    double z0 = hull->z_m[aft * hull->points + last] - height;
    double z1 = hull->z_m[(aft + 1) * hull->points + last] - height;
    if ((z0 < 0.0) == (z1 < 0.0))
        return n;
    double at = hull->x_m[aft] + (hull->x_m[aft + 1] - hull->x_m[aft]) * z0 / (z0 - z1);
    if (at > x_aft && at < x_fwd)
        x[n++] = at;
    return n;
}

Loft *
loft_house(const Loft *hull, double x_aft_m, double x_fwd_m, double y_stbd_m, double y_port_m,
           double z_bottom_m, double z_top_m)
{
    if (!(x_aft_m < x_fwd_m) || !(y_stbd_m < y_port_m) || !(z_bottom_m < z_top_m) ||
        hull->points < 1)
        return NULL;
    double *x = malloc((3 * hull->stations + 2) * sizeof *x);
    if (x == NULL)
        abort();
    size_t n = 0, kept = 0;
    x[n++] = x_aft_m;
    x[n++] = x_fwd_m;
    for (size_t i = 0; i < hull->stations; i++)
        if (hull->x_m[i] > x_aft_m && hull->x_m[i] < x_fwd_m)
            x[n++] = hull->x_m[i];
    for (size_t i = 0; i + 1 < hull->stations; i++) {
        n = add_corner(hull, i, z_bottom_m, x_aft_m, x_fwd_m, x, n);
        n = add_corner(hull, i, z_top_m, x_aft_m, x_fwd_m, x, n);
    }
    qsort(x, n, sizeof *x, ascending);
    for (size_t i = 0; i < n; i++)
        if (kept == 0 || x[i] - x[kept - 1] > 1e-9)
            x[kept++] = x[i];

    double *y = malloc(2 * kept * sizeof *y), *z = malloc(2 * kept * sizeof *z);
    Loft *loft = malloc(sizeof *loft);
    if (y == NULL || z == NULL || loft == NULL)
        abort();
    double highest = 0.0;
    for (size_t i = 0; i < kept; i++) {
        y[2 * i] = y[2 * i + 1] = 0.5 * (y_port_m - y_stbd_m);
        z[2 * i] = floor_at(hull, x[i], z_bottom_m, z_top_m);
        z[2 * i + 1] = z_top_m;
        highest = fmax(highest, z_top_m - z[2 * i]);
    }
    *loft = (Loft){kept, 2, x, y, z, 0.5 * (y_stbd_m + y_port_m)};
    if (kept >= 2 && highest > 0.0)
        return loft;
    loft_free(loft);
    return NULL;
}
