/* Wiring that nobody would lay and somebody will type: an error with its line, or an answer without NAN; never a hang. */
#include "boats.h"

#include <glib.h>
#include <string.h>

#include "result/result.h"

#define HEAD                                                                                       \
    "careen: 1\nboat: {name: X}\nitems:\n  bank: {battery: {voltage: 12 V, capacity: 100 Ah}}\n"   \
    "  lamp: {load: {use: other, voltage: 12 V, power: 60 W}}\nsources:\n  house: {kind: bank, "   \
    "of: bank}\n"
#define FEED "  feed: {from: bank, to: lamp, one-way: 2 m, area: 10 mm2}\n"

/* Solved, every answer and every judged number of it is one, and every sentence has its words. */
static Solved
sound(const char *text)
{
    Solved s = solve_boat(boat_of_text(text), STAGE_DONE);
    for (size_t i = 0; i < result_answers(s.result); i++) {
        const Answer *a = result_answer(s.result, i);
        if (strcmp(a->kind->discipline, "wiring") == 0 && !isfinite(a->value))
            fail_msg("%s is no number", a->name);
    }
    for (size_t i = 0; i < result_findings(s.result); i++) {
        const Finding *f = result_finding(s.result, i);
        bool judged = strcmp(f->check->discipline, "wiring") == 0 && f->measured;
        if (judged && f->level != LEVEL_DOUBT && !(isfinite(f->value) && !isnan(f->limit)))
            fail_msg("%s is judged without a number", f->id);
    }
    return s;
}

static Solved
sound_with(const char *more)
{
    g_autofree char *text = g_strconcat(HEAD "circuits:\n", more, NULL);
    return sound(text);
}

static void
refused(const char *field, const char *line)
{
    g_autofree char *text = g_strdup_printf(
        HEAD "circuits:\n  feed: {from: bank, to: lamp, area: 10 mm2, %s}\n", field);
    g_autoptr(Diagnostics) notes = diagnostics_new();
    g_autoptr(Boat) boat = boat_parse(text, strlen(text), 0, NULL, notes, NULL);
    g_autofree char *said = diagnostics_text(notes, "x.yaml");
    if (diagnostics_errors(notes) == 0 || strstr(said, line) == NULL)
        fail_msg("%s is taken, or refused without its line: %s", field, said);
}

static void
what_is_no_cable_is_refused(void **state)
{
    (void) state;
    static const char *const fields[] = {"one-way: 0 m",
                                         "one-way: -2 m",
                                         "one-way: 1e400 m",
                                         "one-way: nan m",
                                         "contacts: -1 mohm",
                                         "area: 0 mm2",
                                         "area: -4 mm2",
                                         "bundle: 0",
                                         "insulation: -300 degC",
                                         "wires: twisted",
                                         "from: nothing",
                                         "to: nowhere",
                                         "to: bank",
                                         "protect: {rating: -10 A}",
                                         "protect: {rating: 0 A}"};
    for (size_t i = 0; i < G_N_ELEMENTS(fields); i++)
        refused(fields[i], "x.yaml:9:");
}

/* An error with the line it stands on. */
static void
what_feeds_itself_is_refused(void **state)
{
    (void) state;
    static const char text[] = HEAD "circuits:\n" FEED "busbars:\n  a: {fed-by: a}\n";
    g_autoptr(Diagnostics) notes = diagnostics_new();
    g_autoptr(Boat) boat = boat_parse(text, strlen(text), 0, NULL, notes, NULL);
    g_autofree char *said = diagnostics_text(notes, "x.yaml");
    assert_true(diagnostics_errors(notes) > 0);
    assert_non_null(strstr(said, "x.yaml:11:"));
}

static void
loops_and_islands_are_answered(void **state)
{
    (void) state;
    static const char *const cases[] = {
        FEED "  there: {from: a, to: b, one-way: 1 m, area: 1 mm2}\n  back: {from: b, to: a, "
             "one-way: 1 m, area: 1 mm2}\nbusbars: {a: {}, b: {}}\n",
        FEED "busbars: {a: {fed-by: b}, b: {fed-by: c}, c: {fed-by: a}}\n",
        "  feed: {from: a, to: lamp, wires: positive, one-way: 2 m, area: 10 mm2}\n"
        "  more: {from: a, to: bank, wires: negative, one-way: 2 m, area: 10 mm2}\n"
        "busbars: {a: {fed-by: bank}}\n",
    };
    for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
        Solved s = sound_with(cases[i]);
        solved_clear(&s);
    }
}

