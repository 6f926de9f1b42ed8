/* A bank and all that hangs on it at the next usual voltage: what that does to the drop, what it takes, when it is rejected, when it is
 * not offered. */
#include "plans.h"

#include <math.h>
#include <string.h>

#include "boat/model.h"
#include "study/remedies.h"

static const Remedy *
voltage_remedy(const RemediesOf *of)
{
    for (size_t i = 0; of != NULL && i < of->n_remedies; i++)
        if (of->remedy[i].part[0].kind == REMEDY_VOLTAGE)
            return &of->remedy[i];
    return NULL;
}

static const Remedy *
rejected_voltage(const RemediesOf *of)
{
    for (size_t i = 0; of != NULL && i < of->n_rejected; i++)
        if (of->rejected[i].part[0].kind == REMEDY_VOLTAGE)
            return &of->rejected[i];
    return NULL;
}

/* A thruster of 12 V, 250 A, on 16 mm2 keeps 0.68 of its thrust (tests/checks/test_wiring_thruster.c). For 24 V it draws half, and the
 * share lost in the cable is a quarter: 25.3 V - 108.8 A (16 mohm + 12.3 mohm) = 22.2 V, 0.870 of its thrust (by bisection). */
static void
batteries_in_series_lose_less(void **state)
{
    (void) state;
    static const char text[] =
        "careen: 1\nboat:\n  name: X\nitems:\n  bank:\n    battery:\n      voltage: 12 V\n      "
        "capacity: 200 Ah\n      charge: 100 %% (measured)\n      resistance: 4 mohm (maker)\n"
        "  pusher:\n    load:\n      draws: motor\n      use: thruster\n      voltage: 12 V\n      "
        "current: 250 A (plate)\n      runs-for: 3 min\n%ssources:\n  house:\n    kind: bank\n    "
        "of: bank\ncircuits:\n  feed:\n    from: bank\n    to: pusher\n    one-way: 4 m ± 0 m\n    "
        "area: 16 mm2\n    insulation: 105 degC\n    contacts: 0.4 mohm ± 0 mohm\n%s";
    g_autofree char *alone = g_strdup_printf(text, "", "");
    Opened *o = open_text(alone, NULL, STAGE_DONE);
    g_autoptr(Remedies) remedies =
        remedies_find(&o->input, &o->plan, o->result, "wiring.thrust.pusher", NULL);
    const RemediesOf *of = remedies_for(remedies, "wiring.thrust.pusher");
    const Remedy *series = voltage_remedy(of);
    assert_non_null(series);
    assert_null(series->because);
    Opened *after = opened_apply(o, series);
    assert_true(fabs(result_answer_find(after->result, "wiring.thrust.pusher")->value - 0.870) <
                0.005);
    opened_free(after);
    opened_free(o);
}

/* One bank of 12 V with a windlass of 80 A on 6 m of 16 mm2, a lamp and a solar controller; %s: class of the lamp's fuse, further items,
 * sources and circuits. */
#define ANCHORED                                                                                    \
    "careen: 1\nboat:\n  name: X\nitems:\n  bank:\n    battery:\n      voltage: 12 V\n      "       \
    "capacity: 200 Ah\n      charge: 100 %% (measured)\n      resistance: 4 mohm (maker)\n"         \
    "  windlass:\n    load: {draws: motor, use: other, voltage: 12 V, current: 80 A (plate), "      \
    "least: 10.8 V}\n  lamp: {load: {voltage: 12 V, power: 24 W}}\n%ssources:\n  house: {kind: "    \
    "bank, of: bank}\n  sun: {kind: solar, voltage: 13.8 V, current: 10 A}\n%scircuits:\n  "        \
    "feed:\n"                                                                                       \
    "    from: bank\n    to: windlass\n    one-way: 6 m ± 0 m\n    area: 16 mm2\n    insulation: " \
    "105 degC\n    contacts: 0.4 mohm ± 0 mohm\n    protect: {kind: fuse, class: class-t, "        \
    "rating: 100 A, breaking-capacity: 6000 A (maker)}\n  lamp-feed: {from: bank, to: lamp, "       \
    "one-way: 2 m, area: 2.5 mm2, insulation: 105 degC, protect: {kind: fuse, class: %s, "          \
    "rating: 10 A, breaking-capacity: 6000 A (maker)}}\n  sun-feed: {from: bank, to: sun, "         \
    "one-way: 2 m, area: 6 mm2, insulation: 105 degC, protect: {kind: fuse, class: class-t, "       \
    "rating: 20 A}}\n%s"

