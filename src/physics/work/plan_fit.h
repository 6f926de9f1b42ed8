/* The earliest time at which one crew can do one task, among the gaps that are left. */
#pragma once

#include "physics/work/plan_busy.h"
#include "physics/work/plan_parts.h"

typedef struct { /* a spell: on the wall within one opening; of a hand alone in its own open time */
    int32_t from, to;
    uint32_t opening;
} FitSpell;

typedef struct {
    int32_t start_min, finish_min; /* PLAN_NEVER */
    int32_t begins;                /* in the first hand's open time */
    size_t busy_hand;              /* that kept it waiting; PLAN_NONE */
    bool waited_last;              /* for that hand, and not for open hours */
    bool over_time;
    const Joint *joint;
    FitSpell *spell;
    size_t n, room;
} Fit;

typedef struct {
    const PlanTask *task;
    int32_t from_min, work_min;
    const PlanChance *chance;
    const Calendar *const *hours; /* of all hands */
} FitAsked;

void plan_fit(const Joint *joint, const Busy busy[], const FitAsked *asked, Fit *fit);
/* Whether a day is lost to the weather. */
bool plan_day_lost(const PlanChance *chance, size_t day);
