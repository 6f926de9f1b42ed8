/* Tables of tasks and of links, which many calculators of the work share.
 *
 *     tasks   task, ..., after        after: the tasks that must be finished before, blanks between
 *     links   from, to, kind, lag [h] kind blank: finish-start; lag blank: 0
 *
 * Ties come out in the order of the tables: those of `after` first, row by row, then the links. */
#pragma once

#include <glib.h>

#include "calc/arguments.h"
#include "calc/results.h"
#include "physics/work/task_network.h"

/* Columns for the tables: TASK_COLUMN, then the calculator's own, with AFTER_COLUMN among them. */
#define TASK_COLUMN                                                                                \
    {                                                                                              \
        .name = "task"                                                                             \
    }
#define AFTER_COLUMN                                                                               \
    {                                                                                              \
        .name = "after", .optional = true                                                          \
    }
extern const char *const no_yes_words[]; /* by a bool */
extern const char *const tie_words[];    /* in the order of TieKind */
extern const Column link_columns[4];
#define IN_LINKS                                                                                   \
    {                                                                                              \
        .name = "links", .kind = INPUT_TABLE, .columns = link_columns, .n_columns = 4,             \
        .otherwise = "none"                                                                        \
    }

typedef struct {
    size_t n;
    const char *const *name; /* the table's */
    GHashTable *index;       /* folded name to number + 1 */
    GArray *tie;             /* Tie */
    size_t links;            /* how many of the last ties come from the links */
    TaskNetwork net;         /* of the above; release_h is NULL */
} Tasks;

/* Reads the input "tasks" and, where the calculator has it, "links". false: the error is in out. */
bool tasks_read(const CalcArguments *in, CalcResults *out, Tasks *tasks);
void tasks_clear(Tasks *tasks);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Tasks, tasks_clear)

/* Number of the task of this name in any case, tasks->n when there is none. */
size_t tasks_find(const Tasks *tasks, const char *name);

/* Refuses for a loop and says which: "a loop: engine, hatch, floor, engine". */
void tasks_refuse_loop(const Tasks *tasks, CalcResults *out);
