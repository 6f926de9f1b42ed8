/* Pictures of the wiring hold every circuit of the file, and the numbers that the answers give. */
#include "boats.h"

#include <glib.h>
#include <string.h>

#include "result/picture/cable_routes.h"
#include "result/picture/fuse_curve.h"
#include "result/picture/one_line.h"
#include "result/picture/voltage_path.h"

static const OneLineLink *
link_at(const OneLinePicture *fig, const char *path)
{
    const OneLineLink *found = NULL;
    for (size_t i = 0; i < fig->links; i++)
        if (strcmp(fig->link[i].path, path) == 0) {
            assert_null(found);
            found = &fig->link[i];
        }
    if (found == NULL)
        fail_msg("%s is not drawn", path);
    return found;
}

/* Mains circuits too, whatever is reckoned of them; and nothing else but boards that are bolted on. */
static void
every_circuit_of_the_file_is_a_link(void **state)
{
    (void) state;
    Drawn d = draw_boat(boat_of_example("dunlin", NULL), "one-line", NULL, NULL);
    const OneLinePicture *fig = drawn_data(&d);
    Solved s = solve_boat(boat_of_example("dunlin", NULL), STAGE_DONE);
    size_t n, bolted = 0;
    const Record *const *records = boat_records(d.boat, section_find("circuits"), &n);
    for (size_t i = 0; i < n; i++) {
        const OneLineLink *link = link_at(fig, records[i]->path);
        g_autofree char *name = g_strconcat("wiring.current.", records[i]->id, NULL);
        const Answer *current = result_answer_find(s.result, name);
        assert_true(current != NULL ? link->current_A == current->value : isnan(link->current_A));
        assert_true(link->from < fig->nodes && link->to < fig->nodes);
    }
    for (size_t i = 0; i < fig->links; i++)
        bolted += fig->link[i].bolted;
    assert_int_equal(fig->links, n + bolted);
    assert_int_equal(bolted, 1);
    assert_int_equal(fig->node[link_at(fig, "circuits.starter-lead")->to].kind, NODE_STARTER);
    assert_int_equal(fig->node[link_at(fig, "circuits.calorifier-feed")->to].kind, NODE_HEATER);
    solved_clear(&s);
    drawn_clear(&d);
}

/* What the check judges a fault is more than is allowed here, and what it finds fine is less. */
static void
colours_agree_with_findings(void **state)
{
    (void) state;
    Drawn d = draw_boat(boat_of_example("dunlin", NULL), "one-line", NULL, NULL);
    const OneLinePicture *fig = drawn_data(&d);
    Solved s = solve_boat(boat_of_example("dunlin", NULL), STAGE_DONE);
    size_t seen = 0;
    for (size_t i = 0; i < fig->links; i++) {
        const char *id = strchr(fig->link[i].path, '.') + 1;
        g_autofree char *name = g_strconcat("wiring.voltage-loss.", id, NULL);
        const Finding *f = result_finding_find(s.result, name);
        if (f == NULL || !f->measured)
            continue;
        seen++;
        assert_true((f->value > f->limit) == (fig->link[i].lost_frac > 1.0));
    }
    assert_true(seen > 15);
    solved_clear(&s);
    drawn_clear(&d);
}

static void
a_situation_shows_its_own_currents(void **state)
{
    (void) state;
    Drawn d = draw_boat(boat_of_example("dunlin", NULL), "one-line", NULL, "evening-at-berth");
    const OneLinePicture *fig = drawn_data(&d);
    Solved s = solve_boat(boat_of_example("dunlin", NULL), STAGE_DONE);
    assert_true(link_at(fig, "circuits.saloon-lights-feed")->current_A ==
                answer(&s, "wiring.current.saloon-lights-feed@evening-at-berth"));
    assert_true(isnan(link_at(fig, "circuits.wipers-feed")->current_A));
    assert_non_null(strstr(fig->caption, "two at home, tanks as they usually are"));
    solved_clear(&s);
    drawn_clear(&d);
}

