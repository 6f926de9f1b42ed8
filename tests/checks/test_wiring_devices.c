/* Fuses and breakers of the wiring: what they can break, how fast, together with whom, and whose limit counts. */
#include "boats.h"

#include <glib.h>
#include <math.h>
#include <string.h>

#include "result/result.h"

/* A full 12 V bank of 8 mohm: 12.65 V / 8 mohm = 1581 A into a dead short at its terminals (docs/methods/wires.md 4.3). */
#define BOAT                                                                                       \
    "careen: 1\nboat:\n  name: X\nitems:\n  bank:\n    battery:\n      voltage: 12 V\n      "      \
    "capacity: 100 Ah\n      charge: 100 % (measured)\n      resistance: 8 mohm\n  lamp:\n    "    \
    "load:\n      draws: resistance\n      use: other\n      voltage: 12 V\n      power: 60 W\n  " \
    "horn:\n    load:\n      draws: resistance\n      use: other\n      voltage: 12 V\n      "     \
    "power: 60 W\nsources:\n  house:\n    kind: bank\n    of: bank\ncircuits:\n"

static char *
circuit(const char *id, const char *to, const char *device)
{
    return g_strdup_printf(
        "  %s:\n    from: bank\n    to: %s\n    one-way: 5 m\n    area: 2.5 mm2\n    "
        "insulation: 105 degC\n    contacts: 1 mohm ± 0 mohm\n    protect:\n%s",
        id, to, device);
}

static Solved
two_circuits(const char *device, const char *other, const char *more)
{
    g_autofree char *one = circuit("lamp-feed", "lamp", device);
    g_autofree char *two = circuit("horn-feed", "horn", other);
    g_autofree char *text = g_strconcat(BOAT, one, two, more, NULL);
    return solve_boat(boat_of_text(text), STAGE_DONE);
}

#define FUSE(breaks)                                                                               \
    "      kind: fuse\n      class: blade\n      rating: 10 A\n      breaking-capacity: " breaks   \
    " (maker)\n"

static void
devices_of_one_board_are_one_finding(void **state)
{
    (void) state;
    static const struct {
        const char *device;
        Level level;
    } cases[] = {{FUSE("1000 A"), LEVEL_DANGER},
                 {FUSE("1600 A"), LEVEL_DOUBT},
                 {FUSE("2000 A"), LEVEL_FINE}};
    for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
        Solved s = two_circuits(cases[i].device, cases[i].device, "");
        assert_int_equal(finding(&s, "wiring.breaking.bank")->level, cases[i].level);
        assert_null(result_finding_find(s.result, "wiring.breaking.lamp-feed"));
        assert_null(result_finding_find(s.result, "wiring.breaking.horn-feed"));
        solved_clear(&s);
    }
    Solved s = two_circuits(FUSE("1000 A"), FUSE("2000 A"), "");
    assert_int_equal(finding(&s, "wiring.breaking.lamp-feed")->level, LEVEL_DANGER);
    assert_int_equal(finding(&s, "wiring.breaking.horn-feed")->level, LEVEL_FINE);
    solved_clear(&s);
}

/* 5 A over some 0.09 ohm is 4 % of 12 V: within the 10 % of ABYC E-11 for what is not critical. */
static void
a_limit_read_by_the_owner_counts(void **state)
{
    (void) state;
    Solved s = two_circuits(FUSE("2000 A"), FUSE("2000 A"), "");
    assert_int_equal(finding(&s, "wiring.voltage-loss.lamp-feed")->level, LEVEL_FINE);
    solved_clear(&s);
    s = two_circuits(FUSE("2000 A"), FUSE("2000 A"),
                     "limits:\n  drop-other:\n    value: 2 %\n    read-in: rules of the harbour\n"
                     "    date: 2026-03-01\n");
    const Finding *f = finding(&s, "wiring.voltage-loss.lamp-feed");
    assert_int_equal(f->level, LEVEL_FAULT);
    assert_non_null(strstr(f->source.text, "rules of the harbour"));
    solved_clear(&s);
}

/* By hand: 1581 A melt a blade fuse of 40 A within 0.1 s (240 A / 1581 A)^2 = 2.3 ms; sqrt(1581^2 0.0023) / 143 = 0.53 mm2 when
 * cross-linked. What nobody says counts as pvc, at first as hot as it bears: 226 sqrt(ln(394.5 / 339.5)) = 87.6, 0.87 mm2. */
