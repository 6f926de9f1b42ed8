/* Lofts that hold water on a hull. Invariant: a well's floor lies below its rim somewhere, or there is no well. */
#include <math.h>
#include <stdlib.h>

#include "physics/afloat/basin.h"
#include "physics/afloat/deck_bends.h"
#include "physics/afloat/station.h"

static Loft *
loft_with(size_t stations, size_t points, double *x, double y_mid)
{
    double *y = malloc(stations * points * sizeof *y), *z = malloc(stations * points * sizeof *z);
    Loft *loft = malloc(sizeof *loft);
    if (x == NULL || y == NULL || z == NULL || loft == NULL)
        abort();
    loft->stations = stations;
    loft->points = points;
    loft->x_m = x;
    loft->y_m = y;
    loft->z_m = z;
    loft->y_mid_m = y_mid;
    return loft;
}

/* The part of a stretch that lies on the hull. */
static bool
on_hull(const Loft *hull, double *aft, double *fwd)
{
    *aft = fmax(*aft, hull->x_m[0]);
    *fwd = fmin(*fwd, hull->x_m[hull->stations - 1]);
    return *aft < *fwd;
}

Loft *
loft_well(const Loft *hull, double x_aft_m, double x_fwd_m, double y_stbd_m, double y_port_m,
          double z_floor_m, double z_top_m, double bulwark_m)
{
    const double height[] = {z_floor_m - bulwark_m, z_top_m - bulwark_m};
    double deepest = 0.0;
    size_t n;
    if (!on_hull(hull, &x_aft_m, &x_fwd_m) || !(y_stbd_m < y_port_m) || !isfinite(z_floor_m))
        return NULL;
    double *x = deck_bends(hull, x_aft_m, x_fwd_m, 2, height, &n);
    Loft *loft = loft_with(n, 2, x, 0.5 * (y_stbd_m + y_port_m));
    double *y = (double *) loft->y_m, *z = (double *) loft->z_m;
    for (size_t i = 0; i < n; i++) {
        double rim = loft_deck_m(hull, x[i]) + bulwark_m;
        y[2 * i] = y[2 * i + 1] = 0.5 * (y_port_m - y_stbd_m);
        z[2 * i] = z_floor_m;
        z[2 * i + 1] = fmax(z_floor_m, isnan(z_top_m) ? rim : fmin(rim, z_top_m));
        deepest = fmax(deepest, z[2 * i + 1] - z_floor_m);
    }
    if (n >= 2 && deepest > 0.0)
        return loft;
    loft_free(loft);
    return NULL;
}

Loft *
loft_bulwarked(const Loft *hull, double x_aft_m, double x_fwd_m, double bulwark_m)
{
    size_t n;
    if (!on_hull(hull, &x_aft_m, &x_fwd_m) || !(bulwark_m > 0.0))
        return NULL;
    double *x = deck_bends(hull, x_aft_m, x_fwd_m, 0, NULL, &n);
    double *side = malloc(2 * hull->points * sizeof *side);
    Loft *loft = loft_with(n, 2, x, hull->y_mid_m);
    double *y = (double *) loft->y_m, *z = (double *) loft->z_m;
    if (side == NULL)
        abort();
    for (size_t i = 0; i < n; i++) {
        loft_points(hull, x[i], side, side + hull->points);
        y[2 * i] = y[2 * i + 1] = side[hull->points - 1];
        z[2 * i] = side[2 * hull->points - 1];
        z[2 * i + 1] = z[2 * i] + bulwark_m;
    }
    free(side);
    return loft;
}

Loft *
loft_raised(const Loft *hull, double bulwark_m)
{
    size_t n = hull->stations, from = hull->points, to = from + (bulwark_m > 0.0 ? 1 : 0);
    double *x = malloc(n * sizeof *x);
    Loft *loft = loft_with(n, to, x, hull->y_mid_m);
    double *y = (double *) loft->y_m, *z = (double *) loft->z_m;
    for (size_t i = 0; i < n; i++) {
        x[i] = hull->x_m[i];
        for (size_t j = 0; j < to; j++) {
            size_t at = i * from + (j < from ? j : from - 1);
            y[i * to + j] = hull->y_m[at];
            z[i * to + j] = hull->z_m[at] + (j < from ? 0.0 : bulwark_m);
        }
    }
    return loft;
}
