/* Righting lever of a hull whose sides are vertical between the two water lines.
 *
 *     GZ = (GM + BM tan^2(heel) / 2) sin(heel)
 *
 * Given    gm_m      metacentric height, m, free surface already deducted; may be negative
 *          bm_m      metacentric radius at the upright water line, m, >= 0
 *          heel_rad  heel, rad, |heel_rad| < pi/2
 *          wall_rad  heel at which deck edge or bilge first meets the water, rad, > 0
 * Gives    gz_m      lever, m, positive when it rights the boat; NAN when refused
 * Returns  VALID up to wall_rad, EXTRAPOLATED past it, REFUSED outside the ranges above
 * Source   Barrass and Derrett, Ship Stability for Masters and Mates, 5th ed., p. 130;
 * docs/methods/float.md 9.1 Checked  wall-sided-gz in tests/cases/float.csv */
#pragma once

#include "base/source.h"
#include "base/validity.h"

Validity wall_sided_lever(double gm_m, double bm_m, double heel_rad, double wall_rad, double *gz_m);

extern const Method wall_sided_method;