/* Round a loop the voltages add up to nothing, and what comes in by two ways goes out by one. */
static void
a_loop_obeys_both_laws(void **state)
{
    (void) state;
    Solved s =
        sound_with(FEED "  ring: {from: lamp, to: a, one-way: 1 m, area: 1 mm2}\n  more: "
                        "{from: a, to: bank, one-way: 1 m, area: 1 mm2}\nbusbars: {a: {}}\n");
    double in = answer(&s, "wiring.current.feed") + answer(&s, "wiring.current.ring");
    assert_true(fabs(in * answer(&s, "wiring.volts.lamp") / 60.0 - 1.0) < 1e-9);
    double round = answer(&s, "wiring.drop.ring") + answer(&s, "wiring.drop.more");
    assert_true(fabs(round / answer(&s, "wiring.drop.feed") - 1.0) < 1e-6);
    assert_true(fabs(answer(&s, "wiring.current.ring") / answer(&s, "wiring.current.more") - 1.0) <
                1e-6);
    solved_clear(&s);
}

/* What no source reaches is never silent: a doubt while nobody says that it runs, off where somebody does. */
static void
an_island_says_so(void **state)
{
    (void) state;
    static const char island[] = "  feed: {from: a, to: lamp, one-way: 2 m, area: 10 mm2}\n";
    static const struct {
        const char *boards;
        Level level;
    } cases[] = {{"busbars: {a: {}}\n", LEVEL_DOUBT},
                 {"busbars: {a: {fed-by: b}, b: {fed-by: a}}\n", LEVEL_DOUBT},
                 {"busbars: {a: {}}\nsituations: {eve: {sources: [house], running: {lamp: 1 h}}}\n",
                  LEVEL_FAULT}};
    for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_autofree char *more = g_strconcat(island, cases[i].boards, NULL);
        Solved s = sound_with(more);
        assert_int_equal(finding(&s, "wiring.supply.lamp")->level, cases[i].level);
        solved_clear(&s);
    }
    Solved s = sound_with(FEED);
    assert_null(result_finding_find(s.result, "wiring.supply.lamp"));
    solved_clear(&s);
}

/* Nothing has less than no resistance, and no battery has none. */
static void
negative_ohms_are_refused(void **state)
{
    (void) state;
    static const char *const texts[] = {
        "careen: 1\nboat: {name: X}\nitems:\n  bank: {battery: {voltage: 12 V, resistance: -5 "
        "mohm}}\n",
        "careen: 1\nboat: {name: X}\nitems:\n  bank: {battery: {voltage: 12 V, resistance: 0 "
        "mohm}}\n",
        "careen: 1\nboat: {name: X}\nsources:\n  quay: {kind: shore, loop-impedance: -0.4 ohm}\n",
        "careen: 1\nboat: {name: X}\ncircuits:\n  a: {measured-drop: {voltage: -0.2 V}}\n",
        "careen: 1\nboat: {name: X}\nitems:\n  lamp: {load: {voltage: 12 V, power: -60 W}}\n"};
    for (size_t i = 0; i < G_N_ELEMENTS(texts); i++) {
        g_autoptr(Diagnostics) notes = diagnostics_new();
        g_autoptr(Boat) boat = boat_parse(texts[i], strlen(texts[i]), 0, NULL, notes, NULL);
        g_autofree char *said = diagnostics_text(notes, "x.yaml");
        if (diagnostics_errors(notes) == 0 || strstr(said, "x.yaml:4:") == NULL)
            fail_msg("taken, or refused without its line: %s%s", texts[i], said);
    }
}

/* A positive of the bank joined to its own negative cannot be typed: a circuit joins like to like. The nearest is a thick,
 * short pair to a load that is one: its fault current is that of the bank. */
