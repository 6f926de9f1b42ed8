/* Does she lie level: list and trim in the situations where nobody stands aside on purpose. */
#include <math.h>

#include "checks/afloat/limits.h"
#include "checks/afloat/workings.h"

static const char *const cautions[] = {"AF4", NULL};

static double
lean(const Case *c, bool trim)
{
    return trim ? c->rest.at.trim_rad : c->rest.at.heel_rad;
}

static const Case *
most(const Afloat *afloat, bool trim)
{
    const Case *worst = NULL;
    for (guint i = 0; i < afloat->cases->len; i++) {
        const Case *c = g_ptr_array_index(afloat->cases, i);
        if (case_floats(c) && !c->crowded &&
            (worst == NULL || fabs(lean(c, trim)) > fabs(lean(worst, trim))))
            worst = c;
    }
    return worst;
}

static void
judge(const Afloat *afloat, Result *result, const CheckInfo *info, bool trim)
{
    const Case *c = most(afloat, trim);
    if (c == NULL)
        return;
    double value, spread;
    Working *w = trim ? working_of_trim(afloat, c, result, &value, &spread)
                      : working_of_list(afloat, c, result, &value, &spread);
    working_reckon(w, "lean", trim ? "trim without its sign" : "list without its sign",
                   trim ? "abs(theta)" : "abs(phi)", fabs(value), Q_ANGLE, spread, &source_rest);
    Rule rule = rule_of(afloat, trim ? "trim" : "list", result);
    Finding *f = result_judge(result, info, NULL, "", LEVEL_FAULT, w, fabs(value), spread, AT_MOST,
                              rule.value, Q_ANGLE, &rule.source);
    const char *way = trim ? (value > 0.0 ? "by the bow" : "by the stern")
                           : (value > 0.0 ? "to starboard" : "to port");
    finding_text(
        result, f,
        value == 0.0 ? (trim ? "She lies level from end to end ({situation})"
                             : "She lies level from side to side ({situation})")
        : trim ? "She lies {value} down {0} ({situation}); beyond {limit} floors and drains no "
                 "longer run as laid"
               : "She leans {value} {0} ({situation}); beyond {limit} the cause wants finding",
        way, NULL);
    finding_situation(result, f, case_title(result, c));
    finding_lever(result, f, "items", LEVER_ADD_BALLAST, NAN, NAN);
}

static void run_list(const Afloat *afloat, Result *result);
static void run_trim(const Afloat *afloat, Result *result);
const Check check_list = {
    {"afloat", "level-across", "Does she lie level from side to side?", LINE_SINK, cautions},
    run_list};
const Check check_level = {
    {"afloat", "level-along", "Does she lie level from end to end?", LINE_SINK, cautions},
    run_trim};

static void
run_list(const Afloat *afloat, Result *result)
{
    judge(afloat, result, &check_list.info, false);
}

static void
run_trim(const Afloat *afloat, Result *result)
{
    judge(afloat, result, &check_level.info, true);
}
