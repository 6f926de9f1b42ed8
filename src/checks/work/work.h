/* The work from inside: the plan that is read off the boat, and what its checks share.
 *
 * A boat of which nothing is to be done has no plan to speak of: then no check of the work applies. */
#pragma once

#include "boat/boat.h"
#include "boat/model.h"
#include "checks/check.h"
#include "physics/work/order.h"
#include "result/work/plan.h"

typedef struct { /* why two tasks are tied, where no zone or opening says it */
    WorkRule rule;
    const char *why; /* the plan's */
} WorkReason;

struct Work {
    const Boat *boat;
    WorkPlan *plan;
    bool brief;
    bool cut_short; /* more tasks in one place than an order is made of */
    double log_factor, log_factor_sd;
    /* While the plan is made: */
    GHashTable *things;          /* id of a thing to GArray of tasks that work on it */
    GArray *stated;              /* Tie */
    GArray *reason;              /* WorkReason, of each stated tie */
    const Record **space_record; /* [n_spaces] the plan's block */
    ZonePair *pair;              /* of zones.h */
    size_t pairs;
    GHashTable *faces; /* of zones.h: keys of pairs that are faces of a plate */
};

/* Never NULL. today year 0: the last day of the log. */
Work *work_new(const Boat *boat, Date today);
void work_free(Work *work);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Work, work_free)
/* The plan alone, for studies; the caller's. */
WorkPlan *work_plan_of(const Boat *boat, Date today);

void work_give_answers(const Work *work, Result *result);

/* Parts of work_new, in their order. */
void work_gather(Work *work, Date today);
void work_propose(Work *work, GArray *tasks); /* adds WorkTask for what the owner has not written */
void work_place(Work *work);                  /* spaces of each task, and where it lies aboard */
void work_tie(Work *work);

/* --- for checks ------------------------------------------------------------------------------------------------------ */

double three_mean(ThreePoint points); /* (low + 4 likely + high)/6; 0 when nobody knows */
double three_sd(ThreePoint points);   /* (high - low)/6 */
double work_factor(const Work *work); /* median of own pace */
/* People times hours that are left, at own pace; 0 for what is no longer open. */
double task_left_h(const Work *work, size_t i);
/* The owner's reason why the rule does not bind the two; NULL: it does. */
const char *work_overruled(const WorkTask *from, const WorkTask *to, WorkRule rule);
/* Only somebody of a trade does it: his hours are not yours. */
bool task_is_of_trade(const WorkPlan *plan, const WorkTask *task);
/* What a thing aboard is called: its own words, else its id. */
const char *work_thing_name(const Work *work, const char *id);
/* Hours that hands, those of trades apart, give from `from` up to and without `until`. */
double work_hours_between(const WorkPlan *plan, int from, int until);
/* Hours that a hand gives on a day. */
double work_hand_hours(const WorkPlan *plan, const WorkHand *hand, int day);
int month_of(int day);                            /* 0 to 11 */
const char *day_text(Result *result, int day);    /* "7 April 2027" */
const char *tasks_text(Result *result, size_t n); /* "1 task", "7 tasks" */
const char *task_name(const Work *work, size_t i);
bool work_is_asked(const Work *work);                 /* anything open */
GArray *work_on(const Work *work, const char *thing); /* size_t of tasks; NULL: none */
