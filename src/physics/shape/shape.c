/* Stations that a method has made. Invariant: all points stand in one block behind the stations, so
 * one free releases a Shape. */
#include "physics/shape/shape.h"

#include <math.h>
#include <stdlib.h>

void *
shape_reserve(size_t n, size_t size)
{
    void *p = calloc(n > 0 ? n : 1, size);
    if (p == NULL)
        abort();
    return p;
}

Shape *
shape_new(size_t n, const size_t points[])
{
    size_t all = 0;
    for (size_t i = 0; i < n; i++)
        all += points[i];
    Shape *shape = shape_reserve(1, sizeof *shape);
    shape->n = n;
    shape->station =
        shape_reserve(1, (n > 0 ? n : 1) * sizeof(Station) + all * sizeof(StationPoint));
    StationPoint *point = (StationPoint *) (shape->station + n);
    for (size_t i = 0; i < n; i++) {
        shape->station[i] = (Station){0.0, points[i], point};
        point += points[i];
    }
    return shape;
}

void
shape_free(Shape *shape)
{
    if (shape != NULL)
        free(shape->station);
    free(shape);
}

StationPoint *
shape_points(const Shape *shape, size_t station)
{
    return (StationPoint *) shape->station[station].point;
}

double
shape_volume_m3(const Shape *shape, double z_m)
{
    Loft *loft = loft_join(shape->n, shape->station);
    if (loft == NULL)
        return NAN;
    double volume = NAN;
    const Body body = {.lofts = 1, .loft = loft};
    if (loft_fault(loft) == NULL && isinf(z_m))
        volume = body_volume_m3(&body);
    else if (loft_fault(loft) == NULL) {
        Immersed wet;
        body_immersed(&body, &(Attitude){.origin_depth_m = z_m}, &wet);
        volume = wet.volume_m3;
    }
    loft_free(loft);
    return volume;
}