static void
a_short_is_a_dead_short(void **state)
{
    (void) state;
    Solved s = sound("careen: 1\nboat: {name: X}\nitems:\n  bank: {battery: {voltage: 12 V, "
                     "capacity: 100 Ah, resistance: 5 mohm}}\n  bar: {load: {use: other, draws: "
                     "resistance, voltage: 12 V, current: 5000 A}}\nsources:\n  house: {kind: "
                     "bank, of: bank}\ncircuits:\n  feed: {from: bank, to: bar, one-way: 0.01 m, "
                     "area: 630 mm2, protect: {kind: none}}\n");
    double amperes = answer(&s, "wiring.current.feed");
    double open_V = answer(&s, "wiring.fault-current.feed") * 0.005;
    assert_true(open_V > 12.0 && open_V < 13.5); /* a lead battery at rest, full */
    /* E / (R_bank + R_cable + R_bar); the bank at 80 % rests a little lower than full. */
    assert_true(amperes > 0.93 * open_V / (0.005 + 0.0008 + 0.0024) &&
                amperes < open_V / (0.005 + 0.0024));
    assert_int_equal(finding(&s, "wiring.protection.feed")->level, LEVEL_DANGER);
    solved_clear(&s);
}

/* The most that reaches a load behind R is E^2 / 4R (docs/methods/wires.md 2.3): asked for more it stops, and the lamp beside
 * it is not taken down with it. */
static void
more_than_there_is_is_a_finding(void **state)
{
    (void) state;
    Solved s = sound("careen: 1\nboat: {name: X}\nitems:\n  bank: {battery: {voltage: 12 V, "
                     "capacity: 100 Ah, resistance: 8 mohm}}\n  lamp: {load: {use: other, voltage: "
                     "12 V, power: 60 W}}\n  oven: {load: {use: other, voltage: 12 V, power: 900 "
                     "kW}}\nsources:\n  house: {kind: bank, of: bank}\ncircuits:\n" FEED
                     "  oven: {from: bank, to: oven, one-way: 3 m, area: 10 mm2}\nsituations:\n  "
                     "both: {sources: [house], running: {lamp: 100 %, oven: 100 %}}\n");
    assert_int_equal(finding(&s, "wiring.supply.oven")->level, LEVEL_FAULT);
    assert_null(result_finding_find(s.result, "wiring.supply.lamp"));
    assert_true(answer(&s, "wiring.volts.lamp") > 11.5);
    solved_clear(&s);
}

/* N alike in parallel carry an N-th each. */
static void
a_thousand_ways_share(void **state)
{
    (void) state;
    enum { WAYS = 1000 };
    g_autoptr(GString) more = g_string_new(NULL);
    for (int i = 0; i < WAYS; i++)
        g_string_append_printf(more, "  w%d: {from: bank, to: lamp, one-way: 2 m, area: 1 mm2}\n",
                               i);
    Solved s = sound_with(more->str);
    double volts = answer(&s, "wiring.volts.lamp"), one = answer(&s, "wiring.current.w0");
    assert_true(fabs(one * WAYS * volts / 60.0 - 1.0) < 1e-3);
    assert_true(fabs(answer(&s, "wiring.current.w999") / one - 1.0) < 1e-6);
    solved_clear(&s);
}

/* A chain of boards: each adds its cable, the last is answered, and its feeder is followed to the end. */
static void
a_long_chain_ends(void **state)
{
    (void) state;
    enum { BOARDS = 300 };
    g_autoptr(GString) text = g_string_new(HEAD "busbars:\n");
    for (int i = 0; i < BOARDS; i++)
        g_string_append_printf(text, "  b%d: {}\n", i);
    g_string_append(text, "circuits:\n  first: {from: bank, to: b0, one-way: 0.1 m, area: 70 mm2, "
                          "contacts: 0 mohm, protect: {kind: fuse, rating: 100 A}}\n");
    for (int i = 1; i < BOARDS; i++)
        g_string_append_printf(
            text, "  c%d: {from: b%d, to: b%d, one-way: 0.01 m, area: 70 mm2, contacts: 0 mohm}\n",
            i, i - 1, i);
    g_string_append_printf(text, "  last: {from: b%d, to: lamp, one-way: 1 m, area: 10 mm2}\n",
                           BOARDS - 1);
    Solved s = sound(text->str);
    assert_true(answer(&s, "wiring.volts.lamp") > 11.5);
    assert_true(fabs(answer(&s, "wiring.protected-at.last") - 100.0) < 1e-9);
    solved_clear(&s);
}

