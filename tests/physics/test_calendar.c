/* Calendars against a walk minute by minute, and dates against the clock's own laws. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "physics/dice.h"
#include "physics/work/calendar.h"
#include "physics/work/dates.h"
#include "physics/work/daylight.h"

enum { FIRST = 2460738, DAYS = 40, END = DAYS * MINUTES_A_DAY }; /* Monday 2025-03-03 */

static int
below(Dice *dice, int n)
{
    return (int) dice_below(dice, (size_t) n);
}

/* A week of up to three openings a day, some touching, with a closed span and two days of their own. */
static Calendar *
any_calendar(Dice *dice, bool open[static END])
{
    WeekHours hours[12];
    size_t n = (size_t) below(dice, 12);
    for (size_t i = 0; i < n; i++) {
        int from = 60 * below(dice, 24);
        hours[i] = (WeekHours){below(dice, 7), from, from + 1 + below(dice, 1440 - from)};
    }
    long day = FIRST + below(dice, DAYS);
    const DaySpan off = {day, day + below(dice, 5)};
    const DayHours own[] = {{FIRST + below(dice, DAYS), 100, 200}, {FIRST + 3, 1000, 1440}};
    memset(open, 0, END * sizeof(bool));
    for (int d = 0; d < DAYS; d++) {
        bool has_own = own[0].day == FIRST + d || own[1].day == FIRST + d;
        if (FIRST + d >= off.first && FIRST + d <= off.last)
            continue;
        for (size_t i = 0; !has_own && i < n; i++)
            for (int m = hours[i].opens_min; hours[i].weekday == d % 7 && m < hours[i].closes_min;
                 m++)
                open[d * MINUTES_A_DAY + m] = true;
        for (size_t i = 0; i < 2; i++)
            for (int m = own[i].opens_min; own[i].day == FIRST + d && m < own[i].closes_min; m++)
                open[d * MINUTES_A_DAY + m] = true;
    }
    return calendar_week(FIRST, DAYS, n, hours, 1, &off, 2, own);
}

static void
same_minutes(const Calendar *c, const bool open[static END])
{
    int32_t all = 0;
    for (int m = 0; m < END; m++) {
        if (calendar_is_open(c, m) != open[m])
            fail_msg("minute %d", m);
        assert_int_equal(calendar_between(c, 0, m), all);
        all += open[m];
    }
    assert_int_equal(c->before_min[c->n], all);
    for (size_t i = 1; i < c->n; i++)
        assert_true(c->closes_min[i - 1] < c->opens_min[i]);
}

static void
openings_are_the_minutes(void **state)
{
    (void) state;
    static bool a[END], b[END], both[END], less[END];
    for (uint64_t seed = 0; seed < 60; seed++) {
        Dice dice = {seed};
        Calendar *x = any_calendar(&dice, a), *y = any_calendar(&dice, b);
        Calendar *xy = calendar_both(x, y), *x_y = calendar_less(x, y);
        for (int m = 0; m < END; m++) {
            both[m] = a[m] && b[m];
            less[m] = a[m] && !b[m];
        }
        same_minutes(x, a);
        same_minutes(xy, both);
        same_minutes(x_y, less);
        calendar_free(x);
        calendar_free(y);
        calendar_free(xy);
        calendar_free(x_y);
    }
}

static bool
walk(const bool open[static END], int start, int work, int *begin, int *finish)
{
    int m = start;
    while (m < END && !open[m])
        m++;
    *begin = *finish = m;
    if (m == END)
        return false;
    while (work > 0 && m < END) {
        if (open[m]) {
            work--;
            *finish = m + 1;
        }
        m++;
    }
    return work == 0;
}

static bool
walk_unbroken(const bool open[static END], int start, int work, int *begin)
{
    for (int m = start; m < END; m++) {
        int k = m;
        while (k < END && open[k] && k - m < work)
            k++;
        if (open[m] && k - m == work) {
            *begin = m;
            return true;
        }
    }
    return false;
}

static void
work_is_walked(void **state)
{
    (void) state;
    static bool open[END];
    for (uint64_t seed = 0; seed < 300; seed++) {
        Dice dice = {seed};
        Calendar *c = any_calendar(&dice, open);
        for (int k = 0; k < 10; k++) {
            int start = below(&dice, END + 100), work = below(&dice, 3000), begin, finish;
            int32_t got_begin, got_finish;
            bool can = start < END && walk(open, start, work, &begin, &finish);
            assert_int_equal(calendar_broken(c, start, END, work, &got_begin, &got_finish), can);
            if (can) {
                assert_int_equal(got_begin, begin);
                assert_int_equal(got_finish, finish);
                if (begin > start)
                    assert_false(
                        calendar_broken(c, start, begin - 1, work, &got_begin, &got_finish));
            }
            work = 1 + work / 5;
            can = start < END && walk_unbroken(open, start, work, &begin);
            assert_int_equal(calendar_unbroken(c, start, END, work, &got_begin, &got_finish), can);
            if (can)
                assert_int_equal(got_begin, begin);
        }
        calendar_free(c);
    }
}

