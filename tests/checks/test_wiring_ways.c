/* The way back, sparks where vapour gathers, and labels: each at both sides of what is asked. */
#include "boats.h"

#include <glib.h>
#include <string.h>

#include "result/result.h"

#define BANK                                                                                       \
    "careen: 1\nboat:\n  name: X\nitems:\n  bank:\n    battery: {voltage: 12 V, capacity: 100 "    \
    "Ah}\n"
#define SOURCE "sources:\n  house: {kind: bank, of: bank}\n"
#define LOAD "    load: {use: other, draws: power, voltage: 12 V, power: %s}\n"

static Solved
solved(const char *text)
{
    return solve_boat(boat_of_text(text), STAGE_DONE);
}

static const Finding *
found(const Solved *s, const char *id)
{
    return result_finding_find(s->result, id);
}

/* ---- the way back ---- */

static Solved
lead(const char *circuits)
{
    g_autofree char *head = g_strdup_printf(BANK "  lamp:\n" LOAD SOURCE "circuits:\n", "60 W");
    g_autofree char *text = g_strconcat(head, circuits, NULL);
    return solved(text);
}

#define OUT "  out: {from: bank, to: lamp, wires: positive, one-way: 2 m, area: 10 mm2}\n"

static void
the_hull_is_no_conductor(void **state)
{
    (void) state;
    Solved s = lead(OUT);
    assert_int_equal(finding(&s, "wiring.hull-return.lamp")->level, LEVEL_FAULT);
    const Finding *off = found(&s, "wiring.supply.lamp"); /* one cause, one finding */
    assert_non_null(off);
    assert_string_equal(off->cause, "wiring.hull-return.lamp");
    assert_true(answer(&s, "wiring.volts.lamp") < 0.1);
    solved_clear(&s);
    static const char *const back[] = {
        OUT "  back: {from: lamp, to: bank, wires: negative, one-way: 2 m, area: 10 mm2}\n",
        OUT "  back: {from: lamp, to: bar, wires: negative, one-way: 2 m, area: 10 mm2}\n"
            "  more: {from: bar, to: bank, wires: negative, one-way: 2 m, area: 10 mm2}\n"
            "busbars: {bar: {what: negative busbar}}\n",
        "  both: {from: bank, to: lamp, one-way: 2 m, area: 10 mm2}\n"};
    for (size_t i = 0; i < G_N_ELEMENTS(back); i++) {
        s = lead(back[i]);
        assert_null(found(&s, "wiring.hull-return.lamp"));
        solved_clear(&s);
    }
}

static void
a_return_is_as_thick_as_its_positive(void **state)
{
    (void) state;
    static const struct {
        const char *area, *more;
        Level level;
    } cases[] = {
        {"10 mm2", "", LEVEL_FINE},
        {"9.1 mm2", "", LEVEL_FINE}, /* just within a tenth */
        {"8.9 mm2", "", LEVEL_FAULT},
        {"8 AWG", "", LEVEL_FAULT}, /* 8.37 mm2: docs/methods/wires.md, gauges */
        {"6 mm2", "  too: {from: lamp, to: bank, wires: negative, one-way: 2 m, area: 4 mm2}\n",
         LEVEL_FINE},
        {"10 mm2", "  more: {from: bank, to: lamp, wires: positive, one-way: 2 m, area: 10 mm2}\n",
         LEVEL_FAULT}};
    for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_autofree char *text = g_strdup_printf(
            OUT "  back: {from: lamp, to: bank, wires: negative, one-way: 2 m, area: %s}\n%s",
            cases[i].area, cases[i].more);
        Solved s = lead(text);
        assert_int_equal(finding(&s, "wiring.return-size.back")->level, cases[i].level);
        assert_null(found(&s, "wiring.return-size.too"));
        solved_clear(&s);
    }
    Solved s = lead("  both: {from: bank, to: lamp, one-way: 2 m, area: 10 mm2}\n");
    assert_null(found(&s, "wiring.return-size.both")); /* a pair is alike by what it is */
    solved_clear(&s);
}

/* Three of 120 W at 12 V bring 30 A back through one conductor. 33 CFR 183.425 Table 5, 105 degC: 18 AWG, the next smaller than
 * 1 mm2, may carry 20 A; 10 AWG, the next smaller than 6 mm2, 60 A. */
