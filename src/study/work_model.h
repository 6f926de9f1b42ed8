/* From the work as it stands to what the scheduler and the dice take: open tasks and deliveries as tasks, hands and hired things with
 * their hours, waits by temperature, windows, hours and prices by chance. Borrowed from the plan, which must outlive it.
 *
 * What nobody said is taken as usual, and said so here once:
 * - a hand with hours a week and no spans works them on Saturday and Sunday, up to 8 h each from 9:00, the rest on weekdays from 18:00; from
 *   30 h a week on, on weekdays from 8:00;
 * - hired trades come for whole days of 8 h from Monday on, and do only what names them or asks for their skill;
 * - a task whose hours nobody knows takes 1 h / 4 h / 16 h; a purchase without time of delivery 3 / 10 / 28 days;
 * - when the last slot that is written down is past, more of them come at the same distance, of one alone every 28 days;
 * - for a slot of the yard everybody it takes has the day off, 8:00 to 18:00, unless away; it is done in one spell;
 * - without a place on earth daylight work is done from 9:00 to 16:00; with one and no zone, the clock runs one hour ahead of the sun;
 * - outdoor work that needs it dry loses three to five days in ten to the weather, by month. */
#pragma once

#include "physics/work/risk.h"
#include "result/work/plan.h"

typedef struct {
    const WorkPlan *plan;
    long first_day;   /* today: minute 0 */
    size_t n;         /* tasks of the model: open ones, then deliveries */
    size_t *task;     /* [n] of the plan; NO_TASK for a delivery */
    size_t *purchase; /* [n] of the plan; NO_TASK for a task */
    size_t *index;    /* [plan->n_tasks] in the model; NO_TASK: not open */
    size_t *tie,
        *span; /* [work.n_ties], [work.n_spans] ties and exclusions of the plan; NO_TASK: a delivery, or what is left of one */
    size_t n_hands;     /* hands of the plan come first, then hired things, then nobody */
    const char **hired; /* [n_hands - plan->n_hands - 1] */
    size_t milestone;   /* the chosen one; NO_TASK: all the work */
    int32_t date_min;   /* the end of the day it is wanted; PLAN_NEVER: no date */
    const PlanCrew **
        day_off; /* [n] who takes the day off for a slot of the yard; NULL: worked in the usual hours */
    size_t n_unknown; /* tasks without hours */
    size_t *
        cost_task; /* [risk.n_costs] the task of the model with whose start a price falls due; NO_TASK: today */
    double likely_money; /* sum of the usual prices that are still to be paid */
    PlanWork work;
    RiskModel risk; /* list and plan are the caller's to fill in */
    double *doubt;  /* [n] spread of each task's hours and finds, h */
    GPtrArray *blocks, *calendars, *clocks;
} WorkModel;

/* fault: one sentence when there is nothing to reckon with (NULL is returned); milestone: an id, or NULL. */
WorkModel *work_model_new(const WorkPlan *plan, const char *milestone, const char **fault);
void work_model_free(WorkModel *model);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(WorkModel, work_model_free)

void *work_model_block(WorkModel *model, size_t n, size_t size);
/* Parts of work_model_new. */
void work_model_hands(WorkModel *model);
/* The days off for a slot: windows of `where` in which the crew and the yard are there. */
const Calendar *work_model_day_off(WorkModel *model, const Calendar *where, const PlanCrew *crew);
/* Hours besides those of the hands; NULL: any. */
const Calendar *work_model_where(WorkModel *model, const WorkTask *task, GHashTable *known);
const WaitClock *work_model_clock(WorkModel *model, const WorkTask *task, GHashTable *known);
void work_model_weather(WorkModel *model);
void work_model_prices(WorkModel *model);
DurationCurve work_model_curve(ThreePoint points, double low, double likely, double high);
uint64_t work_model_key(const char *kind, const char *id);
double work_model_instant(const WorkModel *model,
                          int32_t minute); /* day number with its part; NAN for never */
