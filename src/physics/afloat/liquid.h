/* Liquid in box tanks: finds its own level at every heel and trim.
 * Source   docs/methods/float.md 3 */
#pragma once

#include <stddef.h>

#include "physics/afloat/body.h"

typedef struct {
    double x_aft_m, x_fwd_m, y_stbd_m, y_port_m, z_bottom_m, z_top_m;
    double fill_frac;            /* 0..1 of the volume */
    double density_kg_per_m3;
} Tank;

double tank_liquid_kg(const Tank *tank);

/* Centroid of the liquid at this attitude (origin_depth does not matter). */
void tank_centroid(const Tank *tank, double heel_rad, double trim_rad, double *x_m, double *y_m, double *z_m);

/* Second moment of the upright surface about its own fore-and-aft (t) and transverse (l) axis, m4; 0 when
 * empty or pressed full. */
void tank_surface(const Tank *tank, double *inertia_t_m4, double *inertia_l_m4);
