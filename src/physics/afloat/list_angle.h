/* List under a heeling moment with positive, zero or negative metacentric height; angle of loll.
 *
 *     M/D = GM tan(list) + BM tan^3(list) / 2
 *
 * Given    mass_kg > 0; gm_m; bm_m >= 0 (0: sides unknown, GM alone); moment_kgm, positive to
 * starboard Gives    linear_rad   by GM alone, NAN when GM <= 0 list_rad     with the wall-sided
 * term when bm_m > 0; without a moment and with negative GM the loll to starboard gm_at_list_m
 * slope of the net lever there, m Returns  VALID, or REFUSED when GM <= 0 and BM = 0 Source Barrass
 * and Derrett p. 229 (loll); docs/methods/float.md 9.5 Checked  list-angle in tests/cases/float.csv
 */
#pragma once

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double linear_rad, list_rad, gm_at_list_m;
} ListAngle;

Validity list_angle(double mass_kg, double gm_m, double bm_m, double moment_kgm, ListAngle *list);

extern const Method list_linear_method, list_method, loll_method;
