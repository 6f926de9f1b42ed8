/* Pictures of hull and water hold what closed forms give for a box, and what the checks answer; a boat that lacks the data
 * says so. */
#include "boats.h"

#include <string.h>

#include "result/picture/flooded_profile.h"
#include "result/picture/plans.h"
#include "result/picture/readings.h"
#include "result/picture/slings.h"
#include "result/picture/stations.h"

/* 20 x 5 x 2.5 m; 120 t floats her at 1.2 m. */
#define HEAD                                                                                       \
    "careen: 1\nboat:\n  name: Box\n  kind: keeled-barge\n  waters: canal\n"                       \
    "  density: 1000 kg/m3 (measured)\n  people: 0\n"
#define BOX                                                                                        \
    HEAD "hull:\n  within: 2 mm\n  stations:\n"                                                    \
         "    b:\n      along: 20 m\n      points: [0 m 0 m, 2.5 m 0 m knuckle bilge, 2.5 m 2.5 "  \
         "m]\n"                                                                                    \
         "    a:\n      along: 0 m\n      points: [0 m 0 m, 2.5 m 0 m knuckle bilge, 2.5 m 2.5 "   \
         "m]\n"
#define SHELL                                                                                      \
    "items:\n  shell:\n    along: 10 m\n    height: 1.5 m ± 0.05 m\n    mass: 120 t ± 100 kg\n"

static Drawn
drawn(Boat *boat, const char *picture)
{
    return draw_boat(boat, picture, NULL, NULL);
}

static void
stations_run_from_aft(void **state G_GNUC_UNUSED)
{
    Drawn d = drawn(boat_of_text(BOX SHELL), "stations");
    const StationsPicture *fig = drawn_data(&d);
    assert_int_equal(fig->from, STATIONS_TAKEN);
    assert_int_equal(fig->stations, 2);
    assert_string_equal(fig->station[0].path, "hull.stations.a");
    assert_true(fig->station[1].joined.x_m == 20.0);
    assert_int_equal(fig->station[0].n, 3);
    assert_string_equal(fig->station[0].point[1].name, "bilge");
    assert_float_equal(fig->lie.origin_depth_m, 1.2, 1e-6);
    assert_float_equal(fig->within_m, 0.002, 1e-12);
    assert_int_equal(fig->suspects, 0);
    drawn_clear(&d);
}

#define PLUMB(id, along, bottom)                                                                   \
    "    " id ":\n      along: " along "\n      rail: 0 m\n      beam: 5 m\n      keel: 0 m\n"     \
    "      readings: [0 m 0.8 m, " bottom " 1.6 m, 0 m 2.5 m knuckle bilge]\n"

/* The string at rail height, the keel on the level: readings are half-breadth and height turned over. */
static void
a_wrong_tape_reading_is_marked(void **state G_GNUC_UNUSED)
{
    Drawn d = drawn(
        boat_of_text(
            HEAD "hull:\n  tape:\n    base-aft: 2 m\n    base-aft-height: 0 m\n    "
                 "base-fore: 18 m\n    base-fore-height: 0 m\n    stern-height: 2.5 m\n"
                 "    list: 0 deg\n    within: 3 mm\n"
                 "  strings:\n    port:\n      length: 20 m\n      aft-height: 2.5 m\n"
                 "      fore-height: 2.5 m\n      stern: 0 m\n  plumb:\n" PLUMB("p1", "0 m", "0 m")
                     PLUMB("p2", "4 m", "0 m") PLUMB("p3", "8 m", "0 m")
                         PLUMB("p4", "12 m", "0.3 m") PLUMB("p5", "16 m", "0 m")
                             PLUMB("p6", "18 m", "0 m") PLUMB("p7", "20 m", "0 m") SHELL),
        "stations");
    const StationsPicture *fig = drawn_data(&d);
    assert_int_equal(fig->from, STATIONS_TAPED);
    assert_int_equal(fig->stations, 7);
    assert_int_equal(fig->suspects, 1);
    assert_string_equal(fig->suspect[0].path, "hull.plumb.p4");
    assert_string_equal(fig->suspect[0].name, "p4, reading 2");
    assert_float_equal(fig->suspect[0].y_m, 2.2, 0.01);
    assert_float_equal(fig->suspect[0].out_m, -0.3, 0.02);
    assert_string_equal(fig->station[0].point[1].name, "bilge");
    drawn_clear(&d);
}

