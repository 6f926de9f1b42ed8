/* The wiring: one lamp by hand, what cannot work is said, and every fault put into the demo boat is found. */
#include "boats.h"

#include <glib.h>
#include <string.h>

#include "boat/model.h"
#include "result/result.h"

#define HEAD                                                                                       \
    "careen: 1\nboat:\n  name: X\nitems:\n  bank:\n    battery:\n      voltage: 12 V\n      "      \
    "capacity: 100 Ah\n      charge: 100 %% (measured)\n      resistance: 8 mohm\n  lamp:\n    "   \
    "load:\n      "                                                                                \
    "draws: %s\n      use: other\n      voltage: 12 V\n      power: %s\nsources:\n  house:\n    "  \
    "kind: bank\n    of: bank\n"

#define CIRCUIT                                                                                    \
    "circuits:\n  feed:\n    from: bank\n    to: lamp\n    one-way: %s\n    area: %s\n    "        \
    "insulation: 105 degC\n    runs: cabin\n    bundle: 2\n    contacts: 1 mohm ± 0 mohm\n"

static Solved
lamp(const char *draws, const char *power, const char *length, const char *area, const char *more)
{
    g_autofree char *head = g_strdup_printf(HEAD, draws, power);
    g_autofree char *circuit = g_strdup_printf(CIRCUIT, length, area);
    g_autofree char *text = g_strconcat(head, circuit, more, NULL);
    return solve_boat(boat_of_text(text), STAGE_DONE);
}

/* Ohm's law by hand: 12.65 V at rest when full, 8.21 ohm/km of flexible tinned 2.5 mm2, both of the method sheet
 * (wires.md 4.3, wires-iec60228.csv); the metal 30 degC and warmer by 75 K (I / 35 A)^2,
 * 35 A of 33 CFR 183.425 Table 5 for the next smaller gauge, 14. */
static void
one_lamp_by_hand(void **state)
{
    (void) state;
    const double E = 12.65, lamp_ohm = 12.0 * 12.0 / 60.0, length_m = 10.0;
    double amperes = 5.0, drop = 0.0;
    for (int i = 0; i < 50; i++) {
        double theta = 30.0 + 75.0 * pow(amperes / 35.0, 2.0);
        double loop = 8.21e-3 * length_m * (1.0 + 0.00393 * (theta - 20.0)) + 1e-3;
        amperes = E / (0.008 + loop + lamp_ohm);
        drop = amperes * loop;
    }
    Solved s = lamp("resistance", "60 W", "5 m", "2.5 mm2", "");
    assert_true(fabs(answer(&s, "wiring.current.feed") / amperes - 1.0) < 1e-5);
    assert_true(fabs(answer(&s, "wiring.drop.feed") / drop - 1.0) < 1e-4);
    assert_true(fabs(answer(&s, "wiring.volts.lamp") - amperes * lamp_ohm) < 1e-4);
    assert_true(fabs(answer(&s, "wiring.fault-current.feed") / (E / 0.008) - 1.0) < 1e-6);
    solved_clear(&s);
}

static Solved
joints_unknown(const char *more)
{
    g_autofree char *head = g_strdup_printf(HEAD, "resistance", "60 W");
    g_autofree char *circuit = g_strdup_printf(CIRCUIT, "5 m", "2.5 mm2");
    g_auto(GStrv) parts = g_strsplit(circuit, "1 mohm ± 0 mohm", 2);
    g_autofree char *text = g_strconcat(head, parts[0], "unknown", parts[1], more, NULL);
    return solve_boat(boat_of_text(text), STAGE_DONE);
}

/* 5 A, two joints of 1 mohm at most: 5 mV across one; 10 m of 8.21 ohm/km lose 0.41 V. What was read takes the place of both. */
static void
unknown_joints_name_their_test(void **state)
{
    (void) state;
    Solved s = joints_unknown("");
    const Finding *f = finding(&s, "wiring.voltage-loss.feed");
    assert_int_equal(f->level, LEVEL_DOUBT);
    assert_string_equal(f->settle_path, "circuits.feed.contacts");
    assert_non_null(strstr(f->settle_text, "with lamp on (5.0 A)"));
    assert_non_null(strstr(f->settle_text, "more than 0.0050 V is a bad one"));
    assert_non_null(strstr(f->settle_text, "expect 0.41 V in all"));
    solved_clear(&s);
    s = joints_unknown("    measured-drop:\n      voltage: 0.5 V\n      current: 5 A\n");
    double ohm = answer(&s, "wiring.drop.feed") / answer(&s, "wiring.current.feed");
    assert_true(fabs(ohm - 0.1) < 1e-9);
    solved_clear(&s);
}

