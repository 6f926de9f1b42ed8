/* What a heel test says of her stiffness, against what is reckoned from the list. */
#include <math.h>

#include "checks/afloat/calibrate.h"
#include "checks/afloat/limits.h"
#include "checks/afloat/workings.h"
#include "physics/afloat/inclining_pattern.h"

static const char *const cautions[] = {"AF4", NULL};

static void run(const Afloat *afloat, Result *result);
const Check check_heel_test = {
    {"afloat", "heel-test", "Does a heel test or a timed roll agree with the stiffness reckoned?",
     LINE_SINK, cautions},
    run};

static Working *
working_of(const Afloat *afloat, const HeelTest *test, Result *result)
{
    const Inclining *found = &test->found;
    Linear mass = linear_mass();
    Working *w = result_working(result, "Stiffness from weights moved across");
    working_given(w, "D", "displacement that day", test->day->sum.mass_kg, Q_MASS,
                  spread_of(afloat, test->day, &mass, NULL).spread, masses_basis(test->day),
                  &source_ledger);
    working_followed_is(w, true);
    working_given(w, "slope", "moment per tangent of heel, line through all readings",
                  found->slope_kgm, Q_MASS_MOMENT, 2.0 * found->slope_error_kgm, BASIS_MEASURED,
                  &inclining_line_method.source);
    working_reckon(w, "GM", "metacentric height as tested, liquids free", "slope / D", found->gm_m,
                   Q_LENGTH, found->gm_spread_m, &inclining_gm_method.source);
    working_given(w, "GM_list", "the same reckoned from weights and shape", test->day->rest.gm_m,
                  Q_LENGTH, 0.0, BASIS_MEASURED, &source_upright);
    working_reckon(w, "off", "difference without its sign", "abs(GM - GM_list)",
                   fabs(found->gm_m - test->day->rest.gm_m), Q_LENGTH, 0.0, &source_upright);
    return w;
}

static void
say_odd(const HeelTest *test, Result *result)
{
    if (test->found.suspect >= test->n || test->found.rivals > 0)
        return;
    Finding *f =
        result_say(result, &check_heel_test.info, result_text(result, "%s-odd", test->record->id),
                   test->record->path, LEVEL_FAULT, NULL);
    finding_text(result, f, "Move {0} of {about} is out of line with the others",
                 result_text(result, "%zu", test->found.suspect + 1), NULL);
    finding_settle(result, f, result_text(result, "%s.moves", test->record->path),
                   "repeat this move");
}

/* A test that bends, lags or leans to one side only has a cause: a slack tank, a taut line, the bottom. */
static void
say_pattern(const HeelTest *test, Result *result)
{
    static const char *const causes[INCLINE_PATTERNS] = {
        [INCLINE_ONE_SIDED] =
            "she resists on one side only: a line was taut or she touched the bottom",
        [INCLINE_BENDS] =
            "the line bends: a slack tank reached its corner, or she was near a knuckle",
        [INCLINE_LAGS] = "the readings come late: liquid was still running, or a line held her",
        [INCLINE_DRIFTS] = "the readings drift: something aboard or the wind changed meanwhile"};
    const Measurement *typed = test->record->data;
    g_autofree double *tangent = g_new(double, MAX(test->n, 1));
    for (size_t i = 0; i < test->n; i++)
        tangent[i] = test->deflection_m[i] / typed->pendulum_m;
    InclinePattern pattern;
    if (inclining_pattern(test->n, test->moment_kgm, tangent, &pattern) == REFUSED ||
        pattern.likeliest == INCLINE_STRAIGHT)
        return;
    Finding *f = result_say(result, &check_heel_test.info,
                            result_text(result, "%s-pattern", test->record->id), test->record->path,
                            LEVEL_FAULT, NULL);
    finding_text(result, f, "{about} is no straight line; {0}", causes[pattern.likeliest], NULL);
    finding_settle(result, f, result_text(result, "%s.moves", test->record->path),
                   "empty or press full the tanks, slacken all lines, and repeat the test");
}

