/* What the water says of her: surveys, heel tests, spaces open to the sea, slings and blocks; on a box with closed forms, and
 * what is required of dunlin. */
#include "boats.h"

#include <string.h>

#include "boat/model.h"

/* 20 x 5 x 2.5 m; 120 t floats her at 1.2 m, so every freeboard is 1.3 m (docs/methods/float.md 9.1). */
#define BOX                                                                                        \
    "careen: 1\n"                                                                                  \
    "boat:\n  name: Box\n  kind: keeled-barge\n  waters: canal\n  density: 1000 kg/m3 "            \
    "(measured)\n  people: 0\n"                                                                    \
    "hull:\n  within: 2 mm\n  stations:\n"                                                         \
    "    a:\n      along: 0 m\n      points: [0 m 0 m, 2.5 m 0 m knuckle bilge, 2.5 m 2.5 m]\n"    \
    "    b:\n      along: 20 m\n      points: [0 m 0 m, 2.5 m 0 m knuckle bilge, 2.5 m 2.5 m]\n"
#define SHELL(mass)                                                                                 \
    "items:\n  shell:\n    what: the whole box\n    along: 10 m\n    height: 1.5 m ± 0.05 m\n    " \
    "mass: " mass "\n"
#define LEVEL                                                                                      \
    "measured:\n  marks:\n    date: 2026-04-12\n    readings: [1 m port 1.300 m, 1 m starboard "   \
    "1.301 m, 10 m port 1.299 m, "                                                                 \
    "10 m starboard 1.300 m, 19 m port 1.300 m, 19 m starboard 1.299 m]\n"

static Solved
solved_text(const char *text)
{
    return solve_boat(boat_of_text(text), STAGE_DONE);
}

static void
water_weighs_her(void **state)
{
    (void) state;
    Solved s = solved_text(BOX SHELL("about 100 t") LEVEL);
    const Answer *mass = result_answer_find(s.result, "afloat.displacement@light");
    assert_true(fabs(mass->value - 120000.0) < 300.0);
    assert_true(mass->spread < 2000.0);
    assert_true(fabs(answer(&s, "afloat.unexplained") - 20000.0) < 300.0);
    assert_true(fabs(answer(&s, "afloat.draught-aft@light") - 1.2) < 0.003);
    solved_clear(&s);
}

/* What came after the readings is added, what went is taken off, each by its own mass. */
static void
later_changes_are_counted(void **state)
{
    (void) state;
    Solved s = solved_text(BOX SHELL("about 100 t") "  stove:\n    along: 10 m\n    height: 1 m\n  "
                                                    "  mass: 500 kg\n    state: to-fit\n"
                                                    "  scrap:\n    along: 10 m\n    height: 1 m\n  "
                                                    "  mass: 2 t\n    state: to-remove\n" LEVEL);
    assert_true(fabs(answer(&s, "afloat.displacement@light") - 118500.0) < 300.0);
    Solved now = solve_boat(boat_copy(s.boat), STAGE_NOW);
    assert_true(fabs(answer(&now, "afloat.displacement@light") - 120000.0) < 300.0);
    solved_clear(&now);
    solved_clear(&s);
}

/* Guesses err together: 40 % too heavy is 400 kg more fitted and 800 kg more taken off, 400 kg less in all. */
static void
what_is_taken_off_errs_the_other_way(void **state)
{
    (void) state;
    Solved alone = solved_text(BOX SHELL("about 100 t") LEVEL);
    Solved both =
        solved_text(BOX SHELL("about 100 t") "  stove:\n    along: 10 m\n    height: 1 m\n    "
                                             "mass: about 1 t\n    state: to-fit\n"
                                             "  scrap:\n    along: 10 m\n    height: 1 m\n    "
                                             "mass: about 2 t\n    state: to-remove\n" LEVEL);
    double water = result_answer_find(alone.result, "afloat.displacement@light")->spread;
    assert_float_equal(result_answer_find(both.result, "afloat.displacement@light")->spread,
                       hypot(water, 400.0), 1.0);
    solved_clear(&both);
    solved_clear(&alone);
}

