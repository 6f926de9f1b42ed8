/* Spread of an answer from what she weighs, first order.
 *
 * An answer that changes by  dM a.mass + d(M x) a.x + d(M y) a.y + d(M z) a.z  when masses and places change gets its spread
 * from every mass and place of the case (masses of one group err together), and the item that brings most of it. */
#pragma once

#include "checks/afloat/afloat.h"

typedef struct {
    double mass, x, y, z;
    double density; /* change for 1 kg/m3 more */
    double other;   /* from the readings of the hull, 95 % */
    double own;     /* from the place of the record itself, 95 % */
    const Record *own_record;
} Linear;

typedef struct {
    double spread;
    const char *path; /* what to measure: brings the largest part, or NULL */
    const char *text; /* "weigh the old engine" */
} Spread;

Spread spread_of(const Afloat *afloat, const Case *c, const Linear *a, Result *result);

/* What brings the spread, largest first: each thing once, with its share of the variance; returns how many, at most room. What
 * the water weighed as one is traced to the heights of the list, for the water does not tell them. */
typedef struct {
    const char *path, *text; /* "items.shell.height", "height of shell plating" */
    double share;
} SpreadShare;
size_t spread_shares(const Afloat *afloat, const Case *c, const Linear *a, Result *result,
                     size_t room, SpreadShare share[]);

/* What the readings of the hull do to KM, 95 %. */
double hull_km_spread(const Afloat *afloat, const Case *c);

Linear linear_mass(void);
Linear linear_centre(const Case *c, int axis); /* 0 x, 1 y, 2 z */
Linear linear_gm(const Afloat *afloat, const Case *c);
Linear linear_trim(const Case *c);
Linear linear_list(const Afloat *afloat, const Case *c);
Linear linear_height(const Afloat *afloat, const Case *c, double x_m,
                     double y_m); /* of a point above the water */
Linear linear_lever(const Afloat *afloat, const Case *c, double heel_rad, double gz_per_kg);
