/* The rules of honesty, governing answers, and workings. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "result/result.h"

static const char boat_text[] = "careen: 1\n"
                                "boat:\n"
                                "  name: Test\n"
                                "openings:\n"
                                "  vent:\n"
                                "    what: engine vent\n"
                                "    along: 2 m\n"
                                "    height: 1.4 m\n";

static const CheckInfo check = {"afloat", "openings", "Does water come in?", LINE_SINK, NULL};
static const Source seen = {"a rule that was read", STANDING_READ};
static const Source recalled = {"a rule that was recalled", STANDING_MEMORY};

typedef struct {
    Boat *boat;
    Result *result;
} Fixture;

static int
set_up(void **state)
{
    Fixture *f = g_new0(Fixture, 1);
    g_autoptr(Diagnostics) notes = diagnostics_new();
    g_autoptr(GError) error = NULL;
    f->boat = boat_parse(boat_text, sizeof boat_text - 1, 0, NULL, notes, &error);
    if (f->boat == NULL)
        return -1;
    f->result = result_new(f->boat, STAGE_DONE);
    *state = f;
    return 0;
}

static int
tear_down(void **state)
{
    Fixture *f = *state;
    result_free(f->result);
    boat_free(f->boat);
    g_free(f);
    return 0;
}

static Working *
plain(Result *result, Basis basis, double spread)
{
    Working *w = result_working(result, "a height");
    working_given(w, "h", "height", 0.4, Q_LENGTH, spread, basis, NULL);
    working_path_is(w, "openings.vent.height");
    working_reckon(w, "z", "height above water", "h", 0.4, Q_LENGTH, spread, &seen);
    return w;
}

static Level
judged(Result *result, const char *record, const Working *w, double value, double spread,
       double limit, const Source *source)
{
    return result_judge(result, &check, record, "openings.vent", LEVEL_FAULT, w, value, spread,
                        AT_LEAST, limit, Q_LENGTH, source)
        ->level;
}

static void
fine_only_outside_the_spread(void **state)
{
    Result *result = ((Fixture *) *state)->result;
    Working *w = plain(result, BASIS_MEASURED, 0.05);
    assert_int_equal(judged(result, "a", w, 0.40, 0.05, 0.30, &seen), LEVEL_FINE);
    assert_int_equal(judged(result, "b", w, 0.40, 0.11, 0.30, &seen), LEVEL_DOUBT);
    assert_int_equal(judged(result, "c", w, 0.29, 0.00, 0.30, &seen), LEVEL_FAULT);
    assert_int_equal(judged(result, "d", w, 0.29, 0.50, 0.30, &seen), LEVEL_FAULT);
}

/* One cause is one finding, in a front line and in all; what has its cause in another line counts in its own. */
static void
what_is_explained_is_counted_once(void **state)
{
    static const CheckInfo insured = {"afloat", "freeboard", "Is it high?", LINE_INSURABLE, NULL};
    Result *result = ((Fixture *) *state)->result;
    size_t count[LEVEL_FINE + 1];
    result_say(result, &check, "a", "openings.vent", LEVEL_DANGER, NULL);
    Finding *same = result_say(result, &check, "b", "openings.vent", LEVEL_DANGER, NULL);
    Finding *other = result_say(result, &insured, "c", "openings.vent", LEVEL_DANGER, NULL);
    Finding *alone = result_say(result, &check, "d", "openings.vent", LEVEL_FAULT, NULL);
    finding_cause(result, same, "afloat.openings.a");
    finding_cause(result, other, "afloat.openings.a");
    finding_cause(result, alone, "afloat.openings.nothing");
    result_settle(result);
    result_count(result, ANY_LINE, count);
    assert_int_equal(count[LEVEL_DANGER], 1);
    assert_int_equal(count[LEVEL_FAULT], 1);
    result_count(result, LINE_SINK, count);
    assert_int_equal(count[LEVEL_DANGER], 1);
    result_count(result, LINE_INSURABLE, count);
    assert_int_equal(count[LEVEL_DANGER], 1);
    assert_false(result_stands_alone(result, same));
    assert_true(result_stands_alone(result, alone));
}

static void
a_remembered_limit_is_never_fine(void **state)
{
    Result *result = ((Fixture *) *state)->result;
    Working *w = plain(result, BASIS_MEASURED, 0.0);
    Finding *f = result_judge(result, &check, "a", "openings.vent", LEVEL_FAULT, w, 9.0, 0.0,
                              AT_LEAST, 0.30, Q_LENGTH, &recalled);
    assert_int_equal(f->level, LEVEL_DOUBT);
    assert_string_equal(f->settle_path, "limits.openings");
    assert_non_null(f->source_note);
    assert_int_equal(judged(result, "b", w, 0.1, 0.0, 0.30, &recalled), LEVEL_FAULT);
}

static void
an_assumed_value_outside_the_spread_is_a_doubt(void **state)
{
    Result *result = ((Fixture *) *state)->result;
    Working *w = plain(result, BASIS_ASSUMED, 0.0);
    Finding *f = result_judge(result, &check, "a", "openings.vent", LEVEL_FAULT, w, 9.0, 0.0,
                              AT_LEAST, 0.30, Q_LENGTH, &seen);
    assert_int_equal(f->level, LEVEL_DOUBT);
    assert_string_equal(f->settle_path, "openings.vent.height");
    assert_int_equal(judged(result, "b", plain(result, BASIS_ASSUMED, 0.1), 9.0, 0.1, 0.30, &seen),
                     LEVEL_FINE);
}

