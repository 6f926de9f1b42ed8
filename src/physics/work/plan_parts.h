/* What the files of the plan share. Invariant: a Plan never changes once it is made, so that threads may replay it together. */
#pragma once

#include "physics/work/plan.h"

/* Hours that a crew has in common where a task is done. */
typedef struct {
    const Calendar *calendar;
    Calendar *made; /* the same, when it is this plan's own */
    const Calendar *where;
    PlanCrew crew;
    int32_t
        *shift[PLAN_CREW]; /* of each opening: the hand's own open time less the time on the wall */
    bool alone;            /* one hand, and the hours are all its own */
} Joint;

/* For each task the indices of what concerns it: at[from[i]] to at[from[i + 1]]. */
typedef struct {
    uint32_t *from, *at;
} Bundle;

struct Plan {
    const PlanWork *work;
    size_t n, n_joints;
    Joint *joint;
    Bundle joints;      /* of each crew of a task, or one of no hands */
    Bundle in, out;     /* ties that order, by their `to` and `from` */
    Bundle limits_to;   /* greatest waits, by `to` */
    Bundle limits_from; /* and by `from` */
    Bundle spans;       /* in any part */
    Bundle ahead;       /* tasks that a span puts before the task, as indices of tasks */
    uint32_t *n_before; /* ties that order, into each task */
    int32_t end_min;
};

/* Counting sort of n pairs by owner. */
Bundle plan_bundle(size_t owners, size_t n, const uint32_t owner[], const uint32_t what[]);
void plan_bundle_free(Bundle *bundle);
/* Hours that a task has: of its first crew. */
const Joint *plan_first_joint(const Plan *plan, size_t task);
void plan_joints_make(Plan *plan);
void plan_joints_free(Plan *plan);
/* Fills plan->ahead. */
void plan_ahead_make(Plan *plan);
/* Time on the wall that the work usually takes: its hours by the share of time that is open. */
double plan_usual_min(const Plan *plan, size_t task);
