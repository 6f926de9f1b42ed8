/* A thruster while it runs: how much of its thrust the voltage leaves, what its bank falls to, whether its fuse lets it run.
 * Invariant: its cable's warmth is check_ampacity's, what others get meanwhile is check_least_volts' and check_motor_start's. */
#include <math.h>

#include "checks/wiring/device.h"
#include "checks/wiring/voltage_step.h"
#include "checks/wiring/workings.h"
#include "physics/wiring/pm_thruster.h"

static const char *const cautions[] = {"HA1", "WI4", NULL};

/* The flow in which the voltage between its terminals is least, or NULL: it runs in none. */
static const Flow *
weakest_flow(const Wiring *wiring, size_t place)
{
    const Flow *weakest = NULL;
    for (guint k = 0; k < wiring->flows->len; k++) {
        const Flow *flow = wiring_flow(wiring, k);
        bool runs = flow->outcome == NETWORK_SOLVED && flow->running[place] &&
                    !flow->collapsed[place] &&
                    flow_volts(flow, place) > 0.1 * place_load_V(wiring_place(wiring, place));
        if (runs && (weakest == NULL || flow_volts(flow, place) < flow_volts(weakest, place)))
            weakest = flow;
    }
    return weakest;
}

static void
each_thruster(const Wiring *wiring, Result *result,
              void (*judge)(const Wiring *, size_t place, const Flow *, Result *))
{
    for (guint i = 0; i < wiring->places->len; i++) {
        const Place *place = wiring_place(wiring, i);
        const Flow *flow =
            place_is_thruster(place) && place->direct ? weakest_flow(wiring, i) : NULL;
        if (flow != NULL && isfinite(place_load_V(place)))
            judge(wiring, i, flow, result);
    }
}

/* ---- thrust ---- */

static void run_thrust(const Wiring *wiring, Result *result);
const Check check_thrust = {
    {"wiring", "thrust", "Does each thruster get the voltage to push?", LINE_INSURABLE, cautions},
    .wired = run_thrust};

static void
judge_thrust(const Wiring *wiring, size_t i, const Flow *flow, Result *result)
{
    const Place *place = wiring_place(wiring, i);
    double share, spread;
    Working *w = working_of_thrust(wiring, i, flow, result, &share, &spread);
    Rule least = wiring_rule(wiring, "thrust-least", result);
    Finding *f =
        result_judge(result, &check_thrust.info, place->id, place->record->path, LEVEL_FAULT, w,
                     share, spread, AT_LEAST, least.value, Q_FRACTION, &least.source);
    finding_text(result, f,
                 "{about} pushes with {value} of its thrust ({situation}): {0} of its {1} reach "
                 "it; {limit} is the least to count on",
                 wiring_shown(wiring, result, flow_volts(flow, i), Q_VOLTAGE),
                 wiring_shown(wiring, result, place_load_V(place), Q_VOLTAGE), NULL);
    finding_situation(result, f, flow_words(result, flow));
    const Cable *cable = cable_to(wiring, place);
    if (cable == NULL)
        return;
    lever_thicker(result, f, cable);
    lever_higher_voltage(wiring, i, f, result);
    g_autofree char *loss = g_strconcat("wiring.voltage-loss.", cable->record->id, NULL);
    const Finding *lost = result_finding_find(result, loss);
    if (lost != NULL && lost->level <= LEVEL_FAULT && f->level <= LEVEL_DOUBT)
        finding_cause(result, f, loss);
}

static void
run_thrust(const Wiring *wiring, Result *result)
{
    each_thruster(wiring, result, judge_thrust);
}

/* ---- its bank ---- */

static void run_bank(const Wiring *wiring, Result *result);
const Check check_thruster_bank = {{"wiring", "thruster-bank",
                                    "Is the bank large enough for its thruster?", LINE_INSURABLE,
                                    cautions},
                                   .wired = run_bank};

/* The bank that gives most while it runs. */
static size_t
hardest_bank(const Wiring *wiring, const Flow *flow)
{
    size_t hardest = NO_PLACE;
    double most = 0.0;
    for (guint i = 0; i < wiring->places->len; i++) {
        const Place *place = wiring_place(wiring, i);
        if (place->battery == NULL || place->source == NULL)
            continue;
        double sag = battery_open_V(place->battery->data, false) - flow_volts(flow, i);
        double amperes = sag / battery_ohm(place->battery->data, false);
        if (flow_volts(flow, i) > 0.1 * place->nominal_V && amperes > most) {
            most = amperes;
            hardest = i;
        }
    }
    return hardest;
}

