/* Alternator. Invariant: the belt gives at least what the battery gets. */
#include "physics/wiring/alternator.h"

#include "base/interpolate.h"
#include "physics/domain.h"

const Method alternator_current_method = {
    "Current of the alternator",
    "I = line(n * ratio)",
    {"the machine's own curve; docs/methods/wires.md 4.5", STANDING_READ}};
const Method alternator_belt_method = {
    "Power at the belt",
    "P_belt = U * I / eta",
    {"energy; efficiency from memory; docs/methods/wires.md 4.5", STANDING_MEMORY}};

Validity
alternator_at(size_t n, const double speed_rad_per_s[static n], const double current_A[static n],
              double engine_rad_per_s, double ratio, double voltage_V, double efficiency,
              AlternatorPoint *out)
{
    *out = (AlternatorPoint){NAN, NAN, NAN};
    if (!is_not_negative(engine_rad_per_s) || !is_positive(ratio) || !is_positive(voltage_V) ||
        !is_share(efficiency))
        return REFUSED;
    for (size_t i = 0; i < n; i++)
        if (!is_not_negative(speed_rad_per_s[i]) || !is_not_negative(current_A[i]) ||
            (i > 0 && !(speed_rad_per_s[i] > speed_rad_per_s[i - 1])))
            return REFUSED;
    double I;
    if (interpolate_linear(n, speed_rad_per_s, current_A, engine_rad_per_s * ratio, &I) != VALID)
        return REFUSED;
    *out = (AlternatorPoint){I, voltage_V * I, voltage_V * I / efficiency};
    return VALID;
}