static void
a_shared_return_bears_them_all(void **state)
{
    (void) state;
    static const struct {
        const char *area;
        Level level;
    } cases[] = {{"1 mm2", LEVEL_DANGER}, {"6 mm2", LEVEL_FINE}};
    for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_autoptr(GString) text = g_string_new(BANK);
        for (int k = 0; k < 3; k++)
            g_string_append_printf(text, "  lamp-%d:\n" LOAD, k, "120 W");
        g_string_append(text, SOURCE "busbars: {plus: {}, minus: {}}\ncircuits:\n"
                                     "  feed: {from: bank, to: plus, wires: positive, one-way: 1 "
                                     "m, area: 25 mm2}\n");
        for (int k = 0; k < 3; k++)
            g_string_append_printf(text,
                                   "  out-%d: {from: plus, to: lamp-%d, wires: positive, one-way: "
                                   "2 m, area: 2.5 mm2}\n"
                                   "  in-%d: {from: lamp-%d, to: minus, wires: negative, one-way: "
                                   "2 m, area: 2.5 mm2}\n",
                                   k, k, k, k);
        g_string_append_printf(text,
                               "  back: {from: minus, to: bank, wires: negative, one-way: 2 m, "
                               "area: %s, insulation: 105 degC, runs: cabin, bundle: 1}\n",
                               cases[i].area);
        Solved s = solved(text->str);
        const Finding *f = finding(&s, "wiring.return-size.back");
        assert_int_equal(f->level, cases[i].level);
        assert_true(fabs(f->value - 30.0) < 1e-9);
        assert_null(found(&s, "wiring.return-size.in-0")); /* one device shares with none */
        solved_clear(&s);
    }
}

/* ---- vapour ---- */

static Solved
bilge(const char *space, const char *pump, const char *item)
{
    g_autofree char *text = g_strdup_printf(
        BANK "  pump:\n    along: 3 m\n    height: 0.3 m\n%s" LOAD "%s" SOURCE
             "spaces:\n  engine-room:\n    along: 2 m to 5 m\n    height: 0 m to 2 m\n%s"
             "circuits:\n  feed: {from: bank, to: pump, one-way: 2 m, area: 10 mm2}\n",
        pump, "60 W", item, space);
    return solved(text);
}

static void
sparks_are_asked_about_where_vapour_gathers(void **state)
{
    (void) state;
    static const char petrol[] = "    vapour: petrol\n", gas[] = "    vapour: gas\n",
                      none[] = "    vapour: none\n",
                      tank[] = "  fuel:\n    along: 4 m\n    height: 0.3 m\n    tank: {holds: "
                               "petrol, volume: 40 L}\n",
                      diesel[] = "  fuel:\n    along: 4 m\n    height: 0.3 m\n    tank: {holds: "
                                 "fuel, volume: 40 L}\n",
                      bottle[] = "  fuel: {kind: gas-cylinder, along: 4 m, height: 0.3 m, mass: "
                                 "20 kg}\n",
                      far[] = "  fuel: {kind: gas-cylinder, along: 4 m, height: 2.1 m, mass: 20 "
                              "kg}\n",
                      yes[] = "    ignition-protected: yes (mark read 2027-03-14)\n",
                      bare[] = "    ignition-protected: yes\n",
                      no[] = "    ignition-protected: no\n";
    static const struct {
        const char *space, *pump, *item;
        int level; /* -1: not asked */
    } cases[] = {
        {"", "", "", -1},
        {"", "", diesel, -1},
        {"", no, diesel, -1},
        {"", "", tank, LEVEL_DOUBT},
        {"", "", bottle, LEVEL_DOUBT},
        {"", "", far, -1},
        {none, no, tank, -1},
        {petrol, "", "", LEVEL_DOUBT},
        {petrol, bare, "", LEVEL_DOUBT},
        {petrol, yes, "", -1},
        {petrol, no, tank, LEVEL_DANGER},
        {gas, no, "", LEVEL_DANGER},
    };
    for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
        Solved s = bilge(cases[i].space, cases[i].pump, cases[i].item);
        const Finding *f = found(&s, "wiring.ignition.engine-room");
        assert_int_equal(f != NULL ? (int) f->level : -1, cases[i].level);
        if (f != NULL)
            assert_string_equal(f->check->cautions[0], "UW2");
        solved_clear(&s);
    }
}

