/* Liquid in box tanks: closed forms where they keep their digits, else the box is a loft of two stations and the hull's own
 * integrals clip it.
 * Invariant: the volume of liquid is the same at every attitude. */
#include "physics/afloat/liquid.h"

#include <math.h>
#include <stdbool.h>

#include "physics/afloat/box_liquid.h"

static double
box_m3(const Tank *tank)
{
    return (tank->x_fwd_m - tank->x_aft_m) * (tank->y_port_m - tank->y_stbd_m) *
           (tank->z_top_m - tank->z_bottom_m);
}

static bool
slack(const Tank *tank)
{
    return tank->fill_frac > 0.0 && tank->fill_frac < 1.0;
}

const char *
tank_fault(const Tank *tank)
{
    const double bound[] = {tank->x_aft_m,  tank->x_fwd_m,    tank->y_stbd_m,
                            tank->y_port_m, tank->z_bottom_m, tank->z_top_m};
    for (size_t i = 0; i < 6; i++)
        if (!(fabs(bound[i]) <= 1e4))
            return "a side of a tank is not at a length below 10 km";
    if (!(tank->x_aft_m < tank->x_fwd_m))
        return "a tank's aft end must lie aft of its forward end";
    if (!(tank->y_stbd_m < tank->y_port_m))
        return "a tank's starboard side must lie to starboard of its port side";
    if (!(tank->z_bottom_m < tank->z_top_m))
        return "a tank's bottom must lie below its top";
    if (!(tank->fill_frac >= 0.0 && tank->fill_frac <= 1.0))
        return "a tank is filled between 0 and 100 %";
    if (!(tank->density_kg_per_m3 > 0.0 && tank->density_kg_per_m3 < 1e5))
        return "a liquid's density must be positive and below 100 t/m3";
    return NULL;
}

double
tank_liquid_kg(const Tank *tank)
{
    return box_m3(tank) * tank->fill_frac * tank->density_kg_per_m3;
}

/* Level at which the box holds the volume: Newton on the depth of the plane, bisected when a step
 * leaves the bracket. While no corner is passed, the plane turns about the middle of the surface
 * and the first guess is exact. */
static void
find_level(const Tank *tank, const Body *box, Attitude *at, Immersed *wet)
{
    const double whole = box_m3(tank), aim = whole * tank->fill_frac;
    Attitude zero = {0.0, at->heel_rad, at->trim_rad};
    double low = INFINITY, high = -INFINITY;
    for (int i = 0; i < 8; i++) {
        double corner = attitude_height_m(&zero, i & 1 ? tank->x_aft_m : tank->x_fwd_m,
                                          i & 2 ? tank->y_stbd_m : tank->y_port_m,
                                          i & 4 ? tank->z_bottom_m : tank->z_top_m);
        low = fmin(low, corner);
        high = fmax(high, corner);
    }
    double z = tank->z_bottom_m + tank->fill_frac * (tank->z_top_m - tank->z_bottom_m);
    at->origin_depth_m = attitude_height_m(&zero, 0.5 * (tank->x_aft_m + tank->x_fwd_m),
                                           0.5 * (tank->y_stbd_m + tank->y_port_m), z);
    for (int i = 0; i < 80; i++) {
        body_immersed(box, at, wet);
        double excess = wet->volume_m3 - aim;
        if (fabs(excess) <= 4e-15 * whole)
            return;
        *(excess > 0.0 ? &high : &low) = at->origin_depth_m;
        double next = at->origin_depth_m - excess / wet->plane_m2;
        if (!(next > low && next < high))
            next = 0.5 * (low + high);
        if (fabs(next - at->origin_depth_m) <= 1e-15 * (fabs(low) + fabs(high)))
            return;
        at->origin_depth_m = next;
    }
}

static double
seen(const double e[static 3], const double f[static 3], const double second[static 6])
{
    return e[0] * f[0] * second[0] + e[1] * f[1] * second[1] + e[2] * f[2] * second[2] +
           (e[0] * f[1] + e[1] * f[0]) * second[3] + (e[0] * f[2] + e[2] * f[0]) * second[4] +
           (e[1] * f[2] + e[2] * f[1]) * second[5];
}

