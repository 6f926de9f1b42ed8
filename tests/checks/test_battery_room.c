/* The battery room: openings by the check values of the method sheet, and both sides of every limit. */
#include "boats.h"

#include <glib.h>
#include <string.h>

#include "result/result.h"

#define HEAD                                                                                       \
    "careen: 1\nboat:\n  name: X\nspaces:\n  hold:\n    along: 0 m to 3 m\n%s"                     \
    "  cabin:\n    along: 4 m to 9 m\n    vents: 100 cm2 (measured)\nitems:\n"

static Solved
room(const char *hold, const char *rest)
{
    g_autofree char *head = g_strdup_printf(HEAD, hold);
    g_autofree char *text = g_strconcat(head, rest, NULL);
    return solve_boat(boat_of_text(text), STAGE_DONE);
}

static char *
bank(const char *id, const char *along, const char *chemistry, const char *volts,
     const char *capacity, const char *more)
{
    return g_strdup_printf(
        "  %s:\n    along: %s\n    height: 0.5 m\n    battery:\n      chemistry: "
        "%s\n      voltage: %s\n      capacity: %s\n%s",
        id, along, chemistry, volts, capacity, more);
}

static Level
level_of(const char *hold, const char *rest, const char *id)
{
    Solved s = room(hold, rest);
    Level level = finding(&s, id)->level;
    solved_clear(&s);
    return level;
}

/* W-B9: vented lead, 12 cells, boost, 220 Ah: 73.92 cm2 each (EN 62485-2). */
static void
openings_of_the_sheet(void **state)
{
    (void) state;
    g_autofree char *lead = bank("lead", "1 m", "flooded", "24 V", "220 Ah", "");
    static const char less[] = "    vents: 73 cm2 (measured)\n";
    static const char more[] = "    vents: 74.5 cm2 (measured)\n";
    Solved s = room(less, lead);
    assert_true(fabs(finding(&s, "wiring.hydrogen.hold")->limit / 73.92e-4 - 1.0) < 1e-6);
    assert_int_equal(finding(&s, "wiring.hydrogen.hold")->level, LEVEL_DANGER);
    assert_string_equal(finding(&s, "wiring.hydrogen.hold")->check->cautions[0], "PO1");
    solved_clear(&s);
    assert_int_equal(level_of(more, lead, "wiring.hydrogen.hold"), LEVEL_FINE);
}

/* Two in one space share its openings; one in a box of its own, or of lithium, does not count there. */
static void
batteries_share_a_space(void **state)
{
    (void) state;
    static const char vents[] = "    vents: 160 cm2 (measured)\n";
    g_autofree char *a = bank("a", "1 m", "flooded", "24 V", "220 Ah", "");
    g_autofree char *b = bank("b", "2 m", "flooded", "24 V", "220 Ah", "");
    g_autofree char *boxed =
        bank("c", "2 m", "agm", "12 V", "100 Ah", "      vents: 5 cm2 (measured)\n");
    g_autofree char *lithium = bank("d", "2 m", "lfp", "24 V", "900 Ah", "");
    g_autofree char *all = g_strconcat(a, b, boxed, lithium, NULL);
    Solved s = room(vents, all);
    assert_true(fabs(finding(&s, "wiring.hydrogen.hold")->limit / (2.0 * 73.92e-4) - 1.0) < 1e-6);
    assert_int_equal(finding(&s, "wiring.hydrogen.hold")->level, LEVEL_FINE);
    /* 28 x 0.05 x 6 cells x 8 mA/Ah x 100 Ah = 6.72 cm2 */
    assert_true(fabs(finding(&s, "wiring.hydrogen.c")->limit / 6.72e-4 - 1.0) < 1e-6);
    assert_int_equal(finding(&s, "wiring.hydrogen.c")->level, LEVEL_DANGER);
    assert_null(result_finding_find(s.result, "wiring.hydrogen"));
    solved_clear(&s);
}

static void
unknown_openings_are_one_question(void **state)
{
    (void) state;
    g_autofree char *a = bank("a", "1 m", "flooded", "24 V", "220 Ah", "");
    g_autofree char *b = bank("b", "12 m", "gel", "24 V", "220 Ah", "");
    g_autofree char *all = g_strconcat(a, b, NULL);
    Solved s = room("", all);
    size_t asked = 0;
    for (size_t i = 0; i < result_findings(s.result); i++)
        asked += g_str_has_prefix(result_finding(s.result, i)->id, "wiring.hydrogen");
    assert_int_equal(asked, 1);
    assert_int_equal(finding(&s, "wiring.hydrogen")->level, LEVEL_DOUBT);
    assert_non_null(strstr(finding(&s, "wiring.hydrogen")->words[0], "a, b"));
    solved_clear(&s);
}

/* ---- charging ---- */

