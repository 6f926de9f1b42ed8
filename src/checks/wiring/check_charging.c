/* What charges a battery: too much or too little current, the wrong voltage, and an alternator on lithium. */
#include <math.h>

#include "checks/derive/masses.h"
#include "checks/wiring/workings.h"
#include "physics/wiring/charging.h"

static const char *const cautions[] = {"PO1", "WI4", NULL};
static const char *const lithium_cautions[] = {"PO2", "WI4", NULL};

static void run_current(const Wiring *wiring, Result *result);
const Check check_charge_current = {{"wiring", "charge-current",
                                     "Does each charger fit the size of its battery?",
                                     LINE_INSURABLE, cautions},
                                    .wired = run_current};

static const char *const chemistry_words[] = {[BATTERY_FLOODED] = "flooded",
                                              [BATTERY_AGM] = "agm",
                                              [BATTERY_GEL] = "gel",
                                              [BATTERY_LFP] = "lfp"};

static const char *
limit_id(Result *result, const char *what, const Record *battery)
{
    return result_text(result, "%s-%s", what,
                       chemistry_words[((const BatteryRole *) battery->data)->chemistry]);
}

/* ---- which source charges which battery ---- */

static bool
can_charge(const SourceSection *source)
{
    return source->kind == SOURCE_CHARGER || source->kind == SOURCE_INVERTER_CHARGER ||
           source->kind == SOURCE_ALTERNATOR || source->kind == SOURCE_SOLAR;
}

static bool
from_mains(const SourceSection *source)
{
    return source->kind == SOURCE_CHARGER || source->kind == SOURCE_INVERTER_CHARGER;
}

static bool
source_aboard(const Wiring *wiring, const SourceSection *source)
{
    const Record *item =
        source->of.id != NULL ? boat_find(wiring->boat, &section_items, source->of.id) : NULL;
    return item == NULL || item_aboard(item->data, wiring->stage);
}

/* The one battery that the cables of a source lead to; NULL: none, or several. */
static const Record *
battery_at_the_end(const Wiring *wiring, const Record *source)
{
    guint n = wiring->places->len;
    g_autofree bool *reached = g_new0(bool, n + 1);
    const Record *found = NULL;
    for (guint i = 0; i < n; i++)
        reached[i] = wiring_place(wiring, i)->source == source;
    while (wiring_spread(wiring, reached))
        continue;
    for (guint i = 0; i < n; i++) {
        const Record *battery = reached[i] ? wiring_place(wiring, i)->battery : NULL;
        if (battery != NULL && found != NULL)
            return NULL;
        found = battery != NULL ? battery : found;
    }
    return found;
}

static bool
charges(const Wiring *wiring, const Record *source, const Record *battery)
{
    const SourceSection *typed = source->data;
    if (!can_charge(typed) || !source_aboard(wiring, typed))
        return false;
    for (size_t i = 0; i < typed->charges.n; i++)
        if (g_strcmp0(typed->charges.id[i], battery->parent->id) == 0)
            return true;
    return typed->charges.n == 0 && battery_at_the_end(wiring, source) == battery;
}

/* What it charges with; an inverter's own current is that of its mains side. */
static double
charging_A(const SourceSection *source)
{
    bool own = isfinite(source->charging_A) || source->kind == SOURCE_INVERTER_CHARGER;
    return own ? source->charging_A : source->current_A;
}

static const char *
current_key(const SourceSection *source)
{
    return isfinite(source->charging_A) ? "charging-current" : "current";
}

/* What lies within a band that is only recalled, put together into one question. */
typedef struct {
    GString *names;
    const char *settle_id; /* of the first */
} Recalled;

typedef void (*JudgePair)(const Wiring *, const Record *source, const Record *battery, Recalled *,
                          Result *);

/* Runs over every battery aboard and each source that charges it; what is only recalled is one finding. */
static void
each_pair(const Wiring *wiring, Result *result, const Check *check, JudgePair judge)
{
    size_t n, m;
    const Record *const *batteries = boat_records(wiring->boat, &section_battery, &n);
    const Record *const *sources = boat_records(wiring->boat, &section_sources, &m);
    g_autoptr(GString) names = g_string_new(NULL);
    Recalled recalled = {names, NULL};
    for (size_t i = 0; i < n; i++)
        for (size_t k = 0; item_aboard(batteries[i]->parent->data, wiring->stage) && k < m; k++)
            if (charges(wiring, sources[k], batteries[i]))
                judge(wiring, sources[k], batteries[i], &recalled, result);
    if (recalled.settle_id == NULL)
        return;
    Finding *f = result_say(result, &check->info, NULL, "sources", LEVEL_DOUBT, NULL);
    finding_text(result, f,
                 check == &check_charge_current
                     ? "The current of {0} fits by figures that are only recalled"
                     : "The voltage of {0} fits by figures that are only recalled",
                 names->str, NULL);
    finding_settle(result, f, result_text(result, "limits.%s", recalled.settle_id),
                   "read it in the sheet of the battery's maker and note it");
}

