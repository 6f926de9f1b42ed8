/* Sharing of the shore supply. Invariant: what comes in by the lead and from the battery is what load and charger take. */
#include "physics/wiring/shore_share.h"

#include "physics/domain.h"

#define SHEET                                                                                      \
    {                                                                                              \
        "power balance; docs/methods/wires.md 5.2", STANDING_DERIVED                               \
    }
const Method shore_help_method = {"Power the battery must add", "P_h = max(0, P_load - U * I)",
                                  SHEET};
const Method shore_help_current_method = {"Current the battery must add", "I_h = P_h / (eta * U_b)",
                                          SHEET};
const Method shore_charger_method = {"Power left for the charger",
                                     "P_c = max(0, min(U * I - P_load, P_limit))", SHEET};
const Method shore_charge_method = {"Charging current", "I_c = P_c * eta / U_b", SHEET};

Validity
shore_share(const SharedSupply *supply, ShoreShare *out)
{
    const SharedSupply *s = supply;
    *out = (ShoreShare){NAN, NAN, NAN, NAN, NAN};
    if (!is_not_negative(s->shore_A) || !is_positive(s->shore_V) || !is_not_negative(s->load_W) ||
        !is_positive(s->battery_V) || !is_share(s->inverter_efficiency) ||
        !is_share(s->charger_efficiency) ||
        (!isnan(s->charger_W) && !is_not_negative(s->charger_W)))
        return REFUSED;
    double spare = s->shore_V * s->shore_A - s->load_W;
    double help = fmax(0.0, -spare), charger = fmax(0.0, fmin(spare, s->charger_W));
    *out = (ShoreShare){s->load_W - help + charger, help,
                        help / (s->inverter_efficiency * s->battery_V), charger,
                        charger * s->charger_efficiency / s->battery_V};
    return VALID;
}
