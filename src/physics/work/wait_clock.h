/* Elapsed waits whose speed changes with time: a coat that cures faster in summer and not at all in the frost.
 *
 *     the wait that begins at a is over at b where the integral of rate from a to b = lag
 *
 * Given    rate[n] >= 0 from from_min[n], rising, from_min[0] = 0, the last one on and on; 1 where the clock runs as said
 * Gives    minutes, rounded up; INT32_MAX when it never gets there
 * Source   docs/methods/work.md 3.5
 * Checked  tests/physics/test_plan.c: against a sum minute by minute, and W3.14 */
#pragma once

#include <stddef.h>
#include <stdint.h>

typedef struct WaitClock WaitClock;

/* NULL when a rate is none or a time does not rise. */
WaitClock *wait_clock_new(size_t n, const int32_t from_min[], const double rate[]);
void wait_clock_free(WaitClock *clock);
int32_t wait_clock_over(const WaitClock *clock, int32_t begin_min, int32_t lag_min);