static void
a_surer_list_stays(void **state)
{
    (void) state;
    Solved s = solved_text(BOX SHELL("119.9 t ± 10 kg") LEVEL);
    assert_float_equal(answer(&s, "afloat.displacement@light"), 119900.0, 1e-6);
    solved_clear(&s);
    /* Unless the water contradicts it: then something is missing from it, however sure its entries are. */
    s = solved_text(BOX SHELL("110 t ± 10 kg") LEVEL);
    assert_true(fabs(answer(&s, "afloat.displacement@light") - 120000.0) < 300.0);
    assert_int_equal(finding(&s, "afloat.readings.marks")->level, LEVEL_FAULT);
    solved_clear(&s);
}

static void
a_wrong_reading_is_named(void **state)
{
    (void) state;
    Solved s =
        solved_text(BOX SHELL("about 100 t") "measured:\n  marks:\n    date: 2026-04-12\n    "
                                             "readings: [1 m port 1.300 m, 1 m starboard 1.301 m, "
                                             "7 m port 1.299 m, 7 m starboard 1.300 m, 13 m port "
                                             "1.100 m, 13 m starboard 1.301 m, 19 m port 1.300 m, "
                                             "19 m starboard 1.299 m]\n");
    const Finding *f = finding(&s, "afloat.readings.marks-odd");
    assert_string_equal(f->words[0], "5");
    assert_true(fabs(answer(&s, "afloat.displacement@light") - 120000.0) < 400.0);
    solved_clear(&s);
}

static void
one_side_only_says_nothing(void **state)
{
    (void) state;
    Solved s = solved_text(BOX SHELL("about 100 t") "measured:\n  marks:\n    date: 2026-04-12\n   "
                                                    " readings: [1 m port 1.3 m, 10 m port 1.3 "
                                                    "m, 19 m port 1.3 m]\n");
    assert_int_equal(finding(&s, "afloat.readings.marks")->level, LEVEL_DOUBT);
    assert_float_equal(answer(&s, "afloat.displacement@light"), 100000.0, 1e-6);
    solved_clear(&s);
}

static void
a_freeboard_above_the_deck_is_named(void **state)
{
    (void) state;
    Solved s = solved_text(BOX SHELL("about 100 t") "measured:\n  marks:\n    date: 2026-04-12\n   "
                                                    " readings: [1 m port 1.3 m, 1 m starboard 1.3 "
                                                    "m, 19 m port 2.6 m, 19 m starboard 1.3 m]\n");
    const Finding *f = finding(&s, "afloat.readings.marks");
    assert_non_null(strstr(f->template_text, "higher than her side"));
    assert_string_equal(f->words[0], "3");
    assert_float_equal(answer(&s, "afloat.displacement@light"), 100000.0, 1e-6);
    solved_clear(&s);
}

/* The test of a box with KG 1.5 m (GM 0.836 m) whose list says 1.2 m: the height of its weight is put right. */
static void
heel_test_finds_the_height(void **state)
{
    (void) state;
    Solved s = solved_text(BOX "items:\n  shell:\n    along: 10 m\n    height: 1.2 m ± 0.5 m\n    "
                               "mass: about 100 t\n" LEVEL
                               "  heel:\n    kind: heel-test\n    date: 2026-04-12\n    pendulum: "
                               "2.1 m (measured)\n    moves: [0 kg 0 m port 0 "
                               "mm, 500 kg ± 5 kg 2 m port 20.93 mm, 500 kg ± 5 kg 4 m port 41.86 "
                               "mm, 500 kg ± 5 kg 2 m port 20.93 mm, 0 kg 0 m "
                               "port 0 mm, 500 kg ± 5 kg 2 m starboard 20.93 mm, 500 kg ± 5 kg 4 m "
                               "starboard 41.86 mm, 500 kg ± 5 kg 2 m "
                               "starboard 20.93 mm, 0 kg 0 m port 0 mm]\n");
    assert_true(fabs(answer(&s, "afloat.vcg@light") - 1.5) < 0.01);
    assert_true(fabs(answer(&s, "afloat.gm@light") - 0.836) < 0.01);
    solved_clear(&s);
}

/* Midship 3 m open, permeability 0.95: T1 = T L/(L - mu l) = 1.399416910 m (docs/methods/float.md F-2). */
static void
flooded_box_as_closed_form(void **state)
{
    (void) state;
    Solved s =
        solved_text(BOX SHELL("120 t ± 100 kg") "spaces:\n  hold:\n    along: 8.5 m to 11.5 m\n");
    assert_float_equal(answer(&s, "afloat.flooded-height.hold"), 2.5 - 1.399416910, 1e-6);
    assert_int_equal(finding(&s, "afloat.flooded.hold")->level, LEVEL_FINE);
    solved_clear(&s);
}

