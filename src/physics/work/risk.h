/* What may become of a plan: its list replayed with hours, finds, weather and prices drawn by chance.
 *
 *     hours_i = scale_i F_i^-1(Phi(z_i)) exp(theta) + finds      z_i = sqrt(r) z_0 + sqrt(1 - r) e_i
 *     theta normal, once a trial: the own pace as learned from finished tasks
 *     cost = what is bought + hours times wages + days times berth + days over time times overrun
 *
 * The list is never made anew with the drawn hours: nobody knows them in advance. Every number drawn belongs to the trial and to a key
 * of the task, so that trial t of another option, another beginning or one task fewer meets the same luck, and trials may be made in
 * any order by any threads.
 *
 * Source   activity-list policy: Stork 2001 (memory); docs/methods/work.md 1.4 to 1.8, 4
 * Checked  tests/physics/test_risk.c: sums of normals and uniforms, two paths, slots (W3.11), pace (W1.34), cost */
#pragma once

#include "physics/work/duration.h"
#include "physics/work/plan.h"

typedef struct { /* what opening up may bring to light: hours on top */
    double chance;
    DurationCurve takes;
    uint64_t key;
} RiskFind;

typedef struct {
    DurationCurve takes; /* hours; constant for what is sure */
    uint64_t key;
    bool paced;   /* goes with the own pace: labour does, a delivery does not */
    double scale; /* 1; less with help, 0 when dropped */
    size_t n_finds;
    const RiskFind *find;
    double wage_money; /* an hour, of the whole crew */
} RiskTask;

typedef struct {
    DurationCurve money;
    uint64_t key;
} RiskCost;

typedef struct { /* tasks whose end is of interest: a milestone */
    size_t n;
    const size_t *task;
} RiskMark;

typedef struct {
    const Plan *plan;
    const uint32_t *list;
    const RiskTask *task; /* [n of the plan] */
    double pace_log_mean, pace_log_sd;
    double correlation;       /* of the scores of the hours of any two tasks, 0 to 1 */
    double price_correlation; /* of those of any two prices */
    const double
        *lost_frac; /* of each day of the stretch: chance to lose it to the weather; NULL: never */
    int32_t begin_min; /* 0 or later than the plan's */
    size_t n_costs, n_marks;
    const RiskCost *cost;
    const RiskMark *mark;
    double day_money,
        over_money; /* a day: of the berth from from_min to the finish, and on top after until_min */
    int32_t from_min, until_min; /* until PLAN_NEVER: without end */
    uint64_t seed;
} RiskModel;

enum { RISK_BLOCK = 250 }; /* trials made together */

typedef struct {
    size_t n, n_tasks, n_marks, n_kept;
    int32_t *finish_min;               /* [n]; PLAN_NEVER: not at all */
    double *cost_money, *hours_h;      /* [n] */
    int32_t *mark_min;                 /* [n_marks][n] */
    uint32_t *drove;                   /* [blocks][n_tasks] trials whose finish hung on the task */
    int32_t *kept_start, *kept_finish; /* [n_kept][n_tasks] dates of the first trials */
} RiskTrials;

/* keep: of how many trials the dates of each task are kept. */
RiskTrials *risk_trials_new(size_t trials, size_t tasks, size_t marks, size_t keep);
void risk_trials_free(RiskTrials *trials);
size_t risk_blocks(const RiskTrials *trials);
/* Makes the trials of one block; any number of blocks at the same time. */
void risk_run(const RiskModel *model, size_t block, RiskTrials *trials);

/* Hours of the task in a trial, as risk_run draws them. */
double risk_hours(const RiskModel *model, size_t task, size_t trial);
/* The same of a price. */
double risk_price(const RiskModel *model, size_t cost, size_t trial);
/* Share of the trials in which the finish hung on each task: frac[n_tasks]. */
void risk_criticality(const RiskTrials *trials, double frac[]);
/* Rank correlation of each task's hours with the finish, absolute, by the first `most` trials: value[n_tasks]. The pace, which all of
 * them share, is left out: it would make every task look as if it mattered. */
void risk_cruciality(const RiskModel *model, const RiskTrials *trials, size_t most, double value[]);

/* What each task can do to the finish: its mean over the tenth of the first `most` trials in which the task took the fewest hours, and over
 * that in which it took the most, less the mean of all of these trials; minutes. Trials that never finish are left out, and so is the
 * pace. 0 for a task whose hours are sure. */
void risk_sway(const RiskModel *model, const RiskTrials *trials, size_t most, double early_min[],
               double late_min[]);

/* Sorts a copy; free(). A number of the sorted list below which the share lies: the least one that at least the share reaches. */
int32_t *risk_sorted(size_t n, const int32_t value_min[]);
int32_t risk_quantile(size_t n, const int32_t sorted_min[], double share);
/* How many are not later. */
size_t risk_met(size_t n, const int32_t sorted_min[], int32_t by_min);
