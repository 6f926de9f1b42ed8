/* What meters said: while the starter turned, and round one conductor. */
#include <math.h>

#include "checks/wiring/workings.h"

#define METER_FRAC 0.02 /* a meter's 2 % of what it shows (common practice, no source) */

static const char *const cautions[] = {"WI4", NULL};

static const Place *
device_of(const Wiring *wiring, const Measurement *typed)
{
    size_t found = wiring_place_find(wiring, typed->device.id);
    return found != NO_PLACE ? wiring_place(wiring, found) : NULL;
}

static void
each_reading(const Wiring *wiring, MeasuredKind kind, Result *result,
             void (*judge)(const Wiring *, const Record *, const Place *, Result *))
{
    size_t n;
    const Record *const *records = boat_records(wiring->boat, &section_measured, &n);
    for (size_t i = 0; i < n; i++)
        if (((const Measurement *) records[i]->data)->kind == (int) kind)
            judge(wiring, records[i], device_of(wiring, records[i]->data), result);
}

static void
say_lacks(const CheckInfo *check, const Record *record, const char *key, const char *what,
          Result *result)
{
    Finding *f = result_say(result, check, record->id, record->path, LEVEL_DOUBT, NULL);
    finding_text(result, f, "{about} cannot be judged: {0}", what, NULL);
    finding_settle(result, f, result_text(result, "%s.%s", record->path, key),
                   "read it again and note it");
}

/* ---- cranking ---- */

static void run_cranking(const Wiring *wiring, Result *result);
const Check check_cranking = {
    {"wiring", "cranking",
     "Do the starter's joints and battery bear out what was read while it "
     "turned?",
     LINE_INSURABLE, cautions},
    .wired = run_cranking};

/* Joints: what is lost between the posts and the starter, beyond what its cables explain. */
static void
judge_joints(const Wiring *wiring, const Record *record, const Place *starter, Result *result)
{
    const Measurement *typed = record->data;
    double loop, spread, found = (typed->battery_V - typed->device_V) / typed->current_A;
    Rule most = wiring_rule(wiring, "cranking-joint", result);
    Working *w = result_working(result, "What the starter's cables and joints have, as read");
    if (!isfinite(found) ||
        steps_of_starter_loop(wiring, starter, w, &loop, &spread, result) == NULL)
        return;
    double read_V = METER_FRAC * fabs(typed->battery_V - typed->device_V);
    spread = hypot(spread, hypot(read_V / typed->current_A, METER_FRAC * found));
    working_from_boat(w, "U_b", record, "battery-voltage");
    working_from_boat(w, "U_s", record, "device-voltage");
    working_from_boat(w, "I", record, "current");
    working_reckon(w, "R_more", "more than the cables explain", "(U_b - U_s) / I - R_loop",
                   found - loop, Q_RESISTANCE, spread, &source_network);
    Finding *f =
        result_judge(result, &check_cranking.info, record->id, starter->record->path, LEVEL_FAULT,
                     w, found - loop, spread, AT_MOST, most.value, Q_RESISTANCE, &most.source);
    finding_text(
        result, f,
        found - loop > most.value
            ? "Between battery and {about} hide {value} more than the cables explain: feel "
              "for the warm joint after cranking, clean it and draw it tight"
            : "Between battery and {about} the joints hide {value}; {limit} is sound",
        NULL);
}

