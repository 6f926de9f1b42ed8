/* Emptying through holes. Invariant: none. */
#include "physics/afloat/draining.h"

#include <math.h>

#include "physics/domain.h"

#define GRAVITY 9.80665
#define SHARP_EDGED 0.6

const Method draining_method = {
    "Emptying a well through holes at its floor",
    "t = 2 * v / (0.6 * a * sqrt(2 * 9.80665 * h))",
    {"Torricelli's law; 0.6 for a sharp-edged hole, from memory", STANDING_MEMORY}};

Validity
draining_time_s(double water_m3, double depth_m, double holes_m2, double *time_s)
{
    *time_s = NAN;
    if (!is_positive(water_m3) || !is_positive(depth_m) || !is_positive(holes_m2))
        return REFUSED;
    *time_s = 2.0 * water_m3 / (SHARP_EDGED * holes_m2 * sqrt(2.0 * GRAVITY * depth_m));
    return VALID;
}
