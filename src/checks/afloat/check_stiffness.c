/* Is she stiff: metacentric height in the worst situation, and how far she comes back. */
#include <math.h>

#include "checks/afloat/limits.h"
#include "checks/afloat/workings.h"

static const char *const cautions[] = {"AF1", "AF4", NULL};

static void run(const Afloat *afloat, Result *result);
const Check check_stiffness = {
    {"afloat", "stiffness", "Is she stiff enough to stay upright?", LINE_SINK, cautions}, run};

static void
run(const Afloat *afloat, Result *result)
{
    const Case *c = afloat->governing;
    if (c == NULL)
        return;
    double value, spread;
    Working *w = working_of_gm(afloat, c, result, &value, &spread);
    Rule least = rule_of(afloat, "gm-least", result), rule = rule_of(afloat, "stiffness", result);
    bool loll = fabs(c->rest.at.heel_rad) > 0.02 && fabs(c->sum.tcg_m) < 1e-6;
    Finding *f = result_judge(result, &check_stiffness.info, NULL, "",
                              value < least.value || loll ? LEVEL_DANGER : LEVEL_FAULT, w, value,
                              spread, AT_LEAST, rule.value, Q_LENGTH, &rule.source);
    if (loll)
        finding_text(result, f,
                     "Upright she is unstable and lolls to one side ({situation}); a metacentric "
                     "height of {limit} keeps her stiff",
                     NULL);
    else
        finding_text(result, f,
                     "Her stiffness is {value} of metacentric height ({situation}); {limit} leaves "
                     "something for people and slack tanks",
                     NULL);
    finding_situation(result, f, case_title(result, c));
    finding_lever(result, f, "items", LEVER_ADD_BALLAST, NAN, NAN);
}