static void
judge_test(const Afloat *afloat, const HeelTest *test, Result *result)
{
    static const Source agreement = {"the two agree when the difference lies within their spreads",
                                     STANDING_DERIVED};
    if (test->validity == REFUSED) {
        Finding *f = result_say(result, &check_heel_test.info, test->record->id, test->record->path,
                                LEVEL_DOUBT, NULL);
        finding_text(result, f,
                     "{about} gives no stiffness: three moves at least and the length of the plumb "
                     "line are needed, and she must lean with the weight",
                     NULL);
        finding_settle(result, f, result_text(result, "%s.moves", test->record->path),
                       "read eight moves, the last one back at the start");
        return;
    }
    Linear gm = linear_gm(afloat, test->day);
    double allowed = hypot(test->found.gm_spread_m, spread_of(afloat, test->day, &gm, NULL).spread);
    Working *w = working_of(afloat, test, result);
    double off = fabs(test->found.gm_m - test->day->rest.gm_m);
    Finding *f = result_judge(result, &check_heel_test.info, test->record->id, test->record->path,
                              LEVEL_FAULT, w, off, 0.0, AT_MOST, allowed, Q_LENGTH, &agreement);
    finding_text(result, f,
                 off > allowed ? "{about} found {0} of metacentric height where {1} was "
                                 "reckoned: {value} apart, more than the {limit} both allow. {2}"
                               : "{about} found {0} of metacentric height, {1} was reckoned: "
                                 "{value} apart, {limit} allowed. {2}",
                 shown(afloat, result, test->found.gm_m, test->found.gm_spread_m, Q_LENGTH),
                 shown(afloat, result, test->day->rest.gm_m,
                       spread_of(afloat, test->day, &gm, NULL).spread, Q_LENGTH),
                 test->used ? "How high her weight lies is taken from the test"
                            : "How high her weight lies is taken from the list: the test is no "
                              "surer, or no reading has weighed her",
                 NULL);
    say_odd(test, result);
    say_pattern(test, result);
}

/* A timed roll is a yardstick: the factor of her type is known to a tenth. */
static void
judge_roll(const Afloat *afloat, const Record *record, Result *result)
{
    static const Source factor = {
        "docs/methods/float.md 8: factor 0.88 empty or in ballast, give or take 0.05",
        STANDING_READ};
    const Measurement *typed = record->data;
    const Case *c = afloat->governing;
    if (c == NULL || !isfinite(typed->period_s))
        return;
    double gm = pow(0.88 * c->side.beam_m / typed->period_s, 2), spread = gm * 2.0 * 0.05 / 0.88;
    Working *w = result_working(result, "Stiffness from a timed roll");
    working_given(w, "f", "factor of the rolling test", 0.88, Q_NONE, 0.05, BASIS_STATED, &factor);
    working_given(w, "B", "beam at the water", c->side.beam_m, Q_LENGTH, 0.0, BASIS_MEASURED,
                  &source_stations);
    working_from_boat(w, "T", record, "period");
    working_reckon(w, "GM", "metacentric height by the roll", "(f * B / T)^2", gm, Q_LENGTH, spread,
                   &factor);
    working_given(w, "GM_list", "the same reckoned from weights and shape", c->rest.gm_m, Q_LENGTH,
                  0.0, BASIS_MEASURED, &source_upright);
    working_reckon(w, "off", "difference without its sign", "abs(GM - GM_list)",
                   fabs(gm - c->rest.gm_m), Q_LENGTH, 0.0, &source_upright);
    Linear a = linear_gm(afloat, c);
    double allowed = hypot(spread, spread_of(afloat, c, &a, NULL).spread);
    Finding *f = result_judge(result, &check_heel_test.info, record->id, record->path, LEVEL_DOUBT,
                              w, fabs(gm - c->rest.gm_m), 0.0, AT_MOST, allowed, Q_LENGTH, &factor);
    finding_text(
        result, f,
        "{about}: the roll speaks of {0} of metacentric height, {1} was reckoned; a "
        "roll is a yardstick, no proof",
        shown(afloat, result, gm, spread, Q_LENGTH),
        shown(afloat, result, c->rest.gm_m, spread_of(afloat, c, &a, NULL).spread, Q_LENGTH), NULL);
    finding_settle(result, f, "measured", "do a heel test in still water");
}

static void
run(const Afloat *afloat, Result *result)
{
    for (guint i = 0; i < afloat->heel_tests->len; i++) {
        result_applies(result, &check_heel_test.info);
        judge_test(afloat, g_ptr_array_index(afloat->heel_tests, i), result);
    }
    size_t n;
    const Record *const *records = boat_records(afloat->boat, &section_measured, &n);
    for (size_t i = 0; i < n; i++)
        if (((const Measurement *) records[i]->data)->kind == MEASURED_ROLL)
            judge_roll(afloat, records[i], result);
}
