/* Does enough voltage arrive: lost on the way, least volts of the device, the starter's cables, and loads that collapse. */
#include <glib.h>
#include <math.h>

#include "checks/wiring/voltage_step.h"
#include "checks/wiring/workings.h"

static const char *const cautions[] = {"WI4", NULL};

/* ---- lost on the way ---- */

static void run_loss(const Wiring *wiring, Result *result);
const Check check_voltage_loss = {{"wiring", "voltage-loss",
                                   "Does enough voltage arrive at every device?", LINE_INSURABLE,
                                   cautions},
                                  .wired = run_loss};

static void
wire_levers(Result *result, Finding *f, const Cable *cable)
{
    lever_thicker(result, f, cable);
    finding_lever(result, f, result_text(result, "%s.one-way", cable->record->path), LEVER_LESS,
                  NAN, NAN);
}

/* What is not said to be critical or not is a fault beyond the milder limit, fine within the stricter, else a doubt. */
static Rule
limit_of(const Wiring *wiring, const Place *place, double lost_frac, bool *unsaid, Result *result)
{
    Rule strict = wiring_rule(wiring, "drop-critical", result),
         mild = wiring_rule(wiring, "drop-other", result);
    int use = place->load != NULL ? ((const LoadRole *) place->load->data)->use : LOAD_OTHER;
    *unsaid = use < 0 && lost_frac > strict.value && lost_frac <= mild.value;
    return use == LOAD_CRITICAL || (use < 0 && lost_frac <= mild.value) ? strict : mild;
}

/* Of joints that nobody knows: across each, and what the whole way loses while all of them are sound. */
static const char *
joints_test(const Wiring *wiring, const Cable *cable, Result *result)
{
    const Place *to = wiring_place(wiring, cable->to);
    double amperes = place_current_A(to);
    double copper_ohm = cable_ways(cable) * cable->typed->one_way_m * cable->ohm_per_m;
    Rule bad = wiring_rule(wiring, "joint-resistance", result);
    if (!isfinite(amperes * copper_ohm))
        return "measure the voltage lost between its two ends at a known current, plus to plus and "
               "minus to minus, and note both sums under measured-drop";
    return result_text(
        result,
        "with %s on (%s) measure from the copper of the cable to the stud it is bolted to, at each "
        "joint: more than %s is a bad one; from where it is fed to its terminal, plus to plus and "
        "minus to minus, expect %s in all; note that sum and the current under measured-drop",
        result_name(result, to->record->path), wiring_shown(wiring, result, amperes, Q_CURRENT),
        wiring_shown(wiring, result, bad.value * amperes, Q_VOLTAGE),
        wiring_shown(wiring, result, copper_ohm * amperes, Q_VOLTAGE));
}

static void
judge_loss(const Wiring *wiring, size_t i, const Flow *flow, Result *result)
{
    const Cable *cable = wiring_cable(wiring, i);
    const Place *place = wiring_place(wiring, cable->to);
    double own, spread, device_V = flow_volts(flow, cable->to);
    double before = flow_source_V(wiring, flow, cable->to) - device_V;
    Working *w = working_of_drop(wiring, i, flow, result, &own, &spread);
    double lost = fmax(before, own), nominal = place_load_V(place);
    if (!isfinite(lost) || !isfinite(nominal))
        return;
    bool unsaid;
    Rule limit = limit_of(wiring, place, lost / nominal, &unsaid, result);
    working_given(w, "U_way", "lost before this cable", lost - own, Q_VOLTAGE, 0.0, BASIS_STATED,
                  &source_network);
    working_reckon(w, "U_lost", "lost between source and device", "dU + U_way", lost, Q_VOLTAGE,
                   spread, &source_network);
    Finding *f = result_judge(result, &check_voltage_loss.info, cable->record->id,
                              cable->record->path, LEVEL_FAULT, w, lost, spread, AT_MOST,
                              limit.value * nominal, Q_VOLTAGE, &limit.source);
    finding_text(result, f,
                 "{about} loses {value} on the way to {0} ({situation}); {limit} of {1} is allowed",
                 wiring_shown(wiring, result, device_V, Q_VOLTAGE),
                 wiring_shown(wiring, result, nominal, Q_VOLTAGE), NULL);
    if (unsaid) {
        f->level = LEVEL_DOUBT;
        finding_settle(result, f, result_text(result, "%s.use", place->load->path),
                       "say whether it is critical");
    }
    if (f->level == LEVEL_DOUBT && f->settle_path != NULL &&
        g_str_has_suffix(f->settle_path, ".contacts"))
        finding_settle(result, f, f->settle_path, joints_test(wiring, cable, result));
    finding_situation(result, f, flow_words(result, flow));
    wire_levers(result, f, cable);
    lever_step_up(wiring, cable, f, result);
    lever_higher_voltage(wiring, cable->to, f, result);
}