static Opened *
anchored(const char *fuse, const char *items, const char *sources, const char *circuits)
{
    g_autofree char *text = g_strdup_printf(ANCHORED, items, sources, fuse, circuits);
    return open_text(text, NULL, STAGE_DONE);
}

/* The same boat at 24 V, its windlass farther off: with the same current it would lose the same share on 12 m. */
static char *
at_24(const char *text)
{
    static const char *const edits[][2] = {
        {"items.bank.battery.voltage", "24 V"},  {"items.windlass.load.voltage", "24 V"},
        {"items.windlass.load.least", "21.6 V"}, {"items.lamp.load.voltage", "24 V"},
        {"sources.sun.voltage", "27.6 V"},       {"circuits.feed.one-way", "16 m ± 0 m"}};
    char *at = g_strdup(text);
    for (size_t i = 0; i < G_N_ELEMENTS(edits); i++) {
        char *next = with(at, edits[i][0], edits[i][1]);
        g_free(at);
        at = next;
    }
    return at;
}

static bool
offers_a_step(const Opened *o)
{
    const Finding *f = result_finding_find(o->result, "wiring.voltage-loss.feed");
    assert_int_equal(f->level, LEVEL_FAULT);
    for (size_t i = 0; i < f->levers; i++)
        if (f->lever[i].way == LEVER_HIGHER_VOLTAGE)
            return true;
    return false;
}

static Remedies *
of_loss(const Opened *o)
{
    return remedies_find(&o->input, &o->plan, o->result, "wiring.voltage-loss.feed", NULL);
}

/* By hand. R = 12 m 1.24 mohm/m (IEC 60228, 16 mm2 class 5 tinned) warm + 0.4 mohm; the metal is at 30 K + 75 K (I / 120 A)^2 degC.
 * 12 V: 80 A, 63.3 degC, 17.81 mohm: 1.425 V of 12 V, 10 % are allowed. 24 V: 40 A, 38.3 degC, 16.35 mohm: 0.654 V, 2.7 % of 24 V. The
 * bank has 25.3 V and 16 mohm then: 25.3 - 0.64 - 0.654 = 24.0 V at the windlass, whose least is 21.6 V. */
static void
half_the_current_loses_a_quarter(void **state)
{
    (void) state;
    Opened *o = anchored("class-t", "", "", "");
    const Finding *f = result_finding_find(o->result, "wiring.voltage-loss.feed");
    assert_int_equal(f->level, LEVEL_FAULT);
    assert_true(fabs(f->value - 1.425) < 0.003);
    g_autoptr(Remedies) remedies = of_loss(o);
    const Remedy *step = voltage_remedy(remedies_for(remedies, "wiring.voltage-loss.feed"));
    assert_non_null(step);
    assert_true(fabs(step->part[0].from_value - 12.0) < 1e-9);
    assert_true(fabs(step->part[0].to_value - 24.0) < 1e-9);
    assert_true(fabs(step->value - 0.654) < 0.003);
    assert_true(fabs(step->limit - 2.4) < 1e-9);
    static const char *const exchanged[] = {"items.windlass", "items.lamp", "sources.sun"};
    assert_int_equal(step->n_exchanged, G_N_ELEMENTS(exchanged));
    for (size_t i = 0; i < G_N_ELEMENTS(exchanged); i++)
        assert_string_equal(step->exchanged[i], exchanged[i]);
    Opened *after = opened_apply(o, step);
    assert_true(fabs(result_answer_find(after->result, "wiring.volts.windlass")->value - 24.006) <
                0.01);
    const BatteryRole *bank = boat_find(after->boat, &section_battery, "bank")->data;
    assert_true(fabs(bank->capacity_As - 100.0 * 3600.0) < 1e-6);
    assert_true(fabs(bank->resistance_ohm - 0.016) < 1e-12);
    const SourceSection *sun = boat_find(after->boat, &section_sources, "sun")->data;
    assert_true(fabs(sun->voltage_V - 27.6) < 1e-9 && fabs(sun->current_A - 5.0) < 1e-9);
    opened_free(after);
    opened_free(o);
}