#define HEAD "careen: 1\nboat:\n  name: X\n"

static void
an_end_that_is_not_written_is_drawn(void **state)
{
    (void) state;
    Drawn d = draw_boat(
        boat_of_text(HEAD "circuits:\n  a:\n    label: X7\n    one-way: 2 m\n    area: 4 mm2\n"),
        "one-line", NULL, NULL);
    const OneLinePicture *fig = drawn_data(&d);
    assert_int_equal(fig->links, 1);
    assert_int_equal(fig->nodes, 2);
    assert_int_equal(fig->node[0].kind, NODE_UNKNOWN);
    assert_string_equal(fig->link[0].label, "X7");
    assert_string_equal(fig->link[0].name, "a");
    drawn_clear(&d);
}

/* By what it gives, not by what it takes. */
static void
a_converter_is_drawn_as_one(void **state)
{
    (void) state;
    Drawn d = draw_boat(
        boat_of_text(HEAD "items:\n  bank: {battery: {voltage: 24 V, capacity: 200 A h}}\n  dcdc: "
                          "{load: {use: other, voltage: 24 V}}\n  radio: {load: {use: other, "
                          "voltage: 12 V, power: 30 W}}\nsources:\n  house: {kind: bank, of: "
                          "bank}\n  low: {kind: converter, of: dcdc, voltage: 12 V, current: 10 "
                          "A}\ncircuits:\n  in: {from: bank, to: dcdc, one-way: 2 m, area: 4 "
                          "mm2}\n  out: {from: low, to: radio, one-way: 1 m, area: 4 mm2}\n"),
        "one-line", NULL, NULL);
    const OneLinePicture *fig = drawn_data(&d);
    const OneLineNode *node = &fig->node[link_at(fig, "circuits.in")->to];
    assert_true(node == &fig->node[link_at(fig, "circuits.out")->from]);
    assert_int_equal(node->kind, NODE_CONVERTER);
    assert_true(node->nominal_V == 12.0);
    drawn_clear(&d);
}

static void
without_wiring_it_says_why(void **state)
{
    (void) state;
    static const char *const pictures[] = {"one-line", "voltage-path", "fuse-curve",
                                           "cable-routes"};
    for (size_t i = 0; i < G_N_ELEMENTS(pictures); i++) {
        Drawn d = draw_boat(boat_of_text(HEAD), pictures[i], NULL, NULL);
        assert_null(d.figure);
        assert_non_null(strstr(d.why_not, "circuit"));
        drawn_clear(&d);
    }
}

static void
a_record_of_a_picture_without_is_refused(void **state)
{
    (void) state;
    Drawn d = draw_boat(boat_of_example("dunlin", NULL), "one-line", "horn", NULL);
    assert_null(d.figure);
    assert_non_null(strstr(d.why_not, "no single thing"));
    drawn_clear(&d);
}

/* Kirchhoff: what is lost in the pieces is what lies between bank and device, whatever the way; and more than the device's own
 * circuit loses. */
static void
steps_add_up(void **state)
{
    (void) state;
    static const char *const devices[] = {"bilge-pump-aft", "toilet", "starter-motor", "gas-alarm",
                                          "inverter-charger"};
    Solved s = solve_boat(boat_of_example("dunlin", NULL), STAGE_DONE);
    for (size_t i = 0; i < G_N_ELEMENTS(devices); i++) {
        Drawn d = draw_boat(boat_of_example("dunlin", NULL), "voltage-path", devices[i], NULL);
        const VoltagePathPicture *fig = drawn_data(&d);
        double lost = 0.0;
        for (size_t k = 0; k < fig->steps; k++)
            lost += fig->step[k].lost_V;
        assert_true(fabs(lost - (fig->source_V - fig->device_V)) < 1e-6);
        g_autofree char *name = g_strconcat("wiring.volts.", devices[i], NULL);
        assert_true(fabs(fig->device_V - answer(&s, name)) < 1e-9);
        assert_true(fig->steps % 2 == 0 && !fig->step[0].back && fig->step[fig->steps - 1].back);
        drawn_clear(&d);
    }
    solved_clear(&s);
}