static void
judge_bank(const Wiring *wiring, size_t i, const Flow *flow, Result *result)
{
    size_t at = hardest_bank(wiring, flow);
    if (at == NO_PLACE)
        return;
    const Place *place = wiring_place(wiring, i), *bank = wiring_place(wiring, at);
    const BatteryRole *battery = bank->battery->data;
    Rule least = wiring_rule(wiring, "bank-running-least", result);
    double open_V = battery_open_V(battery, false), ohm = battery_ohm(battery, false),
           volts = flow_volts(flow, at), spread = 0.1 * (open_V - volts);
    bool reckoned = isnan(battery->resistance_ohm);
    Working *w = result_working(result, "What the bank falls to while the thruster runs");
    working_given(w, "U_0", "its voltage at rest, at its charge", open_V, Q_VOLTAGE, 0.0,
                  BASIS_STATED, NULL);
    working_given(w, "R_i", "its inner resistance", ohm, Q_RESISTANCE, 0.1 * ohm,
                  reckoned ? BASIS_ASSUMED : BASIS_STATED, NULL);
    working_path_is(w, result_text(result, "%s.resistance", bank->battery->path));
    working_given(w, "I", "current it gives", (open_V - volts) / ohm, Q_CURRENT, 0.0, BASIS_STATED,
                  &source_network);
    working_reckon(w, "U", "at its terminals", "U_0 - R_i * I", volts, Q_VOLTAGE, spread,
                   &source_network);
    Finding *f = result_judge(result, &check_thruster_bank.info, place->id, place->record->path,
                              LEVEL_FAULT, w, volts, spread, AT_LEAST,
                              least.value * battery->voltage_V, Q_VOLTAGE, &least.source);
    finding_text(result, f,
                 "While {about} runs ({situation}), {0} falls to {value} at its own terminals; "
                 "below {limit} electronics aboard begin to drop out",
                 result_name(result, bank->record->path), NULL);
    finding_situation(result, f, flow_words(result, flow));
}

static void
run_bank(const Wiring *wiring, Result *result)
{
    each_thruster(wiring, result, judge_bank);
}

/* ---- as long as it should ---- */

static void run_time(const Wiring *wiring, Result *result);
const Check check_thruster_run = {{"wiring", "thruster-run",
                                   "Does its fuse let each thruster run as long as it may?",
                                   LINE_INSURABLE, cautions},
                                  .wired = run_time};

static void
say_no_time(const Place *place, Result *result)
{
    Finding *f = result_say(result, &check_thruster_run.info, place->id, place->record->path,
                            LEVEL_DOUBT, NULL);
    finding_text(result, f,
                 "How long {about} runs at a stretch is not known: its cables are judged as if it "
                 "ran for ever",
                 NULL);
    finding_settle(result, f, result_text(result, "%s.runs-for", place->load->path),
                   "read the minutes on its plate (S2), or in its manual");
}

static void
judge_time(const Wiring *wiring, size_t i, const Flow *flow, Result *result)
{
    const Place *place = wiring_place(wiring, i);
    const Cable *cable = cable_to(wiring, place);
    const Record *protect = cable != NULL ? cable_protection(wiring, cable) : NULL;
    double run_s = place_runs_for_s(place), amperes = place_current_A(place);
    double now_A =
        amperes * pm_thruster_share(flow_volts(flow, i) / place_load_V(place), THRUSTER_ARMATURE);
    FuseTime time;
    Source source;
    if (!isfinite(run_s)) {
        say_no_time(place, result);
        return;
    }
    if (protect == NULL ||
        !device_time(wiring->catalog, protect->data, true, amperes, &time, &source) ||
        !isfinite(time.fastest_s) || time.fastest_s >= run_s)
        return; /* a recalled time is never shown to be met */
    bool surely = isfinite(time.slowest_s) && time.slowest_s < run_s;
    Finding *f = result_say(result, &check_thruster_run.info, place->id, place->record->path,
                            surely ? LEVEL_FAULT : LEVEL_DOUBT, NULL);
    finding_rests_on(result, f, &source);
    finding_text(result, f,
                 surely ? "{about} may run {0} and its fuse is through after {1} at {2}: it stops "
                          "in the middle of the lock"
                        : "{about} may run {0} and its fuse may be through after {1} at {2} ({3} "
                          "on what reaches it now)",
                 wiring_shown(wiring, result, run_s, Q_TIME),
                 wiring_shown(wiring, result, surely ? time.slowest_s : time.fastest_s, Q_TIME),
                 wiring_shown(wiring, result, amperes, Q_CURRENT),
                 wiring_shown(wiring, result, now_A, Q_CURRENT), NULL);
    finding_settle(result, f, protect->path,
                   "compare the time-current sheet of the fuse with what the thruster draws");
}

static void
run_time(const Wiring *wiring, Result *result)
{
    each_thruster(wiring, result, judge_time);
}