static void
a_form_has_no_points(void **state G_GNUC_UNUSED)
{
    Drawn d = drawn(boat_of_text(HEAD "hull:\n  form:\n    type: keeled-barge\n    length: 15 m\n"
                                      "    beam-mid: 4.2 m\n    depth-mid: 2.0 m\n"
                                      "items:\n  shell:\n    along: 7.3 m\n    height: 1 m\n"
                                      "    mass: 20 t\n"),
                    "stations");
    const StationsPicture *fig = drawn_data(&d);
    assert_int_equal(fig->from, STATIONS_FROM_FORM);
    assert_true(fig->stations > 2);
    for (size_t i = 0; i < fig->stations; i++)
        assert_int_equal(fig->station[i].n, 0);
    drawn_clear(&d);
}

#define MARKS(date, five)                                                                          \
    "    date: " date "\n    readings: [1 m port 1.300 m, 1 m starboard 1.301 m, 7 m port 1.299 "  \
    "m, 7 m starboard 1.300 m, 13 m port " five ", 13 m starboard 1.301 m, 19 m port 1.300 m, "    \
    "19 m starboard 1.299 m]\n"

/* A box at 1.2 m with freeboards of 1.3 m, one read 0.2 m short. */
static void
the_wrong_reading_is_left_out(void **state G_GNUC_UNUSED)
{
    Drawn d = drawn(boat_of_text(BOX SHELL "measured:\n  later:\n" MARKS(
                        "2026-04-12", "1.100 m") "  before:\n" MARKS("2025-04-12", "1.300 m")),
                    "readings");
    const ReadingsPicture *fig = drawn_data(&d);
    assert_string_equal(fig->path, "measured.later");
    assert_int_equal(fig->readings, 8);
    for (size_t i = 0; i < fig->readings; i++) {
        assert_int_equal(fig->reading[i].left_out, i == 4);
        assert_float_equal(fig->reading[i].misfit_m, i == 4 ? -0.2 : 0.0, 0.003);
    }
    assert_float_equal(fig->reading[4].measured_m, 1.1, 1e-9);
    assert_float_equal(fig->lie.origin_depth_m, 1.2, 0.003);
    assert_true(fig->rms_m > 0.0 && fig->rms_m < 0.002);
    drawn_clear(&d);
}

static void
slings_bear_by_the_lever(void **state G_GNUC_UNUSED)
{
    Drawn d =
        drawn(boat_of_text(BOX SHELL "ashore:\n  sling-aft: 4 m\n  sling-fore: 14 m\n"), "slings");
    const SlingsPicture *fig = drawn_data(&d);
    assert_float_equal(fig->sling[0].load_kg, 48000.0, 1e-6);
    assert_float_equal(fig->sling[1].load_kg, 72000.0, 1e-6);
    assert_false(fig->slings_assumed);
    assert_int_equal(fig->hold, SLINGS_HOLD);
    assert_float_equal(fig->crane_kg, 120100.0, 1e-6);
    drawn_clear(&d);
    d = drawn(boat_of_text(BOX SHELL "ashore:\n  sling-aft: 11 m\n  sling-fore: 14 m\n"), "slings");
    fig = drawn_data(&d);
    assert_int_equal(fig->hold, SLINGS_TIP);
    assert_true(isnan(fig->sling[0].load_kg) && isnan(fig->sling[1].load_kg));
    drawn_clear(&d);
}

/* Midship 3 m open: 1.399416910 m (docs/methods/float.md F-2); 1 m less of it is the smaller evil. */
static void
the_worst_space_is_drawn(void **state G_GNUC_UNUSED)
{
    Drawn d = drawn(boat_of_text(BOX SHELL "spaces:\n  small:\n    along: 9 m to 11 m\n"
                                           "  hold:\n    along: 8.5 m to 11.5 m\n"),
                    "flooded-profile");
    const FloodedProfilePicture *fig = drawn_data(&d);
    assert_string_equal(fig->space.path, "spaces.hold");
    assert_float_equal(fig->rest.origin_depth_m, 1.2, 1e-6);
    assert_float_equal(fig->flooded.origin_depth_m, 1.399416910, 1e-6);
    assert_float_equal(fig->height_m, 2.5 - 1.399416910, 1e-6);
    assert_string_equal(fig->next_name, "the deck edge");
    drawn_clear(&d);
    d = drawn(boat_of_text(BOX SHELL "spaces:\n  hold:\n    along: 8.5 m to 11.5 m\n"
                                     "  cellar:\n    along: 1 m to 19 m\n"),
              "flooded-profile");
    fig = drawn_data(&d);
    assert_string_equal(fig->space.path, "spaces.cellar");
    assert_true(isnan(fig->flooded.origin_depth_m));
    assert_null(fig->next_name);
    drawn_clear(&d);
}