static void
thin_copper_burns_before_its_fuse(void **state)
{
    (void) state;
    static const char fuse[] =
        "      kind: fuse\n      class: blade\n      rating: 40 A\n      breaking-capacity: 2000 A "
        "(maker)\n";
    static const struct {
        const char *area;
        bool burns;
        double least_mm2;
    } cases[] = {{"0.5 mm2\n    insulation-kind: cross-linked", true, 0.531},
                 {"0.75 mm2\n    insulation-kind: cross-linked", false, 0.531},
                 {"0.75 mm2", true, 0.866},
                 {"0.75 mm2\n    insulation-kind: pvc", true, 0.866},
                 {"1 mm2", false, 0.866}};
    for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_autofree char *line = circuit("lamp-feed", "lamp", fuse);
        g_auto(GStrv) parts = g_strsplit(line, "2.5 mm2", 2);
        g_autofree char *text = g_strconcat(BOAT, parts[0], cases[i].area, parts[1], NULL);
        Solved s = solve_boat(boat_of_text(text), STAGE_DONE);
        const Finding *f = result_finding_find(s.result, "wiring.withstand.lamp-feed");
        assert_true((f != NULL && f->level == LEVEL_FAULT) == cases[i].burns);
        if (f != NULL)
            assert_true(fabs(f->limit * 1e6 / cases[i].least_mm2 - 1.0) < 0.01);
        assert_true((result_finding_find(s.result, "wiring.withstand.recalled") != NULL) !=
                    cases[i].burns);
        solved_clear(&s);
    }
}

#define BREAKER(rating) "      kind: breaker\n      curve: C\n      rating: " rating "\n"

/* By hand: 12 V over 12 V / 1581 A and 10 m of 8.21 ohm/km 1.334 (at 105 degC) with 1 mohm are 101.6 A at the far end. A C50 may take
 * 9.9 s for twice its rating at the quickest, a C40 1.0 s for 2.5 times; 10 A melt at once. */
static void
a_short_at_the_far_end_is_cut_off(void **state)
{
    (void) state;
    static const struct {
        const char *device, *id;
        int level; /* -1: not asked */
    } cases[] = {{BREAKER("50 A"), "wiring.far-short.lamp-feed", LEVEL_FAULT},
                 {BREAKER("40 A"), "wiring.far-short.lamp-feed", -1},
                 {BREAKER("40 A"), "wiring.far-short", LEVEL_DOUBT},
                 {FUSE("2000 A"), "wiring.far-short", -1}};
    for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
        Solved s = two_circuits(cases[i].device, FUSE("2000 A"), "");
        const Finding *f = result_finding_find(s.result, cases[i].id);
        assert_int_equal(f != NULL ? (int) f->level : -1, cases[i].level);
        if (f != NULL && f->working != NULL)
            assert_true(fabs(working_last(f->working)->value[0] - 101.6) < 0.2);
        solved_clear(&s);
    }
}

/* Blade fuses are made for 32 V (data/fuse-families.csv): on a bank of 36 V their arc may burn on, on one of 24 V it does not. */
static void
a_fuse_is_made_for_its_voltage(void **state)
{
    (void) state;
    static const struct {
        const char *volts;
        bool danger;
    } cases[] = {{"36 V", true}, {"24 V", false}, {"12 V", false}};
    for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_autofree char *one = circuit("lamp-feed", "lamp", FUSE("9000 A"));
        g_autofree char *two = circuit("horn-feed", "horn", FUSE("9000 A"));
        g_autofree char *whole = g_strconcat(BOAT, one, two, NULL);
        g_auto(GStrv) parts = g_strsplit(whole, "voltage: 12 V", -1);
        g_autofree char *text = g_strjoinv("voltage: 12 V", parts + 1);
        g_autofree char *boat = g_strconcat(parts[0], "voltage: ", cases[i].volts, text, NULL);
        Solved s = solve_boat(boat_of_text(boat), STAGE_DONE);
        const Finding *f = result_finding_find(s.result, "wiring.fuse-volts.lamp-feed");
        assert_true((f != NULL && f->level == LEVEL_DANGER) == cases[i].danger);
        if (f != NULL)
            assert_int_equal(f->levers, 2);
        solved_clear(&s);
    }
}

/* A breaker of 0.1 s at most: sqrt(1581^2 0.1) / 143 = 3.5 mm2, so that 2.5 mm2 is a question and no fault. */
static void
a_breaker_is_asked_for_its_let_through(void **state)
{
    (void) state;
    Solved s = two_circuits(BREAKER("16 A"), BREAKER("16 A"), "");
    assert_int_equal(finding(&s, "wiring.withstand.breakers")->level, LEVEL_DOUBT);
    solved_clear(&s);
}

/* The board behind a C16 and its lamp behind a C10: both act at once from 112 A up, and 1500 A flow. */
static void
a_dark_board_is_said_where_it_matters(void **state)
{
    (void) state;
    static const char *const uses[] = {"critical", "other"};
    for (size_t i = 0; i < G_N_ELEMENTS(uses); i++) {
        g_auto(GStrv) parts = g_strsplit(BOAT, "use: other", 2);
        g_autofree char *head = g_strconcat(parts[0], "use: ", uses[i], parts[1], NULL);
        g_autofree char *feed = circuit("board-feed", "board", BREAKER("16 A"));
        g_autofree char *end = circuit("lamp-feed", "lamp", BREAKER("10 A"));
        g_auto(GStrv) moved = g_strsplit(end, "from: bank", 2);
        g_autofree char *text = g_strconcat(head, feed, moved[0], "from: board", moved[1],
                                            "busbars:\n  board: {}\n", NULL);
        Solved s = solve_boat(boat_of_text(text), STAGE_DONE);
        const Finding *f = result_finding_find(s.result, "wiring.selective.board");
        assert_true((f != NULL && f->level == LEVEL_DOUBT) == (i == 0));
        solved_clear(&s);
    }
}