/* Blade fuses are made for 32 V (docs/methods/wires.md 3.2): at 24 V they do, at 48 V they are a danger. */
static void
fuses_of_the_old_voltage_reject_it(void **state)
{
    (void) state;
    Opened *o = anchored("blade", "", "", "");
    g_autoptr(Remedies) lower = of_loss(o);
    assert_non_null(voltage_remedy(remedies_for(lower, "wiring.voltage-loss.feed")));
    g_autofree char *text = at_24(o->text);
    Opened *higher = open_text(text, NULL, STAGE_DONE);
    g_autoptr(Remedies) further = of_loss(higher);
    const RemediesOf *of = remedies_for(further, "wiring.voltage-loss.feed");
    assert_null(voltage_remedy(of));
    const Remedy *no = rejected_voltage(of);
    assert_non_null(no);
    assert_string_equal(no->because, "wiring.fuse-volts.lamp-feed");
    opened_free(higher);
    opened_free(o);
}

/* The bank that can be linked to it stays at 12 V: switched on, that link burns. */
static void
a_link_to_the_old_voltage_rejects_it(void **state)
{
    (void) state;
    Opened *o = anchored("class-t", "  other: {battery: {voltage: 12 V, capacity: 100 Ah}}\n", "",
                         "  link: {from: bank, to: other, usually: apart, one-way: 1 m, area: 70 "
                         "mm2, insulation: 105 degC, protect: {kind: fuse, class: class-t, rating: "
                         "200 A}}\n");
    g_autoptr(Remedies) remedies = of_loss(o);
    const Remedy *no = rejected_voltage(remedies_for(remedies, "wiring.voltage-loss.feed"));
    assert_non_null(no);
    assert_string_equal(no->because, "wiring.bank-link.link");
    opened_free(o);
}

static bool
step_of_text(const char *text, const char *path, const char *value)
{
    g_autofree char *changed = with(text, path, value);
    Opened *o = open_text(changed, NULL, STAGE_DONE);
    bool offers = offers_a_step(o);
    opened_free(o);
    return offers;
}

/* A device or a source of another voltage on the same copper: something else is wrong then, and no step mends it. Starters are made
 * for 12 and 24 V, and beyond 48 V nobody goes. */
static void
not_where_it_makes_no_sense(void **state)
{
    (void) state;
    Opened *o = anchored("class-t", "", "", "");
    assert_true(offers_a_step(o));
    assert_false(step_of_text(o->text, "items.lamp.load.voltage", "24 V"));
    assert_false(step_of_text(o->text, "sources.sun.voltage", "27.6 V"));
    g_autofree char *higher = at_24(o->text);
    assert_true(step_of_text(higher, "items.lamp.load.power", "24 W"));
    assert_false(step_of_text(higher, "items.lamp.load.use", "starter"));
    g_autofree char *bank = with(o->text, "items.bank.battery.voltage", "48 V");
    g_autofree char *lamp = with(bank, "items.lamp.load.voltage", "48 V");
    g_autofree char *sun = with(lamp, "sources.sun.voltage", "55 V");
    g_autofree char *far = with(sun, "circuits.feed.one-way", "40 m ± 0 m");
    assert_false(step_of_text(far, "items.windlass.load.voltage", "48 V"));
    opened_free(o);
}

