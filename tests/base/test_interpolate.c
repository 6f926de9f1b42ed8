/* Straight lines between table points; the ends hold outside, and are said to be extrapolated. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <math.h>

#include <cmocka.h>

#include "base/interpolate.h"

static void
table_is_followed(void **state)
{
    (void) state;
    static const double x[] = {0.0, 1.0, 4.0, 4.5}, y[] = {10.0, 20.0, -10.0, 0.1};
    static const struct {
        double at, value;
        Validity validity;
    } rows[] = {
        {0.0, 10.0, VALID},
        {0.25, 12.5, VALID},
        {1.0, 20.0, VALID},
        {2.5, 5.0, VALID},
        {4.0, -10.0, VALID},
        {4.5, 0.1, VALID},
        {-0.1, 10.0, EXTRAPOLATED},
        {5.0, 0.1, EXTRAPOLATED},
        {INFINITY, 0.1, EXTRAPOLATED},
        {-INFINITY, 10.0, EXTRAPOLATED},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        double value = NAN;
        assert_int_equal(interpolate_linear(4, x, y, rows[i].at, &value), rows[i].validity);
        assert_true(fabs(value - rows[i].value) < 1e-12);
    }
}

/* Whatever the slopes, a table point gives exactly its own value. */
static void
points_are_met_exactly(void **state)
{
    (void) state;
    double x[50], y[50];
    for (int i = 0; i < 50; i++) {
        x[i] = i * 0.1 + 1e-3 * i * i;
        y[i] = sin(7.0 * i) * 1e5;
    }
    for (int i = 0; i < 50; i++) {
        double value;
        assert_int_equal(interpolate_linear(50, x, y, x[i], &value), VALID);
        assert_true(value == y[i]);
    }
}

static void
what_is_no_number_is_refused(void **state)
{
    (void) state;
    static const double x[] = {0.0, 1.0}, y[] = {1.0, 2.0};
    double value = 7.0;
    assert_int_equal(interpolate_linear(2, x, y, NAN, &value), REFUSED);
    assert_true(isnan(value));
    value = 7.0;
    assert_int_equal(interpolate_linear(1, x, y, 0.0, &value), REFUSED);
    assert_true(isnan(value));
}

/* A power law is a straight line of logarithms. */
static void
powers_are_met_between_rows(void **state)
{
    (void) state;
    static const double x[] = {1.0, 10.0, 40.0}, y[] = {3.0, 0.03, 0.03 / 16.0};
    double value;
    for (double at = 1.0; at <= 40.0; at += 0.37) {
        assert_int_equal(interpolate_log(3, x, y, at, &value), VALID);
        assert_true(fabs(value * at * at / 3.0 - 1.0) < 1e-14);
    }
    assert_int_equal(interpolate_log(3, x, y, 10.0, &value), VALID);
    assert_true(value == 0.03);
    static const double outside[] = {0.999, 40.001, 0.0, -1.0, NAN};
    for (size_t i = 0; i < sizeof outside / sizeof *outside; i++) {
        assert_int_equal(interpolate_log(3, x, y, outside[i], &value), REFUSED);
        assert_true(isnan(value));
    }
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(table_is_followed),
        cmocka_unit_test(points_are_met_exactly),
        cmocka_unit_test(what_is_no_number_is_refused),
        cmocka_unit_test(powers_are_met_between_rows),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
