/* Day numbers against published ones: the standard epoch J2000 is the Julian date 2451545 (IAU), and the dates of the method
 * sheet, docs/methods/work.md W7.6. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <math.h>

#include <cmocka.h>
#include <glib.h>

#include "base/date.h"

static void
days_of_dates(void **state G_GNUC_UNUSED)
{
    static const struct {
        Date date;
        double day;
    } rows[] = {{{2000, 1, 1}, 2451545.0},
                {{2024, 2, 29}, 2460370.0},
                {{2021, 1, 3}, 2459218.0},
                {{1582, 10, 15}, 2299161.0}};
    for (size_t i = 0; i < G_N_ELEMENTS(rows); i++) {
        assert_true(date_day(rows[i].date) == rows[i].day);
        Date back = day_date(rows[i].day + 0.99);
        assert_true(back.year == rows[i].date.year && back.month == rows[i].date.month &&
                    back.day == rows[i].date.day);
    }
}

static void
no_such_day(void **state G_GNUC_UNUSED)
{
    static const Date none[] = {{0}, {2027, 2, 29}, {2027, 13, 1}, {1582, 10, 14}, {10000, 1, 1}};
    for (size_t i = 0; i < G_N_ELEMENTS(none); i++)
        assert_true(isnan(date_day(none[i])));
    static const double outside[] = {NAN, INFINITY, -INFINITY, 0.0, 2299160.9, 5373485.0};
    for (size_t i = 0; i < G_N_ELEMENTS(outside); i++) {
        assert_int_equal(day_date(outside[i]).year, 0);
        g_autofree char *words = day_words(outside[i]);
        assert_string_equal(words, "not known");
    }
}

static void
every_day_comes_back(void **state G_GNUC_UNUSED)
{
    for (double day = 2299161.0; day < 5373485.0; day += 37.0)
        assert_true(date_day(day_date(day)) == day);
}

static void
words_of_days(void **state G_GNUC_UNUSED)
{
    g_autofree char *iso = day_iso(2460370.5), *words = day_words(2460370.5),
                    *brief = day_short(2460370.5);
    assert_string_equal(iso, "2024-02-29");
    assert_string_equal(words, "29 February 2024");
    assert_string_equal(brief, "29 Feb");
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(days_of_dates), cmocka_unit_test(no_such_day),
        cmocka_unit_test(every_day_comes_back), cmocka_unit_test(words_of_days)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
