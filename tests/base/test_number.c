/* Numbers as shown: never more digits than the spread supports, and readable again. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <float.h>
#include <math.h>
#include <string.h>

#include <cmocka.h>
#include <glib.h>

#include "base/number.h"
#include "base/quantity.h"

#define B "\xc2\xa0" /* between thousands */

typedef struct {
    double si, spread;
    QuantityKind kind;
    UnitsChoice units;
    const char *alone, *with_spread;
} Shown;

static const Shown shown[] = {
    /* the spread decides */
    {2460370.0, NAN, Q_DATE, UNITS_METRIC, "29 February 2024", "29 February 2024"},
    {2460370.0, 12.4, Q_DATE, UNITS_IMPERIAL, "29 February 2024", "29 February 2024 ± 12 days"},
    {12437.0, 713.0, Q_MASS, UNITS_METRIC, "12" B "400 kg", "12" B "400 kg ± 700 kg"},
    {12437.0, 1340.0, Q_MASS, UNITS_METRIC, "12" B "400 kg", "12" B "400 kg ± 1" B "300 kg"},
    {4523.0, 2.2, Q_MASS, UNITS_METRIC, "4" B "523 kg", "4" B "523 kg ± 2 kg"},
    {4.1237, 0.021, Q_LENGTH, UNITS_METRIC, "4.12 m", "4.12 m ± 0.02 m"},
    {4.1237, 0.0121, Q_LENGTH, UNITS_METRIC, "4.124 m", "4.124 m ± 0.012 m"},
    {24.0, 1.0, Q_MASS, UNITS_METRIC, "24.0 kg", "24.0 kg ± 1.0 kg"},
    {24.0, 0.96, Q_MASS, UNITS_METRIC, "24.0 kg", "24.0 kg ± 1.0 kg"},
    {24.0, 0.996, Q_MASS, UNITS_METRIC, "24.0 kg", "24.0 kg ± 1.0 kg"},
    {24.0, 1.96, Q_MASS, UNITS_METRIC, "24 kg", "24 kg ± 2 kg"},
    {9.996, 0.03, Q_MASS, UNITS_METRIC, "10.00 kg", "10.00 kg ± 0.03 kg"},
    {0.2, 40.0, Q_MASS, UNITS_METRIC, "0 kg", "0 kg ± 40 kg"},
    {-0.2, 40.0, Q_MASS, UNITS_METRIC, "0 kg", "0 kg ± 40 kg"},
    {-36.0, 40.0, Q_MASS, UNITS_METRIC, "-40 kg", "-40 kg ± 40 kg"},
    {0.0, 0.02, Q_LENGTH, UNITS_METRIC, "0.00 m", "0.00 m ± 0.02 m"},
    /* nothing is known of the spread */
    {9.9996, NAN, Q_MASS, UNITS_METRIC, "10 kg", "10 kg"},
    {9.996, NAN, Q_MASS, UNITS_METRIC, "9.996 kg", "9.996 kg"},
    {1.25, 0.0, Q_LENGTH, UNITS_METRIC, "1.25 m", "1.25 m"},
    {4520.0, NAN, Q_MASS, UNITS_METRIC, "4" B "520 kg", "4" B "520 kg"},
    {123456.0, NAN, Q_MASS, UNITS_METRIC, "123" B "500 kg", "123" B "500 kg"},
    {1.0 / 3.0, NAN, Q_NONE, UNITS_METRIC, "0.3333", "0.3333"},
    {0.0, NAN, Q_LENGTH, UNITS_METRIC, "0 m", "0 m"},
    {-0.0, NAN, Q_LENGTH, UNITS_METRIC, "0 m", "0 m"},
    {1.19e-6, NAN, Q_NONE, UNITS_METRIC, "1.19e-6", "1.19e-6"},
    /* gaps */
    {NAN, NAN, Q_MASS, UNITS_METRIC, "not known", "not known"},
    {NAN, 3.0, Q_LENGTH, UNITS_IMPERIAL, "not known", "not known"},
    {INFINITY, NAN, Q_MASS, UNITS_METRIC, "not known", "not known"},
    {5.0, INFINITY, Q_MASS, UNITS_METRIC, "not known", "not known"},
    /* units */
    {0.25, 0.004, Q_SMALL_LENGTH, UNITS_METRIC, "250 mm", "250 mm ± 4 mm"},
    {2.5, 0.004, Q_SMALL_LENGTH, UNITS_METRIC, "2.500 m", "2.500 m ± 0.004 m"},
    {0.25, NAN, Q_LENGTH, UNITS_METRIC, "0.25 m", "0.25 m"},
    {0.059341194567807204, NAN, Q_ANGLE, UNITS_METRIC, "3.4 deg", "3.4 deg"},
    {0.4, 0.05, Q_FRACTION, UNITS_METRIC, "40 %", "40 % ± 5 %"},
    {293.15, 2.0, Q_TEMPERATURE, UNITS_METRIC, "20 °C", "20 °C ± 2 °C"},
    {293.15, 5.0, Q_TEMPERATURE, UNITS_IMPERIAL, "68 °F", "68 °F ± 9 °F"},
    {792000.0, NAN, Q_CHARGE, UNITS_METRIC, "220 Ah", "220 Ah"},
    {0.055, NAN, Q_LIQUID, UNITS_METRIC, "55 L", "55 L"},
    {1200.0, NAN, Q_POWER, UNITS_METRIC, "1" B "200 W", "1" B "200 W"},
    {12000.0, NAN, Q_POWER, UNITS_METRIC, "12 kW", "12 kW"},
    {2.5e-6, NAN, Q_SMALL_AREA, UNITS_METRIC, "2.5 mm2", "2.5 mm2"},
    {310.0, NAN, Q_MONEY, UNITS_METRIC, "310", "310"},
    {123456.0, NAN, Q_COUNT, UNITS_METRIC, "123" B "456", "123" B "456"},
    {3.6e6, NAN, Q_ENERGY, UNITS_METRIC, "1 kWh", "1 kWh"},
    {40.0, NAN, Q_DURATION, UNITS_METRIC, "40 h", "40 h"},
    /* feet and inches */
    {1.6764, NAN, Q_LENGTH, UNITS_IMPERIAL, "5 ft 6 in", "5 ft 6 in"},
    {1.6891, NAN, Q_LENGTH, UNITS_IMPERIAL, "5 ft 6 1/2 in", "5 ft 6 1/2 in"},
    {1.524, NAN, Q_LENGTH, UNITS_IMPERIAL, "5 ft", "5 ft"},
    {1.5239, NAN, Q_LENGTH, UNITS_IMPERIAL, "5 ft", "5 ft"},
    {0.1524, NAN, Q_LENGTH, UNITS_IMPERIAL, "6 in", "6 in"},
    {-1.6764, NAN, Q_LENGTH, UNITS_IMPERIAL, "-5 ft 6 in", "-5 ft 6 in"},
    {1.6891, 0.0762, Q_LENGTH, UNITS_IMPERIAL, "5 ft 7 in", "5 ft 7 in ± 3 in"},
    {12.3, 0.9144, Q_LENGTH, UNITS_IMPERIAL, "40 ft", "40 ft ± 3 ft"},
    {3.05, NAN, Q_LENGTH, UNITS_IMPERIAL, "10 ft", "10 ft"},
    {0.0, NAN, Q_LENGTH, UNITS_IMPERIAL, "0 in", "0 in"},
    {0.009525, NAN, Q_SMALL_LENGTH, UNITS_IMPERIAL, "0.375 in", "0.375 in"},
    {4535.9237, 45.359237, Q_MASS, UNITS_IMPERIAL, "10" B "000 lb", "10" B "000 lb ± 100 lb"},
};

