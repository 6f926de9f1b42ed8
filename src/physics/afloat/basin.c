/* Water in a basin. Invariant: the level found is held between one that is too low and one that is too high. */
#include "physics/afloat/basin.h"

#include <math.h>
#include <stdlib.h>

#include "physics/afloat/deck_bends.h"

#define FAR 1e3 /* a box that reaches farther than any loft */

static bool
holds_all(const Compartment *box)
{
    return box->x_aft_m <= -FAR && box->x_fwd_m >= FAR && box->y_stbd_m <= -FAR &&
           box->y_port_m >= FAR && box->z_bottom_m <= -FAR && box->z_top_m >= FAR;
}

static bool
below(const Basin *basin, const Attitude *at, Immersed *in)
{
    *in = (Immersed){0};
    if (!holds_all(&basin->box))
        return compartment_lost(basin->loft, &basin->box, at, in);
    body_immersed(&(Body){.lofts = 1, .loft = basin->loft}, at, in);
    double *sum = (double *) in;
    for (size_t i = 0; i < sizeof *in / sizeof *sum; i++)
        sum[i] *= basin->box.permeability_frac;
    return true;
}

double
basin_below_m3(const Basin *basin, const Attitude *at)
{
    Immersed in;
    return below(basin, at, &in) ? in.volume_m3 : NAN;
}

double
basin_volume_m3(const Basin *basin)
{
    return compartment_volume_m3(basin->loft, &basin->box);
}

Basin
basin_of_loft(const Loft *loft)
{
    Basin basin = {loft, {-FAR, FAR, -FAR, FAR, -FAR, FAR, 1.0}, 0.0};
    basin.whole_m3 = basin_volume_m3(&basin);
    return basin;
}

/* Heights of the loft above a plane through the origin. */
static void
reach(const Loft *loft, const Attitude *at, double *low, double *high)
{
    const Attitude origin = {0.0, at->heel_rad, at->trim_rad};
    const WaterPlane up = attitude_plane(&origin);
    *low = INFINITY;
    *high = -INFINITY;
    for (size_t k = 0; k < loft->stations * loft->points; k++)
        for (int side = -1; side <= 1; side += 2) {
            double h = loft->x_m[k / loft->points] * up.x +
                       (loft->y_mid_m + side * loft->y_m[k]) * up.y + loft->z_m[k] * up.z;
            *low = fmin(*low, h);
            *high = fmax(*high, h);
        }
}

bool
basin_lies(const Basin *basin, double volume_m3, double heel_rad, double trim_rad,
           TankLiquid *liquid, double *depth_m)
{
    Attitude at = {0.0, heel_rad, trim_rad};
    double low, high;
    Immersed in;
    *liquid = (TankLiquid){.x_m = NAN, .y_m = NAN, .z_m = NAN};
    *depth_m = NAN;
    if (!(volume_m3 > 0.0 && volume_m3 <= basin->whole_m3 * (1.0 + 1e-12)))
        return false;
    reach(basin->loft, &at, &low, &high);
    at.origin_depth_m = low + (high - low) * (volume_m3 / basin->whole_m3);
    for (int i = 0; i < 100; i++) {
        if (!below(basin, &at, &in))
            return false;
        double more = in.volume_m3 - volume_m3;
        if (fabs(more) <= 1e-13 * volume_m3)
            break;
        *(more > 0.0 ? &high : &low) = at.origin_depth_m;
        if (high - low <= 1e-15 * (fabs(low) + fabs(high)))
            break;
        double next = at.origin_depth_m - more / in.plane_m2;
        at.origin_depth_m = next > low && next < high ? next : 0.5 * (low + high);
    }
    *depth_m = at.origin_depth_m;
    double area = in.plane_m2, X = in.plane_X_m3, Y = in.plane_Y_m3;
    *liquid = (TankLiquid){in.x_m4 / in.volume_m3,
                           in.y_m4 / in.volume_m3,
                           in.z_m4 / in.volume_m3,
                           area,
                           area > 0.0 ? in.plane_XX_m4 - X * X / area : 0.0,
                           area > 0.0 ? in.plane_YY_m4 - Y * Y / area : 0.0,
                           area > 0.0 ? in.plane_XY_m4 - X * Y / area : 0.0};
    return true;
}

