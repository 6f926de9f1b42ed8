/* Slots of a haul-out. Invariant: the chances sum to 1. */
#include "physics/work/haul_slot.h"

#include "physics/domain.h"

const Method haul_slot_method = {"Chance of a slot",
                                 "P = F(slot) - F(before)",
                                 {"derived; docs/methods/work.md 3.5", STANDING_DERIVED}};

/* Chance that the work is done by then, and that it is not. */
static double
beyond(bool lognormal, double mean, double sd, double at)
{
    double k = (at - mean) / sd;
    if (lognormal) {
        double s2 = log1p(sd * sd / (mean * mean));
        k = at > 0.0 ? (log(at / mean) + 0.5 * s2) / sqrt(s2) : -INFINITY;
    }
    return 0.5 * erfc(k / M_SQRT2);
}

static bool
rising(size_t n, const double slot_h[])
{
    for (size_t k = 0; k < n; k++)
        if (!is_number(slot_h[k]) || (k > 0 && slot_h[k] <= slot_h[k - 1]))
            return false;
    return n > 0;
}

Validity
haul_slot(bool lognormal, double mean_h, double sd_h, size_t n, const double slot_h[],
          double ashore_h, double chance[], HaulFinish *finish)
{
    *finish = (HaulFinish){NAN, NAN, NAN};
    if (!is_number(mean_h) || !is_positive(sd_h) || !is_not_negative(ashore_h) ||
        !rising(n, slot_h) || (lognormal && !is_positive(mean_h)))
        return REFUSED;
    double missed = 1.0, first = 0.0, second = 0.0;
    for (size_t k = 0; k < n; k++) {
        double after = beyond(lognormal, mean_h, sd_h, slot_h[k]);
        chance[k] = missed - (k + 1 < n ? after : 0.0);
        missed = after;
        first += chance[k] * slot_h[k];
    }
    for (size_t k = 0; k < n; k++)
        second += chance[k] * (slot_h[k] - first) * (slot_h[k] - first);
    *finish = (HaulFinish){missed, first + ashore_h, sqrt(second)};
    return missed > 0.01 ? EXTRAPOLATED : VALID;
}
