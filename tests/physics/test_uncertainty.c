/* Uncertainty: second methods for what the cases prove by figures. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>
#include <stdbool.h>

#include "physics/work/readings.h"
#include "physics/work/rectangular_sum.h"
#include "physics/work/uncertainty_budget.h"

/* Truncated powers, which cancel when widths differ much: good enough for these. */
static double
truncated_powers(size_t n, const double w[], double x)
{
    double sum = 0.0, scale = 1.0;
    for (size_t i = 0; i < n; i++)
        scale *= (double) (i + 1) * 2.0 * w[i];
    for (unsigned set = 0; set < 1u << n; set++) {
        double at = x, sign = 1.0;
        for (size_t i = 0; i < n; i++) {
            bool minus = (set >> i & 1u) != 0;
            at += minus ? -w[i] : w[i];
            sign *= minus ? -1.0 : 1.0;
        }
        sum += sign * pow(fmax(at, 0.0), (double) n);
    }
    return sum / scale;
}

static void
rectangles_two_ways(void **state)
{
    (void) state;
    static const double w[] = {1.0, 2.0, 0.5, 1.5, 3.0, 0.7};
    for (size_t n = 1; n <= 6; n++)
        for (double x = -9.0; x <= 9.0; x += 0.37)
            assert_true(fabs(rectangular_sum_chance(n, w, x) - truncated_powers(n, w, x)) < 1e-10);
    for (size_t n = 1; n <= 6; n++) {
        RectangularSum sum;
        assert_int_equal(rectangular_sum(n, w, 0.95, &sum), VALID);
        assert_true(fabs(rectangular_sum_chance(n, w, sum.half_interval) - 0.975) < 1e-12);
        assert_true(sum.half_interval < sum.half_interval_normal); /* no tails */
    }
}

/* Widths a million times apart: what is narrow only blurs the edge of what is wide. */
static void
rectangles_of_any_width(void **state)
{
    (void) state;
    static const double narrow[] = {1e6, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0};
    static const double even[] = {1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1};
    RectangularSum sum;
    assert_int_equal(rectangular_sum(12, narrow, 0.95, &sum), VALID);
    assert_true(fabs(sum.half_interval - 950000.0) < 1e-3);
    assert_int_equal(rectangular_sum(12, even, 0.95, &sum), VALID);
    assert_true(fabs(sum.sd - 2.0) < 1e-12);
    /* nearly normal: kurtosis -0.1, first term of Edgeworth at z = 1.96 */
    assert_true(fabs(sum.half_interval / sum.half_interval_normal - 0.997) < 0.002);
    assert_int_equal(rectangular_sum(13, even, 0.95, &sum), REFUSED);
    assert_int_equal(rectangular_sum(2, even, 1.0, &sum), REFUSED);
    assert_int_equal(rectangular_sum(0, even, 0.95, &sum), REFUSED);
    assert_true(isnan(sum.half_interval));
}

static void
budgets_add_in_squares(void **state)
{
    (void) state;
    const BudgetInput input[] = {{2.0, 3.0, INFINITY}, {-4.0, 2.0, INFINITY}};
    const BudgetPair one = {0, 1, 1.0}, minus = {0, 1, -1.0}, wild = {0, 1, 1.5},
                     self = {0, 0, 0.5};
    Budget budget = {2, 0, 0, input, NULL, NULL, 0.95};
    double part[2], cross[1];
    BudgetResult found;
    assert_int_equal(uncertainty_budget(&budget, part, cross, &found), VALID);
    assert_true(found.combined == 10.0 && part[0] == 6.0 && part[1] == 8.0);
    assert_true(isnan(found.freedom) && fabs(found.coverage - 1.959963984540054) < 1e-9);
    budget.correlations = 1;
    budget.correlation = &one; /* opposite signs take from each other */
    uncertainty_budget(&budget, part, cross, &found);
    assert_true(fabs(found.combined - 2.0) < 1e-12);
    budget.correlation = &minus;
    uncertainty_budget(&budget, part, cross, &found);
    assert_true(fabs(found.combined - 14.0) < 1e-12);
    budget.correlation = &wild;
    assert_int_equal(uncertainty_budget(&budget, part, cross, &found), REFUSED);
    budget.correlation = &self;
    assert_int_equal(uncertainty_budget(&budget, part, cross, &found), REFUSED);
    /* one input alone: its own freedom, t(4) at 95 % = 2.776 (any table of Student) */
    const BudgetInput alone = {1.0, 1.0, 4.0};
    Budget single = {1, 0, 0, &alone, NULL, NULL, 0.95};
    uncertainty_budget(&single, part, cross, &found);
    assert_true(fabs(found.freedom - 4.0) < 1e-12 && fabs(found.coverage - 2.776) < 1e-3);
}

static void
correlations_that_cannot_be(void **state)
{
    (void) state;
    const BudgetInput input[] = {{1, 1, INFINITY}, {1, 1, INFINITY}, {1, 1, INFINITY}};
    const BudgetPair pair[] = {{0, 1, -0.9}, {0, 2, -0.9}, {1, 2, -0.9}};
    Budget budget = {3, 3, 0, input, pair, NULL, 0.95};
    double part[3], cross[1];
    BudgetResult found;
    assert_int_equal(uncertainty_budget(&budget, part, cross, &found), REFUSED);
    assert_true(isnan(found.combined));
}

/* The origin is only where the intercept is read. */
static void
lines_do_not_hang_on_the_origin(void **state)
{
    (void) state;
    static const double x[] = {2027.1, 2027.2, 2027.35, 2027.5}, y[] = {1.0, 1.4, 1.9, 2.7};
    FittedLine near, far;
    assert_int_equal(line_fit(4, x, y, 2027.0, 2027.6, &near), VALID);
    assert_int_equal(line_fit(4, x, y, -5e6, 2027.6, &far), VALID);
    assert_true(fabs(near.slope - far.slope) < 1e-9 * near.slope);
    assert_true(fabs(near.value - far.value) < 1e-9 && fabs(near.value_u - far.value_u) < 1e-12);
    assert_true(far.correlation < -0.999);
    FittedLine at_mean;
    line_fit(4, x, y, 2027.2875, 2027.2875, &at_mean);
    assert_true(fabs(at_mean.correlation) < 1e-9 && fabs(at_mean.value - 1.75) < 1e-9);
    assert_true(fabs(at_mean.intercept_u - at_mean.residual_sd / 2.0) < 1e-12);
    static const double alike[] = {3.0, 3.0, 3.0};
    assert_int_equal(line_fit(3, alike, y, 0.0, NAN, &near), REFUSED);
    Repeated repeated;
    assert_int_equal(repeat_readings(3, alike, y, &repeated), VALID);
    assert_true(repeated.sd == 0.0 && isnan(repeated.correlation));
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rectangles_two_ways),
        cmocka_unit_test(rectangles_of_any_width),
        cmocka_unit_test(budgets_add_in_squares),
        cmocka_unit_test(correlations_that_cannot_be),
        cmocka_unit_test(lines_do_not_hang_on_the_origin),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
