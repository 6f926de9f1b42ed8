/* A box barge through the whole spine, against closed forms; and boats that sink, loll, or are not known. */
#include "boats.h"

#include <string.h>

#define BOX                                                                                        \
    "careen: 1\n"                                                                                  \
    "boat:\n  name: Box\n  kind: flat-barge\n  waters: canal\n  density: 1000 kg/m3 (measured)\n " \
    " people: 0\n"                                                                                 \
    "hull:\n  within: 1 mm\n  stations:\n"                                                         \
    "    a:\n      along: 0 m\n      points: [0 m 0 m, 2.5 m 0 m knuckle bilge, 2.5 m 2.5 m]\n"    \
    "    b:\n      along: 20 m\n      points: [0 m 0 m, 2.5 m 0 m knuckle bilge, 2.5 m 2.5 m]\n"

#define SHELL(mass, along, height)                                                                 \
    "items:\n  shell:\n    what: the whole box\n    along: " along "\n    height: " height         \
    "\n    mass: " mass "\n"

static Solved
solved_text(const char *text)
{
    return solve_boat(boat_of_text(text), STAGE_DONE);
}

/* 20 x 5 x 2.5 m, 120 t, KG 1.5 m: T = 1.2 m, KB 0.6, BM = B^2/(12 T) = 1.736111, GM 0.836111 (docs/methods/float.md 9.1). */
static void
box_lies_as_closed_form(void **state)
{
    (void) state;
    Solved s = solved_text(BOX SHELL("120 t ± 1 t (measured)", "10 m ± 0.02 m", "1.5 m ± 0.02 m"));
    assert_float_equal(answer(&s, "afloat.displacement"), 120000.0, 1e-6);
    assert_float_equal(answer(&s, "afloat.draught-aft"), 1.2, 1e-9);
    assert_float_equal(answer(&s, "afloat.draught-fore"), 1.2, 1e-9);
    assert_float_equal(answer(&s, "afloat.gm"), 25.0 / 14.4 + 0.6 - 1.5, 1e-9);
    assert_float_equal(answer(&s, "afloat.trim"), 0.0, 1e-9);
    assert_float_equal(answer(&s, "afloat.list"), 0.0, 1e-9);
    assert_float_equal(answer(&s, "afloat.freeboard"), 1.3, 1e-9);
    assert_float_equal(answer(&s, "afloat.air-draught"), 1.3, 1e-9);
    assert_float_equal(answer(&s, "afloat.opening-height.deck-edge"), 1.3, 1e-9);
    solved_clear(&s);
}

/* GM spread of the box: dKG alone gives 0.02 m; the mass 1 t gives |dKM/dM| = 1/(2 rho A) - B^2/(12 T^2 rho A) per kg. */
static void
box_spreads_as_closed_form(void **state)
{
    (void) state;
    Solved s = solved_text(BOX SHELL("120 t ± 1 t (measured)", "10 m ± 0.02 m", "1.5 m ± 0.02 m"));
    double area = 100.0, per_kg = (0.5 - 25.0 / (12.0 * 1.44)) / (1000.0 * area);
    const Answer *gm = result_answer_find(s.result, "afloat.gm@light");
    double hull = 3.0 * (25.0 / 14.4) * 0.001 / 2.5 / sqrt(2.0);
    assert_float_equal(gm->spread, sqrt(pow(0.02, 2) + pow(per_kg * 1000.0, 2) + hull * hull),
                       2e-6);
    const Answer *mass = result_answer_find(s.result, "afloat.displacement@light");
    assert_float_equal(mass->spread, 1000.0, 1e-6);
    solved_clear(&s);
}

static void
every_answer_is_a_number_or_says_it_is_none(void **state)
{
    (void) state;
    Solved s = solved_text(BOX SHELL("120 t", "10 m", "1.5 m"));
    for (size_t i = 0; i < result_answers(s.result); i++) {
        const Answer *a = result_answer(s.result, i);
        assert_false(isinf(a->value));
        assert_true(isnan(a->value) || a->spread >= 0.0 || isnan(a->spread));
        assert_non_null(a->working);
    }
    solved_clear(&s);
}

static void
overloaded_box_sinks(void **state)
{
    (void) state;
    Solved s = solved_text(BOX SHELL("251 t", "10 m", "1.5 m"));
    assert_int_equal(finding(&s, "afloat.floats")->level, LEVEL_DANGER);
    assert_non_null(strstr(finding(&s, "afloat.floats")->template_text, "sinks"));
    assert_null(result_answer_find(s.result, "afloat.gm"));
    solved_clear(&s);
}

/* KG 2.6 m: GM = -0.264; wall-sided loll tan(phi) = sqrt(-2 GM/BM) = 0.5514 (Barrass and Derrett p. 229), past the bilge's
 * emergence it is no more than near; the list must be a stable loll and the stiffness a danger. */
static void
tender_box_lolls(void **state)
{
    (void) state;
    Solved s = solved_text(BOX SHELL("120 t ± 1 t", "10 m ± 0 m", "2.4 m ± 0 m"));
    double gm = 25.0 / 14.4 + 0.6 - 2.4, loll = atan(sqrt(-2.0 * gm / (25.0 / 14.4)));
    assert_float_equal(answer(&s, "afloat.list"), loll, 1e-6);
    assert_int_equal(finding(&s, "afloat.stiffness")->level, LEVEL_DANGER);
    solved_clear(&s);
}

static void
topheavy_box_capsizes(void **state)
{
    (void) state;
    Solved s = solved_text(BOX SHELL("120 t", "10 m", "30 m"));
    assert_int_equal(finding(&s, "afloat.floats")->level, LEVEL_DANGER);
    solved_clear(&s);
}

