/* Tasks and what ties them: the order of the work, and the loop that forbids any.
 *
 *     FINISH_START   S_to >= F_from + lag        FINISH_FINISH  F_to >= F_from + lag
 *     START_START    S_to >= S_from + lag        START_FINISH   F_to >= S_from + lag
 *     NO_LATER       S_to <= F_from + lag        APART          S_to >= F_from + lag or F_to <= S_from
 *
 * Tasks are numbered from 0. A tie leads from the earlier to the later task, NO_LATER too; NO_LATER and APART give no order.
 * A negative lag is a permitted overlap.
 *
 * Source   Moder, Phillips, Davis, Project Management with CPM, PERT and Precedence Diagramming (memory);
 *          docs/methods/work.md 1.1
 * Checked  critical-path in tests/cases/work.csv; tests/physics/test_task_network.c */
#pragma once

#include <stdbool.h>
#include <stddef.h>

typedef enum {
    TIE_FINISH_START,
    TIE_START_START,
    TIE_FINISH_FINISH,
    TIE_START_FINISH,
    TIE_NO_LATER,
    TIE_APART
} TieKind;

typedef struct {
    size_t from, to;
    TieKind kind;
    double lag_h;
} Tie;

typedef struct {
    size_t n, ties;
    const Tie *tie;          /* [ties] */
    const double *release_h; /* [n], or NULL: all may start at 0 */
} TaskNetwork;

/* Whether the tie puts its first task before its second. */
bool tie_orders(const Tie *tie);

/* Fills order[n] so that every tie leads onwards; of those that may be next the lowest number first. false when a loop
 * forbids it. */
bool task_order(const TaskNetwork *net, size_t order[]);

/* The shortest loop; of equally short ones the one that holds the lowest number, which it begins with. Fills task[n] in the
 * order of the work and tie[n], tie[k] leading from task[k] to the next, the last back to the first. Returns how many, 0 for
 * none. */
size_t task_loop(const TaskNetwork *net, size_t task[], size_t tie[]);
