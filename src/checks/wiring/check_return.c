/* The way back: through a conductor at all, as thick as the way out, and thick enough for all that share it.
 * Invariant: a return conductor bears no fuse of its own, so nothing but its area protects it. */
#include <math.h>
#include <string.h>

#include "checks/wiring/workings.h"

static const char *const cautions[] = {"WI4", NULL};

/* ---- through the hull ---- */

static void run_hull(const Wiring *wiring, Result *result);
const Check check_hull_return = {{"wiring", "hull-return",
                                  "Does every current come back through a conductor, not the hull?",
                                  LINE_SINK, cautions},
                                 .wired = run_hull};

static bool
carries_back(const Cable *cable)
{
    return cable->typed->wires != WIRES_POSITIVE;
}

/* Marks what negative conductors join to the places marked already; but for one cable, if any is named. */
static void
spread_back(const Wiring *wiring, const Cable *without, bool *reached)
{
    for (bool changed = true; changed;) {
        changed = false;
        for (guint i = 0; i < wiring->cables->len; i++) {
            const Cable *cable = wiring_cable(wiring, i);
            if (cable == without || !carries_back(cable) ||
                reached[cable->from] == reached[cable->to])
                continue;
            reached[cable->from] = reached[cable->to] = changed = true;
        }
        for (guint i = 0; i < wiring->places->len; i++) {
            size_t feeds = wiring_place(wiring, i)->fed_by;
            if (feeds == NO_PLACE || reached[feeds] == reached[i])
                continue;
            reached[feeds] = reached[i] = changed = true;
        }
    }
}

/* The positive conductor that ends there alone, or NULL. */
static const Cable *
lone_positive(const Wiring *wiring, size_t place)
{
    for (guint i = 0; i < wiring->cables->len; i++) {
        const Cable *cable = wiring_cable(wiring, i);
        if (cable->typed->wires == WIRES_POSITIVE && (cable->to == place || cable->from == place))
            return cable;
    }
    return NULL;
}

static void
say_hull(const Wiring *wiring, size_t i, Result *result)
{
    static const Source rule = {
        "ISO 10133 as recalled: direct current has two insulated conductors, "
        "and the hull is none of them",
        STANDING_MEMORY};
    const Place *place = wiring_place(wiring, i);
    bool starter = place_is_starter(place);
    Finding *f = result_say(result, &check_hull_return.info, place->id, place->record->path,
                            starter ? LEVEL_DOUBT : LEVEL_FAULT, NULL);
    finding_rests_on(result, f, &rule);
    finding_text(result, f,
                 starter ? "No cable is named that brings the current of {about} back: whether it "
                           "comes through the engine block alone or through the hull is not known"
                         : "{about} has a positive conductor and none back: its current returns "
                           "through the hull and eats the steel where it leaves it",
                 NULL);
    finding_settle(result, f, "circuits",
                   starter ? "follow its thick negative cable, and write it down"
                           : "lay a negative conductor beside the positive one, or write down the "
                             "one that is there");
}

static void
run_hull(const Wiring *wiring, Result *result)
{
    g_autofree bool *reached = g_new0(bool, wiring->places->len + 1);
    bool any = false;
    for (guint i = 0; i < wiring->places->len; i++)
        any |= reached[i] = wiring_place(wiring, i)->battery != NULL;
    if (!any)
        return;
    spread_back(wiring, NULL, reached);
    for (guint i = 0; i < wiring->places->len; i++) {
        const Place *place = wiring_place(wiring, i);
        bool used = place->load != NULL || place->heater != NULL || place->source != NULL;
        if (used && place->direct && !reached[i] && lone_positive(wiring, i) != NULL)
            say_hull(wiring, i, result);
    }
}

/* ---- as thick as the way out ---- */

static void run_size(const Wiring *wiring, Result *result);
const Check check_return_size = {
    {"wiring", "return-size", "Does every return bear what comes out to it?", LINE_BURN, cautions},
    .wired = run_size};

static bool
same_ends(const Cable *a, const Cable *b)
{
    return (a->from == b->from && a->to == b->to) || (a->from == b->to && a->to == b->from);
}

/* Conductors of one kind between the ends of a cable: a step each, and their sum. */
static double
sum_areas(const Wiring *wiring, const Cable *like, CircuitWires wires, const char *symbol,
          const char *label, Working *w)
{
    g_autoptr(GString) sum = g_string_new(NULL);
    double area_m2 = 0.0;
    for (guint i = 0; i < wiring->cables->len; i++) {
        const Cable *cable = wiring_cable(wiring, i);
        if ((CircuitWires) cable->typed->wires != wires || !same_ends(like, cable))
            continue;
        g_autofree char *one = g_strdup_printf("S_%u", i + 1);
        working_from_boat(w, one, cable->record, "area");
        g_string_append_printf(sum, "%s%s", sum->len > 0 ? " + " : "", one);
        area_m2 += cable->typed->area_m2;
    }
    if (sum->len > 0)
        working_reckon(w, symbol, label, sum->str, area_m2, Q_SMALL_AREA, 0.0, NULL);
    return area_m2;
}

