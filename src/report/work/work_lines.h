/* The open tasks in the order in which the papers list them: by the plan's start where it is reckoned, else so that nothing
 * stands before what it waits for. */
#pragma once

#include "report/report.h"
#include "result/work/forecast.h"

typedef struct {
    const WorkTask *task;
    size_t at;                /* in the plan */
    const ForecastTask *when; /* NULL: no dates */
    size_t followers;         /* open tasks that wait for it, directly */
    const WorkTie *behind;    /* the first of them in the plan; NULL: none */
    const WorkTie
        *before; /* an open task that it waits for, or a wait that is not over; NULL: none */
    const WorkPurchase *lacks; /* that it cannot begin without, not in hand; NULL: none */
    bool waits_for_day;        /* its own earliest day, or that it be ashore, afloat or dried out */
} WorkLine;

typedef struct { /* ties that hold, of task i: plan->tie[tie[first[i]]] to tie[first[i + 1] - 1] */
    size_t *first, *tie;
} TieIndex;

typedef struct {
    const WorkPlan *plan;
    const WorkForecast *forecast; /* NULL: not reckoned, or not to be reckoned */
    const char *fault;            /* why it could not be; NULL: nobody tried */
    double day;                   /* that of the paper; NAN: not given */
    size_t n;
    WorkLine *line;
    size_t *rank;        /* of a task among the lines; n: it is not open */
    TieIndex into, from; /* what it waits for, what waits for it */
} WorkLines;

/* forecast may be NULL. */
WorkLines *work_lines_new(const WorkPlan *plan, const WorkForecast *forecast, Date day);
void work_lines_free(WorkLines *lines);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(WorkLines, work_lines_free)

/* Whether it can be begun now: nothing that it waits for is open, its parts are in hand, she lies as it needs her. */
bool work_line_can_begin(const WorkLine *line);
/* Being done, or begun by the plan before the end of that day; without a forecast: can begin. */
bool work_line_is_next(const WorkLines *lines, const WorkLine *line, double day);

/* Whether the task belongs to a lift: it needs her ashore or dried out, or hauls or launches her. */
bool work_task_of_lift(const WorkTask *task);

/* All texts g_free, the owner's made fit for a page. */
char *work_task_name(const WorkTask *task); /* "Weld the bow tunnel" */
char *work_hours_words(ThreePoint hours_h); /* "2 to 4 h, usually 3 h"; "hours not known" */
char *work_where_words(const WorkPlan *plan, const WorkTask *task); /* "fore cabin, outside" */
/* "ashore, dry, two people, power"; "" when it needs nothing special. */
char *work_needs_words(const WorkTask *task);
char *work_money_words(const WorkPlan *plan, double money); /* "1200 EUR"; "not known" */
char *work_purchase_state(const WorkPurchase *purchase); /* "in hand", "ordered, due 4 May 2027" */
