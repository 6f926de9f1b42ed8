/* Water in wells and rain in open boats: boxes whose answers stand in closed form, and what is said when something is not
 * known. */
#include "boats.h"

#include <string.h>

/* 20 x 5 x 2.5 m; 120 t floats her at 1.2 m. */
#define BOX(kind, deck)                                                                            \
    "careen: 1\n"                                                                                  \
    "boat:\n  name: Box\n  kind: " kind "\n  deck: " deck                                          \
    "\n  waters: canal\n  density: 1000 kg/m3 (measured)\n  people: 0\n"                           \
    "hull:\n  within: 2 mm\n  stations:\n"                                                         \
    "    a:\n      along: 0 m\n      points: [0 m 0 m, 2.5 m 0 m knuckle bilge, 2.5 m 2.5 m]\n"    \
    "    b:\n      along: 20 m\n      points: [0 m 0 m, 2.5 m 0 m knuckle bilge, 2.5 m 2.5 m]\n"
#define SHELL(mass, height)                                                                         \
    "items:\n  shell:\n    what: the whole box\n    along: 10 m ± 1 mm\n    across: 0 m ± 1 mm\n" \
    "    height: " height " ± 1 mm\n    mass: " mass " ± 10 kg\n"
#define BARGE BOX("keeled-barge", "stepped") SHELL("120 t", "1.2 m")
/* 4 x 4 x 0.5 m amidships: 8 m3. */
#define WELL(rest)                                                                                 \
    "spaces:\n  well:\n    along: 8 m to 12 m\n    across: 2 m starboard to 2 m port\n"            \
    "    height: 2 m to 2.5 m ± 1 mm\n" rest

static Solved
solved_text(const char *text)
{
    return solve_boat(boat_of_text(text), STAGE_DONE);
}

static bool
says(const Solved *s, const char *id)
{
    return result_finding_find(s->result, id) != NULL;
}

static double
step_value(const Finding *f, const char *symbol)
{
    const Step *step = working_find(f->working, symbol);
    if (step == NULL)
        fail_msg("no step %s", symbol);
    return step->value[0];
}

/* Eight tonnes amidships: 80 mm deeper, still level, the deck edge 1.22 m above the water. */
static void
well_full_of_water(void **state)
{
    (void) state;
    Solved s = solved_text(BARGE WELL("    cover: none\n    scuppers: 2 x 50 cm2 (measured)\n"));
    const Finding *f = finding(&s, "afloat.deck-water.well");
    assert_float_equal(f->value, 2.5 - 1.28, 1e-4);
    assert_int_equal(f->level, LEVEL_FINE);
    assert_float_equal(answer(&s, "afloat.deck-water-height.well"), f->value, 1e-12);
    assert_float_equal(step_value(f, "v"), 8.0, 0.009);
    /* KB + BM - KG less the surface of the well. */
    double m = 128.0, kg = (120.0 * 1.2 + 8.0 * 2.25) / m;
    assert_float_equal(step_value(f, "GM"),
                       0.64 + 25.0 / (12.0 * 1.28) - kg - 4.0 * 64.0 / 12.0 / m, 1e-3);
    /* Torricelli: 2 V / (C a sqrt(2 g h)). */
    double t = 16.0 / (0.6 * 0.01 * sqrt(2.0 * 9.80665 * 0.5));
    assert_float_equal(answer(&s, "afloat.drain-time.well"), t, 1e-6);
    assert_int_equal(finding(&s, "afloat.draining.well")->level, LEVEL_FAULT);
    assert_false(says(&s, "afloat.rain.well")); /* it runs out again */
    solved_clear(&s);
}

static void
water_runs_below_through_a_lid(void **state)
{
    (void) state;
    Solved s = solved_text(BARGE WELL(
        "    cover: none\n    scuppers: 100 cm2\n") "openings:\n"
                                                    "  lid:\n    along: 10 m\n    height: 2.2 m ± "
                                                    "1 mm\n    closes: by-hand\n"
                                                    "  hose:\n    along: 10 m\n    across: 2.5 m "
                                                    "port\n    height: 1.9 m\n"
                                                    "    closes: never\n");
    const Finding *f = finding(&s, "afloat.deck-water.well");
    assert_float_equal(f->value, 2.2 - 2.5, 1e-3); /* against the water in the well */
    assert_int_equal(f->level, LEVEL_FAULT);
    assert_string_equal(f->words[0], "lid");
    assert_non_null(strstr(f->template_text, "runs below"));
    bool cover = false;
    for (size_t i = 0; i < f->levers; i++)
        cover |= strcmp(f->lever[i].path, "spaces.well.cover") == 0;
    assert_true(cover);
    solved_clear(&s);
    s = solved_text(BARGE WELL("    cover: hatches\n"));
    assert_false(says(&s, "afloat.deck-water.well"));
    solved_clear(&s);
}