/* A space without a stated top ends at the deck, here 1.2 m: a lamp at 1.1 m stands in it, one at 1.4 m does not, and one whose height
 * nobody said may. A space that says not where it ends cannot be looked at. */
static void
a_space_ends_at_the_deck(void **state)
{
    (void) state;
    static const struct {
        const char *space, *height;
        int level; /* -1: not asked */
    } cases[] = {
        {"along: 2 m to 5 m", "    height: 1.1 m\n", LEVEL_DANGER},
        {"along: 2 m to 5 m", "    height: 1.4 m\n", -1},
        {"along: 2 m to 5 m", "", LEVEL_DOUBT},
        {"along: 2 m to 5 m\n    height: 0 m to 1.5 m", "    height: 1.4 m\n", LEVEL_DANGER},
        {"along: 3.5 m to 5 m", "    height: 1.1 m\n", -1},
        {"across: 1 m starboard to 1 m port", "    height: 1.1 m\n", LEVEL_DOUBT}};
    for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_autofree char *text = g_strdup_printf(
            BANK "  lamp:\n    along: 3 m\n%s    ignition-protected: no\n" LOAD SOURCE
                 "hull:\n  stations:\n"
                 "    a: {along: 0 m, points: [0 m 0 m, 1 m 0 m, 1 m 1 m]}\n"
                 "    b: {along: 6 m, points: [0 m 0 m, 1 m 0 m, 1 m 1.4 m]}\n"
                 "spaces:\n  bilge:\n    vapour: petrol\n    %s\n"
                 "circuits:\n  feed: {from: bank, to: lamp, one-way: 2 m, area: 10 mm2}\n",
            cases[i].height, "60 W", cases[i].space);
        Solved s = solved(text);
        const Finding *f = found(&s, "wiring.ignition.bilge");
        assert_int_equal(f != NULL ? (int) f->level : -1, cases[i].level);
        solved_clear(&s);
    }
}

/* ---- labels ---- */

static Solved
two_cables(const char *first, const char *second)
{
    g_autofree char *text =
        g_strdup_printf("  a: {from: bank, to: lamp, one-way: 2 m, area: 10 mm2%s}\n"
                        "  b: {from: bank, to: lamp, one-way: 2 m, area: 10 mm2%s}\n",
                        first, second);
    return lead(text);
}

static void
labels_are_asked_for_once(void **state)
{
    (void) state;
    static const char yes[] = ", labelled: yes (2027-03-14)", no[] = ", labelled: no";
    static const struct {
        const char *first, *second;
        Level level;
        const char *told;
    } cases[] = {{"", "", LEVEL_DOUBT, "2"},
                 {yes, ", labelled: yes", LEVEL_DOUBT, "1"},
                 {yes, yes, LEVEL_FINE, "0"},
                 {no, "", LEVEL_FAULT, "1"}};
    for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
        Solved s = two_cables(cases[i].first, cases[i].second);
        const Finding *f = finding(&s, "wiring.labels");
        assert_int_equal(f->level, cases[i].level);
        assert_string_equal(f->words[0], cases[i].told);
        assert_null(found(&s, "wiring.labels.b"));
        solved_clear(&s);
    }
}

static void
two_alike_are_a_fault(void **state)
{
    (void) state;
    Solved s = two_cables(", label: F1", ", label: F1");
    assert_int_equal(finding(&s, "wiring.labels.b")->level, LEVEL_FAULT);
    solved_clear(&s);
    s = two_cables(", label: \"2\"", ""); /* the second gives way: 2a */
    assert_null(found(&s, "wiring.labels.b"));
    solved_clear(&s);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_hull_is_no_conductor),
        cmocka_unit_test(a_return_is_as_thick_as_its_positive),
        cmocka_unit_test(a_shared_return_bears_them_all),
        cmocka_unit_test(sparks_are_asked_about_where_vapour_gathers),
        cmocka_unit_test(a_space_ends_at_the_deck),
        cmocka_unit_test(labels_are_asked_for_once),
        cmocka_unit_test(two_alike_are_a_fault),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