/* Whether a value within its band is put off to that one question. */
static bool
put_off(Recalled *recalled, const Record *source, const Rule *most, const char *most_id,
        Result *result)
{
    if (most->source.standing != STANDING_MEMORY)
        return false;
    if (recalled->settle_id == NULL)
        recalled->settle_id = most_id;
    g_string_append_printf(recalled->names, "%s%s", recalled->names->len > 0 ? ", " : "",
                           result_name(result, source->path));
    return true;
}

static const char *
pair_id(Result *result, const Record *source, const Record *battery)
{
    const SourceSection *typed = source->data;
    return typed->charges.n > 1 ? result_text(result, "%s-%s", source->id, battery->parent->id)
                                : source->id;
}

/* ---- current ---- */

/* Hours from half to nearly full; NAN: not known. */
static double
hours_to_full(const BatteryRole *battery, double amperes)
{
    bool lithium = battery->chemistry == BATTERY_LFP;
    Charge charge = {.capacity_As = battery->capacity_As,
                     .current_A = amperes,
                     .acceptance_A = fmin(amperes, 0.2 * battery->capacity_As / 3600.0),
                     .efficiency = lithium ? 0.98 : 0.9,
                     .from = 0.5,
                     .to = 0.98,
                     .bulk_to = lithium ? 0.95 : 0.8};
    ChargeTime time;
    return charge_time(&charge, &time) == REFUSED ? NAN : time.total_s / 3600.0;
}

static void
judge_current(const Wiring *wiring, const Record *source, const Record *role, Recalled *recalled,
              Result *result)
{
    const SourceSection *typed = source->data;
    const BatteryRole *battery = role->data;
    double amperes = charging_A(typed), rated_A = battery->capacity_As / 3600.0;
    if (!from_mains(typed) || !isfinite(amperes * rated_A))
        return;
    const char *least_id = limit_id(result, "charge-least", role);
    const char *most_id = limit_id(result, "charge-most", role);
    Rule least = wiring_rule(wiring, least_id, result), most = wiring_rule(wiring, most_id, result);
    bool small = amperes < least.value * rated_A;
    Rule rule = small ? least : most;
    if (!small && amperes <= most.value * rated_A &&
        put_off(recalled, source, &most, most_id, result))
        return;
    Working *w = result_working(result, "Charging current against the size of the battery");
    working_from_boat(w, "C", role, "capacity");
    working_from_boat(w, "I", source, current_key(typed));
    working_reckon(w, "share", "of its capacity in an hour", "3600 * I / C", amperes / rated_A,
                   Q_FRACTION, 0.0, NULL);
    Finding *f = result_judge(result, &check_charge_current.info, pair_id(result, source, role),
                              source->path, LEVEL_FAULT, w, amperes / rated_A, 0.0,
                              small ? AT_LEAST : AT_MOST, rule.value, Q_FRACTION, &rule.source);
    double hours = hours_to_full(battery, amperes);
    finding_text(result, f,
                 small
                     ? "{about} charges {0} with {value} of its capacity an hour; {limit} is "
                       "usual at least: from half to full takes {1} h"
                     : "{about} charges {0} with {value} of its capacity an hour, {limit} at most: "
                       "more makes it gas and warm",
                 result_name(result, role->parent->path), result_text(result, "%.2g", hours), NULL);
    finding_lever(result, f, result_text(result, "%s.%s", source->path, current_key(typed)),
                  small ? LEVER_MORE : LEVER_LESS, NAN, NAN);
}

static void
run_current(const Wiring *wiring, Result *result)
{
    each_pair(wiring, result, &check_charge_current, judge_current);
}

/* ---- voltage ---- */

static void run_voltage(const Wiring *wiring, Result *result);
const Check check_charge_voltage = {{"wiring", "charge-voltage",
                                     "Is each battery charged at its own voltage?", LINE_INSURABLE,
                                     cautions},
                                    .wired = run_voltage};

