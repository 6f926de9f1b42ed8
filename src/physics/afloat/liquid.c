/* Liquid in tanks, in the body's axes and seen along the earth's.
 * Invariant: the volume of liquid is the same at every attitude. */
#include "physics/afloat/liquid.h"

#include <math.h>
#include <stdbool.h>

#include "physics/afloat/basin.h"
#include "physics/afloat/box_liquid.h"

static double
whole_m3(const Tank *tank)
{
    if (tank->basin != NULL)
        return tank->basin->whole_m3;
    return (tank->x_fwd_m - tank->x_aft_m) * (tank->y_port_m - tank->y_stbd_m) *
           (tank->z_top_m - tank->z_bottom_m);
}

/* A few molecules do not slop. */
static bool
slack(const Tank *tank)
{
    return tank->fill_frac > 1e-15 && tank->fill_frac < 1.0;
}

static const char *
box_fault(const Tank *tank)
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
    return NULL;
}

static const char *
basin_fault(const Basin *basin)
{
    const char *fault = loft_fault(basin->loft);
    if (fault == NULL)
        fault = compartment_fault(&basin->box);
    return fault != NULL || basin->whole_m3 > 0.0 ? fault : "a basin must hold something";
}

const char *
tank_fault(const Tank *tank)
{
    const char *fault = tank->basin != NULL ? basin_fault(tank->basin) : box_fault(tank);
    if (fault != NULL)
        return fault;
    if (!(tank->fill_frac >= 0.0 && tank->fill_frac <= 1.0))
        return "a tank is filled between 0 and 100 %";
    if (!(tank->density_kg_per_m3 > 0.0 && tank->density_kg_per_m3 < 1e5))
        return "a liquid's density must be positive and below 100 t/m3";
    return NULL;
}

double
tank_liquid_kg(const Tank *tank)
{
    return whole_m3(tank) * tank->fill_frac * tank->density_kg_per_m3;
}

static double
seen(const double e[static 3], const double f[static 3], const double second[static 6])
{
    return e[0] * f[0] * second[0] + e[1] * f[1] * second[1] + e[2] * f[2] * second[2] +
           (e[0] * f[1] + e[1] * f[0]) * second[3] + (e[0] * f[2] + e[2] * f[0]) * second[4] +
           (e[1] * f[2] + e[2] * f[1]) * second[5];
}

EarthAxes
earth_axes(double sin_heel, double cos_heel, double sin_trim, double cos_trim)
{
    return (EarthAxes){{-sin_trim, sin_heel * cos_trim, cos_heel * cos_trim},
                       {cos_trim, sin_heel * sin_trim, cos_heel * sin_trim},
                       {0.0, cos_heel, -sin_heel}};
}

/* A drop that lies nowhere yet is taken to lie at the floor. */
static void
lies_in_basin(const Tank *tank, const EarthAxes *axes, TankLiquid *liquid)
{
    double depth, volume = fmax(tank->fill_frac, 1e-12) * tank->basin->whole_m3;
    basin_lies(tank->basin, volume, atan2(axes->up[1], axes->up[2]), -asin(axes->up[0]), liquid,
               &depth);
    if (!slack(tank))
        liquid->surface_m2 = liquid->surface_XX_m4 = liquid->surface_YY_m4 = liquid->surface_XY_m4 =
            0.0;
}

void
tank_lies_at(const Tank *tank, const EarthAxes *axes, TankLiquid *liquid)
{
    if (tank->basin != NULL) {
        lies_in_basin(tank, axes, liquid);
        return;
    }
    const double size[3] = {tank->x_fwd_m - tank->x_aft_m, tank->y_port_m - tank->y_stbd_m,
                            tank->z_top_m - tank->z_bottom_m};
    *liquid = (TankLiquid){.x_m = 0.5 * (tank->x_aft_m + tank->x_fwd_m),
                           .y_m = 0.5 * (tank->y_stbd_m + tank->y_port_m),
                           .z_m = tank->z_bottom_m + 0.5 * tank->fill_frac * size[2]};
    if (!slack(tank))
        return;
    BoxLiquid box;
    box_liquid(size, axes->up, size[0] * size[1] * size[2] * tank->fill_frac, &box);
    liquid->x_m += box.centroid_m[0];
    liquid->y_m += box.centroid_m[1];
    liquid->z_m = 0.5 * (tank->z_bottom_m + tank->z_top_m) + box.centroid_m[2];
    liquid->surface_m2 = box.surface_m2;
    liquid->surface_XX_m4 = seen(axes->along, axes->along, box.second_m4);
    liquid->surface_YY_m4 = seen(axes->across, axes->across, box.second_m4);
    liquid->surface_XY_m4 = seen(axes->along, axes->across, box.second_m4);
}

void
tank_lies(const Tank *tank, double heel_rad, double trim_rad, TankLiquid *liquid)
{
    EarthAxes axes = earth_axes(sin(heel_rad), cos(heel_rad), sin(trim_rad), cos(trim_rad));
    tank_lies_at(tank, &axes, liquid);
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
    if (tank->basin != NULL) {
        TankLiquid lies;
        tank_lies(tank, 0.0, 0.0, &lies);
        *inertia_t_m4 = lies.surface_YY_m4;
        *inertia_l_m4 = lies.surface_XX_m4;
        return;
    }
    *inertia_t_m4 = slack(tank) ? l * b * b * b / 12.0 : 0.0;
    *inertia_l_m4 = slack(tank) ? b * l * l * l / 12.0 : 0.0;
}