/* false: no positive conductor lies beside it. */
static bool
judge_beside(const Wiring *wiring, const Cable *cable, Result *result)
{
    Working *w = result_working(result, "The return against what it returns");
    double out = sum_areas(wiring, cable, WIRES_POSITIVE, "S_out", "positive, all", w);
    if (out == 0.0)
        return false;
    double back = sum_areas(wiring, cable, WIRES_NEGATIVE, "S_back", "negative, all", w);
    if (!isfinite(back / out))
        return true; /* a conductor that is not known is a finding of its own */
    working_reckon(w, "share", "of the way out", "S_back / S_out", back / out, Q_FRACTION, 0.0,
                   NULL);
    Rule limit = wiring_rule(wiring, "return-size", result);
    Finding *f = result_judge(result, &check_return_size.info, cable->record->id,
                              cable->record->path, LEVEL_FAULT, w, back / out, 0.0, AT_LEAST,
                              limit.value, Q_FRACTION, &limit.source);
    finding_text(result, f, "{about} has {0} and returns what comes through {1}",
                 wiring_shown(wiring, result, back, Q_SMALL_AREA),
                 wiring_shown(wiring, result, out, Q_SMALL_AREA), NULL);
    lever_thicker(result, f, cable);
    return true;
}

static bool
first_of_its_ends(const Wiring *wiring, guint i)
{
    for (guint k = 0; k < i; k++)
        if (wiring_cable(wiring, k)->typed->wires == WIRES_NEGATIVE &&
            same_ends(wiring_cable(wiring, k), wiring_cable(wiring, i)))
            return false;
    return true;
}

/* ---- shared ---- */

/* The side of a cable that has no battery once the cable is cut; false: neither, or both. */
static bool
far_side(const Wiring *wiring, const Cable *cable, bool *side)
{
    size_t ends[] = {cable->to, cable->from};
    for (int e = 0; e < 2; e++) {
        bool battery = false;
        memset(side, 0, (wiring->places->len + 1) * sizeof *side);
        side[ends[e]] = true;
        spread_back(wiring, cable, side);
        for (guint i = 0; i < wiring->places->len; i++)
            battery |= side[i] && wiring_place(wiring, i)->battery != NULL;
        if (!battery)
            return !side[ends[1 - e]];
    }
    return false;
}

static void
judge_shared(const Wiring *wiring, const Cable *cable, Result *result)
{
    g_autofree bool *side = g_new0(bool, wiring->places->len + 1);
    if (isnan(cable->ampacity.allowed_A) || cable->cranks || !far_side(wiring, cable, side))
        return;
    Working *w = result_working(result, "All that share this return, switched on together");
    g_autoptr(GString) sum = g_string_new(NULL);
    double amperes = 0.0;
    guint n = 0;
    for (guint i = 0; i < wiring->places->len; i++) {
        const Place *place = wiring_place(wiring, i);
        double own = place_current_A(place);
        if (!side[i] || !place->direct || !isfinite(own))
            continue;
        working_given(w, result_text(result, "I_%u", i + 1), place->id, own, Q_CURRENT, 0.0,
                      BASIS_STATED, NULL);
        working_path_is(w, place->heater != NULL ? place->heater->path : place->load->path);
        g_string_append_printf(sum, "%sI_%u", n++ > 0 ? " + " : "", i + 1);
        amperes += own;
    }
    if (n < 2)
        return;
    working_reckon(w, "I_back", "through the return", sum->str, amperes, Q_CURRENT, 0.0, NULL);
    Finding *f = result_judge(result, &check_return_size.info, cable->record->id,
                              cable->record->path, LEVEL_DANGER, w, amperes, 0.0, AT_MOST,
                              cable->ampacity.allowed_A, Q_CURRENT, &cable->ampacity.source);
    finding_text(result, f,
                 "{0} devices come back through {about}: {value} with all of them on; it may carry "
                 "{limit}, and no fuse is in it",
                 result_text(result, "%u", n), NULL);
    lever_thicker(result, f, cable);
    g_autofree char *hot = g_strconcat("wiring.ampacity.", cable->record->id, NULL);
    const Finding *explains = result_finding_find(result, hot);
    if (explains != NULL && explains->level <= LEVEL_FAULT && f->level <= LEVEL_DOUBT)
        finding_cause(result, f, hot);
}

static void
run_size(const Wiring *wiring, Result *result)
{
    for (guint i = 0; i < wiring->cables->len; i++) {
        const Cable *cable = wiring_cable(wiring, i);
        if (cable->typed->wires != WIRES_NEGATIVE || !first_of_its_ends(wiring, i))
            continue;
        if (!judge_beside(wiring, cable, result))
            judge_shared(wiring, cable, result);
    }
}
