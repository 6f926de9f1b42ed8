/* What an unmanned flat pontoon must show.
 *
 *     l_w = 540 A Z / (g m)    heel <= atan(f/B)    range >= 20 deg to 100 m, 15 deg from 150 m
 *
 * Given    length_m, beam_m, freeboard_m, lateral_m2, lever_m (centroid to half draught), mass_kg >
 * 0 Gives    area_peak 0.08 m rad; range_rad; wind_lever_m; heel_allowed_rad (half the freeboard
 * used up) Returns  VALID or REFUSED. Meant for C_B >= 0.9 and B/D > 3 Source   2008 IS Code Part
 * B 2.2, from memory; docs/methods/float.md 5.3 Checked  pontoon-criterion in tests/cases/float.csv
 */
#pragma once

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double area_peak, range_rad, wind_lever_m, heel_allowed_rad;
} Pontoon;

Validity pontoon_criterion(double length_m, double beam_m, double freeboard_m, double lateral_m2,
                           double lever_m, double mass_kg, Pontoon *pontoon);

extern const Method pontoon_lever_method, pontoon_heel_method;
extern const Source pontoon_source;