static char *
charged(const char *chemistry, const char *source, const char *limits)
{
    g_autofree char *battery = bank("lead", "5 m", chemistry, "24 V", "200 Ah", "");
    return g_strconcat(battery, "sources:\n  quay:\n    charges: [lead]\n", source, limits, NULL);
}

/* Bands of docs/methods/wires.md 4.5; they are recalled, so that within them nothing is called fine until the owner has read. */
static void
chargers_fit_their_battery(void **state)
{
    (void) state;
    static const struct {
        const char *chemistry, *source, *id;
        Level level;
    } cases[] = {
        {"flooded", "    kind: charger\n    current: 19 A\n", "wiring.charge-current.quay",
         LEVEL_FAULT},
        {"flooded", "    kind: charger\n    current: 21 A\n", "wiring.charge-current", LEVEL_DOUBT},
        {"flooded", "    kind: charger\n    current: 39 A\n", "wiring.charge-current", LEVEL_DOUBT},
        {"flooded", "    kind: charger\n    current: 41 A\n", "wiring.charge-current.quay",
         LEVEL_FAULT},
        {"agm", "    kind: charger\n    current: 41 A\n", "wiring.charge-current", LEVEL_DOUBT},
        {"lfp", "    kind: charger\n    current: 101 A\n", "wiring.charge-current.quay",
         LEVEL_FAULT},
        {"flooded", "    kind: charger\n    charging-voltage: 28.7 V\n",
         "wiring.charge-voltage.quay", LEVEL_FAULT},
        {"flooded", "    kind: charger\n    charging-voltage: 28.9 V\n", "wiring.charge-voltage",
         LEVEL_DOUBT},
        {"flooded", "    kind: charger\n    charging-voltage: 29.7 V\n",
         "wiring.charge-voltage.quay", LEVEL_FAULT},
        {"gel", "    kind: charger\n    charging-voltage: 28.9 V\n", "wiring.charge-voltage.quay",
         LEVEL_FAULT},
    };
    for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_autofree char *rest = charged(cases[i].chemistry, cases[i].source, "");
        assert_int_equal(level_of("", rest, cases[i].id), cases[i].level);
    }
    g_autofree char *read =
        charged("flooded", "    kind: charger\n    current: 30 A\n",
                "limits:\n  charge-most-flooded:\n    value: 25 %\n    read-in: "
                "the maker's sheet, page 3\n    date: 2026-10-01\n");
    assert_int_equal(level_of("", read, "wiring.charge-current.quay"), LEVEL_FINE);
}

/* Not every source says what it charges: then its cables do; an inverter's own current is no charging current. */
static void
cables_lead_to_the_battery(void **state)
{
    (void) state;
    g_autofree char *battery = bank("lead", "5 m", "flooded", "24 V", "200 Ah", "");
    static const char cable[] =
        "circuits:\n  c:\n    from: quay\n    to: lead\n    one-way: 1 m\n   "
        " area: 16 mm2\n";
    g_autofree char *led = g_strconcat(
        battery, "sources:\n  quay:\n    kind: charger\n    voltage: 27 V\n    current: 60 A\n",
        cable, NULL);
    g_autofree char *loose = g_strconcat(
        battery, "sources:\n  quay:\n    kind: charger\n    voltage: 27 V\n    current: 60 A\n",
        NULL);
    g_autofree char *inverter =
        charged("flooded", "    kind: inverter-charger\n    current: 60 A\n", "");
    assert_int_equal(level_of("", led, "wiring.charge-current.quay"), LEVEL_FAULT);
    Solved s = room("", loose);
    assert_null(result_finding_find(s.result, "wiring.charge-current.quay"));
    solved_clear(&s);
    s = room("", inverter);
    assert_null(result_finding_find(s.result, "wiring.charge-current.quay"));
    solved_clear(&s);
}

/* ---- lithium ---- */

static Level
on_lithium(const char *battery, const char *source, const char *other)
{
    g_autofree char *lfp = bank("cells", "5 m", "lfp", "12 V", "200 Ah", battery);
    g_autofree char *lead = bank("lead", "5 m", "agm", "12 V", "100 Ah", "");
    g_autofree char *rest =
        g_strdup_printf("%s%ssources:\n  alternator:\n    kind: alternator\n    current: 90 A\n    "
                        "charges: [cells%s]\n%s",
                        lfp, lead, other, source);
    Solved s = room("", rest);
    const Finding *f = result_finding_find(s.result, "wiring.lithium-alternator.alternator");
    if (f == NULL)
        f = finding(&s, "wiring.lithium-alternator.alternator-cells");
    Level level = f->level;
    solved_clear(&s);
    return level;
}

