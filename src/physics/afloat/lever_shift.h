/* Righting levers for another centre of gravity, displacement unchanged.
 *
 *     GZ' = GZ - (KG' - KG) sin(heel) + (y' - y) cos(heel)
 *
 * Given    y to port: a centre of gravity to starboard takes from the lever to starboard. vcg_old_m
 * 0: gz_m are KN values Gives    the lever, m. Exact at fixed trim; with free trim KN depends
 * slightly on KG: solve again where it counts Source   Barrass and Derrett p. 168;
 * docs/methods/float.md 2.8 Checked  gz-for-new-g in tests/cases/float.csv */
#pragma once

#include "base/source.h"

double lever_shift_m(double gz_m, double heel_rad, double vcg_old_m, double vcg_new_m,
                     double tcg_old_m, double tcg_new_m);

extern const Method lever_shift_method;
