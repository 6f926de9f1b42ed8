/* A thruster: thrust left by the voltage, its bank, how warm a brief run makes its cable, its fuse, its start. */
#include "boats.h"

#include <glib.h>
#include <math.h>

#include "result/result.h"

/* Full 12 V bank (12.65 V open, docs/methods/wires.md 4.3), 250 A at 12 V, 4 m of pair. */
typedef struct {
    const char *bank, *area, *fuse, *more; /* mohm, conductor, rating, further lines of the load */
} Case;

static Solved
thruster(const Case *c)
{
    g_autofree char *text = g_strdup_printf(
        "careen: 1\nboat:\n  name: X\nitems:\n  bank:\n    battery:\n      voltage: 12 V\n"
        "      capacity: 200 Ah\n      charge: 100 %% (measured)\n      resistance: %s (maker)\n"
        "  pusher:\n    load:\n      draws: motor\n      use: thruster\n      voltage: 12 V\n"
        "      current: 250 A (plate)\n%s"
        "sources:\n  house:\n    kind: bank\n    of: bank\ncircuits:\n  feed:\n    from: bank\n"
        "    to: pusher\n    one-way: 4 m ± 0 m\n    area: %s\n    insulation: 105 degC\n    runs: "
        "cabin\n    bundle: 2\n"
        "    contacts: 0.4 mohm ± 0 mohm\n    protect:\n      kind: fuse\n      class: bolt-down\n"
        "      rating: %s\n",
        c->bank, c->more, c->area, c->fuse);
    return solve_boat(boat_of_text(text), STAGE_DONE);
}

#define RUNS "      runs-for: 3 min\n"

/* By bisection, apart from this program: U = 12.65 V - (4 mohm + R) I, 0.11 y^2 + 0.89 y = U / 12 V, I = 250 A y^2; R of 70 mm2 at
 * 0.277 ohm/km as warm as 180 s of I leave it: tau = 3.45e6 S 75 K / (I_z^2 r) = 450 s with I_z = 330 A, 40.9 degC. */
static void
thrust_is_what_the_voltage_leaves(void **state)
{
    (void) state;
    Solved s = thruster(&(Case){"4 mohm", "70 mm2", "250 A", RUNS});
    assert_true(fabs(answer(&s, "wiring.volts.pusher") - 11.1595) < 0.005);
    assert_true(fabs(answer(&s, "wiring.thrust.pusher") - 0.8770) < 0.001);
    assert_true(fabs(answer(&s, "wiring.current.feed") - 219.26) < 0.5);
    solved_clear(&s);
}

/* The same, 35 to 16 mm2: 0.811, 0.758 and 0.676 of its thrust, and 75 % is asked. */
static void
thrust_is_judged_at_both_sides(void **state)
{
    (void) state;
    static const struct {
        const char *area;
        Level level;
    } cases[] = {{"35 mm2", LEVEL_FINE}, {"25 mm2", LEVEL_DOUBT}, {"16 mm2", LEVEL_FAULT}};
    for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
        Solved s = thruster(&(Case){"4 mohm", cases[i].area, "250 A", RUNS});
        assert_int_equal(finding(&s, "wiring.thrust.pusher")->level, cases[i].level);
        solved_clear(&s);
    }
}

/* The same: 25 mm2 carry 190 A and bear 160 A lasting, 220 A for 180 s; 16 mm2 carry 169 A and bear 149 A for 180 s. */
static void
a_brief_run_warms_its_cable_less(void **state)
{
    (void) state;
    static const struct {
        const char *area, *more;
        Level level;
        double allowed_A;
    } cases[] = {{"25 mm2", RUNS, LEVEL_FINE, 219.7},
                 {"25 mm2", "", LEVEL_DANGER, 160.0},
                 {"16 mm2", RUNS, LEVEL_DANGER, 149.4}};
    for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
        Solved s = thruster(&(Case){"4 mohm", cases[i].area, "250 A", cases[i].more});
        const Finding *f = finding(&s, "wiring.ampacity.feed");
        assert_int_equal(f->level, cases[i].level);
        assert_true(fabs(f->limit - cases[i].allowed_A) < 0.2);
        solved_clear(&s);
    }
}

/* 11.77 V at 4 mohm; at 14 mohm it falls below the 10.5 V that are asked of a 12 V bank. */
static void
a_bank_too_small_is_found(void **state)
{
    (void) state;
    Solved s = thruster(&(Case){"4 mohm", "70 mm2", "250 A", RUNS});
    const Finding *f = finding(&s, "wiring.thruster-bank.pusher");
    assert_int_equal(f->level, LEVEL_FINE);
    assert_true(fabs(f->value - 11.773) < 0.005 && fabs(f->limit - 10.5) < 1e-9);
    solved_clear(&s);
    s = thruster(&(Case){"14 mohm", "70 mm2", "250 A", RUNS});
    assert_int_equal(finding(&s, "wiring.thruster-bank.pusher")->level, LEVEL_FAULT);
    solved_clear(&s);
}

/* Points of ISO 8820-5 as recalled: 250 A through 250 A hold four hours; through 175 A 33 s to 15 min, through 100 A 10 s at most. */
static void
its_fuse_lets_it_run(void **state)
{
    (void) state;
    static const struct {
        const char *fuse;
        Level level;
    } cases[] = {{"250 A", LEVEL_FINE}, {"175 A", LEVEL_DOUBT}, {"100 A", LEVEL_FAULT}};
    for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
        Solved s = thruster(&(Case){"4 mohm", "70 mm2", cases[i].fuse, RUNS});
        const Finding *f = result_finding_find(s.result, "wiring.thruster-run.pusher");
        assert_int_equal(f != NULL ? f->level : LEVEL_FINE, cases[i].level);
        solved_clear(&s);
    }
    Solved s = thruster(&(Case){"4 mohm", "70 mm2", "250 A", ""});
    const Finding *f = finding(&s, "wiring.thruster-run.pusher");
    assert_int_equal(f->level, LEVEL_DOUBT);
    assert_string_equal(f->settle_path, "items.pusher.load.runs-for");
    solved_clear(&s);
}

/* At rest it is 12 V / 900 A = 13.33 mohm: 12.65 V 13.33 / (13.33 + 4 + 2.80) = 8.378 V. */
static void
it_starts_as_a_resistance(void **state)
{
    (void) state;
    Solved s = thruster(&(Case){"4 mohm", "70 mm2", "250 A", RUNS "      inrush: 900 A (maker)\n"});
    assert_true(fabs(answer(&s, "wiring.start-volts.pusher") - 8.378) < 0.005);
    solved_clear(&s);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(thrust_is_what_the_voltage_leaves),
        cmocka_unit_test(thrust_is_judged_at_both_sides),
        cmocka_unit_test(a_brief_run_warms_its_cable_less),
        cmocka_unit_test(a_bank_too_small_is_found),
        cmocka_unit_test(its_fuse_lets_it_run),
        cmocka_unit_test(it_starts_as_a_resistance),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
