/* Lists of tasks in which everything comes after what it waits for: by a key, by chance, and from the end.
 *
 * Only ties that order (tie_orders) count. A list "from the end" begins with the last task: every task comes before those it waits for.
 *
 * Source   Kolisch 1996, EJOR 90, 320-333 (regret-based biased sampling); Drexl 1991 (memory); docs/methods/work.md 2.2, 2.4
 * Checked  tests/physics/test_rcpsp.c */
#pragma once

#include "physics/dice.h"
#include "physics/work/task_network.h"

/* Who waits for whom, made ready for many lists. NULL for a loop. Not for two threads at once. */
typedef struct TaskLists TaskLists;
TaskLists *task_lists_new(const TaskNetwork *net);
void task_lists_free(TaskLists *lists);
size_t task_lists_count(const TaskLists *lists);
/* Tasks that must come before (which 0) or after (which 1) the task, at once; *n of them. */
const size_t *task_lists_next(const TaskLists *lists, size_t task, int which, size_t *n);

/* Of the tasks that may be next, the one with the smallest key, of equal ones the lowest number. */
void task_list_by_key(TaskLists *lists, const double key[], bool from_end, size_t list[]);
/* Of the tasks that may be next one by chance, in proportion to (worst key - own key + 1). */
void task_list_by_regret(TaskLists *lists, const double key[], bool from_end, Dice *dice,
                         size_t list[]);
/* Whether the list holds every task once, and in an order that is allowed. */
bool task_list_is_sound(const TaskLists *lists, const size_t list[]);