/* One lamp on one cable: what Ohm's law leaves in each part of a loop of 8.21 ohm/km (flexible, tinned, 2.5 mm2) at 20 degC. */
static void
a_loop_is_shared_out_by_its_resistance(void **state)
{
    (void) state;
    Drawn d = draw_boat(
        boat_of_text(HEAD
                     "items:\n  bank:\n    battery:\n      voltage: 12 V\n      capacity: 100 Ah\n"
                     "  lamp:\n    load:\n      draws: resistance\n      use: other\n      "
                     "voltage: 12 V\n      power: 6 W\nsources:\n  house:\n    kind: bank\n    "
                     "of: bank\ncircuits:\n  feed:\n    from: bank\n    to: lamp\n    "
                     "one-way: 5 m\n    area: 2.5 mm2\n    insulation: 105 degC\n    "
                     "contacts: 4 mohm\n    protect:\n      kind: fuse\n      rating: 5 A\n"),
        "voltage-path", NULL, NULL);
    const VoltagePathPicture *fig = drawn_data(&d);
    assert_string_equal(fig->device, "lamp");
    assert_int_equal(fig->steps, 4);
    assert_int_equal(fig->step[0].in, LOST_IN_JOINTS);
    assert_true(fig->step[0].guarded && !fig->step[2].guarded);
    double metal_ohm =
        8.21e-3 * 5.0 * (1.0 + 0.00393 * 10.0); /* 30 degC in the cabin, hardly warmer */
    double share = fig->step[0].lost_V / fig->step[1].lost_V;
    assert_true(fabs(share / (2e-3 / metal_ohm) - 1.0) < 2e-3);
    assert_true(fabs(fig->step[0].lost_V / fig->step[2].lost_V - 1.0) < 1e-6);
    assert_true(fabs(fig->allowed_V - 1.2) < 1e-9); /* 10 % of 12 V for what is not critical */
    drawn_clear(&d);
}

/* The mains side likewise, cable by cable. */
static void
mains_steps_add_up(void **state)
{
    (void) state;
    Solved s = solve_boat(boat_of_example("dunlin", NULL), STAGE_DONE);
    static const char *const devices[][2] = {{"calorifier", "calorifier-feed"},
                                             {"washing-machine", "washing-machine-feed"}};
    for (size_t i = 0; i < G_N_ELEMENTS(devices); i++) {
        Drawn d = draw_boat(boat_of_example("dunlin", NULL), "voltage-path", devices[i][0], NULL);
        const VoltagePathPicture *fig = drawn_data(&d);
        double lost = 0.0, feed = NAN;
        for (size_t k = 0; k < fig->steps; k++) {
            lost += fig->step[k].lost_V;
            if (strstr(fig->step[k].path, devices[i][1]) != NULL)
                feed = fig->step[k].lost_V;
        }
        assert_true(fabs(lost - (fig->source_V - fig->device_V)) < 1e-9);
        assert_true(fig->source_V > 200.0);
        g_autofree char *name = g_strconcat("wiring.drop.", devices[i][1], NULL);
        assert_true(fabs(feed - answer(&s, name)) < 0.01 * feed);
        drawn_clear(&d);
    }
    solved_clear(&s);
}

