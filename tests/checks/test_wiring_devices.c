/* Fuses and breakers of the wiring: what they can break, and whose limit counts. */
#include "boats.h"

#include <glib.h>
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

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(devices_of_one_board_are_one_finding),
        cmocka_unit_test(a_limit_read_by_the_owner_counts),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
