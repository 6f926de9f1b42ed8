/* Open hours made. Invariant: openings rise, do not touch, lie within the stretch, and before_min is their running sum. */
#include "physics/work/calendar.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "physics/memory.h"
#include "physics/work/dates.h"
#include "physics/work/daylight.h"

typedef struct { /* openings as they come, in order of their beginning */
    size_t n, room;
    OpenHours *opening;
    int32_t end_min;
} Openings;

static void
add(Openings *all, long opens_min, long closes_min)
{
    if (opens_min < 0)
        opens_min = 0;
    if (closes_min > all->end_min)
        closes_min = all->end_min;
    if (closes_min <= opens_min)
        return;
    OpenHours *last = all->n > 0 ? &all->opening[all->n - 1] : NULL;
    if (last != NULL && opens_min <= last->closes_min) {
        if (closes_min > last->closes_min)
            last->closes_min = (int32_t) closes_min;
        return;
    }
    if (all->n == all->room) {
        all->room = all->room > 0 ? 2 * all->room : 64;
        all->opening = realloc(all->opening, all->room * sizeof(OpenHours));
        if (all->opening == NULL)
            abort();
    }
    all->opening[all->n++] = (OpenHours){(int32_t) opens_min, (int32_t) closes_min};
}

static void
index_days(Calendar *c)
{
    size_t i = 0;
    for (size_t d = 0; d <= c->days; d++) {
        while (i < c->n && c->closes_min[i] <= (int32_t) (d * MINUTES_A_DAY))
            i++;
        c->of_day[d] = (uint32_t) i;
    }
}

/* Takes the openings over. */
static Calendar *
finish(long first_day, size_t days, Openings *all)
{
    Calendar *c = fresh(1, sizeof(Calendar));
    *c = (Calendar){.first_day = first_day, .days = days, .n = all->n};
    c->opens_min = fresh(c->n, sizeof(int32_t));
    c->closes_min = fresh(c->n, sizeof(int32_t));
    c->before_min = fresh(c->n + 1, sizeof(int32_t));
    c->of_day = fresh(days + 1, sizeof(uint32_t));
    for (size_t i = 0; i < c->n; i++) {
        int32_t length = all->opening[i].closes_min - all->opening[i].opens_min;
        c->opens_min[i] = all->opening[i].opens_min;
        c->closes_min[i] = all->opening[i].closes_min;
        c->before_min[i + 1] = c->before_min[i] + length;
        c->longest_min = length > c->longest_min ? length : c->longest_min;
    }
    index_days(c);
    free(all->opening);
    return c;
}

static Openings
none_in(size_t days)
{
    return (Openings){.end_min = (int32_t) (days * MINUTES_A_DAY)};
}

static int
by_opening(const void *a, const void *b)
{
    const OpenHours *x = a, *y = b;
    return (x->opens_min > y->opens_min) - (x->opens_min < y->opens_min);
}

static bool
in_order(int opens_min, int closes_min)
{
    return opens_min >= 0 && opens_min < closes_min && closes_min <= MINUTES_A_DAY;
}

static bool
is_off(long day, size_t n, const DaySpan off[])
{
    for (size_t i = 0; i < n; i++)
        if (day >= off[i].first && day <= off[i].last)
            return true;
    return false;
}

static bool
hours_in_order(size_t n, const WeekHours hours[], size_t n_own, const DayHours own[])
{
    for (size_t i = 0; i < n; i++)
        if (hours[i].weekday < 0 || hours[i].weekday > 6 ||
            !in_order(hours[i].opens_min, hours[i].closes_min))
            return false;
    for (size_t i = 0; i < n_own; i++)
        if (!in_order(own[i].opens_min, own[i].closes_min))
            return false;
    return true;
}

typedef struct {
    size_t n;
    OpenHours *hours;
} Pattern;

/* A weekday's hours, rising. */
static Pattern
weekday_hours(int weekday, size_t n, const WeekHours hours[])
{
    Pattern p = {0, fresh(n, sizeof(OpenHours))};
    for (size_t i = 0; i < n; i++)
        if (hours[i].weekday == weekday)
            p.hours[p.n++] = (OpenHours){hours[i].opens_min, hours[i].closes_min};
    qsort(p.hours, p.n, sizeof(OpenHours), by_opening);
    return p;
}

/* A day's own hours, rising; none: it follows the week. */
static Pattern
own_hours(long day, size_t n, const DayHours own[])
{
    Pattern p = {0, NULL};
    for (size_t i = 0; i < n; i++)
        if (own[i].day == day) {
            if (p.hours == NULL)
                p.hours = fresh(n, sizeof(OpenHours));
            p.hours[p.n++] = (OpenHours){own[i].opens_min, own[i].closes_min};
        }
    if (p.n > 0)
        qsort(p.hours, p.n, sizeof(OpenHours), by_opening);
    return p;
}