static void
numbers_are_shown(void **state)
{
    (void) state;
    for (size_t i = 0; i < G_N_ELEMENTS(shown); i++) {
        const Shown *s = &shown[i];
        g_autofree char *alone = number_show(s->si, s->spread, s->kind, s->units);
        g_autofree char *both = number_show_spread(s->si, s->spread, s->kind, s->units);
        if (!g_str_equal(alone, s->alone) || !g_str_equal(both, s->with_spread))
            fail_msg("row %zu: \"%s\" and \"%s\", expected \"%s\" and \"%s\"", i, alone, both,
                     s->alone, s->with_spread);
    }
}

/* What is shown reads back as the value, within what rounding to the shown digits may take off. */
static void
check_round_trip(double si, double spread, QuantityKind kind, UnitsChoice units)
{
    g_autofree char *text = number_show_spread(si, spread, kind, units);
    g_autofree char *problem = NULL;
    Quantity q;
    if (!quantity_parse(text, kind, &q, &problem))
        fail_msg("\"%s\": %s", text, problem);
    assert_null(strstr(text, "-0 "));
    double size = kind == Q_TEMPERATURE ? fabs(si - 273.15) + 300.0 : fabs(si);
    double allowed = isnan(spread) ? 6e-4 * size + 1e-12 : 0.51 * spread + 1e-6 * size;
    if (kind == Q_LENGTH && units == UNITS_IMPERIAL)
        allowed += 0.5001 * 0.0254 *
                   (isnan(spread) ? (size < 3.05    ? 0.125
                                     : size < 304.0 ? 1.0
                                                    : 12.0)
                                  : 0.125);
    if (fabs(q.value - si) > allowed)
        fail_msg("%.12g ± %g is shown as \"%s\", which reads as %.12g", si, spread, text, q.value);
    if (!isnan(spread) && (q.spread < 0.7 * spread || q.spread > 1.5 * spread) &&
        !(kind == Q_LENGTH && units == UNITS_IMPERIAL))
        fail_msg("%.12g ± %g is shown as \"%s\"", si, spread, text);
}