static void
no_hull_is_a_doubt(void **state)
{
    (void) state;
    Solved s = solved_text("careen: 1\nboat:\n  name: Nothing\n" SHELL("120 t", "10 m", "1.5 m"));
    assert_int_equal(finding(&s, "afloat.floats")->level, LEVEL_DOUBT);
    assert_string_equal(finding(&s, "afloat.floats")->settle_path, "hull.stations");
    assert_int_equal(result_answers(s.result), 0);
    solved_clear(&s);
}

static void
no_weights_is_a_doubt(void **state)
{
    (void) state;
    Solved s = solved_text(BOX);
    assert_int_equal(finding(&s, "afloat.floats")->level, LEVEL_DOUBT);
    solved_clear(&s);
}

static void
an_item_without_mass_is_named(void **state)
{
    (void) state;
    Solved s = solved_text(
        BOX SHELL("120 t", "10 m",
                  "1.5 m") "  box:\n    what: mystery box\n    along: 3 m\n    height: 1 m\n");
    const Finding *f = finding(&s, "afloat.weights.box");
    assert_int_equal(f->level, LEVEL_DOUBT);
    assert_string_equal(f->settle_path, "items.box.mass");
    solved_clear(&s);
}

static void
a_crossing_station_is_a_fault(void **state)
{
    (void) state;
    Solved s = solved_text(
        "careen: 1\nboat:\n  name: Crossed\nhull:\n  stations:\n"
        "    a:\n      along: 0 m\n      points: [0 m 0 m, 2 m 0 m, 1 m 1 m, 1 m -0.5 m, 2 m 2 m]\n"
        "    b:\n      along: 9 m\n      points: [0 m 0 m, 2 m 0 m, 2 m 2 m]\n" SHELL("5 t", "4 m",
                                                                                      "0.5 m"));
    assert_int_equal(finding(&s, "afloat.hull-shape.a")->level, LEVEL_FAULT);
    solved_clear(&s);
}

/* One tonne moved a metre to port lists her to port, and by what the righting moment allows. */
static void
list_follows_the_weight(void **state)
{
    (void) state;
    Solved s =
        solved_text(BOX SHELL("119 t", "10 m", "1.5 m") "  lump:\n    along: 10 m\n    across: 1 m "
                                                        "port\n    height: 1.5 m\n    mass: 1 t\n");
    double gm = 25.0 / 14.4 + 0.6 - 1.5, bm = 25.0 / 14.4, y = 1.0 / 120.0;
    double t = tan(-answer(&s, "afloat.list"));
    assert_float_equal(gm * t + 0.5 * bm * t * t * t, y,
                       1e-9); /* wall-sided, docs/methods/float.md 9.5 */
    solved_clear(&s);
}

/* The shell weighs in proportion to its plate: two parts in five of give and take come on top of what its kind has. */
static void
plate_gives_its_spread_to_the_shell(void **state)
{
    (void) state;
    double mass[2], spread[2];
    static const char *const plates[] = {"5 mm", "5 mm ± 2 mm"};
    for (size_t i = 0; i < 2; i++) {
        g_auto(GStrv) parts = g_strsplit(BOX, "  stations:\n", 2);
        g_autofree char *text = g_strdup_printf(
            "%s  plate: %s\n  stations:\n%sitems:\n  shell:\n    kind: steel-shell\n"
            "    along: 10 m\n    height: 1.2 m\n",
            parts[0], plates[i], parts[1]);
        Solved s = solved_text(text);
        const Answer *a = result_answer_find(s.result, "afloat.displacement@light");
        mass[i] = a->value;
        spread[i] = a->spread;
        solved_clear(&s);
    }
    assert_float_equal(mass[0], mass[1], 1e-9);
    assert_float_equal(sqrt(spread[1] * spread[1] - spread[0] * spread[0]), 0.4 * mass[0], 1e-6);
}

/* The owner finds it again: the line of the value, or of the limit where there is none. */
static void
a_limit_that_cannot_be_used_says_its_line(void **state)
{
    (void) state;
    static const struct {
        const char *text, *line;
    } wrong[] = {
        {"  wind-heel:\n    read-in: a book\n    date: 2026-01-02\n    value: 3 m\n", "27"},
        {"  wind-heal:\n    value: 12 deg\n", "25"},
        {"  wind-heel:\n    value: 12 deg\n    date: 2026-01-02\n", "25"}};
    for (size_t i = 0; i < G_N_ELEMENTS(wrong); i++) {
        g_autofree char *text =
            g_strconcat(BOX SHELL("120 t", "10 m", "1.5 m") "limits:\n", wrong[i].text, NULL);
        Solved s = solved_text(text);
        g_autofree char *id = g_strdup_printf("afloat.own-limits.%.9s", wrong[i].text + 2);
        const Finding *f = finding(&s, id);
        assert_int_equal(f->level, LEVEL_FAULT);
        assert_string_equal(f->words[1], wrong[i].line);
        solved_clear(&s);
    }
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(box_lies_as_closed_form),
        cmocka_unit_test(box_spreads_as_closed_form),
        cmocka_unit_test(every_answer_is_a_number_or_says_it_is_none),
        cmocka_unit_test(overloaded_box_sinks),
        cmocka_unit_test(tender_box_lolls),
        cmocka_unit_test(topheavy_box_capsizes),
        cmocka_unit_test(no_hull_is_a_doubt),
        cmocka_unit_test(no_weights_is_a_doubt),
        cmocka_unit_test(an_item_without_mass_is_named),
        cmocka_unit_test(a_crossing_station_is_a_fault),
        cmocka_unit_test(list_follows_the_weight),
        cmocka_unit_test(plate_gives_its_spread_to_the_shell),
        cmocka_unit_test(a_limit_that_cannot_be_used_says_its_line),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