static void
add_day(Openings *all, long midnight_min, const Pattern *p)
{
    for (size_t i = 0; i < p->n; i++)
        add(all, midnight_min + p->hours[i].opens_min, midnight_min + p->hours[i].closes_min);
}

Calendar *
calendar_week(long first_day, size_t days, size_t n, const WeekHours hours[], size_t n_off,
              const DaySpan off[], size_t n_own, const DayHours own[])
{
    if (days > CALENDAR_DAYS || !hours_in_order(n, hours, n_own, own))
        return NULL;
    Openings all = none_in(days);
    Pattern week[7];
    for (int w = 0; w < 7; w++)
        week[w] = weekday_hours(w, n, hours);
    for (size_t d = 0; d < days; d++) {
        long day = first_day + (long) d;
        if (is_off(day, n_off, off))
            continue;
        Pattern today = own_hours(day, n_own, own);
        add_day(&all, (long) d * MINUTES_A_DAY, today.n > 0 ? &today : &week[dates_weekday(day)]);
        free(today.hours);
    }
    for (int w = 0; w < 7; w++)
        free(week[w].hours);
    return finish(first_day, days, &all);
}

Calendar *
calendar_always(long first_day, size_t days)
{
    if (days > CALENDAR_DAYS)
        return NULL;
    Openings all = none_in(days);
    add(&all, 0, all.end_min);
    return finish(first_day, days, &all);
}

Calendar *
calendar_windows(long first_day, size_t days, size_t n, const OpenHours window[])
{
    if (days > CALENDAR_DAYS)
        return NULL;
    Openings all = none_in(days);
    OpenHours *sorted = fresh(n, sizeof(OpenHours));
    if (n > 0)
        memcpy(sorted, window, n * sizeof(OpenHours));
    qsort(sorted, n, sizeof(OpenHours), by_opening);
    for (size_t i = 0; i < n; i++)
        add(&all, sorted[i].opens_min, sorted[i].closes_min);
    free(sorted);
    return finish(first_day, days, &all);
}

Calendar *
calendar_daylight(long first_day, size_t days, double latitude_rad, double longitude_rad,
                  const double zone_h[])
{
    if (days > CALENDAR_DAYS)
        return NULL;
    Openings all = none_in(days);
    for (size_t d = 0; d < days; d++) {
        long midnight = (long) d * MINUTES_A_DAY;
        Daylight light;
        if (daylight_of(first_day + (long) d, latitude_rad, longitude_rad, zone_h[d], &light) ==
            REFUSED)
            break;
        if (light.sun == SUN_ALWAYS_UP)
            add(&all, midnight, midnight + MINUTES_A_DAY);
        if (light.sun == SUN_RISES)
            add(&all, midnight + (long) ceil(light.sunrise_h * 60.0),
                midnight + (long) floor(light.sunset_h * 60.0));
    }
    return finish(first_day, days, &all);
}

Calendar *
calendar_both(const Calendar *a, const Calendar *b)
{
    Openings all = none_in(a->days);
    for (size_t i = 0, j = 0; i < a->n && j < b->n;) {
        int32_t from = a->opens_min[i] > b->opens_min[j] ? a->opens_min[i] : b->opens_min[j];
        int32_t to = a->closes_min[i] < b->closes_min[j] ? a->closes_min[i] : b->closes_min[j];
        add(&all, from, to);
        if (a->closes_min[i] < b->closes_min[j])
            i++;
        else
            j++;
    }
    return finish(a->first_day, a->days, &all);
}

Calendar *
calendar_less(const Calendar *a, const Calendar *b)
{
    Openings all = none_in(a->days);
    size_t j = 0;
    for (size_t i = 0; i < a->n; i++) {
        int32_t from = a->opens_min[i];
        while (j < b->n && b->closes_min[j] <= from)
            j++;
        for (size_t k = j; k < b->n && b->opens_min[k] < a->closes_min[i]; k++) {
            add(&all, from, b->opens_min[k]);
            from = b->closes_min[k];
        }
        add(&all, from, a->closes_min[i]);
    }
    return finish(a->first_day, a->days, &all);
}

void
calendar_free(Calendar *c)
{
    if (c == NULL)
        return;
    free(c->opens_min);
    free(c->closes_min);
    free(c->before_min);
    free(c->of_day);
    free(c);
}