/* By hand: 8 mohm of a battery at -10 degC are 8 mohm 1.75, and 12.65 V at rest are 0.1585 V less (0.00432 V/K below 26.7 degC). */
static void
a_cold_battery_gives_less(void **state)
{
    (void) state;
    Solved warm = lamp("resistance", "60 W", "5 m", "2.5 mm2", "");
    g_autofree char *head = g_strdup_printf(HEAD, "resistance", "60 W");
    g_autofree char *circuit = g_strdup_printf(CIRCUIT, "5 m", "2.5 mm2");
    g_auto(GStrv) parts = g_strsplit(head, "resistance: 8 mohm", 2);
    g_autofree char *text = g_strconcat(parts[0], "resistance: 8 mohm\n      temperature: -10 degC",
                                        parts[1], circuit, NULL);
    Solved cold = solve_boat(boat_of_text(text), STAGE_DONE);
    double amperes = answer(&cold, "wiring.current.feed"),
           lamp_V = answer(&cold, "wiring.volts.lamp");
    double bank_V = lamp_V + answer(&cold, "wiring.drop.feed");
    assert_true(fabs((12.65 - 0.1585 - bank_V) / amperes - 0.014) < 2e-5);
    assert_true(fabs(answer(&cold, "wiring.fault-current.feed") -
                     answer(&warm, "wiring.fault-current.feed")) < 1e-9); /* new, full and warm */
    solved_clear(&warm);
    solved_clear(&cold);
}

static void
longer_and_thinner_lose_more(void **state)
{
    (void) state;
    static const char *const lengths[] = {"1 m", "3 m", "9 m", "27 m"};
    static const char *const areas[] = {"10 mm2", "8 AWG", "8 SAE", "4 mm2", "1.5 mm2"};
    double last = 0.0;
    for (size_t i = 0; i < G_N_ELEMENTS(lengths); i++) {
        Solved s = lamp("current", "60 W", lengths[i], "4 mm2", "");
        assert_true(answer(&s, "wiring.drop.feed") > last);
        last = answer(&s, "wiring.drop.feed");
        solved_clear(&s);
    }
    last = 0.0;
    for (size_t i = 0; i < G_N_ELEMENTS(areas); i++) {
        Solved s = lamp("current", "60 W", "5 m", areas[i], "");
        assert_true(answer(&s, "wiring.drop.feed") > last);
        last = answer(&s, "wiring.drop.feed");
        solved_clear(&s);
    }
}

/* P_max = E^2 / 4R of a source behind a resistance (docs/methods/wires.md 2.3). */
static void
a_load_beyond_its_source_is_a_finding(void **state)
{
    (void) state;
    Solved s = lamp("power", "900 W", "20 m", "1.5 mm2", "");
    assert_int_equal(finding(&s, "wiring.supply.lamp")->level, LEVEL_FAULT);
    solved_clear(&s);
    s = lamp("power", "20 W", "20 m", "1.5 mm2", "");
    assert_null(result_finding_find(s.result, "wiring.supply.lamp"));
    solved_clear(&s);
}

static void
no_way_back_is_said(void **state)
{
    (void) state;
    Solved s = lamp("resistance", "60 W", "5 m", "2.5 mm2", "    wires: positive\n");
    assert_int_equal(finding(&s, "wiring.supply.lamp")->level, LEVEL_FAULT);
    solved_clear(&s);
    s = lamp("resistance", "60 W", "5 m", "2.5 mm2",
             "    wires: positive\n  back:\n    from: bank\n    to: lamp\n    wires: negative\n    "
             "one-way: 5 m\n    area: 2.5 mm2\n");
    assert_null(result_finding_find(s.result, "wiring.supply.lamp"));
    assert_true(answer(&s, "wiring.volts.lamp") > 11.0);
    solved_clear(&s);
}

