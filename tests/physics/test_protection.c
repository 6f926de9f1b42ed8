/* Fuses and breakers: an own reading of the points, bands that never cross or rise, and a bank against its loop equation. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <math.h>

#include <cmocka.h>

#include "physics/wiring/bank_fault.h"
#include "physics/wiring/breaker.h"
#include "physics/wiring/fuse.h"

static void
near(double value, double expected, double share)
{
    if (!(fabs(value - expected) <= share * fabs(expected)))
        fail_msg("%.12g is not %.12g", value, expected);
}

static void
bands_fall_and_never_cross(void **state)
{
    (void) state;
    static const double ratings[] = {6, 16, 32, 40, 63, 80};
    for (int curve = BREAKER_B; curve <= BREAKER_D; curve++)
        for (size_t r = 0; r < sizeof ratings / sizeof *ratings; r++)
            for (int direct = 0; direct < 2; direct++) {
                double slow = INFINITY, fast = INFINITY;
                for (double multiple = 1.0; multiple < 60.0; multiple *= 1.01) {
                    BreakerTrip t;
                    assert_int_equal(breaker_trip((BreakerCurve) curve, ratings[r], direct,
                                                  multiple * ratings[r], &t),
                                     VALID);
                    assert_true(isnan(t.slowest_s) == (t.trips != TRIPS_YES));
                    assert_true(isnan(t.fastest_s) == (t.trips == TRIPS_NO));
                    assert_true(!(t.fastest_s > t.slowest_s));
                    assert_true(!(t.slowest_s > slow * (1 + 1e-12)) &&
                                !(t.fastest_s > fast * (1 + 1e-12)));
                    slow = isnan(t.slowest_s) ? slow : t.slowest_s;
                    fast = isnan(t.fastest_s) ? fast : t.fastest_s;
                }
                assert_true(slow == 0.1 && fast == 0.0);
            }
}

/* IEC 60898-1 Table 7, as read in two manuals. */
static void
breaker_meets_its_standard(void **state)
{
    (void) state;
    BreakerTrip t;
    breaker_trip(BREAKER_B, 16.0, false, 2.55 * 16.0, &t);
    near(t.slowest_s, 60.0, 1e-12);
    near(t.fastest_s, 1.0, 1e-12);
    breaker_trip(BREAKER_C, 40.0, false, 2.55 * 40.0, &t);
    near(t.slowest_s, 120.0, 1e-12);
    breaker_trip(BREAKER_C, 80.0, false, 1.45 * 80.0, &t);
    near(t.slowest_s, 7200.0, 1e-9);
    breaker_trip(BREAKER_D, 16.0, false, NAN, &t);
    near(t.high_A, 320.0, 1e-15);
    assert_true(isnan(t.slowest_s) && isnan(t.fastest_s));
    assert_int_equal(breaker_trip(BREAKER_D, 0.0, false, 5.0, &t), REFUSED);
    assert_int_equal(breaker_trip(BREAKER_D, 16.0, false, -5.0, &t), REFUSED);
    assert_true(isnan(t.high_A));
}

/* Base-ten logarithms by hand instead of the routine under test. */
static void
fuse_lies_on_its_line(void **state)
{
    (void) state;
    const FuseGates gates = {160, 320, 450, 820};
    FuseTime t;
    for (double current = 100.0; current < 2000.0; current *= 1.1) {
        Validity validity = fuse_time_gates(&gates, current, &t);
        double slope = (log10(0.1) - log10(5.0)) / (log10(820) - log10(320));
        near(t.slowest_s, pow(10.0, log10(5.0) + slope * (log10(current) - log10(320))), 1e-12);
        assert_int_equal(validity, current >= 320.0 && current <= 450.0 ? VALID : EXTRAPOLATED);
    }
    fuse_time_gates(&gates, 160.0, &t);
    near(t.fastest_s, 10.0, 1e-12);
    fuse_time_gates(&gates, 450.0, &t);
    near(t.fastest_s, 0.1, 1e-12);
    assert_int_equal(fuse_time_gates(&gates, 0.0, &t), REFUSED);
    assert_true(isnan(t.fastest_s));
}

static void
points_without_a_time_are_passed_over(void **state)
{
    (void) state;
    static const double at[] = {1.1, 1.35, 2.0}, fast[] = {360000, 0.75, 0.15},
                        slow[] = {NAN, 1800, 5};
    FuseTime t;
    assert_int_equal(fuse_time_points(3, at, fast, slow, 1.2, &t), EXTRAPOLATED);
    assert_true(t.fastest_s > 0.75 && t.fastest_s < 360000 && isnan(t.slowest_s));
    assert_int_equal(fuse_time_points(3, at, fast, slow, 2.0, &t), VALID);
    assert_true(t.fastest_s == 0.15 && t.slowest_s == 5.0);
    assert_int_equal(fuse_time_points(3, at, fast, slow, 2.01, &t), EXTRAPOLATED);
    assert_true(isnan(t.fastest_s) && isnan(t.slowest_s));
    assert_int_equal(fuse_time_points(3, at, fast, slow, NAN, &t), REFUSED);
}

static void
bank_obeys_its_loop(void **state)
{
    (void) state;
    const Bank bank = {6.3, 0.0021, 4.0, 3.0, 0.0017};
    BankFault f;
    assert_int_equal(bank_fault(&bank, &f), VALID);
    /* one string bears a third of the current through four batteries, then all of it the path */
    double string_V = 4.0 * (6.3 - 0.0021 * f.fault_A / 3.0);
    near(string_V, 0.0017 * f.fault_A, 1e-12);
    near(f.terminal_A, 3.0 * 6.3 / 0.0021, 1e-14);
    static const Bank bad[] = {
        {0, 1, 1, 1, 0}, {6, 0, 1, 1, 0}, {6, 1, 1.5, 1, 0}, {6, 1, 1, 0, 0}, {6, 1, 1, 1, -1}};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        assert_int_equal(bank_fault(&bad[i], &f), REFUSED);
        assert_true(isnan(f.fault_A) && isnan(f.ohm));
    }
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(bands_fall_and_never_cross),
        cmocka_unit_test(breaker_meets_its_standard),
        cmocka_unit_test(fuse_lies_on_its_line),
        cmocka_unit_test(points_without_a_time_are_passed_over),
        cmocka_unit_test(bank_obeys_its_loop),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