static void
an_extrapolation_or_a_gap_is_a_doubt(void **state)
{
    Result *result = ((Fixture *) *state)->result;
    Working *w = plain(result, BASIS_MEASURED, 0.01);
    working_validity_is(w, EXTRAPOLATED);
    assert_int_equal(judged(result, "a", w, 9.0, 0.0, 0.30, &seen), LEVEL_DOUBT);
    assert_int_equal(
        judged(result, "b", plain(result, BASIS_MEASURED, 0.01), NAN, NAN, 0.30, &seen),
        LEVEL_DOUBT);
}

static const AnswerKind height = {.discipline = "afloat",
                                  .name = "height",
                                  .label = "Height",
                                  .kind = Q_LENGTH,
                                  .worse = WORSE_LESS};
static const AnswerKind lean = {.discipline = "afloat",
                                .name = "lean",
                                .label = "Lean",
                                .kind = Q_ANGLE,
                                .worse = WORSE_AWAY_FROM_ZERO};
static const AnswerKind along = {.discipline = "afloat",
                                 .name = "along",
                                 .label = "Along",
                                 .kind = Q_LENGTH,
                                 .worse = WORSE_MORE,
                                 .with = "lean"};

static void
bare_names_are_the_governing_ones(void **state)
{
    Result *result = ((Fixture *) *state)->result;
    Working *w = plain(result, BASIS_MEASURED, 0.01);
    result_give(result, &height, "vent", "openings.vent", "light", 0.50, 0.01, BASIS_MEASURED, w);
    result_give(result, &height, "vent", "openings.vent", "aft", 0.20, 0.01, BASIS_MEASURED, w);
    result_give(result, &height, "hatch", "openings.hatch", "light", 0.30, 0.01, BASIS_MEASURED, w);
    result_give(result, &lean, NULL, NULL, "light", 0.02, 0.0, BASIS_MEASURED, w);
    result_give(result, &lean, NULL, NULL, "aft", -0.03, 0.0, BASIS_MEASURED, w);
    result_give(result, &along, NULL, NULL, "light", 7.0, 0.0, BASIS_MEASURED, w);
    result_give(result, &along, NULL, NULL, "aft", 6.0, 0.0, BASIS_MEASURED, w);
    result_settle(result);
    assert_float_equal(result_answer_find(result, "afloat.height")->value, 0.20, 0.0);
    assert_string_equal(result_answer_find(result, "afloat.height")->situation, "aft");
    assert_float_equal(result_answer_find(result, "afloat.height.hatch")->value, 0.30, 0.0);
    assert_float_equal(result_answer_find(result, "afloat.height@light")->value, 0.30, 0.0);
    assert_float_equal(result_answer_find(result, "afloat.height.vent@light")->value, 0.50, 0.0);
    assert_float_equal(result_answer_find(result, "afloat.lean")->value, -0.03, 0.0);
    assert_float_equal(result_answer_find(result, "afloat.along")->value, 6.0, 0.0);
    assert_null(result_answer_find(result, "afloat.nothing"));
}

static void
findings_stand_worst_first(void **state)
{
    Result *result = ((Fixture *) *state)->result;
    result_say(result, &check, "a", "", LEVEL_DOUBT, NULL);
    result_say(result, &check, "b", "", LEVEL_DANGER, NULL);
    result_say(result, &check, "c", "", LEVEL_FAULT, NULL);
    result_settle(result);
    assert_string_equal(result_finding(result, 0)->id, "afloat.openings.b");
    assert_string_equal(result_finding(result, 1)->id, "afloat.openings.c");
    assert_string_equal(result_finding(result, 2)->id, "afloat.openings.a");
    size_t answered, asked;
    result_questions(result, &answered, &asked);
    assert_int_equal(asked, 1);
    assert_int_equal(answered, 0);
}

static void
names_are_the_owners_words(void **state)
{
    Result *result = ((Fixture *) *state)->result;
    Finding *f = result_say(result, &check, "vent", "openings.vent", LEVEL_DOUBT, NULL);
    assert_string_equal(f->about_name, "engine vent");
    assert_string_equal(result_say(result, &check, NULL, "", LEVEL_DOUBT, NULL)->about_name,
                        "the boat");
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(fine_only_outside_the_spread, set_up, tear_down),
        cmocka_unit_test_setup_teardown(a_remembered_limit_is_never_fine, set_up, tear_down),
        cmocka_unit_test_setup_teardown(an_assumed_value_outside_the_spread_is_a_doubt, set_up,
                                        tear_down),
        cmocka_unit_test_setup_teardown(an_extrapolation_or_a_gap_is_a_doubt, set_up, tear_down),
        cmocka_unit_test_setup_teardown(bare_names_are_the_governing_ones, set_up, tear_down),
        cmocka_unit_test_setup_teardown(what_is_explained_is_counted_once, set_up, tear_down),
        cmocka_unit_test_setup_teardown(findings_stand_worst_first, set_up, tear_down),
        cmocka_unit_test_setup_teardown(names_are_the_owners_words, set_up, tear_down),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
