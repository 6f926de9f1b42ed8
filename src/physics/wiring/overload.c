/* Short-time running above the continuous current. */
#include "physics/wiring/overload.h"

#include "physics/domain.h"

const Method overload_time_method = {
    "Time a cold machine bears an overload",
    "t = tau * ln(p^2 / (p^2 - 1))",
    {"docs/methods/wires.md 8, one time constant", STANDING_DERIVED}};

Validity
overload_time(double time_constant_s, double overload, double *time_s)
{
    *time_s = NAN;
    if (!is_positive(time_constant_s) || !is_positive(overload) || overload <= 1.0)
        return REFUSED;
    *time_s = -time_constant_s * log1p(-1.0 / (overload * overload));
    return VALID;
}
