/* Days of the calendar as numbers: Julian day numbers, which begin at midnight here; the part of a day stands behind the
 * point, 0.5 at noon. Gregorian, from 15 October 1582 to the end of the year 9999. */
#pragma once

typedef struct {
    int year, month, day;
} Date; /* year 0: missing */

double date_day(Date date); /* NAN: missing, or no day of the calendar */
Date day_date(double day);  /* year 0: outside the calendar, or NAN */

/* "2027-04-12", "12 April 2027", "12 Apr"; "not known" outside the calendar. g_free. */
char *day_iso(double day);
char *day_words(double day);
char *day_short(double day);