/* A gap is a doubt, and what was measured stands for what is not printed. */
static void
an_unknown_conductor_is_read_from_its_drop(void **state)
{
    (void) state;
    Solved s = lamp("resistance", "60 W", "5 m", "unknown", "");
    assert_int_equal(finding(&s, "wiring.voltage-loss.feed")->level, LEVEL_DOUBT);
    assert_null(result_finding_find(s.result, "wiring.supply.lamp")); /* one cause, one finding */
    solved_clear(&s);
    s = lamp("resistance", "60 W", "5 m", "1000 mm2", ""); /* the tables end at 630 mm2 */
    assert_int_equal(finding(&s, "wiring.voltage-loss.feed")->level, LEVEL_DOUBT);
    assert_null(result_finding_find(s.result, "wiring.supply.lamp"));
    solved_clear(&s);
    s = lamp("resistance", "60 W", "5 m", "unknown",
             "    measured-drop:\n      voltage: 0.9 V\n      current: 5 A\n");
    double loop = 0.9 / 5.0;
    assert_true(fabs(answer(&s, "wiring.current.feed") / (12.65 / (2.4 + 0.008 + loop)) - 1.0) <
                1e-6);
    solved_clear(&s);
}

static void
protection_is_judged_by_the_derated_conductor(void **state)
{
    (void) state;
    static const struct {
        const char *lines;
        Level level;
    } cases[] = {
        {"", LEVEL_DOUBT},
        {"    protect:\n      kind: none\n", LEVEL_DANGER},
        {"    protect:\n      kind: fuse\n      rating: 20 A\n", LEVEL_FINE},
        {"    protect:\n      kind: fuse\n      rating: 40 A\n", LEVEL_FAULT},
        {"    protect:\n      kind: fuse\n      rating: 60 A\n", LEVEL_DANGER},
        {"    protect:\n      kind: fuse\n", LEVEL_DOUBT},
    };
    for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
        Solved s = lamp("resistance", "60 W", "5 m", "2.5 mm2", cases[i].lines);
        assert_int_equal(finding(&s, "wiring.protection.feed")->level, cases[i].level);
        solved_clear(&s);
    }
}

static void
hostile_networks_are_answered(void **state)
{
    (void) state;
    GString *more = g_string_new("");
    for (int i = 0; i < 1000; i++) /* side by side */
        g_string_append_printf(
            more,
            "  p%d:\n    from: bank\n    to: lamp\n    one-way: 5 m\n    area: 1 "
            "mm2\n",
            i);
    Solved s = lamp("resistance", "60 W", "5 m", "2.5 mm2", more->str);
    assert_true(answer(&s, "wiring.volts.lamp") > 12.5);
    solved_clear(&s);
    g_string_assign(more, "busbars:\n  a:\n    fed-by: b\n  b:\n    fed-by: a\n  island: {}\n");
    s = lamp("resistance", "60 W", "5 m", "2.5 mm2", more->str);
    assert_true(answer(&s, "wiring.volts.lamp") > 11.0);
    solved_clear(&s);
    g_string_free(more, TRUE);
}

/* Two starters at once, a situation with the name of a load, a bank of no known voltage. */
static void
odd_boats_are_answered(void **state)
{
    (void) state;
    static const char text[] =
        "careen: 1\nboat:\n  name: X\nitems:\n  bank:\n    battery:\n      capacity: 100 Ah\n  "
        "a:\n    "
        "load:\n      use: starter\n      voltage: 12 V\n      current: 300 A\n      draws: "
        "motor\n  b:\n    "
        "load:\n      use: starter\n      voltage: 12 V\n      current: 300 A\n      draws: motor\n"
        "sources:\n  house:\n    kind: bank\n    of: bank\n    voltage: 12 V\ncircuits:\n  one:\n  "
        "  from: bank\n    to: a\n"
        "    one-way: 1 m\n    area: 70 mm2\n  two:\n    from: bank\n    to: b\n    one-way: 1 m\n "
        "   "
        "area: 70 mm2\nsituations:\n  a:\n    sources: [house]\n    running:\n      b: 1 %\n  c:\n "
        "   "
        "sources: [house]\n    running:\n      a: 1 %\n      b: 1 %\n";
    Solved s = solve_boat(boat_of_text(text), STAGE_DONE);
    assert_int_equal(finding(&s, "wiring.supply.a")->level, LEVEL_DOUBT);
    solved_clear(&s);
    g_auto(GStrv) parts = g_strsplit(text, "capacity: 100 Ah", 2);
    g_autofree char *known =
        g_strconcat(parts[0], "voltage: 12 V\n      capacity: 100 Ah", parts[1], NULL);
    s = solve_boat(boat_of_text(known), STAGE_DONE);
    assert_true(isfinite(answer(&s, "wiring.crank-volts.a@c")));
    assert_true(isfinite(answer(&s, "wiring.crank-volts.b@a")));
    solved_clear(&s);
}

