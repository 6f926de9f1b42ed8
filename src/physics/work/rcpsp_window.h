/* When each task may start if all is to be done by a deadline: windows narrowed until nothing more follows.
 *
 * By what waits for what; by pairs that cannot run at the same time, one of which must then come first; by the work that must fall into a
 * stretch of time whatever happens; and by trial: a start, or an order of two, that leads to a contradiction is taken out.
 *
 * Times are whole ticks. Source   Baptiste, Le Pape, Nuijten, Constraint-Based Scheduling, 2001 (energy); Carlier and Pinson 1989, Martin
 *          and Shmoys 1996 (trial, "shaving"); from memory
 * Checked  tests/physics/test_rcpsp_exact.c */
#pragma once

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "physics/work/rcpsp.h"

enum { WINDOW_TASKS = 64 };

/* Waits in ticks: from the finish of one task to the start of another, where a tie asks for one. */
typedef struct {
    short between[WINDOW_TASKS][WINDOW_TASKS], most[WINDOW_TASKS]; /* most: after this task */
} RcpspLags;

/* Sets of tasks are bits. */
typedef struct {
    size_t n;
    int deadline;
    const RcpspLags *lags;
    int lasts[WINDOW_TASKS];
    int need[WINDOW_TASKS][RCPSP_KINDS], capacity[RCPSP_KINDS];
    uint64_t before[WINDOW_TASKS]; /* all that must be finished first, direct or not */
    uint64_t apart[WINDOW_TASKS];  /* all that cannot run at the same time, for want of capacity */
    int early[WINDOW_TASKS], late[WINDOW_TASKS]; /* starts */
} RcpspWindow;

/* The windows of a project for a deadline, not narrowed; a tick is tick_h, and durations and lags are whole numbers of them. reversed: the
 * same work from its end. n <= WINDOW_TASKS. The lags, which are filled too, must outlive the window. */
void rcpsp_window(Rcpsp *project, double tick_h, int deadline, bool reversed, RcpspLags *lags,
                  RcpspWindow *window);
/* false: the deadline cannot be met. */
bool rcpsp_window_narrow(RcpspWindow *window);
bool rcpsp_window_shave(RcpspWindow *window);
