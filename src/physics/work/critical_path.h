/* Earliest and latest dates of a network with lags, by a forward and a backward pass.
 *
 *     ES_j = max(0, release_j, max over ties (ES_i + w))    T = max(ES + d)
 *     LS_i = min(end - d_i, min over ties (LS_j - w))       total float = LS - ES
 *     free float_i = min(T - EF_i, min over ties (ES_j - w) - ES_i)
 *     w: finish-start d_i + lag, start-start lag, finish-finish d_i + lag - d_j, start-finish lag - d_j;
 *     no-later, from j back to i, -(d_i + lag)
 *
 * Returns  PASSES_LOOP: see task_loop; PASSES_TIGHT: a no-later tie cannot be kept; PASSES_BAD: a duration below 0, a number that is
 *          none, a tie that leads nowhere
 * Misses   APART, which is no matter of passes: it is left out
 * Source   Kelley and Walker 1959 (memory); Bellman-Ford for the greatest lags; docs/methods/work.md 1.1
 * Checked  critical-path in tests/cases/work.csv; tests/physics/test_task_network.c */
#pragma once

#include "base/source.h"
#include "physics/work/task_network.h"

typedef enum { PASSES_DONE, PASSES_LOOP, PASSES_TIGHT, PASSES_BAD } PassesOutcome;

/* A network made ready for many passes with different durations. The network is not kept; NULL unless PASSES_DONE (PASSES_TIGHT is
 * found by the passes). */
typedef struct TaskPasses TaskPasses;
TaskPasses *task_passes_new(const TaskNetwork *net, PassesOutcome *outcome);
void task_passes_free(TaskPasses *passes);
/* The tasks in an order that keeps all ties: [n]. */
const size_t *task_passes_order(const TaskPasses *passes);

/* Fills early_start_h[n] and gives the length; NAN when a no-later tie cannot be kept. duration_h[n] >= 0. */
double task_passes_forward(const TaskPasses *passes, const double duration_h[],
                           double early_start_h[]);
/* Fills late_start_h[n] for work that ends at end_h; after task_passes_forward with the same durations. */
void task_passes_backward(const TaskPasses *passes, const double duration_h[], double end_h,
                          double late_start_h[]);

typedef struct {
    double early_start_h, early_finish_h, late_start_h, late_finish_h, total_float_h, free_float_h;
    bool critical; /* its total float is the least of all, within 1e-9 h */
} TaskDates;

/* Fills dates[n] and *length_h. end_h NAN: the latest dates count from the length. */
PassesOutcome critical_path(const TaskNetwork *net, const double duration_h[], double end_h,
                            TaskDates dates[], double *length_h);

extern const Method critical_path_early_method, critical_path_late_method,
    critical_path_float_method;
