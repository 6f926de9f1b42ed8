/* Meters: what hides in a starter's joints, a worn battery, a clamp meter that disagrees; and a doubt that says the test. */
#include "boats.h"

#include <glib.h>
#include <string.h>

#include "result/result.h"

/* 50 mm2 flexible tinned (0.393 ohm/km, data/conductors.csv), 1 m each way, contacts 0.4 mohm each: 1.586 mohm. The battery: 12.65 V full,
 * short circuit 2530 A: 5 mohm. */
#define BOAT                                                                                       \
    "careen: 1\nboat:\n  name: X\nitems:\n  bank:\n    battery:\n      voltage: 12 V\n      "      \
    "capacity: 100 Ah\n      charge: 100 %% (measured)\n      short-circuit-current: 2530 A "      \
    "(maker)\n  engine:\n    load:\n      use: starter\n      draws: motor\n      voltage: 12 "    \
    "V\n "                                                                                         \
    "     current: 300 A\n  lamp:\n    load:\n      use: other\n      voltage: 12 V\n      "       \
    "power: "                                                                                      \
    "60 W\nsources:\n  start:\n    kind: bank\n    of: bank\ncircuits:\n  plus:\n    from: "       \
    "bank\n "                                                                                      \
    "   to: engine\n    wires: positive\n    one-way: 1 m\n    area: 50 mm2\n    contacts: 0.4 "   \
    "mohm ± 0.05 mohm\n  minus:\n    from: bank\n    to: engine\n    wires: negative\n    "       \
    "one-way: 1 m\n    area: 50 mm2\n    contacts: 0.4 mohm ± 0.05 mohm\n  feed:\n    from: "     \
    "bank\n    to: lamp\n    one-way: 5 m\n    area: %s\nmeasured:\n  read:\n%s"

#define LOOP_OHM (2.0 * 0.393e-3 + 2.0 * 0.4e-3)

static Solved
boat(const char *area, const char *reading)
{
    g_autofree char *text = g_strdup_printf(BOAT, area, reading);
    return solve_boat(boat_of_text(text), STAGE_DONE);
}

static char *
cranked(double rest_V, double battery_V, double device_V)
{
    return g_strdup_printf(
        "    kind: cranking\n    device: engine\n    current: 300 A (measured)\n  "
        "  rest-voltage: %.3f V\n    battery-voltage: %.3f V\n    "
        "device-voltage: %.3f V\n",
        rest_V, battery_V, device_V);
}

static Level
level_of(const char *reading, const char *id, double *value)
{
    Solved s = boat("2.5 mm2", reading);
    Level level = finding(&s, id)->level;
    if (value != NULL)
        *value = finding(&s, id)->value;
    solved_clear(&s);
    return level;
}

/* Joints: 0.5 mohm above the cables at most. */
static void
joints_of_the_starter(void **state)
{
    (void) state;
    static const struct {
        double hidden_ohm;
        Level level;
    } cases[] = {
        {0.1e-3, LEVEL_FINE}, {0.45e-3, LEVEL_DOUBT}, {0.6e-3, LEVEL_FAULT}, {4.0e-3, LEVEL_FAULT}};
    for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
        double lost = 300.0 * (LOOP_OHM + cases[i].hidden_ohm), value;
        g_autofree char *reading = cranked(12.65, 11.0, 11.0 - lost);
        assert_int_equal(level_of(reading, "wiring.cranking.read", &value), cases[i].level);
        assert_true(fabs(value - cases[i].hidden_ohm) < 1e-5);
    }
}

/* A battery of 5 mohm falls by 1.5 V at 300 A; twice that is the most. */
static void
a_worn_battery(void **state)
{
    (void) state;
    double value;
    g_autofree char *sound = cranked(12.65, 12.65 - 1.5, 10.0);
    g_autofree char *tired = cranked(12.65, 12.65 - 2.7, 9.0);
    g_autofree char *worn = cranked(12.65, 12.65 - 3.3, 8.0);
    assert_int_equal(level_of(sound, "wiring.cranking.read-battery", &value), LEVEL_FINE);
    assert_true(fabs(value - 1.0) < 1e-3);
    assert_int_equal(level_of(tired, "wiring.cranking.read-battery", NULL), LEVEL_DOUBT);
    assert_int_equal(level_of(worn, "wiring.cranking.read-battery", NULL), LEVEL_FAULT);
}

static void
half_a_reading_is_a_doubt(void **state)
{
    (void) state;
    static const char *const readings[] = {
        "    kind: cranking\n    device: lamp\n    current: 5 A\n    battery-voltage: 12 V\n",
        "    kind: cranking\n    device: engine\n    battery-voltage: 12 V\n",
        "    kind: cranking\n    device: engine\n    current: 300 A\n",
        "    kind: cranking\n",
    };
    for (size_t i = 0; i < G_N_ELEMENTS(readings); i++)
        assert_int_equal(level_of(readings[i], "wiring.cranking.read", NULL), LEVEL_DOUBT);
    assert_int_equal(level_of("    kind: clamp\n", "wiring.clamp.read", NULL), LEVEL_DOUBT);
}

/* A lamp of 60 W at 12 V draws 5 A; the meter may differ by a fifth. */
static void
a_clamp_meter(void **state)
{
    (void) state;
    static const struct {
        const char *amperes;
        Level level;
    } cases[] = {{"5.2 A", LEVEL_FINE},
                 {"5.95 A", LEVEL_DOUBT},
                 {"6.2 A", LEVEL_FAULT},
                 {"4.8 A", LEVEL_FINE},
                 {"3.8 A", LEVEL_FAULT}};
    for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_autofree char *reading = g_strdup_printf(
            "    kind: clamp\n    device: lamp\n    current: %s (measured)\n", cases[i].amperes);
        assert_int_equal(level_of(reading, "wiring.clamp.read", NULL), cases[i].level);
    }
}

/* Of an unknown cable the doubt says the test: the lamp on, 5 A, and a tenth of 12 V is too much. */
static void
an_unknown_cable_says_its_test(void **state)
{
    (void) state;
    Solved s = boat("unknown", "    kind: clamp\n    device: lamp\n    current: 5 A\n");
    const char *test = finding(&s, "wiring.voltage-loss.feed")->settle_text;
    assert_non_null(strstr(test, "lamp"));
    assert_non_null(strstr(test, "(5."));
    assert_non_null(strstr(test, "than 1.2"));
    solved_clear(&s);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(joints_of_the_starter),          cmocka_unit_test(a_worn_battery),
        cmocka_unit_test(half_a_reading_is_a_doubt),      cmocka_unit_test(a_clamp_meter),
        cmocka_unit_test(an_unknown_cable_says_its_test),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
