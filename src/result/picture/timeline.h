/* The plan as bars over the calendar, with the date that counts and the chance to be done by each day.
 *
 * Days are Julian day numbers; the part of a day is that of the clock, 0.5 at noon. */
#pragma once

#include "result/picture/parts.h"

typedef struct {
    const char *path, *name;
    double start_day, finish_day; /* NAN: not planned */
    double done_frac;             /* 0..1 */
    bool drives;                  /* a delay of it is a delay of the whole */
    bool ashore, hot;
    const char *note; /* "waits for the slot of 12 April", or NULL */
} TimelineBar;

typedef struct { /* a stretch of the calendar: a haul-out slot, days away, a warm season */
    const char *name;
    double from_day, to_day;
    bool away; /* nobody works; else something is possible only then */
} TimelineSpan;

typedef struct { /* a day that counts: the end of the berth, a survey, a launch */
    const char *path, *name;
    double day;
    bool due; /* the one the chance is reckoned against */
} TimelineMark;

typedef struct {
    const char *caption;
    const char *chance_words; /* "4 in 10 to be done by the end of the berth"; or NULL */
    double today;
    size_t bars, spans, marks, points;
    const TimelineBar *bar; /* in the order of their start */
    const TimelineSpan *span;
    const TimelineMark *mark;
    const double *done_day,
        *chance; /* [points] rising: share of the trials that are done by that day */
    double early_day, middle_day, late_day; /* P10, P50, P90; NAN: not reckoned */
} TimelinePicture;