/* Length and area are there, and no table goes so far. */
static void
say_odd_size(const Wiring *wiring, const Cable *cable, Result *result)
{
    Finding *f = result_say(result, &check_voltage_loss.info, cable->record->id,
                            cable->record->path, LEVEL_DOUBT, NULL);
    finding_text(result, f,
                 "What {about} loses is not known: {0} is beyond the table of conductors",
                 wiring_shown(wiring, result, cable->typed->area_m2, Q_SMALL_AREA), NULL);
    finding_settle(result, f, result_text(result, "%s.area", cable->record->path),
                   "write it as the cables that lie side by side");
}

/* Which two points, which load on, what to expect: of a cable that is just thick enough. */
static const char *
unknown_test(const Wiring *wiring, const Cable *cable, Result *result)
{
    const Place *to = wiring_place(wiring, cable->to);
    double amperes = place_current_A(to);
    Rule most = wiring_rule(wiring, "drop-other", result);
    if (!isfinite(amperes * place_load_V(to)))
        return "read the cable, or measure the voltage lost at a known current and note it under "
               "measured-drop";
    return result_text(
        result,
        "read the cable; or with %s on (%s) measure from where it is fed to its terminal, plus to "
        "plus and minus to minus: together more than %s is too much; note both sums under "
        "measured-drop",
        result_name(result, to->record->path), wiring_shown(wiring, result, amperes, Q_CURRENT),
        wiring_shown(wiring, result, most.value * place_load_V(to), Q_VOLTAGE));
}

static void
say_joints(const Wiring *wiring, const Cable *cable, Result *result)
{
    Finding *f = result_say(result, &check_voltage_loss.info, cable->record->id,
                            cable->record->path, LEVEL_DOUBT, NULL);
    finding_text(result, f, "What the joints and switches of {about} lose is not known", NULL);
    finding_settle(result, f, result_text(result, "%s.contacts", cable->record->path),
                   joints_test(wiring, cable, result));
}

static void
say_unknown(const Wiring *wiring, const Cable *cable, Result *result)
{
    bool area = isnan(cable->typed->area_m2);
    Finding *f = result_say(result, &check_voltage_loss.info, cable->record->id,
                            cable->record->path, LEVEL_DOUBT, NULL);
    finding_text(result, f,
                 area ? "How thick the conductor of {about} is, is not known"
                      : "How long {about} is, is not known",
                 NULL);
    finding_settle(result, f,
                   result_text(result, "%s.%s", cable->record->path, area ? "area" : "one-way"),
                   area ? unknown_test(wiring, cable, result) : "measure it along its way");
}

static void
run_loss(const Wiring *wiring, Result *result)
{
    for (guint i = 0; i < wiring->cables->len; i++) {
        const Cable *cable = wiring_cable(wiring, i);
        const Place *place = wiring_place(wiring, cable->to);
        double amperes;
        if (isnan(cable_ohm(cable, COLD_METAL_K))) {
            if (isfinite(cable->ohm_per_m * cable->typed->one_way_m))
                say_joints(wiring, cable, result);
            else if (isfinite(cable->typed->area_m2) && isfinite(cable->typed->one_way_m))
                say_odd_size(wiring, cable, result);
            else
                say_unknown(wiring, cable, result);
            continue;
        }
        const Flow *flow = cable_worst(wiring, i, &amperes);
        if (flow != NULL && !cable->cranks && isfinite(place_current_A(place)) &&
            cable->typed->wires != WIRES_NEGATIVE)
            judge_loss(wiring, i, flow, result);
    }
}

/* ---- least volts ---- */

/* Out and back must often grow together. */
static void
levers_of_way(const Wiring *wiring, const Place *place, Finding *f, Result *result)
{
    for (guint i = 0; i < wiring->cables->len; i++) {
        const Cable *cable = wiring_cable(wiring, i);
        if (wiring_place(wiring, cable->to) == place || wiring_place(wiring, cable->from) == place)
            lever_thicker(result, f, cable);
    }
}

static void run_least(const Wiring *wiring, Result *result);
const Check check_least_volts = {{"wiring", "least-volts",
                                  "Does every device get the voltage it needs to work?",
                                  LINE_INSURABLE, cautions},
                                 .wired = run_least};

