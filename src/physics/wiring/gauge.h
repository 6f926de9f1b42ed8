/* American wire gauge: 40 is the thinnest, then 1, 0 (1/0), -1 (2/0) to -3 (4/0).
 *
 *     d = 0.127 mm 92^((36 - n) / 39)
 *
 * Given    number, -3 to 40
 * Gives    diameter_m of the solid wire; area_m2; the same in circular mils; ohm per metre of solid copper
 *          at 20 degC (0.017241 ohm mm2/m)
 * Source   ASTM B258 geometry; docs/methods/wires.md 1.1
 * Checked  awg-size in tests/cases/wires.csv */
#pragma once

#include "base/source.h"

#define CIRCULAR_MIL_M2 (0.7853981633974483 * 25.4e-6 * 25.4e-6)

typedef struct {
    double diameter_m, area_m2, circular_mils, ohm_per_m;
} Gauge;

Gauge gauge_size(int number);

extern const Method gauge_method;
