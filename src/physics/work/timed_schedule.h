/* The shortest schedule of few tasks when more than capacity binds them: ties of every kind, releases, dates due, windows.
 *
 * All tasks as early as ties and windows allow; where too many of them meet, one of a set that cannot run together must be done before
 * another: every such order is tried, and left as soon as it cannot become shorter than what is known (branch and bound).
 *
 * Given    net with its releases (NULL: none); due_h[n], INFINITY where there is none, or NULL; windows, in any order: a task that has
 *          some lies within one of them as a whole; need and capacity as in rcpsp.h; up to TIMED_TASKS tasks
 *          best_h, start_h: a schedule known beforehand, or best_h INFINITY
 * Gives    start_h[n]; *proven: no schedule is shorter; the search was not cut short after `nodes` of them (0: 200,000)
 * Returns  the makespan; INFINITY when there is no schedule, or none was found (not proven)
 * Source   Igelmund and Radermacher, Networks 13 (1983) 1-28 (forbidden sets); De Reyck and Herroelen, EJOR 111 (1998) 152-174 (general
 *          lags); from memory; docs/methods/work.md 2.9
 * Checked  schedule in tests/cases/work.csv; tests/physics/test_timed_schedule.c: small projects by enumeration */
#pragma once

#include "physics/work/rcpsp.h"

enum { TIMED_TASKS = 64 };

typedef struct {
    size_t task;
    double opens_h, closes_h;
} TimedWindow;

typedef struct {
    TaskNetwork net;
    const double *duration_h, *due_h;
    const unsigned (*need)[RCPSP_KINDS];
    unsigned capacity[RCPSP_KINDS];
    size_t windows;
    const TimedWindow *window;
} TimedGiven;

/* The network is sound (critical_path says so) and no need is above the capacity. */
double timed_schedule(const TimedGiven *given, size_t nodes, double best_h, double start_h[],
                      bool *proven);
