/* What cold does to a lead battery: its inner resistance rises, its voltage at rest falls.
 *
 *     R = R_25 1.75^((25 - theta) / 35)    R = R_cold 0.55^((theta + 18) / 43)    dU = 0.00432 (theta - 26.7) per 12 V
 *
 * Given    cell_K > 0, of its cells; resistance warm (25 degC), or cold: that of its cranking rating at -18 degC
 * Gives    factors on these resistances, and the change of the voltage at rest of a battery of nominal_V, never above 0: warmth
 *          beyond 25 degC (26.7 degC) is not counted as a gain. NAN outside the range
 * Misses   age, charge (nearly flat it is half as much again), and what lithium does
 * Source   docs/methods/wires.md 4.2 (1.5 to 2 times from 25 to -10 degC, recalled; warm 0.55 of cold, recalled) and 4.3 (0.024 V
 *          in 10 degF below 80 degF, printed beside a hydrometer's table: more than the cells' own voltage falls)
 * Checked  tests/physics/test_battery.c */
#pragma once

#include "base/source.h"

double cold_battery_factor(double cell_K);          /* on a resistance known warm */
double cold_battery_cranking_factor(double cell_K); /* on that of a cranking rating */
double cold_battery_rest_V(double nominal_V, double cell_K);

extern const Method cold_battery_method, cold_battery_rest_method;
