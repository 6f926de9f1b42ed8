/* Geometry of the American wire gauge. */
#include "physics/wiring/gauge.h"

#include "base/wire_gauge.h"
#include "physics/wiring/conductor.h"

const Method gauge_method = {"Diameter of a wire gauge",
                             "d = 0.000127 * 92^((36 - n) / 39)",
                             {"American wire gauge, ASTM B258 geometry", STANDING_DERIVED}};

Gauge
gauge_size(int number)
{
    double area_m2 = wire_gauge_area_m2(number);
    return (Gauge){wire_gauge_diameter_m(number), area_m2, area_m2 / CIRCULAR_MIL_M2,
                   COPPER_RESISTIVITY_OHM_M / area_m2};
}
