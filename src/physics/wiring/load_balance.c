/* Load balance. Invariant: every load counts once in the energy and once in the peak. */
#include "physics/wiring/load_balance.h"

#include "physics/domain.h"

#define SHEET                                                                                      \
    {                                                                                              \
        "sums; docs/methods/wires.md 6", STANDING_DERIVED                                          \
    }
const Method load_energy_method = {"Energy of each load", "E = P * f * t / eta", SHEET};
const Method load_charge_method = {"Charge drawn", "Q = E / U", SHEET};
const Method load_capacity_method = {"Battery needed", "C = Q * periods / usable", SHEET};
const Method load_peak_method = {"Peak on the source",
                                 "P = continuous + 0.35 * intermittent + start",
                                 {"J. Marine Engineering Society of Japan 25(4), 1990 (0.35); "
                                  "docs/methods/wires.md 6",
                                  STANDING_READ}};

static const double together = 0.35; /* of intermittent loads, at once */

static bool
load_usable(const DayLoad *l, double period)
{
    return is_not_negative(l->power_W) && is_within(l->time_s, 0.0, period * (1.0 + 1e-12)) &&
           is_within(l->factor, 0.0, 1.0) && is_share(l->efficiency) && is_not_negative(l->start_W);
}

Validity
load_balance(size_t n, const DayLoad load[static n], const DaySupply *supply, LoadBalance *out)
{
    const DaySupply *s = supply;
    *out = (LoadBalance){NAN, NAN, NAN, NAN, NAN};
    if (!is_positive(s->system_V) || !is_not_negative(s->standby_A) || !is_positive(s->period_s) ||
        !is_share(s->usable) || !is_positive(s->periods))
        return REFUSED;
    double energy = s->system_V * s->standby_A * s->period_s, peak = 0.0, start = 0.0;
    for (size_t i = 0; i < n; i++) {
        const DayLoad *l = &load[i];
        if (!load_usable(l, s->period_s))
            return REFUSED;
        energy += l->power_W * l->factor * l->time_s / l->efficiency;
        peak += l->intermittent ? together * l->power_W : l->power_W * l->factor;
        start = fmax(start, l->start_W);
    }
    double charge = energy / s->system_V;
    *out = (LoadBalance){energy, charge, energy / s->period_s, charge * s->periods / s->usable,
                         peak + start};
    return VALID;
}
