/* Hours in which work can be done: a weekly pattern, days off, days with hours of their own, windows, daylight; joined and cut.
 *
 *     finish(start, work): walk the open hours from start until the work is spent
 *
 * Time here is whole minutes (_min) by the local clock from the midnight that begins first_day: local clock time without the change
 * to summer time inside. An opening holds its first minute and not its last; openings that touch are one. A finish may equal the
 * end of an opening; the next work then begins at the next one.
 *
 * Source   docs/methods/work.md 7.1
 * Checked  work-calendar in tests/cases/work.csv; tests/physics/test_calendar.c: against a walk minute by minute */
#pragma once

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/source.h"

typedef struct {
    long first_day; /* as of dates.h */
    size_t days;
    size_t n;
    int32_t *opens_min, *closes_min; /* [n], rising, apart */
    int32_t *before_min;             /* [n + 1] open time before each, and all of it */
    uint32_t *of_day;    /* [days + 1] the first opening that ends after the midnight before */
    int32_t longest_min; /* the longest opening; 0 when there is none */
} Calendar;

typedef struct {
    int weekday; /* 0 = Monday */
    int opens_min, closes_min;
} WeekHours;

typedef struct { /* days first to last */
    long first, last;
} DaySpan;

typedef struct { /* a day that does not follow the week */
    long day;
    int opens_min, closes_min;
} DayHours;

typedef struct {
    int32_t opens_min, closes_min;
} OpenHours;

/* The longest stretch a calendar can be of; minutes stay far from the end of their type. */
enum { CALENDAR_DAYS = 366 * 400 };

/* Hours of a weekday must be 0 <= opens < closes <= 1440; days with hours of their own have none of the week's; days off have none.
 * NULL when an hour is out of order or the stretch too long. Free with calendar_free. */
Calendar *calendar_week(long first_day, size_t days, size_t n, const WeekHours hours[],
                        size_t n_off, const DaySpan off[], size_t n_own, const DayHours own[]);
Calendar *calendar_always(long first_day, size_t days);
/* Windows in any order; what lies outside the stretch is cut off. */
Calendar *calendar_windows(long first_day, size_t days, size_t n, const OpenHours window[]);
/* From sunrise to sunset. zone_h[days]: hours that the clock of each day is ahead of universal time. */
Calendar *calendar_daylight(long first_day, size_t days, double latitude_rad, double longitude_rad,
                            const double zone_h[]);
/* Of the same stretch: open in both; open in the first and not in the second. */
Calendar *calendar_both(const Calendar *a, const Calendar *b);
Calendar *calendar_less(const Calendar *a, const Calendar *b);
void calendar_free(Calendar *calendar);

int32_t calendar_end_min(const Calendar *calendar); /* of the stretch */
/* The first opening that ends after at_min; n when there is none. */
size_t calendar_at(const Calendar *calendar, int32_t at_min);
bool calendar_is_open(const Calendar *calendar, int32_t at_min);
/* Open time from one instant to a later one. */
int32_t calendar_between(const Calendar *calendar, int32_t from_min, int32_t to_min);
/* The instant at which so much open time has passed since the beginning of the stretch, as the end of an opening; INT32_MAX past all. */
int32_t calendar_spent(const Calendar *calendar, int32_t open_min);
/* Work that begins between start and latest. Broken: at the first open instant, over as many openings as it takes. Unbroken: in the
 * first opening that still holds all of it. False: it cannot be. */
bool calendar_broken(const Calendar *calendar, int32_t start_min, int32_t latest_min,
                     int32_t work_min, int32_t *begin_min, int32_t *finish_min);
bool calendar_unbroken(const Calendar *calendar, int32_t start_min, int32_t latest_min,
                       int32_t work_min, int32_t *begin_min, int32_t *finish_min);

extern const Method calendar_method;