static void
judge_voltage(const Wiring *wiring, const Record *source, const Record *role, Recalled *recalled,
              Result *result)
{
    const SourceSection *typed = source->data;
    const BatteryRole *battery = role->data;
    if (!isfinite(typed->charging_V * battery->voltage_V))
        return;
    const char *least_id = limit_id(result, "absorption-least", role);
    const char *most_id = limit_id(result, "absorption-most", role);
    Rule least = wiring_rule(wiring, least_id, result), most = wiring_rule(wiring, most_id, result);
    double scale = round(battery->voltage_V / 2.0) / 6.0; /* in batteries of 12 V */
    bool low = typed->charging_V < least.value * scale;
    Rule rule = low ? least : most;
    if (!low && typed->charging_V <= most.value * scale &&
        put_off(recalled, source, &most, most_id, result))
        return;
    Working *w = result_working(result, "Charging voltage");
    working_from_boat(w, "U", source, "charging-voltage");
    Finding *f = result_judge(
        result, &check_charge_voltage.info, pair_id(result, source, role), source->path,
        LEVEL_FAULT, w, typed->charging_V, record_state(source, "charging-voltage")->spread,
        low ? AT_LEAST : AT_MOST, rule.value * scale, Q_VOLTAGE, &rule.source);
    finding_text(
        result, f,
        low ? "{about} charges {0} to {value}; it wants {limit} at least and never gets "
              "full: it loses capacity for good"
            : "{about} charges {0} to {value}; it bears {limit} at most: more boils it dry "
              "or opens its guard",
        result_name(result, role->parent->path), NULL);
    finding_lever(result, f, result_text(result, "%s.charging-voltage", source->path),
                  low ? LEVER_MORE : LEVER_LESS, NAN, NAN);
}

static void
run_voltage(const Wiring *wiring, Result *result)
{
    each_pair(wiring, result, &check_charge_voltage, judge_voltage);
}

/* ---- an alternator on lithium ---- */

static void run_alternator(const Wiring *wiring, Result *result);
const Check check_lithium_alternator = {{"wiring", "lithium-alternator",
                                         "Does the alternator survive a lithium battery?",
                                         LINE_BURN, lithium_cautions},
                                        .wired = run_alternator};

static bool
charges_lead_too(const Wiring *wiring, const Record *source)
{
    size_t n;
    const Record *const *batteries = boat_records(wiring->boat, &section_battery, &n);
    for (size_t i = 0; i < n; i++)
        if (((const BatteryRole *) batteries[i]->data)->chemistry != BATTERY_LFP &&
            item_aboard(batteries[i]->parent->data, wiring->stage) &&
            charges(wiring, source, batteries[i]))
            return true;
    return false;
}

/* Two ways to lose it: it gives all it can for hours, and the guard takes its load away at once. */
static void
judge_alternator(const Wiring *wiring, const Record *source, const Record *role, Recalled *recalled,
                 Result *result)
{
    const SourceSection *typed = source->data;
    const BatteryRole *battery = role->data;
    (void) recalled;
    if (typed->kind != SOURCE_ALTERNATOR || battery->chemistry != BATTERY_LFP)
        return;
    bool behind = typed->regulator == REGULATOR_CONVERTER;
    bool hot = typed->regulator == REGULATOR_OWN;
    bool dump =
        !behind && !charges_lead_too(wiring, source) && battery->guard == CELL_GUARD_DISCONNECTS;
    bool unsaid = typed->regulator < 0 || (!behind && battery->guard < 0);
    Level level = hot || dump ? LEVEL_FAULT : unsaid ? LEVEL_DOUBT : LEVEL_FINE;
    Finding *f = result_say(result, &check_lithium_alternator.info, pair_id(result, source, role),
                            source->path, level, NULL);
    finding_text(
        result, f,
        hot && dump ? "{about} charges {0} without a limit: it gives all it can for hours and gets "
                      "too hot, and when the battery's guard opens its voltage shoots up and kills "
                      "its diodes and what else is on"
        : hot    ? "{about} charges {0} without a limit of current or heat: lithium takes all it "
                   "can give for hours, and it gets too hot"
        : dump   ? "When the guard of {0} opens, {about} loses its load at once: its voltage "
                   "shoots up and kills its diodes and what else is on"
        : unsaid ? "Whether {about} survives charging {0} is not known: what limits it, or what "
                   "the battery's guard does, is not said"
                 : "{about} charges {0} with a limit, and keeps its load when a guard opens",
        result_name(result, role->parent->path), NULL);
    if (level == LEVEL_DOUBT)
        finding_settle(result, f,
                       typed->regulator < 0 ? result_text(result, "%s.regulator", source->path)
                                            : result_text(result, "%s.guard", role->path),
                       "ask who built it in, or the maker of the battery");
    finding_lever(result, f, result_text(result, "%s.regulator", source->path), LEVER_CHOICE, NAN,
                  NAN);
}

static void
run_alternator(const Wiring *wiring, Result *result)
{
    each_pair(wiring, result, &check_lithium_alternator, judge_alternator);
}