/* A bulwark of half a metre round 4 m of deck: 10 m3, 0.1 m deeper; nothing is said of its sides. */
static void
deck_between_bulwarks(void **state)
{
    (void) state;
    Solved s = solved_text(BOX("keeled-barge", "flush") SHELL(
        "120 t", "0.6 m") "spaces:\n  deck:\n    along: 8 m to 12 m\n    cover: none\n"
                          "    bulwark: 0.5 m\n    scuppers: 1000 cm2\n");
    const Finding *f = finding(&s, "afloat.deck-water.deck");
    assert_float_equal(step_value(f, "v"), 10.0, 0.011);
    assert_float_equal(f->value, 2.5 - 1.3, 2e-4);
    solved_clear(&s);
}

/* All along, it is as broad as her water plane and takes all of BM: she rolls over until so much has run out over the low
 * side that what is left, a wedge along the bulwark, no longer drives her. */
static void
full_deck_rolls_over_and_spills(void **state)
{
    (void) state;
    Solved s = solved_text(BOX("keeled-barge", "flush") SHELL(
        "120 t", "0.6 m") "spaces:\n  deck:\n    along: 0 m to 20 m\n    cover: none\n"
                          "    bulwark: 0.5 m\n    scuppers: 1000 cm2\n");
    const Finding *f = finding(&s, "afloat.deck-water.deck");
    double t = fabs(tan(step_value(f, "heel")));
    assert_true(t > 0.1); /* the surface runs from the rim to the deck */
    assert_float_equal(step_value(f, "v"), 20.0 * 0.5 * 0.5 / t * 0.5, 1e-4);
    solved_clear(&s);
}

static void
what_is_not_known_is_said(void **state)
{
    (void) state;
    Solved s = solved_text(BARGE);
    assert_int_equal(finding(&s, "afloat.deck-water")->level, LEVEL_DOUBT);
    solved_clear(&s);
    s = solved_text(BARGE WELL("    cover: none\n"));
    assert_int_equal(finding(&s, "afloat.draining.well")->level, LEVEL_DOUBT);
    assert_string_equal(finding(&s, "afloat.draining.well")->settle_path, "spaces.well.scuppers");
    assert_false(says(&s, "afloat.deck-water"));
    assert_false(says(&s, "afloat.rain.well"));
    solved_clear(&s);
    s = solved_text(BARGE WELL("    cover: none\n    scuppers: 0 cm2\n"));
    assert_int_equal(finding(&s, "afloat.draining.well")->level, LEVEL_FAULT);
    /* It fills, and runs over the deck: 8 t, the edge 1.22 m above the water. */
    assert_float_equal(finding(&s, "afloat.rain.well")->value, 1.22, 1e-5);
    solved_clear(&s);
    s = solved_text(BARGE WELL("    cover: cloth\n    scuppers: 0 cm2\n"));
    assert_false(says(&s, "afloat.rain.well"));      /* a cloth keeps rain out, */
    assert_true(says(&s, "afloat.deck-water.well")); /* not a sea */
    solved_clear(&s);
}

/* A remembered limit is never fine; what it says to note is what is then used. */
static void
remembered_limit_can_be_noted(void **state)
{
    (void) state;
    static const char well[] = BARGE WELL("    cover: none\n    scuppers: 400 cm2 (measured)\n");
    Solved s = solved_text(well);
    const Finding *f = finding(&s, "afloat.draining.well");
    assert_int_equal(f->level, LEVEL_DOUBT);
    assert_string_equal(f->settle_path, "limits.draining");
    solved_clear(&s);
    g_autofree char *noted =
        g_strconcat(well,
                    "limits:\n  draining:\n    value: 8 min\n    read-in: the standard\n    date: "
                    "2026-04-12\n",
                    NULL);
    s = solved_text(noted);
    assert_float_equal(finding(&s, "afloat.draining.well")->limit, 480.0, 1e-9);
    solved_clear(&s);
}

/* A floor below the water: the sea stands in it. */
static void
floor_under_water(void **state)
{
    (void) state;
    Solved s =
        solved_text(BARGE "spaces:\n  well:\n    along: 8 m to 12 m\n    across: 2 m starboard "
                          "to 2 m port\n    height: 1 m to 2.5 m ± 1 mm\n    cover: none\n"
                          "    scuppers: 50 cm2\n");
    const Finding *f = finding(&s, "afloat.draining.well");
    assert_float_equal(f->value, -0.2, 1e-6);
    assert_int_equal(f->level, LEVEL_FAULT);
    solved_clear(&s);
}

