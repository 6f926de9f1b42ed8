/* What the free surface of a rectangular tank takes from the metacentric height.
 *
 *     i = l b^3 / (12 n^2)    FSM = rho_t i    loss = FSM / D
 *
 * Given    length_m, breadth_m, mass_kg, density_kg_per_m3 > 0; divisions n: equal parts side by
 * side, >= 1 Gives    i for all parts together, m4; the same along the boat (undivided) for trim
 * Returns  VALID or REFUSED
 * Source   Barrass and Derrett p. 193-195; docs/methods/float.md 3. At 98 % or more a tank may be
 * taken as full (2008 IS Code Part B 3.1.2) Checked  free-surface in tests/cases/float.csv */
#pragma once

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double inertia_m4, moment_kgm, gm_loss_m, inertia_l_m4, gm_l_loss_m;
} FreeSurface;

Validity free_surface(double length_m, double breadth_m, double mass_kg, double density_kg_per_m3,
                      double divisions, FreeSurface *out);

/* How the liquid of a rectangular tank shifts sideways, exactly, against the correction.
 *
 * Given    breadth_m, height_m > 0; 0 < fill_m < height_m; |heel_rad| <= pi/2
 * Gives    lever_m       horizontal way of the liquid's centroid towards the low side, m
 *          corrected_m   the same by b^2/(12 d) sin(heel), m
 *          tcg_m, vcg_m  centroid from the middle of the bottom, y to port
 *          corner_rad    heel at which the surface first meets a corner
 * Returns  VALID or REFUSED
 * Source   docs/methods/float.md 3; the exact shift by the tank's own clip (liquid.h)
 * Checked  tank-lever in tests/cases/float.csv */
typedef struct {
    double lever_m, corrected_m, tcg_m, vcg_m, corner_rad;
} TankLever;

Validity tank_lever(double breadth_m, double height_m, double fill_m, double heel_rad,
                    TankLever *out);

extern const Method surface_inertia_method, surface_loss_method, tank_lever_corrected_method;
