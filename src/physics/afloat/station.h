/* From stations as measured (any number of points, some of them named knuckles) to a Loft.
 *
 * Knuckles with the same name are joined from station to station, unnamed knuckles by their order;
 * between two joined knuckles every station is resampled to the same number of points by girth.
 * Knuckles that not every station has become plain points. */
#pragma once

#include <stdbool.h>
#include <stddef.h>

#include "physics/afloat/body.h"

typedef struct {
    double y_m, z_m;
    bool knuckle;
    const char *name; /* of the knuckle, or NULL */
} StationPoint;

typedef struct {
    double x_m;
    size_t points;
    const StationPoint *point; /* keel to deck edge */
} Station;

/* NULL when fewer than two stations, a station has fewer than two points, or x does not increase.
 * Free with loft_free. Stations whose points already correspond come out unchanged. */
Loft *loft_join(size_t n, const Station station[]);

/* Closed volume of a house: between x_aft and x_fwd, y_stbd and y_port, from the hull's deck
 * (deck-edge height at each x, or z_bottom where that is higher) up to z_top. NULL when nothing
 * stands above the deck. */
Loft *loft_house(const Loft *hull, double x_aft_m, double x_fwd_m, double y_stbd_m, double y_port_m,
                 double z_bottom_m, double z_top_m);

/* Whether the polyline of a station crosses itself; the two segment numbers that do. */
bool station_crosses(const Station *station, size_t *first, size_t *second);

void loft_free(Loft *loft);