/* Without a name: no other device uses more of what is allowed. */
static void
the_worst_device_is_taken(void **state)
{
    (void) state;
    Drawn d = draw_boat(boat_of_example("dunlin", NULL), "voltage-path", NULL, "under-way");
    const VoltagePathPicture *fig = drawn_data(&d);
    double share = (fig->source_V - fig->device_V) / fig->allowed_V;
    if (isfinite(fig->least_V))
        share = fmax(share, (fig->source_V - fig->device_V) / (fig->source_V - fig->least_V));
    static const char *const others[] = {"wipers", "vhf", "refrigerator", "bilge-pump-fore"};
    for (size_t i = 0; i < G_N_ELEMENTS(others); i++) {
        Drawn o =
            draw_boat(boat_of_example("dunlin", NULL), "voltage-path", others[i], "under-way");
        const VoltagePathPicture *other = drawn_data(&o);
        assert_true((other->source_V - other->device_V) / other->allowed_V <= share + 1e-12);
        drawn_clear(&o);
    }
    drawn_clear(&d);
}

static void
a_wrong_device_is_told_what_there_is(void **state)
{
    (void) state;
    Drawn d = draw_boat(boat_of_example("dunlin", NULL), "voltage-path", "bilge-pump-aff", NULL);
    assert_null(d.figure);
    assert_non_null(strstr(d.why_not, "there is no device 'bilge-pump-aff'"));
    assert_non_null(strstr(d.why_not, "did you mean 'bilge-pump-aft'?"));
    assert_non_null(strstr(d.why_not, "saloon-lights, "));
    drawn_clear(&d);
}

#define LAMP                                                                                       \
    HEAD "items:\n  bank:\n    battery:\n      voltage: 12 V\n      capacity: 100 Ah\n      "      \
         "resistance: 8 mohm\n  lamp:\n    load:\n      use: other\n      voltage: 12 V\n      "   \
         "power: 24 W\n      inrush: 6 A\nsources:\n  house:\n    kind: bank\n    of: bank\n"      \
         "circuits:\n  feed:\n    from: bank\n    to: lamp\n    one-way: 5 m\n    area: 2.5 mm2\n" \
         "    insulation: 70 degC\n    runs: cabin\n    bundle: 2\n    contacts: 0 mohm\n    "     \
         "protect:\n      kind: %s\n      rating: %s\n%s"

static Drawn
guarded(const char *kind, const char *rating, const char *more)
{
    g_autofree char *text = g_strdup_printf(LAMP, kind, rating, more);
    return draw_boat(boat_of_text(text), "fuse-curve", NULL, NULL);
}

static double
at_current(const FuseCurvePicture *fig, const double time_s[], double current_A)
{
    size_t i = 0;
    while (i + 1 < fig->n && fig->current_A[i] < current_A)
        i++;
    return time_s[i];
}

/* 115 A s^0.5/mm2 is printed for copper in PVC of 70 degC (IEC 60364-5-54, as reproduced); a blade fuse melts at twice its rating
 * between 0.15 s and 5 s (data/fuse-curves.csv). */
static void
wire_and_fuse_are_those_of_the_tables(void **state)
{
    (void) state;
    Drawn d = guarded("fuse", "10 A", "      class: blade\n");
    const FuseCurvePicture *fig = drawn_data(&d);
    assert_null(fig->no_band);
    assert_int_equal(fig->lates, 0);
    assert_true(fig->start_A == 6.0);
    for (size_t i = 0; i < fig->n; i++) {
        double let_A2s = fig->spoilt_s[i] * fig->current_A[i] * fig->current_A[i];
        if (isfinite(fig->spoilt_s[i]))
            assert_true(fabs(let_A2s / pow(115.0 * 2.5, 2.0) - 1.0) < 0.012 &&
                        fig->spoilt_s[i] <= 5.0);
        if (fig->current_A[i] < fig->allowed_A)
            assert_true(isnan(fig->warm_s[i]));
        if (isfinite(fig->quickest_s[i]) && isfinite(fig->slowest_s[i]))
            assert_true(fig->quickest_s[i] <= fig->slowest_s[i]);
    }
    assert_true(at_current(fig, fig->slowest_s, 20.0) <= 5.0);
    assert_true(at_current(fig, fig->slowest_s, 19.0) > 4.9);
    assert_true(isnan(at_current(fig, fig->slowest_s, 11.0)));
    assert_true(isnan(at_current(fig, fig->quickest_s, 9.0)));
    double E = 12.65, loop = 8.21e-3 * 10.0; /* full at rest; wires.md 4.3 and IEC 60228 */
    assert_true(fabs(fig->fault_A / (E / 0.008) - 1.0) < 1e-6);
    assert_true(fabs(fig->far_fault_A / (E / (0.008 + loop)) - 1.0) < 1e-3);
    drawn_clear(&d);
}

