/* Plans to try the scheduler on: drawn by chance with everything in them, and a refit of any length. */
#pragma once

#include "physics/dice.h"
#include "physics/work/plan.h"

typedef struct {
    PlanWork work;
    PlanTask *task;
    PlanCrew (*crew)[PLAN_CREWS]; /* [n_tasks] */
    PlanTie *tie;
    PlanSpan *span;
    Calendar *hand[4], *where[3];
    const Calendar *hours[4];
    WaitClock *clock;
    size_t target;
} PlanDraft;

/* Up to n tasks, three hands with poor calendars, ties of all kinds, spans, unbroken work. */
PlanDraft *plan_draft_any(uint64_t seed, size_t n);
/* One owner on evenings and Saturdays, a friend on Saturdays, daylight for a third of the tasks, spaces with layers one after the
 * other, coats that cure, hot work that keeps wet work out; ends with a launch in a slot. */
PlanDraft *plan_draft_refit(uint64_t seed, size_t n);
void plan_draft_free(PlanDraft *draft);