static void
alternators_on_lithium(void **state)
{
    (void) state;
    static const char own[] = "    regulator: own\n", limited[] = "    regulator: limited\n";
    static const char converter[] = "    regulator: converter\n";
    static const char cuts[] = "      guard: disconnects\n", warns[] = "      guard: warns-first\n";
    assert_int_equal(on_lithium(warns, own, ""), LEVEL_FAULT);    /* too hot */
    assert_int_equal(on_lithium(cuts, limited, ""), LEVEL_FAULT); /* load dump */
    assert_int_equal(on_lithium(cuts, limited, ", lead"), LEVEL_FINE);
    assert_int_equal(on_lithium(warns, limited, ""), LEVEL_FINE);
    assert_int_equal(on_lithium(cuts, converter, ""), LEVEL_FINE);
    assert_int_equal(on_lithium("", limited, ""), LEVEL_DOUBT);
    assert_int_equal(on_lithium(warns, "", ""), LEVEL_DOUBT);
}

static void
lithium_in_frost(void **state)
{
    (void) state;
    static const struct {
        const char *more;
        Level level;
    } cases[] = {
        {"      coldest: -1 degC (measured)\n      frost-guard: no\n", LEVEL_DANGER},
        {"      coldest: -1 degC (measured)\n", LEVEL_DOUBT},
        {"      coldest: -1 degC (measured)\n      frost-guard: yes (tried 2026-01-12)\n",
         LEVEL_FINE},
        {"      coldest: 4 degC (measured)\n      frost-guard: no\n", LEVEL_DOUBT}, /* recalled */
        {"", LEVEL_DOUBT},
    };
    for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_autofree char *cells = bank("cells", "5 m", "lfp", "24 V", "200 Ah", cases[i].more);
        assert_int_equal(level_of("", cells, "wiring.lithium-frost.cells"), cases[i].level);
    }
}

/* ---- banks joined ---- */

static char *
linked(const char *volts, const char *ohm, const char *area, const char *protect)
{
    g_autofree char *inner = g_strdup_printf("      resistance: %s (measured)\n", ohm);
    g_autofree char *a = bank("a", "5 m", "flooded", "12 V", "220 Ah", inner);
    g_autofree char *b = bank("b", "5 m", "flooded", volts, "90 Ah", inner);
    return g_strdup_printf(
        "%s%scircuits:\n  link:\n    from: a\n    to: b\n    usually: apart\n    "
        "one-way: 1 m\n    area: %s\n    insulation: 105 degC\n    bundle: 2\n   "
        " contacts: 0.4 mohm ± 0 mohm\n%s",
        a, b, area, protect);
}

/* By hand: 12.65 V full and 12.026 V at a fifth (wires.md 4.3: 11.89 V at 0, 12.06 V at 25 %); 3.5 mohm each; 35 mm2 flexible
 * tinned 0.565 ohm/km, 2 m out and back; contacts 0.4 mohm. */
static void
current_of_a_link(void **state)
{
    (void) state;
    g_autofree char *link = linked("12 V", "3.5 mohm", "35 mm2", "");
    Solved s = room("", link);
    double hand = (12.65 - 12.026) / (2.0 * 3.5e-3 + 2.0 * 0.565e-3 + 0.4e-3);
    assert_true(fabs(finding(&s, "wiring.bank-link.link")->value / hand - 1.0) < 1e-3);
    assert_true(finding(&s, "wiring.bank-link.link")->level >= LEVEL_DOUBT);
    assert_null(result_answer_find(s.result, "wiring.current.link")); /* nothing flows otherwise */
    solved_clear(&s);
}

static void
links_that_burn_or_blow(void **state)
{
    (void) state;
    static const char small[] = "    protect:\n      kind: fuse\n      rating: 40 A\n";
    static const char large[] = "    protect:\n      kind: fuse\n      rating: 150 A\n";
    g_autofree char *thin = linked("12 V", "0.5 mohm", "10 mm2", "");
    g_autofree char *blows = linked("12 V", "3.5 mohm", "35 mm2", small);
    g_autofree char *bears = linked("12 V", "3.5 mohm", "35 mm2", large);
    g_autofree char *differ = linked("24 V", "3.5 mohm", "35 mm2", large);
    assert_int_equal(level_of("", thin, "wiring.bank-link.link"), LEVEL_DANGER);
    assert_int_equal(level_of("", blows, "wiring.bank-link.link"), LEVEL_FAULT);
    assert_true(level_of("", bears, "wiring.bank-link.link") >= LEVEL_DOUBT);
    assert_int_equal(level_of("", differ, "wiring.bank-link.link"), LEVEL_DANGER);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(openings_of_the_sheet),
        cmocka_unit_test(batteries_share_a_space),
        cmocka_unit_test(unknown_openings_are_one_question),
        cmocka_unit_test(chargers_fit_their_battery),
        cmocka_unit_test(cables_lead_to_the_battery),
        cmocka_unit_test(alternators_on_lithium),
        cmocka_unit_test(lithium_in_frost),
        cmocka_unit_test(current_of_a_link),
        cmocka_unit_test(links_that_burn_or_blow),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
