/* Closed volume of a house on a hull's deck. Invariant: its bottom is the hull's deck wherever that
 * is higher than the house's own, so nothing is counted twice and nothing left out above a sheered
 * deck. */
#include "physics/afloat/station.h"

#include <math.h>
#include <stdlib.h>

#include "physics/afloat/deck_bends.h"

static double
floor_at(const Loft *hull, double x, double bottom, double top)
{
    double deck = loft_deck_m(hull, x);
    return fmin(top, isnan(deck) ? bottom : fmax(bottom, deck));
}

Loft *
loft_house(const Loft *hull, double x_aft_m, double x_fwd_m, double y_stbd_m, double y_port_m,
           double z_bottom_m, double z_top_m)
{
    if (!(x_aft_m < x_fwd_m) || !(y_stbd_m < y_port_m) || !(z_bottom_m < z_top_m) ||
        hull->points < 1)
        return NULL;
    const double height[] = {z_bottom_m, z_top_m};
    size_t kept;
    double *x = deck_bends(hull, x_aft_m, x_fwd_m, 2, height, &kept);

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
