/* Weekday and week of a date, and local clock times as text; day numbers themselves are base/date.h.
 *
 *     q = (14 - m)/12   y' = y + 4800 - q   m' = m + 12 q - 3      (whole divisions)
 *     day = d + (153 m' + 2)/5 + 365 y' + y'/4 - y'/100 + y'/400 - 32045
 *
 * The day number is the Julian day that begins at noon of the date; weekday = day mod 7, 0 = Monday. ISO week 1 holds the first
 * Thursday of the year. A time of the day is in whole minutes from midnight by the local clock.
 *
 * Source   Fliegel and van Flandern, Communications of the ACM 11 (1968) 657 (day number), from memory; ISO 8601 (week), from
 *          memory; docs/methods/work.md 7.2
 * Checked  day-number in tests/cases/work.csv; tests/physics/test_calendar.c: there and back over 400 years */
#pragma once

#include <stdbool.h>

#include "base/date.h"
#include "base/source.h"

enum { MINUTES_A_DAY = 1440 };

/* Of a day number of base/date.h. */
int dates_weekday(long day); /* 0 = Monday .. 6 = Sunday */
int dates_of_year(long day); /* 1 = 1 January */
void dates_iso_week(long day, int *year, int *week);

/* "2025-03-08" to a date that need not be in base/date.h's reach; "2025-03-08T09:30" to a day and minutes of it. False: another
 * form, or no such instant. */
bool dates_read(const char *text, Date *date);
bool dates_read_instant(const char *text, long *day, int *minute);
/* The other way; minutes may be past the day's end or negative. */
enum { DATES_INSTANT = 24 };
void dates_write_instant(long day, long minute, char text[static DATES_INSTANT]);

extern const Method dates_number_method;
