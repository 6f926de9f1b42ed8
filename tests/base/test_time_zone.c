/* Clocks of places. Outside: the rule of the European Union (directive 2000/84/EC: summer time from the last Sunday of March to the last
 * of October), and zones of half an hour. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "base/date.h"
#include "base/time_zone.h"

static double
ahead(const char *name, int year, int month, int day)
{
    TimeZone *zone = time_zone_find(name);
    assert_non_null(zone);
    double hours = time_zone_ahead_h(zone, date_day((Date){year, month, day}));
    time_zone_free(zone);
    return hours;
}

static void
summer_time_comes_and_goes(void **state)
{
    (void) state;
    assert_float_equal(ahead("Europe/Amsterdam", 2027, 3, 27), 1.0, 0.0);
    assert_float_equal(ahead("Europe/Amsterdam", 2027, 3, 28), 2.0, 0.0);
    assert_float_equal(ahead("Europe/Amsterdam", 2027, 10, 30), 2.0, 0.0);
    assert_float_equal(ahead("Europe/Amsterdam", 2027, 10, 31), 1.0, 0.0);
    assert_float_equal(ahead("Europe/London", 2027, 1, 15), 0.0, 0.0);
    assert_float_equal(ahead("Asia/Kolkata", 2027, 7, 1), 5.5, 0.0);
    assert_float_equal(ahead("UTC", 2027, 7, 1), 0.0, 0.0);
}

static void
what_is_no_name_is_no_zone(void **state)
{
    (void) state;
    static const char *const wrong[] = {
        "",          "Europe/Amsterdm",   "../../../etc/passwd", "/etc/passwd",
        "Europe",    "Europe//Amsterdam", "europe/amsterdam\n",  "%s",
        "Etc/../UTC"};
    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++)
        assert_null(time_zone_find(wrong[i]));
    assert_null(time_zone_find(NULL));
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(summer_time_comes_and_goes),
        cmocka_unit_test(what_is_no_name_is_no_zone),
    };
    return cmocka_run_group_tests_name("time zones", tests, NULL, NULL);
}
