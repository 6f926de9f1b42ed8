/* Tasks that share people and equipment: schedules made by placing one task after another.
 *
 *     serial     in the order of a list, each as early as what it waits for and the free capacity allow
 *     parallel   time goes on from finish to finish; at each instant what can start does, the best first
 *
 * Up to RCPSP_KINDS kinds of capacity, each the same at all times. Ties: finish-start with lag >= 0. A task of no duration takes no
 * capacity. Equal keys: the lowest number first.
 *
 * Source   Kelley 1963; Kolisch, EJOR 90 (1996) 320-333 (memory); docs/methods/work.md 2.1, 2.2
 * Checked  the single passes of tests/cases/psplib/j30.csv, all 96 projects; schedule in tests/cases/work.csv;
 *          tests/physics/test_rcpsp.c */
#pragma once

#include <stdint.h>

#include "base/source.h"
#include "physics/work/task_list.h"

enum { RCPSP_KINDS = 4, RCPSP_MOST = 32767 };

typedef struct {
    TaskNetwork net; /* its releases are not looked at */
    const double *duration_h;
    const unsigned (*need)[RCPSP_KINDS];
    unsigned capacity[RCPSP_KINDS]; /* up to RCPSP_MOST; 0 for a kind that nobody needs */
} RcpspGiven;

typedef enum {
    RCPSP_SOUND,
    RCPSP_LOOP,
    RCPSP_ABOVE, /* a need above the capacity */
    RCPSP_BAD    /* a negative duration or lag, another kind of tie, a capacity beyond RCPSP_MOST */
} RcpspOutcome;

/* Made ready for many schedules; what was given is copied. NULL unless RCPSP_SOUND. Not for two threads at once. */
typedef struct Rcpsp Rcpsp;
Rcpsp *rcpsp_new(const RcpspGiven *given, RcpspOutcome *outcome);
void rcpsp_free(Rcpsp *project);
size_t rcpsp_count(const Rcpsp *project);
TaskLists *rcpsp_lists(const Rcpsp *project);
const double *rcpsp_durations(const Rcpsp *project);
/* Another set of durations [n], each >= 0: for trials. */
void rcpsp_set_durations(Rcpsp *project, const double duration_h[]);

/* Serial, in the order of the list, which must be sound. Fills start_h[n], gives the makespan. */
double rcpsp_serial(Rcpsp *project, const size_t list[], double start_h[]);
/* The same backwards: list is from the end, each task as late as the end at end_h allows. Gives the earliest start. */
double rcpsp_serial_back(Rcpsp *project, const size_t list[], double end_h, double start_h[]);
/* Parallel, smallest key first; with dice by regret instead. Fills the order of starts as well. */
double rcpsp_parallel(Rcpsp *project, const double key[], Dice *dice, size_t list[],
                      double start_h[]);

/* Length without limits of capacity, and the greatest sum(duration need)/capacity. */
double rcpsp_critical_path(Rcpsp *project);
double rcpsp_work_bound(const Rcpsp *project);
/* Whether the starts keep every tie and every capacity, within 1e-9 h. */
bool rcpsp_holds(const Rcpsp *project, const double start_h[]);

extern const Method rcpsp_serial_method, rcpsp_work_method;
