/* Closed forms of liquid in a leaning box.
 * Invariant: inside, every component of `up` is positive and lengths run from the lowest corner. */
#include "physics/afloat/box_liquid.h"

#include <math.h>
#include <stddef.h>

/* The surface z = d + gx x + gy y over the whole bottom, centred; d the mean depth. */
static bool
prism(const double size[static 3], const double up[static 3], double volume, BoxLiquid *out)
{
    double a = size[0], b = size[1], d = volume / (a * b);
    if (!(up[2] > 1e-6))
        return false;
    double gx = -up[0] / up[2], gy = -up[1] / up[2];
    double rise = (fabs(gx) * a + fabs(gy) * b) / 2.0;
    if (d - rise < 0.0 || d + rise > size[2])
        return false;
    double xx = a * a / 12.0, yy = b * b / 12.0;
    out->centroid_m[0] = gx * xx / d;
    out->centroid_m[1] = gy * yy / d;
    out->centroid_m[2] = d / 2.0 + (gx * gx * xx + gy * gy * yy) / (2.0 * d) - size[2] / 2.0;
    out->surface_m2 = a * b / up[2];
    const double second[6] = {xx, yy, gx * gx * xx + gy * gy * yy, 0.0, gx * xx, gy * yy};
    for (size_t i = 0; i < 6; i++)
        out->second_m4[i] = out->surface_m2 * second[i];
    return true;
}

typedef struct {
    double n[3], m[3]; /* components of up, and how far each edge rises */
    double corner[8];  /* how far each corner lies above the lowest */
} Lean;

static const double sign[8] = {1, -1, -1, 1, -1, 1, 1, -1};

static double
volume_at(const Lean *lean, double level, double *area)
{
    double cubes = 0.0, squares = 0.0, n = lean->n[0] * lean->n[1] * lean->n[2];
    for (size_t k = 0; k < 8; k++) {
        double s = fmax(0.0, level - lean->corner[k]);
        cubes += sign[k] * s * s * s;
        squares += sign[k] * s * s;
    }
    *area = squares / (2.0 * n);
    return cubes / (6.0 * n);
}

static double
level_for(const Lean *lean, double volume, double whole)
{
    double low = 0.0, high = lean->corner[7], level = high * volume / whole, area;
    for (int i = 0; i < 60; i++) {
        double excess = volume_at(lean, level, &area) - volume;
        if (fabs(excess) <= 1e-15 * whole)
            break;
        *(excess > 0.0 ? &high : &low) = level;
        double next = level - excess / area;
        if (!(next > low && next < high))
            next = (low + high) / 2.0;
        if (fabs(next - level) <= 1e-15 * lean->corner[7])
            break;
        level = next;
    }
    return level;
}

/* First moments of volume and surface, second moments of the surface, all from the lowest corner. */
typedef struct {
    double volume_1[3], area, area_1[3], area_2[6];
} Moments;

static const size_t pair[6][2] = {{0, 0}, {1, 1}, {2, 2}, {0, 1}, {0, 2}, {1, 2}};

static void
add_corner(const Lean *lean, const double size[static 3], size_t k, double level, Moments *sum)
{
    double s = level - lean->corner[k], product = lean->n[0] * lean->n[1] * lean->n[2];
    if (!(s > 0.0))
        return;
    double volume = sign[k] * s * s * s / (6.0 * product), area = sign[k] * s * s / (2.0 * product),
           o[3], c[3];
    for (size_t i = 0; i < 3; i++) {
        o[i] = k >> i & 1 ? size[i] : 0.0;
        c[i] = s / (3.0 * lean->n[i]); /* centroid of the triangle; of the tetrahedron 3/4 of it */
        sum->volume_1[i] += volume * (o[i] + 0.75 * c[i]);
        sum->area_1[i] += area * (o[i] + c[i]);
    }
    sum->area += area;
    for (size_t p = 0; p < 6; p++) {
        size_t i = pair[p][0], j = pair[p][1];
        double own = (i == j ? 1.5 : 0.75) * c[i] * c[j];
        sum->area_2[p] += area * (o[i] * o[j] + o[i] * c[j] + o[j] * c[i] + own);
    }
}

static bool
corners(const double size[static 3], const double up[static 3], double volume, BoxLiquid *out)
{
    Lean lean;
    double whole = size[0] * size[1] * size[2], most = 0.0, product = 1.0;
    for (size_t i = 0; i < 3; i++) {
        lean.n[i] = fabs(up[i]);
        lean.m[i] = lean.n[i] * size[i];
        most = fmax(most, lean.m[i]);
        product *= lean.m[i];
    }
    if (!(product > 1e-4 * most * most * most))
        return false;
    for (size_t k = 0; k < 8; k++)
        lean.corner[k] =
            (k & 1 ? lean.m[0] : 0.0) + (k & 2 ? lean.m[1] : 0.0) + (k & 4 ? lean.m[2] : 0.0);
    double level = level_for(&lean, volume, whole);
    Moments sum = {.area = 0.0};
    for (size_t k = 0; k < 8; k++)
        add_corner(&lean, size, k, level, &sum);
    if (!(sum.area > 0.0))
        return false;
    for (size_t i = 0; i < 3; i++) {
        double from_middle = sum.volume_1[i] / volume - size[i] / 2.0;
        out->centroid_m[i] = up[i] < 0.0 ? -from_middle : from_middle;
    }
    out->surface_m2 = sum.area;
    for (size_t p = 0; p < 6; p++) {
        size_t i = pair[p][0], j = pair[p][1];
        double own = sum.area_2[p] - sum.area_1[i] * sum.area_1[j] / sum.area;
        out->second_m4[p] = (up[i] < 0.0) != (up[j] < 0.0) ? -own : own;
    }
    return true;
}

bool
box_liquid(const double size_m[static 3], const double up[static 3], double volume_m3,
           BoxLiquid *out)
{
    return prism(size_m, up, volume_m3, out) || corners(size_m, up, volume_m3, out);
}
