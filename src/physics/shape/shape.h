/* Stations that a method has made: hull form from a few numbers, tape readings, a sliced mesh.
 *
 * A Shape owns its stations and their points in one piece; names of knuckles are borrowed (literals,
 * or the caller's). Free with shape_free; NULL is allowed there. */
#pragma once

#include "physics/afloat/station.h"

typedef struct {
    size_t n;
    Station *station; /* x increasing; points keel to deck edge, still zero after shape_new */
} Shape;

/* points[i] is how many points station i has. */
Shape *shape_new(size_t n, const size_t points[]);
void shape_free(Shape *shape);

/* The points of one station, to be filled in. */
StationPoint *shape_points(const Shape *shape, size_t station);

/* Volume below height z_m (keel level, upright), m3; of the whole closed hull where z_m is INFINITY.
 * NAN when the stations make no loft. */
double shape_volume_m3(const Shape *shape, double z_m);

/* Zeroed memory; running out of it ends the program, as everywhere in careen. */
void *shape_reserve(size_t n, size_t size);