/* The numbers of the pictures are the checks' own. */
static void
dunlin_agrees_with_her_answers(void **state G_GNUC_UNUSED)
{
    Solved s = solve_boat(boat_of_example("dunlin", NULL), STAGE_DONE);
    Drawn d = drawn(boat_of_example("dunlin", NULL), "slings");
    const SlingsPicture *hung = drawn_data(&d);
    assert_float_equal(hung->sling[0].load_kg, answer(&s, "afloat.sling-aft"), 1e-6);
    assert_float_equal(hung->sling[1].load_kg, answer(&s, "afloat.sling-fore"), 1e-6);
    assert_float_equal(hung->block_kg, answer(&s, "afloat.block-load"), 1e-6);
    drawn_clear(&d);
    d = drawn(boat_of_example("dunlin", NULL), "flooded-profile");
    const FloodedProfilePicture *open = drawn_data(&d);
    g_autofree char *name =
        g_strdup_printf("afloat.flooded-height.%s", open->space.path + strlen("spaces."));
    assert_float_equal(open->height_m, answer(&s, name), 1e-9);
    for (size_t i = 0; i < result_answers(s.result); i++) {
        const Answer *a = result_answer(s.result, i);
        if (strcmp(a->kind->name, "flooded-height") == 0)
            assert_true(open->height_m <= a->value);
    }
    drawn_clear(&d);
    solved_clear(&s);
}

static void
what_is_missing_is_said(void **state G_GNUC_UNUSED)
{
    static const struct {
        const char *boat, *picture, *says;
    } lacks[] = {
        {BOX SHELL, "readings", "no freeboards"},
        {BOX SHELL, "flooded-profile", "no space"},
        {HEAD SHELL, "stations", "shape"},
        {HEAD SHELL, "slings", "findings say"},
        {BOX SHELL "measured:\n  m:\n    date: 2026-04-12\n    readings: [1 m port 1.3 m]\n",
         "readings", "do not fix"},
        {BOX SHELL "spaces:\n  deck:\n    along: 2 m to 4 m\n    height: 2.6 m to 4 m\n",
         "flooded-profile", "below deck"},
    };
    for (size_t i = 0; i < G_N_ELEMENTS(lacks); i++) {
        Drawn d = drawn(boat_of_text(lacks[i].boat), lacks[i].picture);
        assert_null(d.figure);
        if (strstr(d.why_not, lacks[i].says) == NULL)
            fail_msg("%s: %s", lacks[i].picture, d.why_not);
        drawn_clear(&d);
    }
}

/* Each plan lies as a solve of that plan alone has it. */
static void
plans_lie_as_they_float(void **state)
{
    (void) state;
    static const char *const options[] = {NULL, "second-hand-diesel", "electric-drive"};
    Drawn d = drawn(boat_of_example("dunlin", NULL), "plans");
    const PlansPicture *fig = drawn_data(&d);
    assert_int_equal(fig->plans, G_N_ELEMENTS(options));
    for (size_t i = 0; i < fig->plans; i++) {
        Solved s = solve_boat(boat_of_example("dunlin", options[i]), STAGE_DONE);
        const PlanView *plan = &fig->plan[i];
        const Answer *trim = result_answer_find(s.result, "afloat.trim@light"),
                     *list = result_answer_find(s.result, "afloat.list@light"),
                     *freeboard = result_answer_find(s.result, "afloat.freeboard@light");
        assert_null(plan->fault);
        assert_true(plan->hull.n > 5 && plan->houses == 2);
        assert_float_equal(plan->trim_rad, trim->value, 1e-9);
        assert_float_equal(plan->lie.trim_rad, trim->value, 1e-9);
        assert_float_equal(plan->list_rad, list->value, 1e-9);
        assert_float_equal(plan->freeboard_m, freeboard->value, 1e-6);
        assert_true(plan->freeboard_spread_m > 0.0);
        solved_clear(&s);
    }
    drawn_clear(&d);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(stations_run_from_aft),
        cmocka_unit_test(a_wrong_tape_reading_is_marked),
        cmocka_unit_test(a_form_has_no_points),
        cmocka_unit_test(the_wrong_reading_is_left_out),
        cmocka_unit_test(slings_bear_by_the_lever),
        cmocka_unit_test(the_worst_space_is_drawn),
        cmocka_unit_test(dunlin_agrees_with_her_answers),
        cmocka_unit_test(plans_lie_as_they_float),
        cmocka_unit_test(what_is_missing_is_said),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
