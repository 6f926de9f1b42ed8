/* What a schedule of the work and its risk say: when is what done, how likely by when, what drives it, what it costs. Plain data; made by
 * study/work_forecast from a WorkPlan, which must outlive it; freed by work_forecast_unref.
 *
 * Days are Julian day numbers with the part of the day behind them (0.5: noon); money in the boat's currency; shares 0..1. NAN: not
 * known, or it cannot be. Tasks bear the indices of the plan; NO_TASK is none. */
#pragma once

#include "result/work/plan.h"

typedef enum { /* what a task waited for last */
               WAITS_NOTHING,
               WAITS_DAY,     /* a date: not before, a delivery */
               WAITS_TIE,     /* index of a tie of the plan */
               WAITS_AWAY,    /* index of an exclusion of the plan */
               WAITS_HAND,    /* index of a hand, who is busy */
               WAITS_HOURS,   /* nobody is there, or no slot is open */
               WAITS_PURCHASE /* index of a purchase that is not there yet */
} ForecastWaitKind;

typedef struct {
    size_t number; /* its place in the order, from 1; 0: done, dropped, or it cannot be done */
    double start_day,
        finish_day;    /* on likely hours at one's own pace; NAN: not open, or it cannot be */
    WorkIndices hands; /* who does it */
    ForecastWaitKind waits_for;
    size_t waits_index;
    const char *why; /* one plain sentence: why not earlier; NULL: it begins at once */
} ForecastTask;

typedef struct {
    size_t task;
    double early_days,
        late_days; /* mean finish against the mean of all where it takes its shortest and longest tenth */
    double critical_frac; /* of the trials in which the finish hangs on it */
    double drives_corr;   /* rank correlation of its hours with the finish, without sign */
} ForecastInfluence;

typedef enum {
    HELP_HAND,
    HELP_DROP,
    HELP_LATER_DATE,
    HELP_OTHER_OPTION,
    HELP_ORDER
} ForecastHelpKind;

typedef struct { /* something tried on the same trials */
    ForecastHelpKind kind;
    size_t task;      /* of help and dropping; else NO_TASK */
    const char *path; /* where in the boat file it would be written; or NULL */
    const char *what; /* one plain sentence: "Let somebody help with welding in the tube" */
    double days;      /* later date: by so many; else NAN */
    double chance_frac, gained_frac,
        gained_error_frac; /* standard error of the paired difference */
    double costs_money;    /* more; NAN: not known */
} ForecastHelp;

typedef struct {
    int year, month;
    double planned_money, spent_money;
} ForecastMonth;

typedef struct {               /* the plan, or one option of the boat file */
    const char *option, *name; /* NULL: the base plan, "the base plan" */
    const char *fault; /* why it could not be reckoned, or NULL: then nothing below is known */
    double chance_frac, low_frac, high_frac; /* by the due day; 95 % of the sampling */
    double early_day, middle_day, late_day;  /* P10, P50, P90 of the finish */
    double cost_money, regret_money; /* means; regret against the best of all in the same trial */
    double
        no_return_day; /* last day on which its beginning still gives the asked chance; NAN: not even today */
} ForecastOption;

typedef struct {
    const WorkPlan *plan;
    ForecastTask *task; /* [plan->n_tasks] */
    size_t n_order;     /* open tasks that can be done */
    const size_t *order;
    const char *impossible; /* one plain sentence: why there is no schedule at all; NULL */
    /* What the chance is reckoned against. */
    double due_day;
    const char *due_path, *due_name; /* "berth.until", "the end of the berth" */
    double asked_frac;               /* chance the owner wants to have */
    /* Of the trials. */
    size_t trials;
    const double *finish_day; /* [trials] rising; those that never finish are INFINITY */
    double chance_frac, low_frac, high_frac;
    double independent_frac,
        together_frac; /* the chance if tasks went wrong each for itself, or half together */
    double early_day, middle_day, late_day,
        late_days_mean; /* P10, P50, P90; days past the due day, mean */
    double no_return_day;
    double pace_factor,
        pace_log_sd; /* own pace: hours taken over hours likely; median, and how sure */
    size_t n_influences;
    const ForecastInfluence *influence; /* strongest first */
    size_t n_helps;
    const ForecastHelp *help; /* the most gained first */
    /* Money. */
    double spent_money, committed_money,
        likely_money; /* paid; ordered and not paid; plain sum of what is left, as likely */
    double cost_mean, cost_p50, cost_p80; /* of all, with the overrun of the berth */
    double overrun_money;                 /* mean cost of lying past the due day */
    double contingency_money;             /* P80 less the plain sum */
    size_t n_months;
    const ForecastMonth *month;
    size_t n_options;
    const ForecastOption *option; /* the base plan first; empty: she has no options */
    GPtrArray *blocks;            /* owns arrays and texts */
} WorkForecast;