/* The battery: how far it falls from rest, against a new one of its size. */
static void
judge_battery(const Wiring *wiring, const Record *record, const Place *starter, Result *result)
{
    const Measurement *typed = record->data;
    const Record *battery = NULL;
    for (guint i = 0; i < wiring->cables->len; i++) {
        const Cable *cable = wiring_cable(wiring, i);
        const Place *from = wiring_place(wiring, cable->from);
        if (wiring_place(wiring, cable->to) == starter && from->battery != NULL)
            battery = from->battery;
    }
    double inner = (typed->rest_V - typed->battery_V) / typed->current_A;
    if (battery == NULL || !isfinite(inner))
        return;
    double fresh = battery_ohm(battery->data, true);
    Rule most = wiring_rule(wiring, "battery-worn", result);
    Working *w = result_working(result, "Inner resistance of the battery, as read");
    working_from_boat(w, "U_0", record, "rest-voltage");
    working_from_boat(w, "U_b", record, "battery-voltage");
    working_from_boat(w, "I", record, "current");
    working_given(w, "R_new", "of a new one, full and warm", fresh, Q_RESISTANCE, 0.3 * fresh,
                  BASIS_ASSUMED, NULL);
    double ratio = inner / fresh;
    working_reckon(w, "ratio", "times that of a new one", "(U_0 - U_b) / I / R_new", ratio, Q_NONE,
                   0.3 * ratio, &source_network);
    Finding *f =
        result_judge(result, &check_cranking.info, result_text(result, "%s-battery", record->id),
                     battery->parent->path, LEVEL_FAULT, w, ratio, 0.3 * ratio, AT_MOST, most.value,
                     Q_NONE, &most.source);
    finding_text(result, f,
                 "{about} has {value} times the inner resistance of a new one; {limit} is cold or "
                 "nearly flat, more is worn out",
                 NULL);
}

static void
judge_cranking(const Wiring *wiring, const Record *record, const Place *starter, Result *result)
{
    const Measurement *typed = record->data;
    if (starter == NULL || !place_is_starter(starter))
        say_lacks(&check_cranking.info, record, "device", "it names no starter that is aboard",
                  result);
    else if (isnan(typed->current_A) || isnan(typed->battery_V))
        say_lacks(
            &check_cranking.info, record, isnan(typed->current_A) ? "current" : "battery-voltage",
            "the current by a clamp meter and the volts at the battery's posts belong together",
            result);
    else {
        judge_joints(wiring, record, starter, result);
        judge_battery(wiring, record, starter, result);
    }
}

static void
run_cranking(const Wiring *wiring, Result *result)
{
    each_reading(wiring, MEASURED_CRANKING, result, judge_cranking);
}

/* ---- clamp meter ---- */

static void run_clamp(const Wiring *wiring, Result *result);
const Check check_clamp = {{"wiring", "clamp",
                            "Does each device draw what the file says, where it was measured?",
                            LINE_BURN, cautions},
                           .wired = run_clamp};

static void
judge_clamp(const Wiring *wiring, const Record *record, const Place *place, Result *result)
{
    const Measurement *typed = record->data;
    double said = place != NULL ? place_current_A(place) : NAN;
    if (!isfinite(said) || isnan(typed->current_A)) {
        say_lacks(&check_clamp.info, record, isfinite(said) ? "current" : "device",
                  isfinite(said) ? "the current is missing"
                                 : "it names no device whose current the file knows",
                  result);
        return;
    }
    Rule most = wiring_rule(wiring, "clamp-agrees", result);
    double off = fabs(typed->current_A / said - 1.0);
    Working *w = result_working(result, "Clamp meter against the file");
    working_from_boat(w, "I_read", record, "current");
    working_given(w, "I_file", "current that the file gives it", said, Q_CURRENT, 0.0, BASIS_STATED,
                  NULL);
    working_reckon(w, "off", "how far they differ", "abs(I_read / I_file - 1)", off, Q_FRACTION,
                   METER_FRAC, NULL);
    Finding *f =
        result_judge(result, &check_clamp.info, record->id, place->record->path, LEVEL_FAULT, w,
                     off, METER_FRAC, AT_MOST, most.value, Q_FRACTION, &most.source);
    finding_text(result, f,
                 off > most.value
                     ? "{about} draws {0} by the clamp meter and {1} by the file ({value} apart): "
                       "note what it draws, or find out why"
                     : "{about} draws {0} by the clamp meter and {1} by the file",
                 wiring_shown(wiring, result, typed->current_A, Q_CURRENT),
                 wiring_shown(wiring, result, said, Q_CURRENT), NULL);
}

static void
run_clamp(const Wiring *wiring, Result *result)
{
    each_reading(wiring, MEASURED_CLAMP, result, judge_clamp);
}
