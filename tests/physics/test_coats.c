/* Coats and hours: limits and what must grow. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>

#include "physics/work/coat.h"
#include "physics/work/labour.h"

static void
warmer_never_waits_longer(void **state)
{
    (void) state;
    double last = INFINITY;
    for (double t = 273.15; t < 313.0; t += 1.0) {
        double wait;
        assert_int_equal(coat_wait(8.0, 293.15, 1, &t, NULL, NAN, &wait), VALID);
        assert_true(wait < last);
        last = wait;
    }
    /* cut into pieces, a steady temperature waits the same */
    static const double steady[] = {283.15, 283.15, 283.15}, spell[] = {3.0, 5.5};
    double whole, pieces;
    coat_wait(8.0, 293.15, 1, steady, NULL, NAN, &whole);
    coat_wait(8.0, 293.15, 3, steady, spell, NAN, &pieces);
    assert_true(fabs(whole - pieces) < 1e-12 && fabs(whole - 16.0) < 1e-12);
    /* done within the first spell: what comes after does not matter */
    static const double cold[] = {293.15, 250.0}, longer[] = {9.0};
    assert_int_equal(coat_wait(8.0, 293.15, 2, cold, longer, 280.0, &pieces), VALID);
    assert_true(pieces == 8.0);
    static const double shorter[] = {7.0};
    assert_int_equal(coat_wait(8.0, 293.15, 2, cold, shorter, 280.0, &pieces), REFUSED);
    assert_true(isnan(pieces));
    static const double back[] = {-1.0};
    assert_int_equal(coat_wait(8.0, 293.15, 2, cold, back, NAN, &pieces), REFUSED);
    assert_int_equal(coat_wait(8.0, 293.15, 0, cold, back, NAN, &pieces), REFUSED);
}

static void
recoat_rows_meet(void **state)
{
    (void) state;
    double last_least = INFINITY, last_most = INFINITY;
    for (double t = 16.0; t <= 49.0; t += 1.0) {
        double least, most;
        Validity validity = recoat_window(273.15 + t, &least, &most);
        assert_int_equal(validity, t > 38.0 ? EXTRAPOLATED : VALID);
        assert_true(least < most && least <= last_least && most <= last_most);
        last_least = least;
        last_most = most;
    }
    double least, most;
    assert_int_equal(recoat_window(273.15 + 15.4, &least, &most), REFUSED);
    assert_int_equal(recoat_window(273.15 + 50.0, &least, &most), REFUSED);
    assert_int_equal(recoat_window(NAN, &least, &most), REFUSED);
}

static void
hours_grow_with_the_amount(void **state)
{
    (void) state;
    for (int job = 0; job < N_JOBS; job++) {
        double low, high, low_twice, high_twice;
        assert_int_equal(job_labour((Job) job, 3.0, 0.4, &low, &high), VALID);
        assert_int_equal(job_labour((Job) job, 6.0, 0.8, &low_twice, &high_twice), VALID);
        assert_true(low > 0.0 && low <= high);
        assert_true(fabs(low - low_twice) < 1e-12 && fabs(high - high_twice) < 1e-12);
        assert_int_equal(job_labour((Job) job, -1.0, 1.0, &low, &high), REFUSED);
        assert_int_equal(job_labour((Job) job, 2.5, 1.0, &low, &high),
                         job_measure((Job) job) == JOB_BY_COUNT ? REFUSED : VALID);
    }
}

static void
short_spells_cost_time(void **state)
{
    (void) state;
    double last = INFINITY;
    for (double spell = 1.5; spell < 10.0; spell += 0.5) {
        WorkingSpells s;
        assert_int_equal(working_spells(20.0, spell, 0.5, &s), VALID);
        assert_true(s.attendance_h <= last && s.attendance_h >= 20.0 + 2.0 * 0.5);
        assert_true(s.spells * s.net_h >= 20.0 - 1e-9 && (s.spells - 1.0) * s.net_h < 20.0);
        last = s.attendance_h;
    }
    WorkingSpells none;
    assert_int_equal(working_spells(0.0, 2.0, 0.5, &none), VALID);
    assert_true(none.spells == 0.0 && none.attendance_h == 0.0);
    assert_int_equal(working_spells(5.0, 1.0, 0.5, &none), REFUSED);
    assert_true(isnan(none.share));
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(warmer_never_waits_longer),
        cmocka_unit_test(recoat_rows_meet),
        cmocka_unit_test(hours_grow_with_the_amount),
        cmocka_unit_test(short_spells_cost_time),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