/* 12 A at 12 V over 9 m of 6 mm2: 18 m 3.39 mohm/m (IEC 60228, class 5 tinned), warmed to 30 K + 75 K (12 / 60)^2 degC, and 0.4 mohm are 64.7 mohm;
 * with 35 mm2 before it, 0.793 V are lost and 3 % of 12 V are 0.36 V. Behind a converter 6 A: 64.0 mohm 6 A = 0.384 V of 24 V, and 3 % of them are
 * 0.72 V. It draws 24 V 6 A / 0.9 = 160 W at its input. */
static void
a_step_up_before_one_device(void **state)
{
    (void) state;
    static const char text[] =
        "careen: 1\nboat: {name: X}\nitems:\n  bank:\n    battery: {voltage: 12 V, capacity: 200 "
        "Ah, "
        "charge: 100 %% (measured), resistance: 4 mohm (maker)}\n  pump:\n    load: {draws: "
        "current, "
        "use: critical, voltage: 12 V, current: %s (plate)}\nsources:\n  house: {kind: bank, of: "
        "bank}\nbusbars:\n  board: {along: 4 m, across: 0.5 m starboard, height: 1.2 "
        "m}\ncircuits:\n  "
        "main: {from: bank, to: board, one-way: 1 m ± 0 m, area: 35 mm2, insulation: 105 degC, "
        "runs: "
        "cabin, bundle: 2, contacts: 0.4 mohm ± 0 mohm, protect: {kind: fuse, class: class-t, "
        "rating: "
        "100 A}}\n  feed:\n    from: board\n    to: pump\n    one-way: 9 m ± 0 m\n    area: 6 "
        "mm2\n    "
        "insulation: 105 degC\n    runs: cabin\n    bundle: 2\n    contacts: 0.4 mohm ± 0 mohm\n   "
        " "
        "protect: {kind: fuse, class: class-t, rating: 60 A}\n";
    g_autofree char *little = g_strdup_printf(text, "12 A"), *much = g_strdup_printf(text, "45 A");
    Opened *o = open_text(little, NULL, STAGE_DONE);
    assert_true(fabs(result_finding_find(o->result, "wiring.voltage-loss.feed")->value - 0.793) <
                0.002);
    g_autoptr(Remedies) remedies = of_loss(o);
    const RemediesOf *of = remedies_for(remedies, "wiring.voltage-loss.feed");
    const Remedy *step = NULL;
    for (size_t i = 0; i < of->n_remedies; i++)
        if (of->remedy[i].part[0].kind == REMEDY_STEP_UP)
            step = &of->remedy[i];
    assert_non_null(step);
    assert_true(fabs(step->value - 0.384) < 0.001 && fabs(step->limit - 0.72) < 1e-9);
    assert_string_equal(step->exchanged[0], "items.pump");
    Opened *after = opened_apply(o, step);
    double in_A = result_answer_find(after->result, "wiring.current.step-up-in")->value;
    double main_V = 12.65 - in_A * (0.004 + 2.0 * 0.565e-3 * 1.0393 + 0.4e-3);
    double input_V = main_V - in_A * (0.6 * 3.39e-3 * 1.0393 + 0.8e-3); /* contacts as assumed */
    assert_true(fabs(in_A * input_V / 160.0 - 1.0) < 1e-3);
    opened_free(after);
    opened_free(o);
    o = open_text(much, NULL, STAGE_DONE); /* 22.5 A: no converter gives that */
    const Finding *f = result_finding_find(o->result, "wiring.voltage-loss.feed");
    for (size_t i = 0; i < f->levers; i++)
        assert_int_not_equal(f->lever[i].way, LEVER_STEP_UP);
    opened_free(o);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(batteries_in_series_lose_less),
        cmocka_unit_test(half_the_current_loses_a_quarter),
        cmocka_unit_test(fuses_of_the_old_voltage_reject_it),
        cmocka_unit_test(a_link_to_the_old_voltage_rejects_it),
        cmocka_unit_test(not_where_it_makes_no_sense),
        cmocka_unit_test(a_step_up_before_one_device),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
