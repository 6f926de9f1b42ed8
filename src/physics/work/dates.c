/* Dates and day numbers. Invariant: an instant written and read again is the same. */
#include "physics/work/dates.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

const Method dates_number_method = {
    "Day number",
    "J = d + floor((153 * p + 2) / 5) + 365 * y + floor(y / 4) - floor(y / 100) + floor(y / 400) - "
    "32045",
    {"Fliegel and van Flandern 1968; docs/methods/work.md 7.2", STANDING_MEMORY}};

static int
days_in(int year, int month)
{
    static const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    bool leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
    return days[month - 1] + (month == 2 && leap ? 1 : 0);
}

static bool
on_paper(Date d)
{
    return d.year >= 1 && d.year <= 9999 && d.month >= 1 && d.month <= 12 && d.day >= 1 &&
           d.day <= days_in(d.year, d.month);
}

int
dates_weekday(long day)
{
    return (int) (day % 7);
}

int
dates_of_year(long day)
{
    return (int) (day - (long) date_day((Date){day_date((double) day).year, 1, 1}) + 1);
}

void
dates_iso_week(long day, int *year, int *week)
{
    long thursday = day - dates_weekday(day) + 3;
    *year = day_date((double) thursday).year;
    *week = (dates_of_year(thursday) - 1) / 7 + 1;
}

/* Digits where the pattern has a 0, else the very same character. */
static bool
has_form(const char *text, const char *pattern)
{
    if (strlen(text) != strlen(pattern))
        return false;
    for (size_t i = 0; pattern[i] != '\0'; i++)
        if (pattern[i] == '0' ? text[i] < '0' || text[i] > '9' : text[i] != pattern[i])
            return false;
    return true;
}

static int
digits(const char *text, size_t n)
{
    int value = 0;
    for (size_t i = 0; i < n; i++)
        value = 10 * value + (text[i] - '0');
    return value;
}

bool
dates_read(const char *text, Date *date)
{
    if (!has_form(text, "0000-00-00"))
        return false;
    *date = (Date){digits(text, 4), digits(text + 5, 2), digits(text + 8, 2)};
    return on_paper(*date);
}

bool
dates_read_instant(const char *text, long *day, int *minute)
{
    if (!has_form(text, "0000-00-00T00:00"))
        return false;
    Date date = {digits(text, 4), digits(text + 5, 2), digits(text + 8, 2)};
    int hours = digits(text + 11, 2), minutes = digits(text + 14, 2);
    if (isnan(date_day(date)) || hours > 24 || minutes > 59 || hours * 60 + minutes > MINUTES_A_DAY)
        return false;
    *day = (long) date_day(date);
    *minute = hours * 60 + minutes;
    return true;
}

void
dates_write_instant(long day, long minute, char text[static DATES_INSTANT])
{
    long days =
        minute >= 0 ? minute / MINUTES_A_DAY : -((MINUTES_A_DAY - 1 - minute) / MINUTES_A_DAY);
    long left = minute - days * MINUTES_A_DAY;
    Date d = day_date((double) (day + days));
    (void) snprintf(text, DATES_INSTANT, "%04d-%02d-%02dT%02d:%02d", d.year % 10000, d.month % 100,
                    d.day % 100, (int) (left / 60), (int) (left % 60));
}
