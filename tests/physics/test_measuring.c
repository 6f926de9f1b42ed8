/* Worth of knowing: bounds, and the law of total chance. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>

#include "physics/work/measuring.h"

/* 0 <= readings <= part <= whole; more readings and less noise are worth more; all is worth most where the choice is open. */
static void
knowing_more_is_worth_more(void **state)
{
    (void) state;
    MeasureValue last = {0}, found;
    for (double readings = 1.0; readings < 1e6; readings *= 4.0) {
        Measuring m = {500.0, 2000.0, 1500.0, 1200.0, readings, 0.0};
        assert_int_equal(measure_value(&m, &found), VALID);
        assert_true(found.sample > last.sample && found.sample < found.part);
        assert_true(found.part < found.perfect && found.net == found.sample);
        last = found;
    }
    assert_true(found.part - found.sample < 1e-3 * found.part);
    Measuring certain = {500.0, 0.0, 0.0, 0.0, 1.0, 10.0};
    assert_int_equal(measure_value(&certain, &found), VALID);
    assert_true(found.perfect == 0.0 && found.part == 0.0 && found.sample == 0.0);
    assert_true(found.net == -10.0);
    Measuring minus = {-500.0, 2000.0, NAN, NAN, 1.0, 0.0},
              plus = {500.0, 2000.0, NAN, NAN, 1.0, 0.0};
    MeasureValue other;
    measure_value(&minus, &found);
    measure_value(&plus, &other);
    assert_true(found.perfect == other.perfect && isnan(found.part) && isnan(found.net));
    Measuring odd = {0.0, 1.0, 0.5, 1.0, 1.5, 0.0};
    assert_int_equal(measure_value(&odd, &found), REFUSED);
    odd.readings = 1.0;
    odd.noise = -1.0;
    assert_int_equal(measure_value(&odd, &found), REFUSED);
}

static void
alarms_share_out_the_chance(void **state)
{
    (void) state;
    for (double p = 0.0; p <= 1.0; p += 0.05)
        for (double detects = 0.0; detects <= 1.0; detects += 0.25) {
            Inspection asked = {p, 6000.0, 25000.0, detects, 0.9, 500.0};
            InspectionValue v;
            assert_int_equal(inspection_value(&asked, &v), VALID);
            double again =
                (v.chance_alarm > 0.0 ? v.chance_alarm * v.bad_after_alarm : 0.0) +
                (v.chance_alarm < 1.0 ? (1.0 - v.chance_alarm) * v.bad_after_clear : 0.0);
            assert_true(fabs(again - p) < 1e-12);
            assert_true(v.test_value >= 0.0 && v.test_value <= v.perfect + 1e-9);
            assert_int_equal(v.act, p > v.break_even);
        }
    Inspection blind = {0.3, 6000.0, 25000.0,
                        0.0, 1.0,    0.0}; /* a test that never alarms tells nothing */
    InspectionValue v;
    inspection_value(&blind, &v);
    assert_true(v.test_value == 0.0 && isnan(v.bad_after_alarm));
    blind.act_cost = 0.0;
    assert_int_equal(inspection_value(&blind, &v), REFUSED);
    assert_true(isnan(v.cost_now));
}

int
main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(knowing_more_is_worth_more),
                                       cmocka_unit_test(alarms_share_out_the_chance)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