/* The upper edge at x: both sides, and its height; false outside the basin. */
typedef struct {
    double stbd, port, z;
} Edge;

static bool
edge_at(const Basin *basin, double x, Edge *edge)
{
    const Loft *loft = basin->loft;
    size_t i = 0;
    if (!(x >= loft->x_m[0] && x <= loft->x_m[loft->stations - 1]))
        return false;
    while (i + 2 < loft->stations && x > loft->x_m[i + 1])
        i++;
    double share = (x - loft->x_m[i]) / (loft->x_m[i + 1] - loft->x_m[i]);
    size_t a = (i + 1) * loft->points - 1, b = a + loft->points;
    double half = loft->y_m[a] + share * (loft->y_m[b] - loft->y_m[a]);
    *edge = (Edge){fmax(loft->y_mid_m - half, basin->box.y_stbd_m),
                   fmin(loft->y_mid_m + half, basin->box.y_port_m),
                   fmin(loft->z_m[a] + share * (loft->z_m[b] - loft->z_m[a]), basin->box.z_top_m)};
    return true;
}

/* Places along the rim between which it runs straight; the two ends of the box or of the loft, whichever is nearer. */
static double *
rim_places(const Basin *basin, size_t *n)
{
    const Loft *loft = basin->loft;
    double aft = fmax(loft->x_m[0], basin->box.x_aft_m),
           fwd = fmin(loft->x_m[loft->stations - 1], basin->box.x_fwd_m);
    *n = 0;
    return aft < fwd ? deck_bends(loft, aft, fwd, 1, &basin->box.z_top_m, n) : NULL;
}

double
basin_rim_m(const Basin *basin, const Attitude *at)
{
    size_t n;
    double *x = rim_places(basin, &n), lowest = INFINITY;
    for (size_t i = 0; i < n; i++) {
        Edge edge;
        if (edge_at(basin, x[i], &edge))
            lowest = fmin(lowest, fmin(attitude_height_m(at, x[i], edge.stbd, edge.z),
                                       attitude_height_m(at, x[i], edge.port, edge.z)));
    }
    free(x);
    return lowest;
}

double
basin_opening_m2(const Basin *basin)
{
    size_t n;
    double *x = rim_places(basin, &n), area = 0.0;
    for (size_t i = 0; i + 1 < n; i++) {
        Edge a, b;
        if (edge_at(basin, x[i], &a) && edge_at(basin, x[i + 1], &b))
            area +=
                (x[i + 1] - x[i]) * (fmax(0.0, a.port - a.stbd) + fmax(0.0, b.port - b.stbd)) / 2.0;
    }
    free(x);
    return area;
}

double
basin_floor_m(const Basin *basin, const Attitude *at)
{
    const Loft *loft = basin->loft;
    double lowest = INFINITY;
    size_t n;
    double *x = rim_places(basin, &n), *y = malloc(2 * loft->points * sizeof *y);
    if (y == NULL)
        abort();
    for (size_t i = 0; i < n; i++) {
        if (!loft_points(loft, x[i], y, y + loft->points))
            continue;
        for (size_t j = 0; j < loft->points; j++) {
            double stbd = fmax(loft->y_mid_m - y[j], basin->box.y_stbd_m),
                   port = fmin(loft->y_mid_m + y[j], basin->box.y_port_m),
                   z = fmax(y[loft->points + j], basin->box.z_bottom_m);
            lowest = fmin(lowest, fmin(attitude_height_m(at, x[i], stbd, z),
                                       attitude_height_m(at, x[i], port, z)));
        }
    }
    free(x);
    free(y);
    return lowest;
}
