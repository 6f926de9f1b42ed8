/* American wire gauge as people write it.
 *
 *     d = 0.127 mm 92^((36 - n) / 39)
 *
 * Given    number, -3 (written 4/0) to 40; 0 is 1/0
 * Gives    wire_gauge_diameter_m and wire_gauge_area_m2, of the solid wire
 * Source   ASTM B258 geometry; docs/methods/wires.md 1.1 */
#pragma once

#include <stdbool.h>

double wire_gauge_diameter_m(int number);
double wire_gauge_area_m2(int number);
/* Reads "8", "0" or "2/0" at the beginning of a text; *end is what stands behind. False when none stands there. */
bool wire_gauge_scan(const char *text, const char **end, int *number);