/* Of a conductor nobody could read nothing is said to be enough: not its fuse, not its warmth. */
static void
an_unknown_conductor_carries_nothing_known(void **state)
{
    (void) state;
    static const char *const mains =
        "careen: 1\nboat: {name: X}\nberth: {shore: {voltage: 230 V, current: 16 A}}\nitems:\n  "
        "kettle: {load: {use: other, draws: resistance, voltage: 230 V, power: 2 kW}}\nsources:\n  "
        "quay: {kind: shore}\ncircuits:\n  feed: {from: quay, to: kettle, one-way: 9 m, area: "
        "unknown, protect: {kind: breaker, curve: C, rating: 16 A}}\n";
    static const char *const direct =
        HEAD "circuits:\n  feed: {from: bank, to: lamp, one-way: 2 m, area: unknown, protect: "
             "{kind: fuse, class: blade, rating: 30 A}}\n";
    const char *const texts[] = {direct, mains};
    for (size_t i = 0; i < G_N_ELEMENTS(texts); i++) {
        Solved s = sound(texts[i]);
        assert_null(result_answer_find(s.result, "wiring.may-carry.feed"));
        for (size_t k = 0; k < result_findings(s.result); k++) {
            const Finding *f = result_finding(s.result, k);
            if (strcmp(f->about, "circuits.feed") == 0 && f->level == LEVEL_FINE)
                fail_msg("%s is called fine", f->id);
        }
        if (texts[i] == direct)
            assert_int_equal(finding(&s, "wiring.protection.feed")->level, LEVEL_DOUBT);
        solved_clear(&s);
    }
}

/* Else the fuses of the direct current would not be looked at, and nobody told. */
static void
mains_on_direct_current_is_told(void **state)
{
    (void) state;
    static const char *const both =
        "  feed: {from: bank, to: lamp, one-way: 2 m, area: 1 mm2, protect: {kind: fuse, rating: "
        "5000 A}}\n  lead: {from: quay, to: %s, one-way: 9 m, area: 2.5 mm2}\n%s";
    static const struct {
        const char *to, *more, *id;
        Level level;
    } cases[] = {
        {"lamp", "", "wiring.kept-apart.lead", LEVEL_DOUBT},
        {"board",
         "  wrong: {from: bank, to: board, one-way: 1 m, area: 2.5 mm2}\nbusbars: {board: {}}\n",
         "wiring.kept-apart.wrong", LEVEL_DANGER}};
    for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_autofree char *circuits = g_strdup_printf(both, cases[i].to, cases[i].more);
        g_autofree char *text =
            g_strconcat(HEAD "  quay: {kind: shore}\ncircuits:\n", circuits, NULL);
        Solved s = sound(text);
        assert_int_equal(finding(&s, cases[i].id)->level, cases[i].level);
        solved_clear(&s);
    }
    Solved dunlin =
        solve_boat(boat_of_example("dunlin", NULL), STAGE_DONE); /* chargers, inverter */
    for (size_t i = 0; i < result_findings(dunlin.result); i++)
        assert_null(strstr(result_finding(dunlin.result, i)->id, "kept-apart"));
    solved_clear(&dunlin);
}