static void
spent_turns_between_round(void **state)
{
    (void) state;
    static bool open[END];
    Dice dice = {7};
    Calendar *c = any_calendar(&dice, open);
    for (int32_t w = 1; w <= c->before_min[c->n]; w++)
        assert_int_equal(calendar_between(c, 0, calendar_spent(c, w)), w);
    assert_int_equal(calendar_spent(c, c->before_min[c->n] + 1), INT32_MAX);
    calendar_free(c);
}

static void
calendars_refuse(void **state)
{
    (void) state;
    const WeekHours bad[] = {{7, 0, 60}, {-1, 0, 60}, {0, 60, 60}, {0, -1, 60}, {0, 0, 1441}};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
        assert_null(calendar_week(FIRST, 7, 1, &bad[i], 0, NULL, 0, NULL));
    assert_null(calendar_always(FIRST, (size_t) CALENDAR_DAYS + 1));
    Calendar *never = calendar_week(FIRST, 7, 0, NULL, 0, NULL, 0, NULL);
    int32_t begin, finish;
    assert_false(calendar_broken(never, 0, INT32_MAX, 0, &begin, &finish));
    assert_false(calendar_unbroken(never, 0, INT32_MAX, 1, &begin, &finish));
    assert_int_equal(calendar_at(never, -5), 0);
    calendar_free(never);
}

static void
daylight_opens_at_sunrise(void **state)
{
    (void) state;
    double lat = 52.37 * M_PI / 180.0, lon = 4.9 * M_PI / 180.0;
    double zone_h[365];
    for (size_t d = 0; d < 365; d++)
        zone_h[d] = d < 200 ? 1.0 : 2.0;
    Calendar *c = calendar_daylight(FIRST, 365, lat, lon, zone_h);
    assert_int_equal(c->n, 365);
    for (size_t d = 0; d < 365; d++) {
        Daylight light;
        assert_int_equal(daylight_of(FIRST + (long) d, lat, lon, zone_h[d], &light), VALID);
        double from = light.sunrise_h * 60.0 + (double) d * 1440.0;
        assert_true(c->opens_min[d] >= from && c->opens_min[d] < from + 1.0);
    }
    calendar_free(c);
}

static void
weeks_run_on(void **state)
{
    (void) state;
    int year, week, before_year, before_week;
    long first = (long) date_day((Date){1999, 1, 4}); /* a Monday, the first of week 1 */
    dates_iso_week(first, &before_year, &before_week);
    assert_int_equal(before_week, 1);
    for (long day = first; day < first + 146097; day++) {
        dates_iso_week(day, &year, &week);
        assert_int_equal(dates_weekday(day), (day - first) % 7);
        if (dates_weekday(day) != 0 || day == first)
            assert_true(year == before_year && week == before_week);
        else
            assert_true(week == before_week + 1 || (week == 1 && year == before_year + 1));
        before_year = year;
        before_week = week;
    }
    assert_true(year == 2398 || year == 2399);
}

static void
instants_are_read(void **state)
{
    (void) state;
    char text[DATES_INSTANT];
    long day;
    int minute;
    assert_true(dates_read_instant("2025-03-08T09:30", &day, &minute));
    assert_int_equal(minute, 570);
    dates_write_instant(day, minute - MINUTES_A_DAY, text);
    assert_string_equal(text, "2025-03-07T09:30");
    dates_write_instant(day, -1, text);
    assert_string_equal(text, "2025-03-07T23:59");
    const char *const bad[] = {"2025-02-29T09:30", "2025-03-08 09:30", "2025-03-08T24:01",
                               "1500-01-01T00:00", "2025-03-08T09:60", "",
                               "2025-13-01T00:00", "2025-03-08T09:30Z"};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
        assert_false(dates_read_instant(bad[i], &day, &minute));
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(openings_are_the_minutes),  cmocka_unit_test(work_is_walked),
        cmocka_unit_test(spent_turns_between_round), cmocka_unit_test(calendars_refuse),
        cmocka_unit_test(daylight_opens_at_sunrise), cmocka_unit_test(weeks_run_on),
        cmocka_unit_test(instants_are_read),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
