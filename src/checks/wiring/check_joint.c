/* What a meter said against what the cable explains. */
#include <math.h>

#include "checks/wiring/workings.h"

static const char *const cautions[] = {"WI4", NULL};

static void run_joint(const Wiring *wiring, Result *result);
const Check check_joint = {{"wiring", "joint",
                            "Does a bad joint hide in a circuit that was measured?", LINE_BURN,
                            cautions},
                           .wired = run_joint};

static void
judge_joint(const Wiring *wiring, const Cable *cable, Result *result)
{
    const MeasuredDrop *read = cable->measured->data;
    double metal_K = cable->ampacity.ambient_K, loop = cable_ohm(cable, metal_K);
    double found = read->drop_V / read->current_A, hidden = found - loop;
    double spread = hypot(0.02 * found, loop_spread_ohm(cable, metal_K)); /* a meter's 2 % */
    Rule limit = wiring_rule(wiring, "joint-resistance", result);
    Working *w = result_working(result, "What was measured against what the cable explains");
    steps_of_loop(w, cable, metal_K);
    working_from_boat(w, "U_read", cable->measured, "voltage");
    working_from_boat(w, "I_read", cable->measured, "current");
    working_reckon(w, "R_more", "more than the cable explains", "U_read / I_read - R", hidden,
                   Q_RESISTANCE, spread, &source_network);
    Finding *f =
        result_judge(result, &check_joint.info, cable->record->id, cable->record->path, LEVEL_FAULT,
                     w, hidden, spread, AT_MOST, limit.value, Q_RESISTANCE, &limit.source);
    finding_text(result, f,
                 hidden > limit.value
                     ? "{about} was measured {value} above what its cable explains: look at its "
                       "terminals; at {0} such a spot makes {1} of heat"
                     : "{about} was measured, and its joints hide {value}",
                 wiring_shown(wiring, result, read->current_A, Q_CURRENT),
                 wiring_shown(wiring, result, hidden * read->current_A * read->current_A, Q_POWER),
                 NULL);
}

static void
run_joint(const Wiring *wiring, Result *result)
{
    for (guint i = 0; i < wiring->cables->len; i++) {
        const Cable *cable = wiring_cable(wiring, i);
        if (cable->measured == NULL || cable->by_reading)
            continue;
        const MeasuredDrop *read = cable->measured->data;
        if (isfinite(read->drop_V / read->current_A) && isfinite(cable_ohm(cable, COLD_METAL_K)))
            judge_joint(wiring, cable, result);
    }
}
