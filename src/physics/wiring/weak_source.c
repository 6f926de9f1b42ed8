/* Weak sources. Invariant: breakers are judged by the least fault current that is known to last. */
#include "physics/wiring/weak_source.h"

#include "physics/domain.h"

#define SHEET                                                                                      \
    {                                                                                              \
        "per-unit reactance; docs/methods/wires.md 5.4", STANDING_DERIVED                          \
    }
const Method weak_source_rated_method = {"Rated current", "I_n = S / U", SHEET};
const Method weak_source_fault_method = {"Fault current behind a reactance", "I = I_n / X", SHEET};
const Method weak_source_limited_method = {"Fault current of an inverter", "I = limit * I_n",
                                           SHEET};
const Method weak_source_breaker_method = {
    "Largest breaker that trips at once",
    "I_B = I / m",
    {"IEC 60898-1 (5, 10, 20 times); docs/methods/wires.md 5.4", STANDING_READ}};

static bool
positive_or_none(double x)
{
    return isnan(x) || is_positive(x);
}

Validity
weak_source(const WeakMachine *machine, WeakSource *out)
{
    const WeakMachine *m = machine;
    *out = (WeakSource){NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN};
    if (!is_positive(m->apparent_VA) || !is_positive(m->voltage_V) ||
        !positive_or_none(m->subtransient) || !positive_or_none(m->transient) ||
        !positive_or_none(m->permanent) || !positive_or_none(m->limit))
        return REFUSED;
    double rated = m->apparent_VA / m->voltage_V, limited = rated * m->limit;
    double fault = isnan(limited) ? rated / m->transient : limited;
    *out = (WeakSource){rated,
                        rated / m->subtransient,
                        rated / m->transient,
                        rated / m->permanent,
                        limited,
                        fault / 5.0,
                        fault / 10.0,
                        fault / 20.0};
    return VALID;
}
