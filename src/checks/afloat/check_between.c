/* The worst moment between the stages: what goes is ashore, nothing is fitted yet, with and without loose ballast. */
#include <math.h>
#include <string.h>

#include "checks/afloat/limits.h"
#include "checks/afloat/workings.h"

static const char *const cautions[] = {"AF5", NULL};

static void run(const Afloat *afloat, Result *result);
const Check check_between = {
    {"afloat", "between", "Does she stay safe while things are ashore and nothing is fitted yet?",
     LINE_SINK, cautions},
    run};

/* Something leaves or is loose, so that there is a moment in between at all. */
static bool
has_between(const Afloat *afloat)
{
    size_t n;
    const Record *const *items = boat_records(afloat->boat, &section_items, &n);
    for (size_t i = 0; i < n; i++)
        if (((const Item *) items[i]->data)->state == ITEM_TO_REMOVE)
            return true;
    return afloat->between->len > 1;
}

static const char *
moment(const Case *c)
{
    return strcmp(c->situation, "stripped-no-ballast") == 0 ? "stripped, loose ballast ashore"
                                                            : "stripped";
}

static void
judge_stiffness(const Afloat *afloat, Result *result)
{
    const Case *worst = NULL;
    for (guint i = 0; i < afloat->between->len; i++) {
        const Case *c = g_ptr_array_index(afloat->between, i);
        if (!case_floats(c)) {
            if (!(c->sum.mass_kg > 0.0))
                continue;
            Finding *f = result_say(result, &check_between.info, NULL, "", LEVEL_DANGER, NULL);
            finding_text(result, f,
                         "With what leaves ashore and nothing fitted yet she finds no position to "
                         "rest ({situation})",
                         NULL);
            finding_situation(result, f, moment(c));
            return;
        }
        if (worst == NULL || c->rest.gm_m < worst->rest.gm_m)
            worst = c;
    }
    if (worst == NULL)
        return;
    double value, spread;
    Working *w = working_of_gm(afloat, worst, result, &value, &spread);
    Rule rule = rule_of(afloat, "gm-least", result);
    Finding *f = result_judge(result, &check_between.info, NULL, "", LEVEL_DANGER, w, value, spread,
                              AT_LEAST, rule.value, Q_LENGTH, &rule.source);
    finding_text(result, f,
                 "With things ashore and nothing fitted yet her stiffness is {value} "
                 "({situation}); {limit} is the least",
                 NULL);
    finding_situation(result, f, moment(worst));
    finding_lever(result, f, "items", LEVER_ADD_BALLAST, NAN, NAN);
}

static void
judge_inlet(const Afloat *afloat, const Inlet *inlet, Result *result)
{
    const Case *worst = NULL;
    for (guint i = 0; i < afloat->between->len; i++) {
        const Case *c = g_ptr_array_index(afloat->between, i);
        if (case_floats(c) &&
            (worst == NULL || inlet_height_m(inlet, c) < inlet_height_m(inlet, worst)))
            worst = c;
    }
    if (worst == NULL)
        return;
    double value, spread;
    Rule rule = rule_of(afloat, "between-opening", result);
    if (inlet_height_m(inlet, worst) > 2.0 * rule.value)
        return; /* high and dry: not worth a line */
    Working *w = working_of_inlet(afloat, worst, inlet, result, &value, &spread);
    Finding *f = result_judge(result, &check_between.info, inlet->id, inlet->path,
                              value <= 0.0 ? LEVEL_DANGER : LEVEL_FAULT, w, value, spread, AT_LEAST,
                              rule.value, Q_SMALL_LENGTH, &rule.source);
    finding_text(result, f,
                 "While things are ashore {about} stands {value} above the water ({situation}); "
                 "{limit} is asked",
                 NULL);
    finding_named(result, f, inlet_words(result, inlet));
    finding_situation(result, f, moment(worst));
    inlet_levers(result, f, inlet);
}

static void
run(const Afloat *afloat, Result *result)
{
    if (afloat->hull == NULL || afloat->between->len == 0 || !has_between(afloat))
        return;
    judge_stiffness(afloat, result);
    for (guint i = 0; i < afloat->inlets->len; i++) {
        const Inlet *inlet = &g_array_index(afloat->inlets, Inlet, i);
        if (inlet_floods(inlet))
            judge_inlet(afloat, inlet, result);
    }
}
