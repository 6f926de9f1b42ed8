/* Liquid in box tanks and in basins: finds its own level at every heel and trim.
 * Source   docs/methods/float.md 3 */
#pragma once

#include <stddef.h>

#include "physics/afloat/body.h"

typedef struct {
    double x_aft_m, x_fwd_m, y_stbd_m, y_port_m, z_bottom_m, z_top_m;
    double fill_frac; /* 0..1 of the volume */
    double density_kg_per_m3;
    const struct Basin
        *basin; /* NULL: the box; else what holds the liquid, the box not being read */
} Tank;

/* Liquid as it lies at one attitude. */
typedef struct {
    double x_m, y_m, z_m;                               /* centroid, body axes */
    double surface_m2;                                  /* 0 when empty or pressed full */
    double surface_XX_m4, surface_YY_m4, surface_XY_m4; /* about its own centroid, earth axes */
} TankLiquid;

/* Why a tank cannot be used: NULL when it can. */
const char *tank_fault(const Tank *tank);

double tank_liquid_kg(const Tank *tank);

/* Exact clip of the box or the basin by a level plane that keeps the volume; the sea's depth does not matter.
 * Given    |trim_rad| below 1.4; a tank without fault
 * Checked  tests/physics/test_liquid.c, tank-lever in tests/cases/float.csv */
void tank_lies(const Tank *tank, double heel_rad, double trim_rad, TankLiquid *liquid);

/* The same for many tanks at one attitude: earth directions in body axes. */
typedef struct {
    double up[3], along[3], across[3];
} EarthAxes;
EarthAxes earth_axes(double sin_heel, double cos_heel, double sin_trim, double cos_trim);
void tank_lies_at(const Tank *tank, const EarthAxes *axes, TankLiquid *liquid);

/* Centroid of the liquid at this attitude (origin_depth does not matter). */
void tank_centroid(const Tank *tank, double heel_rad, double trim_rad, double *x_m, double *y_m,
                   double *z_m);

/* Second moment of the upright surface about its own fore-and-aft (t) and transverse (l) axis, m4;
 * 0 when empty or pressed full. */
void tank_surface(const Tank *tank, double *inertia_t_m4, double *inertia_l_m4);