static void
run_least(const Wiring *wiring, Result *result)
{
    static const Source maker = {"the device's own least voltage (items.ID.load.least)",
                                 STANDING_OWNER};
    for (guint i = 0; i < wiring->places->len; i++) {
        const Place *place = wiring_place(wiring, i);
        const Flow *worst = NULL;
        double least = place->load != NULL ? ((const LoadRole *) place->load->data)->least_V : NAN;
        for (guint k = 0; isfinite(least) && k < wiring->flows->len; k++) {
            const Flow *flow = wiring_flow(wiring, k);
            if (flow->outcome == NETWORK_SOLVED && flow->running[i] && !flow->collapsed[i] &&
                (worst == NULL || flow_volts(flow, i) < flow_volts(worst, i)))
                worst = flow;
        }
        if (worst == NULL || flow_volts(worst, i) < 0.1 * place->nominal_V)
            continue; /* nothing reaches it: check_supply says so */
        Working *w = result_working(result, "Voltage at the device");
        working_given(w, "U", "voltage between its two terminals", flow_volts(worst, i), Q_VOLTAGE,
                      0.02 * least, BASIS_STATED, &source_network);
        Finding *f = result_judge(result, &check_least_volts.info, place->id, place->record->path,
                                  LEVEL_FAULT, w, flow_volts(worst, i), 0.02 * least, AT_LEAST,
                                  least, Q_VOLTAGE, &maker);
        finding_text(result, f, "{about} gets {value} ({situation}) and needs {limit}", NULL);
        finding_situation(result, f, flow_words(result, worst));
        levers_of_way(wiring, place, f, result);
        if (cable_to(wiring, place) != NULL)
            lever_step_up(wiring, cable_to(wiring, place), f, result);
        lever_higher_voltage(wiring, i, f, result);
        g_autofree char *lead = g_strconcat("wiring.starter-lead.", place->id, NULL);
        const Finding *thin = result_finding_find(result, lead);
        if (thin != NULL && thin->level <= LEVEL_FAULT && f->level <= LEVEL_DOUBT)
            finding_cause(result, f, lead);
    }
}

/* ---- the starter's cables ---- */

static void run_starter(const Wiring *wiring, Result *result);
const Check check_starter_lead = {
    {"wiring", "starter-lead", "Are the starter's cables thick enough?", LINE_INSURABLE, cautions},
    .wired = run_starter};

static void
judge_starter(const Wiring *wiring, const Place *place, Result *result)
{
    Working *w = result_working(result, "Resistance between battery and starter, at 20 degC");
    double loop, spread;
    if (steps_of_starter_loop(wiring, place, w, &loop, &spread, result) == NULL)
        return;
    Rule limit = wiring_rule(
        wiring, place->nominal_V > 18.0 ? "starter-loop-24-heavy" : "starter-loop-12-heavy",
        result);
    Finding *f =
        result_judge(result, &check_starter_lead.info, place->id, place->record->path, LEVEL_FAULT,
                     w, loop, spread, AT_MOST, limit.value, Q_RESISTANCE, &limit.source);
    finding_text(result, f,
                 "The cables between battery and {about} have {value}; a diesel's starter allows "
                 "{limit}",
                 NULL);
    levers_of_way(wiring, place, f, result);
}

static void
run_starter(const Wiring *wiring, Result *result)
{
    for (guint i = 0; i < wiring->places->len; i++)
        if (place_is_starter(wiring_place(wiring, i)) && wiring_place(wiring, i)->direct)
            judge_starter(wiring, wiring_place(wiring, i), result);
}

/* ---- what gets nothing ---- */

static void run_supply(const Wiring *wiring, Result *result);
const Check check_supply = {{"wiring", "supply",
                             "Does everything that is meant to run get current?", LINE_INSURABLE,
                             cautions},
                            .wired = run_supply};

/* A source of which too little is known, or NULL. */
static const Place *
unknown_source(const Wiring *wiring)
{
    for (guint i = 0; i < wiring->places->len; i++)
        if (!place_source_known(wiring_place(wiring, i)))
            return wiring_place(wiring, i);
    return NULL;
}

static void
say_source(const Place *source, const Place *place, Result *result)
{
    bool battery = source->battery != NULL;
    Finding *f =
        result_say(result, &check_supply.info, place->id, place->record->path, LEVEL_DOUBT, NULL);
    finding_text(result, f,
                 "Whether {about} gets current is not known: too little is said of what feeds it",
                 NULL);
    finding_settle(
        result, f,
        result_text(result, "%s.voltage", battery ? source->battery->path : source->source->path),
        battery ? "read voltage and capacity off its label"
                : "look up the voltage it holds and the most it gives");
}