/* An open box: rain weighs what she could still displace, so she takes as much as her side stands above the water; with her
 * weight low enough to stay upright. */
static void
open_box_takes_rain_to_her_freeboard(void **state)
{
    (void) state;
    Solved s =
        solved_text(BOX("open-boat", "open") SHELL("120 t", "0.1 m") "berth:\n  rain: 50 mm\n");
    const Finding *f = finding(&s, "afloat.rain");
    assert_float_equal(f->value, 1.3, 2e-4);
    assert_float_equal(answer(&s, "afloat.rain-taken"), f->value, 1e-12);
    assert_float_equal(f->limit, 0.05, 1e-12);
    assert_int_equal(f->level, LEVEL_FINE);
    /* A millimetre of her side and 10 kg of her 120 t are a millimetre or two of rain. */
    assert_true(f->spread > 0.0005 && f->spread < 0.01);
    solved_clear(&s);
    s = solved_text(BOX("open-boat", "open") SHELL("120 t", "0.1 m"));
    assert_int_equal(finding(&s, "afloat.rain")->level, LEVEL_DOUBT); /* how much falls: assumed */
    solved_clear(&s);
    s = solved_text(BOX("open-boat", "open") SHELL("120 t", "0.1 m") "berth:\n  rain: 1400 mm\n");
    assert_int_equal(finding(&s, "afloat.rain")->level, LEVEL_FAULT);
    solved_clear(&s);
    s = solved_text(BOX("open-boat", "open") SHELL(
        "120 t", "0.1 m") "spaces:\n  boat:\n    along: 0 m to 20 m\n    cover: cloth\n");
    assert_false(says(&s, "afloat.rain") || says(&s, "afloat.rain.boat"));
    solved_clear(&s);
}

/* The surface inside is as broad as the one outside and takes all of BM: GM = KB - KG. With her weight at 1.6 m that is
 * negative from the first drop, (120 + 100 r) / 200 < (120 * 1.6 + 50 r^2) / (120 + 100 r) up to r = 1.1 m: she rolls over
 * on her side as the water runs there. */
static void
tender_box_rolls_over(void **state)
{
    (void) state;
    double before = 1.3;
    static const char *const boats[] = {
        BOX("open-boat", "open") SHELL("120 t", "1.6 m") "berth:\n  rain: 50 mm\n",
        BOX("open-boat", "open") SHELL("120 t", "1.8 m") "berth:\n  rain: 50 mm\n",
        BOX("open-boat", "open") SHELL("120 t", "2.1 m") "berth:\n  rain: 50 mm\n"};
    for (size_t i = 0; i < G_N_ELEMENTS(boats); i++) {
        Solved s = solved_text(boats[i]);
        double rain = finding(&s, "afloat.rain")->value;
        assert_true(rain > 0.0 && rain < 0.8 * before); /* higher weight, much less rain */
        before = rain;
        solved_clear(&s);
    }
}

/* A hold in a decked barge: 8 m of it, 5 m broad. Its rain sinks the whole barge: 40 m2 on 100 m2. */
static void
open_hold(void **state)
{
    (void) state;
    Solved s = solved_text(BOX("keeled-barge", "flush") SHELL(
        "120 t", "0.1 m") "berth:\n  rain: 50 mm\nspaces:\n  hold:\n    along: 6 m to 14 m\n"
                          "    cover: none\n");
    const Finding *f = finding(&s, "afloat.rain.hold");
    /* Full (100 m3 upright) it would sink her: 1.2 + 1.0 of 2.5; it runs over first, 0.3 m of side left. */
    assert_float_equal(f->value, 0.3, 1e-4);
    assert_false(says(&s, "afloat.deck-water.hold"));
    assert_false(says(&s, "afloat.draining.hold"));
    solved_clear(&s);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(well_full_of_water),
        cmocka_unit_test(water_runs_below_through_a_lid),
        cmocka_unit_test(deck_between_bulwarks),
        cmocka_unit_test(full_deck_rolls_over_and_spills),
        cmocka_unit_test(what_is_not_known_is_said),
        cmocka_unit_test(remembered_limit_can_be_noted),
        cmocka_unit_test(floor_under_water),
        cmocka_unit_test(open_box_takes_rain_to_her_freeboard),
        cmocka_unit_test(tender_box_rolls_over),
        cmocka_unit_test(open_hold),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