/* ISO 8820-3 as recalled: 6 times its rating is through within 0.1 s, 1.6 times may take 0.25 to 50 s. */
static void
a_start_is_held_against_fuse_and_neighbours(void **state)
{
    (void) state;
    static const struct {
        const char *inrush, *least;
        Level fuse, others; /* LEVEL_FINE of the fuse: nothing is said */
    } cases[] = {{"70 A", "12 V", LEVEL_FAULT, LEVEL_FAULT},
                 {"16 A", "10 V", LEVEL_DOUBT, LEVEL_FINE},
                 {"8 A", "10 V", LEVEL_FINE, LEVEL_FINE}};
    for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_auto(GStrv) parts = g_strsplit(BOAT, "power: 60 W\n", 3);
        g_autofree char *head =
            g_strconcat(parts[0], "power: 60 W\n      least: ", cases[i].least, "\n", parts[1],
                        "power: 60 W\n      inrush: ", cases[i].inrush, "\n", parts[2], NULL);
        g_autofree char *one = circuit("lamp-feed", "lamp", FUSE("2000 A"));
        g_autofree char *two = circuit("horn-feed", "horn", FUSE("2000 A"));
        g_autofree char *text = g_strconcat(
            head, one, two,
            "situations:\n  both:\n    sources: [house]\n    running:\n      lamp: 1 h\n      "
            "horn: 1 h\n",
            NULL);
        Solved s = solve_boat(boat_of_text(text), STAGE_DONE);
        const Finding *f = result_finding_find(s.result, "wiring.motor-start.horn-feed");
        assert_int_equal(f != NULL ? f->level : LEVEL_FINE, cases[i].fuse);
        assert_int_equal(finding(&s, "wiring.motor-start.horn")->level, cases[i].others);
        solved_clear(&s);
    }
}

/* A kettle on the inverter draws from the same bank while the horn starts: the lamp gets less than without it. */
static void
what_the_inverter_draws_counts_at_a_start(void **state)
{
    (void) state;
    double lamp_V[2];
    for (size_t i = 0; i < G_N_ELEMENTS(lamp_V); i++) {
        g_auto(GStrv) parts = g_strsplit(BOAT, "power: 60 W\n", 3);
        g_auto(GStrv) rest = g_strsplit(parts[2], "circuits:\n", 2);
        g_autofree char *head = g_strconcat(
            parts[0], "power: 60 W\n      least: 10 V\n", parts[1],
            "power: 60 W\n      inrush: 20 A\n  inverter: {}\n  kettle:\n    heater:\n      "
            "voltage: 230 V\n      power: 500 W\n",
            rest[0],
            "  inv:\n    kind: inverter\n    of: inverter\n    voltage: 230 V\n    power: 1 kW\n   "
            " "
            "efficiency: 90 %\n",
            "busbars:\n  board:\n    fed-by: inv\ncircuits:\n", NULL);
        g_autofree char *one = circuit("lamp-feed", "lamp", FUSE("2000 A"));
        g_autofree char *two = circuit("horn-feed", "horn", FUSE("2000 A"));
        g_autofree char *text = g_strconcat(
            head, one, two,
            "  inverter-feed:\n    from: bank\n    to: inverter\n    one-way: 1 m\n    area: 50 "
            "mm2\n"
            "  kettle-feed:\n    from: board\n    to: kettle\n    one-way: 3 m\n    area: 2.5 mm2\n"
            "situations:\n  tea:\n    sources: [house, inv]\n    running:\n      lamp: 1 h\n      "
            "horn: 1 h\n",
            i == 1 ? "      kettle: 1 h\n" : "", NULL);
        Solved s = solve_boat(boat_of_text(text), STAGE_DONE);
        lamp_V[i] = finding(&s, "wiring.motor-start.horn")->value;
        solved_clear(&s);
    }
    assert_true(lamp_V[1] < lamp_V[0] - 500.0 / 0.9 / 12.65 * 0.008 * 0.9);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(devices_of_one_board_are_one_finding),
        cmocka_unit_test(a_limit_read_by_the_owner_counts),
        cmocka_unit_test(thin_copper_burns_before_its_fuse),
        cmocka_unit_test(a_short_at_the_far_end_is_cut_off),
        cmocka_unit_test(a_fuse_is_made_for_its_voltage),
        cmocka_unit_test(a_breaker_is_asked_for_its_let_through),
        cmocka_unit_test(a_dark_board_is_said_where_it_matters),
        cmocka_unit_test(a_start_is_held_against_fuse_and_neighbours),
        cmocka_unit_test(what_the_inverter_draws_counts_at_a_start),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
