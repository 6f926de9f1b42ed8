/* Converters of direct current: what they draw for what they give, by hand; dead and overloaded inputs; their limit. */
#include "boats.h"

#include <glib.h>
#include <math.h>

#include "result/result.h"

/* Full 12 V bank (12.65 V open) of 4 mohm; 0.5 m of 35 mm2 to a converter of 24 V, 20 A, 90 %; 6 m of 6 mm2 to a winch. %s: how it
 * draws, what, sources of the situation. */
#define CONVERTED                                                                                  \
    "careen: 1\nboat: {name: X}\nitems:\n"                                                         \
    "  bank: {battery: {voltage: 12 V, capacity: 200 Ah, charge: 100 %% (measured), resistance: "  \
    "4 mohm}}\n  step-up: {what: step-up}\n"                                                       \
    "  winch: {load: {draws: %s, use: other, voltage: 24 V, current: %s}}\n"                       \
    "sources:\n  house: {kind: bank, of: bank}\n"                                                  \
    "  high: {kind: converter, of: step-up, voltage: 24 V, current: 20 A, efficiency: 90 %%}\n"    \
    "  sun: {kind: solar, voltage: 13.8 V, current: 5 A}\n"                                        \
    "circuits:\n"                                                                                  \
    "  in: {from: bank, to: step-up, one-way: 0.5 m, area: 35 mm2, contacts: 0.4 mohm}\n"          \
    "  out: {from: high, to: winch, one-way: 6 m, area: 6 mm2, contacts: 0.4 mohm}\n"              \
    "situations:\n  evening: {sources: [%s], running: {winch: 1 h}}\n"

static Solved
converted(const char *draws, const char *amperes, const char *sources)
{
    g_autofree char *text = g_strdup_printf(CONVERTED, draws, amperes, sources);
    return solve_boat(boat_of_text(text), STAGE_DONE);
}

/* 24 V 12 A / 0.9 = 320 W. I (12.65 V - I (4 + 1 m 0.565 mohm/m 1.0393 + 0.4) mohm) = 320 W: 25.554 A by the quadratic (the metal of 35 mm2
 * is warmed by less than 4 K). */
static void
what_it_gives_it_draws(void **state)
{
    (void) state;
    Solved s = converted("current", "12 A", "house");
    double ohm = 0.004 + 0.565e-3 * 1.0393 + 0.4e-3, volts = 12.65;
    double amperes = (volts - sqrt(volts * volts - 4.0 * ohm * 320.0)) / (2.0 * ohm);
    assert_true(fabs(answer(&s, "wiring.current.in") / amperes - 1.0) < 1e-4);
    assert_true(fabs(answer(&s, "wiring.current.out") - 12.0) < 1e-9);
    double lost = answer(&s, "wiring.drop.out");
    assert_true(fabs(answer(&s, "wiring.volts.winch") + lost - 24.0) < 1e-6);
    assert_null(result_finding_find(s.result, "wiring.supply.winch"));
    solved_clear(&s);
}

/* It names itself in no situation and lives while its input does; nothing comes out of a dead one. */
static void
a_dead_input_gives_nothing(void **state)
{
    (void) state;
    Solved s = converted("current", "12 A", "sun"); /* joined to nothing */
    assert_int_equal(finding(&s, "wiring.supply.winch")->level, LEVEL_FAULT);
    assert_true(fabs(answer(&s, "wiring.volts.winch@evening")) < 0.1);
    solved_clear(&s);
}

/* 20 A of 24 V is all it gives: 432 W it does, 600 W it does not. */
static void
its_limit_holds(void **state)
{
    (void) state;
    Solved s = converted("power", "18 A", "house");
    assert_null(result_finding_find(s.result, "wiring.supply.winch"));
    solved_clear(&s);
    s = converted("power", "25 A", "house");
    assert_int_equal(finding(&s, "wiring.supply.winch")->level, LEVEL_FAULT);
    solved_clear(&s);
    s = converted("current", "25 A", "house"); /* nothing solves that: it is said, not hidden */
    assert_int_equal(finding(&s, "wiring.supply")->level, LEVEL_DOUBT);
    solved_clear(&s);
}

/* Nothing it drives into a short counts as a bank's: the fault at its input is that of the bank alone, 12.65 V / 4 mohm. */
static void
it_is_no_bank(void **state)
{
    (void) state;
    Solved s = converted("current", "12 A", "house");
    assert_true(fabs(answer(&s, "wiring.fault-current.in") - 3162.5) < 0.1);
    assert_null(result_answer_find(s.result, "wiring.fault-current.out"));
    solved_clear(&s);
}

/* 20 A are no danger for 6 mm2 (40 A at 60 degC by 10 AWG of 33 CFR 183.425), and nobody said what runs where: a doubt, no danger. */
static void
it_limits_itself(void **state)
{
    (void) state;
    Solved s = converted("current", "12 A", "house");
    const Finding *f = finding(&s, "wiring.protection.out");
    assert_int_equal(f->level, LEVEL_DOUBT);
    assert_true(fabs(f->value - 20.0) < 1e-9 && fabs(f->limit - 40.0) < 1e-9);
    solved_clear(&s);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_it_gives_it_draws), cmocka_unit_test(a_dead_input_gives_nothing),
        cmocka_unit_test(its_limit_holds),        cmocka_unit_test(it_is_no_bank),
        cmocka_unit_test(it_limits_itself),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