static bool
in_closed_form(const Tank *tank, double heel_rad, double trim_rad, TankLiquid *liquid)
{
    const double sh = sin(heel_rad), ch = cos(heel_rad), st = sin(trim_rad), ct = cos(trim_rad);
    const double size[3] = {tank->x_fwd_m - tank->x_aft_m, tank->y_port_m - tank->y_stbd_m,
                            tank->z_top_m - tank->z_bottom_m};
    const double up[3] = {-st, sh * ct, ch * ct}, along[3] = {ct, sh * st, ch * st},
                 across[3] = {0.0, ch, -sh};
    BoxLiquid box;
    if (!box_liquid(size, up, size[0] * size[1] * size[2] * tank->fill_frac, &box))
        return false;
    liquid->x_m = 0.5 * (tank->x_aft_m + tank->x_fwd_m) + box.centroid_m[0];
    liquid->y_m = 0.5 * (tank->y_stbd_m + tank->y_port_m) + box.centroid_m[1];
    liquid->z_m = 0.5 * (tank->z_bottom_m + tank->z_top_m) + box.centroid_m[2];
    liquid->surface_m2 = box.surface_m2;
    liquid->surface_XX_m4 = seen(along, along, box.second_m4);
    liquid->surface_YY_m4 = seen(across, across, box.second_m4);
    liquid->surface_XY_m4 = seen(along, across, box.second_m4);
    return true;
}

void
tank_lies(const Tank *tank, double heel_rad, double trim_rad, TankLiquid *liquid)
{
    *liquid = (TankLiquid){.x_m = 0.5 * (tank->x_aft_m + tank->x_fwd_m),
                           .y_m = 0.5 * (tank->y_stbd_m + tank->y_port_m),
                           .z_m = tank->z_bottom_m +
                                  0.5 * tank->fill_frac * (tank->z_top_m - tank->z_bottom_m)};
    if (!slack(tank) || in_closed_form(tank, heel_rad, trim_rad, liquid))
        return;
    const double half = 0.5 * (tank->y_port_m - tank->y_stbd_m);
    const double x[] = {tank->x_aft_m, tank->x_fwd_m}, y[] = {half, half, half, half};
    const double z[] = {tank->z_bottom_m, tank->z_top_m, tank->z_bottom_m, tank->z_top_m};
    const Loft loft = {2, 2, x, y, z, 0.5 * (tank->y_stbd_m + tank->y_port_m)};
    const Body box = {.lofts = 1, .loft = &loft};
    Attitude at = {.heel_rad = heel_rad, .trim_rad = trim_rad};
    Immersed wet;
    find_level(tank, &box, &at, &wet);
    if (!(wet.volume_m3 > 0.0 && wet.plane_m2 > 0.0))
        return;
    liquid->x_m = wet.x_m4 / wet.volume_m3;
    liquid->y_m = wet.y_m4 / wet.volume_m3;
    liquid->z_m = wet.z_m4 / wet.volume_m3;
    liquid->surface_m2 = wet.plane_m2;
    liquid->surface_XX_m4 = wet.plane_XX_m4 - wet.plane_X_m3 * wet.plane_X_m3 / wet.plane_m2;
    liquid->surface_YY_m4 = wet.plane_YY_m4 - wet.plane_Y_m3 * wet.plane_Y_m3 / wet.plane_m2;
    liquid->surface_XY_m4 = wet.plane_XY_m4 - wet.plane_X_m3 * wet.plane_Y_m3 / wet.plane_m2;
}

void
tank_centroid(const Tank *tank, double heel_rad, double trim_rad, double *x_m, double *y_m,
              double *z_m)
{
    TankLiquid liquid;
    tank_lies(tank, heel_rad, trim_rad, &liquid);
    *x_m = liquid.x_m;
    *y_m = liquid.y_m;
    *z_m = liquid.z_m;
}

void
tank_surface(const Tank *tank, double *inertia_t_m4, double *inertia_l_m4)
{
    double l = tank->x_fwd_m - tank->x_aft_m, b = tank->y_port_m - tank->y_stbd_m;
    *inertia_t_m4 = slack(tank) ? l * b * b * b / 12.0 : 0.0;
    *inertia_l_m4 = slack(tank) ? b * l * l * l / 12.0 : 0.0;
}