static void
flooded_box_is_lost(void **state)
{
    (void) state;
    Solved s =
        solved_text(BOX SHELL("120 t ± 100 kg") "spaces:\n  hold:\n    along: 1 m to 19 m\n");
    assert_int_equal(finding(&s, "afloat.flooded.hold")->level, LEVEL_FAULT);
    solved_clear(&s);
}

static void
slings_bear_by_the_lever(void **state)
{
    (void) state;
    Solved s =
        solved_text(BOX SHELL("120 t ± 100 kg") "ashore:\n  sling-aft: 4 m\n  sling-fore: 14 m\n");
    assert_float_equal(answer(&s, "afloat.sling-aft"), 120000.0 * 4.0 / 10.0, 1e-6);
    assert_float_equal(answer(&s, "afloat.sling-fore"), 120000.0 * 6.0 / 10.0, 1e-6);
    solved_clear(&s);
    s = solved_text(BOX SHELL("120 t") "ashore:\n  sling-aft: 11 m\n  sling-fore: 14 m\n");
    assert_int_equal(finding(&s, "afloat.ashore.slings")->level, LEVEL_DANGER);
    solved_clear(&s);
}

static void
dunlin_has_what_is_required(void **state)
{
    (void) state;
    static const char *const names[] = {"afloat.unexplained",
                                        "afloat.block-load",
                                        "afloat.sling-fore",
                                        "afloat.sling-aft",
                                        "afloat.flooded-height.engine-room",
                                        "afloat.flooded-height.saloon"};
    Solved weighed = solve_boat(boat_of_example("dunlin", NULL), STAGE_DONE);
    for (size_t i = 0; i < G_N_ELEMENTS(names); i++)
        assert_true(isfinite(answer(&weighed, names[i])));
    Boat *list = boat_copy(weighed.boat);
    size_t n;
    const Record *const *measured = boat_records(list, &section_measured, &n);
    for (size_t i = 0; i < n; i++)
        ((Measurement *) measured[i]->data)->readings.n = 0;
    Solved listed = solve_boat(list, STAGE_DONE);
    assert_true(result_answer_find(weighed.result, "afloat.displacement")->spread <
                0.6 * result_answer_find(listed.result, "afloat.displacement")->spread);
    solved_clear(&listed);
    solved_clear(&weighed);
}

/* A shape from length, beam and height: it floats, and says how little is known. */
static void
a_form_is_a_first_answer(void **state)
{
    (void) state;
    Solved s = solved_text("careen: 1\nboat:\n  name: Form\n  waters: canal\nhull:\n  form:\n    "
                           "type: keeled-barge\n    length: 15 m\n"
                           "    beam-mid: 4.2 m\n    depth-mid: 2.0 m\n"
                           "items:\n  shell:\n    along: 7.3 m\n    height: 1 m\n    mass: 20 t\n");
    const Answer *draught = result_answer_find(s.result, "afloat.draught-aft@light");
    assert_non_null(draught);
    assert_true(draught->value > 0.2 && draught->value < 1.5 && draught->spread > 0.05);
    assert_int_equal(finding(&s, "afloat.hull-shape.form")->level, LEVEL_DOUBT);
    solved_clear(&s);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(water_weighs_her),
        cmocka_unit_test(later_changes_are_counted),
        cmocka_unit_test(what_is_taken_off_errs_the_other_way),
        cmocka_unit_test(a_surer_list_stays),
        cmocka_unit_test(a_freeboard_above_the_deck_is_named),
        cmocka_unit_test(a_wrong_reading_is_named),
        cmocka_unit_test(one_side_only_says_nothing),
        cmocka_unit_test(heel_test_finds_the_height),
        cmocka_unit_test(flooded_box_as_closed_form),
        cmocka_unit_test(flooded_box_is_lost),
        cmocka_unit_test(slings_bear_by_the_lever),
        cmocka_unit_test(dunlin_has_what_is_required),
        cmocka_unit_test(a_form_is_a_first_answer),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
