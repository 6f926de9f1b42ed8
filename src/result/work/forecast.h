/* When the work will be done, how sure that is, what drives it, what it costs and what helps. Plain data; made by
 * study/work_forecast from a WorkPlan, freed by work_forecast_free. Indices are those of the plan's arrays; NO_TASK is none.
 *
 * An instant is a Julian day number with the part of the day behind the point (base/date.h): 0.75 at 18:00 of that day. NAN: it cannot
 * be, or nobody knows. Chances and shares are 0 to 1. What is simulated rests on `trials` trials; its Wilson interval holds the noise of
 * the simulation only, not what is wrong in the hours themselves. */
#pragma once

#include <stdint.h>

#include "result/work/plan.h"

typedef enum {
    AWAITS_NOTHING,
    AWAITS_DATE,      /* its own earliest day, or the day on which all begins */
    AWAITS_TASK,      /* `by` is the task that must come before, or cures */
    AWAITS_NEIGHBOUR, /* `by` is a task that shares air, heat or hull with it */
    AWAITS_HANDS,     /* `by` is the hand that is busy */
    AWAITS_HOURS,     /* nobody works then, or it is dark, or there is no slot */
    AWAITS_DELIVERY,  /* `by` is the purchase */
    AWAITS_FOREVER    /* it cannot be done: `why` says what lacks */
} WorkAwaits;

typedef struct {
    size_t task;
    double start_day, finish_day; /* of the plan: usual hours at the owner's pace */
    size_t n_hands;
    const size_t *hand;
    WorkAwaits awaits;
    size_t by;
    const char *why;                      /* one plain sentence */
    bool over_time;                       /* longer than any spell that its hours allow */
    bool drives;                          /* the finish of the plan hangs on it */
    double start_low_day, start_high_day; /* P10 and P90 of the trials */
    double finish_low_day, finish_high_day;
    double criticality_frac; /* share of the trials in which the finish hung on it */
    double cruciality_frac;  /* rank correlation of its hours with the finish, absolute */
    /* Mean finish of the trials in which it took its shortest and its longest tenth, against the mean of all; days. */
    double early_days, late_days;
} ForecastTask;

typedef struct { /* a spell of work of the plan, in the order of time */
    size_t task, hand;
    double from_day, to_day;
} ForecastSpell;

typedef struct {
    size_t milestone; /* PLAN's; NO_TASK: all the work */
    double plan_day;  /* when the plan reaches it */
    double p10_day, p50_day, p80_day, p90_day;
    double date_day; /* the end of the day on which it is wanted; NAN: no date */
    double chance_frac, chance_low_frac, chance_high_frac; /* to make that date; NAN without one */
} ForecastMilestone;

typedef struct { /* chance to be done by then */
    double day, chance_frac;
} ForecastChance;

typedef enum {
    HELPS_HAND,  /* a second pair of hands on the task: half the hours */
    HELPS_DROP,  /* the task is not done */
    HELPS_LATER, /* the date is moved by `days` */
    HELPS_HOURS  /* every hand of the owner's works a quarter longer */
} ForecastHelpKind;

typedef struct { /* tried, with the same numbers drawn; the greatest gain first */
    ForecastHelpKind kind;
    size_t task;
    double days;
    double chance_frac, gained_frac, p50_day;
} ForecastHelp;

typedef struct {
    size_t slot;
    double chance_frac; /* that she takes this one */
} ForecastSlot;

typedef struct {
    int year, month;             /* 1 to 12 */
    double likely_money;         /* spent in it by the plan */
    double p50_money, p80_money; /* all spent until its end, of the trials */
} ForecastMonth;

typedef struct {        /* an option, or the chosen plan */
    const char *option; /* id; NULL: the chosen plan */
    double chance_frac; /* when it is begun today */
    double p50_day;
    double cost_money; /* P50 */
    double mean_money; /* what it costs on average, where it can be finished */
    double
        regret_money; /* what it costs on average above the cheapest plan of each trial: all meet the same luck */
    double
        no_return_day; /* the last day on which beginning it still gives the chance asked; NAN: not even today */
    const char *fault; /* why it could not be reckoned, or NULL */
} ForecastOption;

typedef struct {
    const WorkPlan *plan; /* borrowed, or its own */
    WorkPlan *own;        /* NULL: borrowed */
    size_t trials;
    uint64_t seed;
    double asked_frac; /* the chance asked for */
    double begin_day;  /* when the open work begins */
    const char *fault; /* why there is no forecast, one sentence; NULL: there is one */
    size_t n_tasks, n_spells, n_milestones, n_chances, n_helps, n_slots, n_months, n_options;
    const ForecastTask *task; /* open tasks, by start, those that never begin last */
    const ForecastSpell *spell;
    const ForecastMilestone *milestone; /* the chosen one first */
    const ForecastChance *chance;       /* of the chosen milestone, rising */
    const ForecastHelp *help;
    const ForecastSlot *slot; /* of the haul-out, once she is out of the launch */
    double no_slot_frac;      /* chance to miss them all; NAN when none are needed */
    const ForecastMonth *month;
    const ForecastOption *option; /* the chosen plan first */
    double pace_log_mean,
        pace_log_sd; /* own pace: what open hours are multiplied by, learned from finished tasks */
    double hours_p50_h, hours_p90_h; /* labour still to be done, all hands */
    size_t n_unknown;                /* tasks whose hours nobody knows: usual ones are taken */
    double likely_money; /* usual prices of all that is not spent, by the plan's dates */
    double cost_p50_money, cost_p80_money,
        contingency_money; /* of all that is not spent; P80 - sum of the usual */
    WorkKept kept;         /* owns arrays and texts */
} WorkForecast;

WorkForecast *work_forecast_new(const WorkPlan *plan);
void work_forecast_free(WorkForecast *forecast);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(WorkForecast, work_forecast_free)

/* For who fills it. Zeroed, freed with the forecast. */
void *work_forecast_block(WorkForecast *forecast, size_t n, size_t size);
const char *work_forecast_text(WorkForecast *forecast, const char *format, ...) G_GNUC_PRINTF(2, 3);
