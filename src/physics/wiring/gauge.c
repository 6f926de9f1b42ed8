/* Geometry of the American wire gauge. */
#include "physics/wiring/gauge.h"

#include <math.h>

#include "physics/wiring/conductor.h"

const Method gauge_method = {"Diameter of a wire gauge",
                             "d = 0.000127 * 92^((36 - n) / 39)",
                             {"American wire gauge, ASTM B258 geometry", STANDING_DERIVED}};

Gauge
gauge_size(int number)
{
    double diameter_m = 0.127e-3 * pow(92.0, (36 - number) / 39.0);
    double area_m2 = 0.25 * M_PI * diameter_m * diameter_m;
    return (Gauge){diameter_m, area_m2, area_m2 / CIRCULAR_MIL_M2,
                   COPPER_RESISTIVITY_OHM_M / area_m2};
}