/* Two banks of different voltage joined by a cable: whatever is said, nothing is NAN. */
static void
sources_that_fight_are_answered(void **state)
{
    (void) state;
    Solved s =
        sound("careen: 1\nboat: {name: X}\nitems:\n  low: {battery: {voltage: 12 V, "
              "capacity: 100 Ah}}\n  high: {battery: {voltage: 48 V, capacity: 100 Ah, "
              "resistance: 0.001 mohm}}\n  lamp: {load: {use: other, voltage: 12 V, power: "
              "60 W}}\nsources:\n  a: {kind: bank, of: low}\n  b: {kind: bank, of: high}\n"
              "  sun: {kind: solar, voltage: 27 V, current: 0 A}\ncircuits:\n  join: {from: "
              "low, to: high, one-way: 0.01 m, area: 630 mm2, contacts: 0 mohm}\n  sun: "
              "{from: sun, to: low, one-way: 1 m, area: 4 mm2}\n  lamp: {from: low, to: "
              "lamp, one-way: 1 m, area: 4 mm2}\nsituations:\n  every: {sources: [a, b, sun], "
              "running: {lamp: 100 %}}\n  dark: {sources: [sun], running: {lamp: 100 %}}\n");
    solved_clear(&s);
}

/* Converters that feed themselves, each other, nothing, or that nobody said enough of. */
static void
odd_converters_are_answered(void **state)
{
    (void) state;
    static const char *const cases[] = {
        "  high: {kind: converter, of: box, voltage: 24 V, current: 20 A}\ncircuits:\n" FEED
        "  own: {from: high, to: box, one-way: 1 m, area: 4 mm2}\n",
        "  high: {kind: converter, of: box, voltage: 24 V, current: 20 A}\ncircuits:\n" FEED
        "  in: {from: bank, to: box, one-way: 1 m, area: 4 mm2}\n  own: {from: high, to: box, "
        "one-way: 1 m, area: 4 mm2}\n",
        "  a: {kind: converter, of: box, voltage: 24 V, current: 20 A}\n  b: {kind: converter, of: "
        "tin, voltage: 12 V, current: 20 A}\ncircuits:\n" FEED
        "  ab: {from: a, to: tin, one-way: 1 m, area: 4 mm2}\n  ba: {from: b, to: box, one-way: 1 "
        "m, area: 4 mm2}\n",
        "  high: {kind: converter, voltage: 24 V, current: 20 A}\ncircuits:\n  out: {from: high, "
        "to: "
        "lamp, one-way: 1 m, area: 4 mm2}\n",
        "  high: {kind: converter, of: bank, current: 20 A}\ncircuits:\n  out: {from: high, to: "
        "lamp, "
        "one-way: 1 m, area: 4 mm2}\n",
        "  high: {kind: converter, of: bank, voltage: 12 V, current: 0 A}\ncircuits:\n  out: "
        "{from: "
        "high, to: lamp, one-way: 1 m, area: 4 mm2}\n",
        "  high: {kind: converter, of: bank, voltage: 12 V, current: 20 A, efficiency: 20 %}\n"
        "circuits:\n  out: {from: high, to: lamp, one-way: 1 m, area: 4 mm2}\n",
    };
    for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_autofree char *text = g_strdup_printf(
            "careen: 1\nboat: {name: X}\nitems:\n  bank: {battery: {voltage: 12 V, capacity: 100 "
            "Ah}}\n"
            "  lamp: {load: {use: other, voltage: 12 V, power: 60 W}}\n  box: {what: box}\n  tin: "
            "{what: tin}\nsources:\n  house: {kind: bank, of: bank}\n%ssituations:\n  eve: "
            "{sources: "
            "[house], running: {lamp: 1 h}}\n",
            cases[i]);
        Solved s = sound(text);
        solved_clear(&s);
    }
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_no_cable_is_refused),
        cmocka_unit_test(what_feeds_itself_is_refused),
        cmocka_unit_test(loops_and_islands_are_answered),
        cmocka_unit_test(a_loop_obeys_both_laws),
        cmocka_unit_test(an_island_says_so),
        cmocka_unit_test(negative_ohms_are_refused),
        cmocka_unit_test(a_short_is_a_dead_short),
        cmocka_unit_test(more_than_there_is_is_a_finding),
        cmocka_unit_test(a_thousand_ways_share),
        cmocka_unit_test(a_long_chain_ends),
        cmocka_unit_test(mains_on_direct_current_is_told),
        cmocka_unit_test(an_unknown_conductor_carries_nothing_known),
        cmocka_unit_test(sources_that_fight_are_answered),
        cmocka_unit_test(odd_converters_are_answered),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
