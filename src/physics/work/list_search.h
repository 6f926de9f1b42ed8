/* A good order of tasks by a population of lists, whatever it is that makes a schedule of a list.
 *
 * The caller brings a decoder: given a list in which everything comes after what it waits for, it places the tasks one by one by its
 * own rules (limited people alone, or calendars, windows, lags, spaces) and says how good that is; small is good, the end of the work
 * for instance. The search knows nothing else. Two populations take turns, one of schedules pushed to the beginning and one of
 * schedules pushed to the end; a child takes the busiest stretch of one parent and the rest of the other, and goes by the opposite
 * direction (Debels and Vanhoucke). Without a decoder from the end there is one population and no pushing.
 *
 * To use it:
 *
 *     static double place(void *mine, const size_t list[], double start_h[], double finish_h[])
 *     { ... for k: i = list[k]: start_h[i] = earliest that fits, finish_h[i] = ... ; return the latest finish; }
 *
 *     ListProblem problem = {.net = &net, .decode = place, .context = mine, .urgency = latest_finish_h};
 *     ListEffort effort = {.schedules = 5000, .seed = 1};
 *     ListBest best = {.list = list, .start_h = start_h, .finish_h = finish_h};
 *     list_search(&problem, &effort, &best);
 *
 * The same seed gives the same result. A `first`, the list of the plan so far for instance, makes sure that the result is not worse than
 * that plan, and the first of equally good lists is kept, so that a plan only changes when it gets better.
 *
 * Source   Debels, Vanhoucke, A decomposition-based genetic algorithm for the RCPSP, Operations Research 55 (2007) 457-469; Valls,
 *          Ballestin, Quintanilla, EJOR 185 (2008) 495-508 (peaks); Hartmann 1998 (lists); all from memory; docs/methods/work.md 2.6
 * Checked  tests/physics/test_rcpsp_search.c: 96 projects of 30 tasks at 5,000 schedules; bench/bench_schedule.c */
#pragma once

#include "physics/work/task_list.h"

/* Places the tasks in the order of list[n]; fills start_h[n], finish_h[n]; INFINITY when it cannot be done so. */
typedef double (*ListDecode)(void *context, const size_t list[], double start_h[],
                             double finish_h[]);

typedef struct {
    const TaskNetwork *net; /* its ordering ties bind the lists */
    ListDecode decode;
    ListDecode
        decode_back; /* list from the end, each task as late as can be before 0: finish_h <= 0. Gives a length. NULL: none */
    void *context;
    const double *urgency; /* [n], small first: draws the first lists; NULL: all alike */
    const double
        *load; /* [n], how much of what is scarce a task takes while it runs; NULL: all alike */
    double
        at_best;   /* no schedule can be better: the search stops there; -INFINITY when not known */
    size_t firsts; /* lists to start from, all sound: [firsts][n] */
    const size_t *first;
} ListProblem;

typedef struct {
    size_t schedules;  /* how many may be made, both directions counted */
    size_t population; /* 0: what suits the number of schedules */
    uint64_t seed;
} ListEffort;

/* The arrays are the caller's, [n] each. */
typedef struct {
    size_t *list;
    double *start_h, *finish_h; /* as the decoder filled them for the list */
    double value;
    size_t schedules; /* made in fact */
} ListBest;

/* false for a loop, a first list that is not sound, or when no list could be placed at all. */
bool list_search(const ListProblem *problem, const ListEffort *effort, ListBest *best);
