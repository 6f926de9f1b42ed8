/* Open hours walked. Invariant: what begins, begins in an opening, and not after latest_min. */
#include "physics/work/calendar.h"

#include "physics/work/dates.h"

const Method calendar_method = {
    "Finish of work by a calendar",
    "open(finish) - open(start) = work",
    {"walk of the open hours; docs/methods/work.md 7.1", STANDING_DERIVED}};

int32_t
calendar_end_min(const Calendar *c)
{
    return (int32_t) (c->days * MINUTES_A_DAY);
}

size_t
calendar_at(const Calendar *c, int32_t at_min)
{
    if (at_min >= calendar_end_min(c))
        return c->n;
    size_t i = c->of_day[at_min > 0 ? at_min / MINUTES_A_DAY : 0];
    while (i < c->n && c->closes_min[i] <= at_min)
        i++;
    return i;
}

bool
calendar_is_open(const Calendar *c, int32_t at_min)
{
    size_t i = calendar_at(c, at_min);
    return i < c->n && c->opens_min[i] <= at_min;
}

/* Open time up to an instant. */
static int32_t
until(const Calendar *c, int32_t at_min)
{
    size_t i = calendar_at(c, at_min);
    if (i == c->n || at_min <= c->opens_min[i])
        return c->before_min[i];
    return c->before_min[i] + (at_min - c->opens_min[i]);
}

int32_t
calendar_between(const Calendar *c, int32_t from_min, int32_t to_min)
{
    return until(c, to_min) - until(c, from_min);
}

int32_t
calendar_spent(const Calendar *c, int32_t open_min)
{
    if (c->n == 0 || open_min > c->before_min[c->n])
        return INT32_MAX;
    size_t low = 0, high = c->n - 1; /* the first opening whose end brings the sum there */
    while (low < high) {
        size_t middle = (low + high) / 2;
        if (c->before_min[middle + 1] >= open_min)
            high = middle;
        else
            low = middle + 1;
    }
    return c->opens_min[low] + (open_min - c->before_min[low]);
}

bool
calendar_broken(const Calendar *c, int32_t start_min, int32_t latest_min, int32_t work_min,
                int32_t *begin_min, int32_t *finish_min)
{
    size_t i = calendar_at(c, start_min);
    if (i == c->n)
        return false;
    int32_t begin = start_min > c->opens_min[i] ? start_min : c->opens_min[i];
    int32_t ahead = c->before_min[c->n] - c->before_min[i] - (begin - c->opens_min[i]);
    if (begin > latest_min || work_min > ahead)
        return false;
    *begin_min = begin;
    *finish_min = work_min > 0
                      ? calendar_spent(c, c->before_min[i] + (begin - c->opens_min[i]) + work_min)
                      : begin;
    return true;
}

bool
calendar_unbroken(const Calendar *c, int32_t start_min, int32_t latest_min, int32_t work_min,
                  int32_t *begin_min, int32_t *finish_min)
{
    if (work_min > c->longest_min)
        return false;
    for (size_t i = calendar_at(c, start_min); i < c->n && c->opens_min[i] <= latest_min; i++) {
        int32_t begin = start_min > c->opens_min[i] ? start_min : c->opens_min[i];
        if (begin > latest_min || work_min > c->closes_min[i] - begin)
            continue;
        *begin_min = begin;
        *finish_min = begin + work_min;
        return true;
    }
    return false;
}