static void
what_is_shown_reads_back(void **state)
{
    (void) state;
    g_autoptr(GRand) draw = g_rand_new_with_seed(1789);
    for (int i = 0; i < 40000; i++) {
        QuantityKind kind = (QuantityKind) g_rand_int_range(draw, 0, Q_N_KINDS);
        UnitsChoice units = g_rand_boolean(draw) ? UNITS_IMPERIAL : UNITS_METRIC;
        if (kind == Q_COUNT || kind == Q_MONEY_RATE || kind == Q_DATE)
            continue;
        double si =
            pow(10.0, g_rand_double_range(draw, -4.0, 7.0)) * (g_rand_boolean(draw) ? -1.0 : 1.0);
        double spread =
            g_rand_boolean(draw) ? NAN : fabs(si) * pow(10.0, g_rand_double_range(draw, -4.0, 1.0));
        check_round_trip(si, spread, kind, units);
    }
}

static void
no_digit_too_many(void **state)
{
    (void) state;
    g_autoptr(GRand) draw = g_rand_new_with_seed(1805);
    for (int i = 0; i < 20000; i++) {
        double si = pow(10.0, g_rand_double_range(draw, -3.0, 6.0));
        double spread = si * pow(10.0, g_rand_double_range(draw, -3.0, 0.5));
        g_autofree char *text = number_show(si, spread, Q_NONE, UNITS_METRIC);
        g_auto(GStrv) groups = g_strsplit(text, B, -1);
        g_autofree char *digits = g_strjoinv("", groups);
        const char *point = strchr(digits, '.');
        double last = point != NULL ? pow(10.0, -(double) strlen(point + 1)) : 1.0;
        /* The last place shown is no finer than a twentieth of the spread. */
        if (point != NULL && last < spread / 20.5)
            fail_msg("%g ± %g is shown as %s", si, spread, text);
        if (point == NULL && spread > 20.5 && fmod(g_ascii_strtod(digits, NULL), 10.0) != 0.0)
            fail_msg("%g ± %g is shown as %s", si, spread, text);
    }
}

static void
extremes_are_shown(void **state)
{
    (void) state;
    static const double sizes[] = {0.0,      5e-324, 1e-300, 1e-9,  1.0,
                                   999.9999, 1e15,   1e22,   1e200, DBL_MAX};
    for (size_t i = 0; i < G_N_ELEMENTS(sizes); i++) {
        for (size_t j = 0; j < G_N_ELEMENTS(sizes); j++) {
            for (int kind = 0; kind < Q_N_KINDS; kind++) {
                g_autofree char *metric =
                    number_show_spread(sizes[i], sizes[j], (QuantityKind) kind, UNITS_METRIC);
                g_autofree char *imperial =
                    number_show_spread(-sizes[i], sizes[j], (QuantityKind) kind, UNITS_IMPERIAL);
                assert_true(strlen(metric) > 0 && strlen(metric) < 120);
                assert_true(strlen(imperial) > 0 && strlen(imperial) < 120);
                assert_null(strstr(metric, "nan"));
                assert_null(strstr(metric, "inf"));
                assert_null(strstr(imperial, "inf"));
            }
        }
    }
}

static void
exact_numbers_read_back(void **state)
{
    (void) state;
    static const struct {
        double value;
        const char *text;
    } rows[] = {
        {0.1, "0.1"},        {1.0 / 3.0, "0.3333333333333333"},
        {1e21, "1e+21"},     {-2.5, "-2.5"},
        {0.0, "0"},          {-0.0, "0"},
        {NAN, "null"},       {INFINITY, "null"},
        {-INFINITY, "null"}, {12345678.0, "12345678"},
        {5e-324, "5e-324"},
    };
    for (size_t i = 0; i < G_N_ELEMENTS(rows); i++) {
        g_autofree char *text = number_exact(rows[i].value);
        assert_string_equal(text, rows[i].text);
    }
    g_autoptr(GRand) draw = g_rand_new_with_seed(1707);
    for (int i = 0; i < 50000; i++) {
        guint64 bits = ((guint64) g_rand_int(draw) << 32) | g_rand_int(draw);
        double value;
        memcpy(&value, &bits, sizeof value);
        g_autofree char *text = number_exact(value);
        if (isfinite(value))
            assert_true(g_ascii_strtod(text, NULL) == value);
        else
            assert_string_equal(text, "null");
    }
}

/* -4 degC lies 4 K below 0 degC, not -269 degC. */
static void
temperatures_differ_in_kelvin(void **state)
{
    (void) state;
    g_autofree char *cold = number_show(269.15, 3.0, Q_TEMPERATURE, UNITS_METRIC);
    g_autofree char *gap = number_show(4.0, 3.0, kind_difference(Q_TEMPERATURE), UNITS_METRIC);
    assert_string_equal(cold, "-4 °C");
    assert_string_equal(gap, "4 K");
    assert_int_equal(kind_difference(Q_LENGTH), Q_LENGTH);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(temperatures_differ_in_kelvin),
        cmocka_unit_test(numbers_are_shown),
        cmocka_unit_test(what_is_shown_reads_back),
        cmocka_unit_test(no_digit_too_many),
        cmocka_unit_test(extremes_are_shown),
        cmocka_unit_test(exact_numbers_read_back),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
