/* Does water come in: every opening in its worst situation, and how little weight brings the first one under. */
#include <math.h>

#include "checks/afloat/answers.h"
#include "checks/afloat/limits.h"

static const char *const cautions[] = {"AF2", "AF3", "AF1", NULL};

static void run(const Afloat *afloat, Result *result);
const Check check_openings = {{"afloat", "openings",
                               "Which opening goes under first, and is it high enough?", LINE_SINK,
                               cautions},
                              run};

static void
judge_open(const Afloat *afloat, const Inlet *inlet, const Case *worst, Result *result)
{
    double value, spread;
    Working *w = working_of_inlet(afloat, worst, inlet, result, &value, &spread);
    Rule rule = rule_of(afloat, "openings", result);
    Finding *f = result_judge(result, &check_openings.info, inlet->id, inlet->path,
                              value <= 0.0 ? LEVEL_DANGER : LEVEL_FAULT, w, value, spread, AT_LEAST,
                              rule.value, Q_SMALL_LENGTH, &rule.source);
    if (inlet->edge && afloat->vessel->deck != VESSEL_OPEN)
        finding_text(result, f,
                     "No opening is listed, so the deck edge counts as one: it stands {value} "
                     "above the water "
                     "({situation}); {limit} is asked",
                     NULL);
    else if (value <= 0.0)
        finding_text(
            result, f,
            "Water comes in: {about} is under water ({situation}), {value} against {limit}", NULL);
    else
        finding_text(result, f,
                     "{about} stands {value} above the water ({situation}); {limit} is asked",
                     NULL);
    finding_named(result, f, inlet_words(result, inlet));
    finding_situation(result, f, case_title(result, worst));
    inlet_levers(result, f, inlet);
    if (inlet->edge && afloat->vessel->deck != VESSEL_OPEN && f->level == LEVEL_FINE) {
        f->level = LEVEL_DOUBT;
        finding_settle(result, f, "openings",
                       "list the vents, hatches and skin fittings with their heights");
    }
}

/* What closes tight may be low, but spray-tight is not water-tight. */
static void
judge_tight(const Afloat *afloat, const Inlet *inlet, const Case *worst, Result *result)
{
    double value, spread;
    if (inlet->closes == CLOSES_WATERTIGHT || inlet_height_m(inlet, worst) > 0.0)
        return;
    static const Source under = {
        "common practice, no source: weathertight holds spray, not standing water",
        STANDING_PRACTICE};
    Working *w = working_of_inlet(afloat, worst, inlet, result, &value, &spread);
    Finding *f = result_judge(result, &check_openings.info, inlet->id, inlet->path, LEVEL_DANGER, w,
                              value, spread, AT_LEAST, 0.0, Q_SMALL_LENGTH, &under);
    finding_text(result, f,
                 "{about} is under water ({situation}) and does not hold against standing water",
                 NULL);
    finding_named(result, f, inlet_words(result, inlet));
    finding_situation(result, f, case_title(result, worst));
    inlet_levers(result, f, inlet);
}

static void
say_unplaced(const Afloat *afloat, Result *result)
{
    size_t n;
    const Record *const *records = boat_records(afloat->boat, &section_openings, &n);
    for (size_t i = 0; i < n; i++) {
        const Opening *typed = records[i]->data;
        if (isfinite(typed->along_m) && isfinite(typed->height_m))
            continue;
        Finding *f = result_say(result, &check_openings.info, records[i]->id, records[i]->path,
                                LEVEL_DOUBT, NULL);
        finding_text(result, f,
                     "Where {about} lies is not said: whether water comes in there is not known",
                     NULL);
        finding_settle(result, f,
                       result_text(result, "%s.%s", records[i]->path,
                                   isfinite(typed->along_m) ? "height" : "along"),
                       "measure the height of its lowest edge above a mark, with tape and level");
    }
}

static void
run(const Afloat *afloat, Result *result)
{
    if (afloat->hull == NULL || afloat->cases->len == 0)
        return;
    result_applies(result, &check_openings.info);
    for (guint i = 0; i < afloat->inlets->len; i++) {
        const Inlet *inlet = &g_array_index(afloat->inlets, Inlet, i);
        const Case *worst = afloat_lowest(afloat, inlet);
        if (worst == NULL)
            continue;
        if (inlet_floods(inlet))
            judge_open(afloat, inlet, worst, result);
        else
            judge_tight(afloat, inlet, worst, result);
    }
    say_unplaced(afloat, result);
}

/* ---- the weight on the stern ---- */

static void run_first(const Afloat *afloat, Result *result);
const Check check_first_under = {{"afloat", "first-under",
                                  "How much more weight on the stern lets water in?", LINE_SINK,
                                  cautions},
                                 run_first};

static void
run_first(const Afloat *afloat, Result *result)
{
    static const Source crowd = {
        "everybody who comes aboard standing on the stern, 85 kg each; judgement of this project",
        STANDING_PRACTICE};
    if (!isfinite(afloat->stern_load_kg))
        return;
    double value, spread, limit = 85.0 * fmax(2.0, afloat->vessel->people);
    Working *w = working_of_stern_load(afloat, result, &value, &spread);
    working_from_boat(w, "people", boat_single(afloat->boat, &section_boat), "people");
    Finding *f = result_judge(result, &check_first_under.info, NULL, afloat->stern_inlet->path,
                              value <= 0.0 ? LEVEL_DANGER : LEVEL_FAULT, w, value, spread, AT_LEAST,
                              limit, Q_MASS, &crowd);
    finding_text(
        result, f,
        value > 0.0
            ? "{value} more on the stern and {about} is under ({situation}); those who come aboard "
              "weigh {limit}"
            : "No weight need be added on the stern: {about} is under already ({situation})",
        NULL);
    finding_named(result, f, inlet_words(result, afloat->stern_inlet));
    finding_situation(result, f, case_title(result, afloat->stern_case));
    inlet_levers(result, f, afloat->stern_inlet);
    finding_explained_by_opening(result, f, afloat->stern_inlet);
}