static void
the_faults_of_the_demo_are_found(void **state)
{
    (void) state;
    static const struct {
        const char *id;
        Level level;
    } planted[] = {
        {"wiring.protection.house-positive", LEVEL_DANGER}, /* unfused battery cable */
        {"wiring.starter-lead.starter-motor", LEVEL_FAULT},
        {"wiring.protection.blower-feed", LEVEL_FAULT}, /* 25 A on a hot, bundled 2.5 mm2 */
        {"wiring.joint.bilge-pump-aft-feed", LEVEL_FAULT},
        {"wiring.hydrogen.house-bank", LEVEL_DANGER},
        {"wiring.bank-link.starting-link", LEVEL_DANGER}, /* 24 V onto 12 V */
        {"wiring.charge-current.start-charger", LEVEL_FAULT},
        {"wiring.anodes", LEVEL_FAULT},                   /* two where a dozen belong */
        {"wiring.anode-works.rudder-anode", LEVEL_FAULT}, /* zinc in a river */
        {"wiring.hull-potential.electrode-april", LEVEL_FAULT},
        {"wiring.return-size.house-negative", LEVEL_FAULT}, /* 50 mm2 for 70 mm2 */
        {"wiring.neutral-bond.shore", LEVEL_DANGER},        /* a link on the mains board */
        {"wiring.mains-breaker.workshop-sockets-feed", LEVEL_DANGER}, /* 20 A on a hot 1.5 mm2 */
        {"wiring.source-limit.shore", LEVEL_FAULT},                   /* a washing day on 16 A */
        {"wiring.motor-start.bow-thruster", LEVEL_FAULT}, /* drags the refrigerator down */
    };
    Solved s = solve_boat(boat_of_example("dunlin", NULL), STAGE_DONE);
    for (size_t i = 0; i < G_N_ELEMENTS(planted); i++)
        assert_int_equal(finding(&s, planted[i].id)->level, planted[i].level);
    assert_true(answer(&s, "wiring.crank-volts") > 6.0 && answer(&s, "wiring.crank-volts") < 12.0);
    size_t n, others = 0;
    const Record *const *circuits = boat_records(s.boat, &section_circuits, &n);
    assert_true(n >= 60);
    for (size_t i = 0; i < n; i++) {
        g_autofree char *drop = g_strdup_printf("wiring.drop.%s", circuits[i]->id);
        bool apart = ((const Circuit *) circuits[i]->data)->usually == USUALLY_APART;
        assert_true((result_answer_find(s.result, drop) != NULL) != apart);
    }
    for (size_t i = 0; i < result_findings(s.result); i++) {
        const Finding *f = result_finding(s.result, i);
        others += strcmp(f->check->discipline, "wiring") == 0 && f->level <= LEVEL_FAULT &&
                  result_stands_alone(s.result, f);
    }
    assert_int_equal(others, G_N_ELEMENTS(planted)); /* and nothing else is called wrong */
    solved_clear(&s);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(one_lamp_by_hand),
        cmocka_unit_test(unknown_joints_name_their_test),
        cmocka_unit_test(a_cold_battery_gives_less),
        cmocka_unit_test(longer_and_thinner_lose_more),
        cmocka_unit_test(a_load_beyond_its_source_is_a_finding),
        cmocka_unit_test(no_way_back_is_said),
        cmocka_unit_test(an_unknown_conductor_is_read_from_its_drop),
        cmocka_unit_test(protection_is_judged_by_the_derated_conductor),
        cmocka_unit_test(hostile_networks_are_answered),
        cmocka_unit_test(odd_boats_are_answered),
        cmocka_unit_test(the_faults_of_the_demo_are_found),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