/* A cable of which too little is known stands between the place and what feeds: that cable is a finding of its own. */
static bool
behind_unknown(const Wiring *wiring, size_t place)
{
    g_autofree bool *near = g_new0(bool, wiring->places->len + 1);
    near[place] = true;
    bool found = false;
    for (bool changed = true; changed && !found;) {
        changed = false;
        for (guint i = 0; i < wiring->cables->len; i++) {
            const Cable *cable = wiring_cable(wiring, i);
            bool unknown = isnan(cable_ohm(cable, COLD_METAL_K));
            found |= unknown && (near[cable->from] || near[cable->to]);
            if (unknown || near[cable->from] == near[cable->to])
                continue;
            near[cable->from] = near[cable->to] = changed = true;
        }
        for (guint i = 0; i < wiring->places->len; i++) {
            size_t feeds = wiring_place(wiring, i)->fed_by;
            if (feeds == NO_PLACE || near[feeds] == near[i])
                continue;
            near[feeds] = near[i] = changed = true;
        }
    }
    return found;
}

static void
judge_place(const Wiring *wiring, const Flow *flow, const Place *place, size_t i, Result *result)
{
    bool dead = flow_volts(flow, i) < 0.1 * place_load_V(place);
    if (!flow->collapsed[i] && (!dead || behind_unknown(wiring, i)))
        return;
    g_autofree char *id = g_strconcat("wiring.supply.", place->id, NULL);
    if (result_finding_find(result, id) != NULL)
        return;
    const Place *source = unknown_source(wiring);
    if (!flow->collapsed[i] && source != NULL) {
        say_source(source, place, result);
        return;
    }
    Finding *f =
        result_say(result, &check_supply.info, place->id, place->record->path, LEVEL_FAULT, NULL);
    g_autofree char *open = g_strconcat("wiring.hull-return.", place->id, NULL);
    if (result_finding_find(result, open) != NULL)
        finding_cause(result, f, open);
    finding_text(result, f,
                 flow->collapsed[i]
                     ? "{about} asks for more than its source and cables can give: the voltage "
                       "falls together and it stops ({situation})"
                     : "{about} is off: nothing that feeds reaches it, out and back ({situation})",
                 NULL);
    finding_situation(result, f, flow_words(result, flow));
    if (flow->collapsed[i])
        lever_higher_voltage(wiring, i, f, result);
}

static bool
has_cable(const Wiring *wiring, size_t place)
{
    for (guint i = 0; i < wiring->cables->len; i++)
        if (wiring_cable(wiring, i)->from == place || wiring_cable(wiring, i)->to == place)
            return true;
    return false;
}

/* Cables that lead to nothing that feeds, in no situation: more likely not written down yet than laid so. */
static void
say_island(const Place *place, Result *result)
{
    g_autofree char *id = g_strconcat("wiring.supply.", place->id, NULL);
    if (result_finding_find(result, id) != NULL)
        return;
    Finding *f =
        result_say(result, &check_supply.info, place->id, place->record->path, LEVEL_DOUBT, NULL);
    finding_text(result, f, "The cables of {about} lead to nothing that feeds", NULL);
    finding_settle(result, f, "circuits",
                   "follow them to where they come from and write that circuit down");
}

static void
run_supply(const Wiring *wiring, Result *result)
{
    for (guint k = 0; k < wiring->flows->len; k++) {
        const Flow *flow = wiring_flow(wiring, k);
        if (flow->outcome == NETWORK_BAD || flow->outcome == NETWORK_CONTRADICTS) {
            if (result_finding_find(result, "wiring.supply") != NULL)
                continue;
            Finding *f =
                result_say(result, &check_supply.info, NULL, "circuits", LEVEL_DOUBT, NULL);
            finding_text(result, f,
                         "What flows cannot be found ({situation}): two sources are joined, or a "
                         "figure lies outside all reason",
                         NULL);
            finding_situation(result, f, flow_words(result, flow));
            continue;
        }
        for (guint i = 0; i < wiring->places->len; i++) {
            const Place *place = wiring_place(wiring, i);
            bool judged = flow->inverts_W[i] > 0.0 ||
                          (flow->running[i] && !place->mains && isfinite(place_current_A(place)) &&
                           place_load_V(place) < 60.0);
            if (judged)
                judge_place(wiring, flow, place, i, result);
        }
    }
    for (guint i = 0; i < wiring->places->len; i++) {
        const Place *place = wiring_place(wiring, i);
        if ((place->load != NULL || place->heater != NULL) && !place->direct && !place->mains &&
            has_cable(wiring, i))
            say_island(place, result);
    }
}
