/* Time of a charge. Invariant: both parts are at least 0 and end where the charge ends. */
#include "physics/wiring/charging.h"

#include "physics/domain.h"

#define SHEET                                                                                      \
    {                                                                                              \
        "docs/methods/wires.md 4.5 (form derived, parameters from memory)", STANDING_MEMORY        \
    }
const Method charge_bulk_method = {"Bulk charge", "t_b = max(0, min(s_a, s1) - s0) * C / (eta * I)",
                                   SHEET};
const Method charge_tau_method = {"Time constant of absorption",
                                  "tau = (1 - s_a) * C / (eta * min(I, I_acc))", SHEET};
const Method charge_absorption_method = {
    "Absorption", "t_a = max(0, tau * ln((1 - max(s_a, s0)) / (1 - s1)))", SHEET};

Validity
charge_time(const Charge *charge, ChargeTime *out)
{
    const Charge *c = charge;
    *out = (ChargeTime){NAN, NAN, NAN, NAN};
    if (!is_positive(c->capacity_As) || !is_positive(c->current_A) ||
        !is_positive(c->acceptance_A) || !is_share(c->efficiency) ||
        !(c->bulk_to > 0.0 && c->bulk_to < 1.0) || !is_within(c->from, 0.0, c->to) ||
        !(c->to < 1.0))
        return REFUSED;
    double taken = c->capacity_As / c->efficiency;
    out->tau_s = (1.0 - c->bulk_to) * taken / fmin(c->current_A, c->acceptance_A);
    out->bulk_s = fmax(0.0, fmin(c->bulk_to, c->to) - c->from) * taken / c->current_A;
    out->absorption_s =
        fmax(0.0, out->tau_s * log((1.0 - fmax(c->bulk_to, c->from)) / (1.0 - c->to)));
    out->total_s = out->bulk_s + out->absorption_s;
    return VALID;
}