/* A fuse far above what the wire bears leaves a range of currents open, from that limit on. */
static void
a_fuse_too_large_comes_late(void **state)
{
    (void) state;
    Drawn d = guarded("fuse", "40 A", "      class: blade\n");
    const FuseCurvePicture *fig = drawn_data(&d);
    assert_true(fig->lates >= 1);
    assert_true(fig->late[0].low_A >= fig->allowed_A && fig->late[0].low_A < 1.1 * fig->allowed_A);
    assert_false(fig->late[0].spoils);
    assert_true(fig->late[0].high_A > 40.0 && fig->late[0].high_A < 80.0);
    drawn_clear(&d);
}

static void
a_breaker_trips_by_its_curve(void **state)
{
    (void) state;
    Drawn d = guarded("breaker", "10 A", "      curve: C\n");
    const FuseCurvePicture *fig = drawn_data(&d);
    /* 5 to 10 times its rating, times 1.4 on direct current: at once from 140 A, not yet below 70 A. */
    assert_true(at_current(fig, fig->slowest_s, 145.0) <= 0.1 + 1e-12);
    assert_true(at_current(fig, fig->slowest_s, 120.0) > 0.1);
    assert_true(at_current(fig, fig->quickest_s, 60.0) >= 0.1 - 1e-12);
    assert_true(isnan(at_current(fig, fig->slowest_s, 12.0)));
    drawn_clear(&d);
}

/* Curve C on mains acts at once from 10 times its rating, no factor for direct current; a short at the far end draws less than where
 * it is fed, and no more than 230 V behind the 0.35 ohm that shore is taken for, warm and with its cable. */
static void
a_mains_circuit_has_its_curve(void **state)
{
    (void) state;
    Drawn d =
        draw_boat(boat_of_example("dunlin", NULL), "fuse-curve", "washing-machine-feed", NULL);
    const FuseCurvePicture *fig = drawn_data(&d);
    assert_null(fig->no_band);
    assert_true(at_current(fig, fig->slowest_s, 165.0) <= 0.1 + 1e-12);
    assert_true(at_current(fig, fig->slowest_s, 150.0) > 0.1);
    assert_true(fig->far_fault_A < fig->fault_A && fig->far_fault_A < 230.0 / 0.35);
    assert_true(fig->far_fault_A > 16.0);
    drawn_clear(&d);
}

static void
what_is_not_known_of_the_device_is_said(void **state)
{
    (void) state;
    static const char *const kinds[][2] = {
        {"fuse", ""}, {"fuse", "      class: class-t\n"}, {"breaker", ""}};
    for (size_t i = 0; i < G_N_ELEMENTS(kinds); i++) {
        Drawn d = guarded(kinds[i][0], "10 A", kinds[i][1]);
        const FuseCurvePicture *fig = drawn_data(&d);
        assert_non_null(fig->no_band);
        assert_int_equal(fig->lates, 0);
        drawn_clear(&d);
    }
    Drawn d = draw_boat(boat_of_text(HEAD "circuits:\n  a:\n    one-way: 2 m\n"), "fuse-curve",
                        NULL, NULL);
    assert_null(d.figure);
    drawn_clear(&d);
}

