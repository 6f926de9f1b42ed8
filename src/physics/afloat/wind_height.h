/* Heeling lever of a wind that grows with height.
 *
 *     V = S (0.127 ln(h) + 0.772)    lever = 1.113 sum(V^2 A Z) / W
 *
 * Given    area_m2 >= 0; height_m > 0 of its centroid above the water; lever_m from there to the
 * middle of the underwater side; mass_kg > 0; protected waters S = 19.5 m/s, else 26 m/s Gives
 * speed_m_per_s[n] (may be NULL), lever_m: the gust lever (1.5 times the steady one, see the sheet)
 * Returns  VALID or REFUSED. A height low enough to make the wind blow backwards (h < 0.0023 m)
 * counts as calm Source   46 CFR 28.575 (read); docs/methods/float.md 5.2 Checked  wind-lever-46cfr
 * in tests/cases/float.csv */
#pragma once

#include <stdbool.h>
#include <stddef.h>

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double area_m2, height_m, lever_m;
} WindArea;

Validity wind_lever(size_t n, const WindArea area[], double mass_kg, bool protected_waters,
                    double *speed_m_per_s, double *lever_m);

extern const Method wind_speed_method, wind_lever_method;
