/* Day numbers and dates, by GDate.
 * Invariant: date_day(day_date(n)) is the whole part of n. */
#include "base/date.h"

#include <glib.h>
#include <math.h>

#define BEFORE_YEAR_1                                                                              \
    1721425.0               /* the day before 1 January of the year 1, from which GDate counts */
#define FIRST_DAY 2299161.0 /* 15 October 1582 */
#define LAST_DAY 5373484.0  /* 31 December 9999 */

static const char *const months[] = {"January",   "February", "March",    "April",
                                     "May",       "June",     "July",     "August",
                                     "September", "October",  "November", "December"};

double
date_day(Date date)
{
    if (date.year < 1 || date.year > 9999 || date.month < 1 || date.day < 1 ||
        !g_date_valid_dmy((GDateDay) date.day, (GDateMonth) date.month, (GDateYear) date.year))
        return NAN;
    GDate found;
    g_date_clear(&found, 1);
    g_date_set_dmy(&found, (GDateDay) date.day, (GDateMonth) date.month, (GDateYear) date.year);
    double day = g_date_get_julian(&found) + BEFORE_YEAR_1;
    return day >= FIRST_DAY ? day : NAN;
}

Date
day_date(double day)
{
    if (!(day >= FIRST_DAY && day < LAST_DAY + 1.0))
        return (Date){0};
    GDate found;
    g_date_clear(&found, 1);
    g_date_set_julian(&found, (guint32) (floor(day) - BEFORE_YEAR_1));
    return (Date){g_date_get_year(&found), (int) g_date_get_month(&found), g_date_get_day(&found)};
}

char *
day_iso(double day)
{
    Date date = day_date(day);
    return date.year == 0 ? g_strdup("not known")
                          : g_strdup_printf("%04d-%02d-%02d", date.year, date.month, date.day);
}

char *
day_words(double day)
{
    Date date = day_date(day);
    return date.year == 0
               ? g_strdup("not known")
               : g_strdup_printf("%d %s %d", date.day, months[date.month - 1], date.year);
}

char *
day_short(double day)
{
    Date date = day_date(day);
    return date.year == 0 ? g_strdup("not known")
                          : g_strdup_printf("%d %.3s", date.day, months[date.month - 1]);
}