#define ROUTE                                                                                      \
    HEAD                                                                                           \
        "items:\n  bank:\n    along: 2 m\n    height: 0.5 m\n    battery:\n      voltage: 12 V\n"  \
        "  lamp:\n    along: 5 m\n    across: 4 m port\n    height: 0.5 m\n    load:\n      "      \
        "power: 6 W\n  spare:\n    load:\n      power: 6 W\nsources:\n  house:\n    kind: bank\n"  \
        "    of: bank\nbusbars:\n  bar:\n    along: 2 m\n    height: 12.5 m\ncircuits:\n  feed:\n" \
        "    from: house\n    to: lamp\n    one-way: %s\n  up:\n    from: bank\n    to: bar\n"     \
        "  lost:\n    from: bar\n    to: spare\n"

/* 3 m forward, 4 m across: 5 m by Pythagoras; each of the two places may be 0.3 m off along and in height, and across where it is
 * typed. */
static void
a_cable_shorter_than_the_straight_way_is_marked(void **state)
{
    (void) state;
    static const struct {
        const char *length;
        bool too_short;
    } cases[] = {{"6 m", false}, {"4.6 m", false}, {"4.2 m", true}, {"1 m", true}};
    for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_autofree char *text = g_strdup_printf(ROUTE, cases[i].length);
        Drawn d = draw_boat(boat_of_text(text), "cable-routes", NULL, NULL);
        const CableRoutesPicture *fig = drawn_data(&d);
        assert_int_equal(fig->routes, 2);
        assert_int_equal(fig->deck_points, 0);
        const CableRoute *feed = &fig->route[0];
        assert_string_equal(feed->path, "circuits.feed");
        assert_true(fabs(feed->straight_m - 5.0) < 1e-9);
        assert_int_equal(feed->too_short, cases[i].too_short);
        assert_string_equal(fig->end[feed->from].path, "items.bank");
        assert_true(fig->end[feed->from].feeds && !fig->end[feed->to].feeds);
        assert_true(fabs(fig->route[1].straight_m - 12.0) < 1e-9); /* straight up */
        assert_non_null(strstr(fig->unplaced, "1 circuit is not drawn"));
        assert_non_null(strstr(fig->unplaced, "spare"));
        drawn_clear(&d);
    }
}

/* The leads from the quay begin where she has no places. */
static void
dunlin_has_a_way_for_every_cable(void **state)
{
    (void) state;
    Drawn d = draw_boat(boat_of_example("dunlin", NULL), "cable-routes", NULL, NULL);
    const CableRoutesPicture *fig = drawn_data(&d);
    size_t n;
    boat_records(d.boat, section_find("circuits"), &n);
    assert_int_equal(fig->routes, n - 2);
    assert_non_null(strstr(fig->unplaced, "2 circuits are not drawn"));
    assert_true(fig->deck_points > 3);
    for (size_t i = 0; i + 1 < fig->ends; i++)
        assert_true(fig->end[i].at.x_m <= fig->end[i + 1].at.x_m);
    drawn_clear(&d);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_circuit_of_the_file_is_a_link),
        cmocka_unit_test(colours_agree_with_findings),
        cmocka_unit_test(a_situation_shows_its_own_currents),
        cmocka_unit_test(an_end_that_is_not_written_is_drawn),
        cmocka_unit_test(a_converter_is_drawn_as_one),
        cmocka_unit_test(without_wiring_it_says_why),
        cmocka_unit_test(a_record_of_a_picture_without_is_refused),
        cmocka_unit_test(steps_add_up),
        cmocka_unit_test(mains_steps_add_up),
        cmocka_unit_test(a_loop_is_shared_out_by_its_resistance),
        cmocka_unit_test(the_worst_device_is_taken),
        cmocka_unit_test(a_wrong_device_is_told_what_there_is),
        cmocka_unit_test(wire_and_fuse_are_those_of_the_tables),
        cmocka_unit_test(a_cable_shorter_than_the_straight_way_is_marked),
        cmocka_unit_test(dunlin_has_a_way_for_every_cable),
        cmocka_unit_test(a_fuse_too_large_comes_late),
        cmocka_unit_test(a_breaker_trips_by_its_curve),
        cmocka_unit_test(a_mains_circuit_has_its_curve),
        cmocka_unit_test(what_is_not_known_of_the_device_is_said),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
