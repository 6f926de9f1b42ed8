/* Waits at a changing speed. Invariant: stretches rise and begin at 0. */
#include "physics/work/wait_clock.h"

#include <math.h>

#include "physics/domain.h"
#include "physics/memory.h"

struct WaitClock {
    size_t n;
    int32_t *from_min;
    double *rate;
};

WaitClock *
wait_clock_new(size_t n, const int32_t from_min[], const double rate[])
{
    for (size_t i = 0; i < n; i++)
        if (!is_not_negative(rate[i]) ||
            (i == 0 ? from_min[i] != 0 : from_min[i] <= from_min[i - 1]))
            return NULL;
    if (n == 0)
        return NULL;
    WaitClock *clock = fresh(1, sizeof(WaitClock));
    *clock = (WaitClock){n, fresh(n, sizeof(int32_t)), fresh(n, sizeof(double))};
    for (size_t i = 0; i < n; i++) {
        clock->from_min[i] = from_min[i];
        clock->rate[i] = rate[i];
    }
    return clock;
}

void
wait_clock_free(WaitClock *clock)
{
    if (clock == NULL)
        return;
    free(clock->from_min);
    free(clock->rate);
    free(clock);
}

/* The stretch that holds an instant; the first for one before all. */
static size_t
stretch_at(const WaitClock *clock, int32_t at_min)
{
    size_t low = 0, high = clock->n;
    while (high - low > 1) {
        size_t middle = (low + high) / 2;
        if (clock->from_min[middle] <= at_min)
            low = middle;
        else
            high = middle;
    }
    return low;
}

int32_t
wait_clock_over(const WaitClock *clock, int32_t begin_min, int32_t lag_min)
{
    size_t i = stretch_at(clock, begin_min);
    double left = lag_min;
    double at = begin_min;
    for (; left > 1e-9; i++) {
        double end = i + 1 < clock->n ? (double) clock->from_min[i + 1] : INFINITY;
        double passes = clock->rate[i] > 0.0 ? clock->rate[i] * (end - at) : 0.0;
        if (passes >= left) {
            at += left / clock->rate[i];
            break;
        }
        if (i + 1 == clock->n)
            return INT32_MAX;
        left -= passes;
        at = end;
    }
    return at < (double) INT32_MAX ? (int32_t) ceil(at - 1e-6) : INT32_MAX;
}
