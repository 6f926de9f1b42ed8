/* Processor time of the plan of a refit: search, replay, risk, and how calm the order stays when a number changes a little. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include "physics/memory.h"
#include "physics/work/risk.h"
#include "plan_draft.h"
#include "turned.h"

static double
cpu_ms(void)
{
    return 1e3 * (double) clock() / CLOCKS_PER_SEC;
}

static void
starts(const PlanWork *work, double start_min[], double *finish_d)
{
    PlanOutcome outcome;
    size_t where;
    Plan *plan = plan_new(work, &outcome, &where);
    uint32_t *list = fresh(work->n_tasks, sizeof *list);
    plan_find(plan, &(PlanSearch){.seed = 1}, list);
    PlanReplay *replay = plan_replay_new(plan, false);
    const PlanDates *d = plan_replay(replay, list, NULL, NULL);
    for (size_t i = 0; i < d->n; i++)
        start_min[i] = d->place[i].start_min;
    *finish_d = d->finish_min / 1440.0;
    plan_replay_free(replay);
    plan_free(plan);
    free(list);
}

static void
time_plan(size_t n)
{
    PlanDraft *draft = plan_draft_refit(1, n);
    double *start_min = fresh(n, sizeof *start_min);
    double finish_d, least = INFINITY;
    for (int k = 0; k < 5; k++) {
        double from = cpu_ms();
        starts(&draft->work, start_min, &finish_d);
        least = fmin(least, cpu_ms() - from);
    }
    PlanOutcome outcome;
    size_t where;
    Plan *plan = plan_new(&draft->work, &outcome, &where);
    uint32_t *list = fresh(n, sizeof *list);
    plan_find(plan, &(PlanSearch){.seed = 1}, list);
    PlanReplay *replay = plan_replay_new(plan, false);
    int replays = (int) (400000 / n) + 1;
    double from = cpu_ms();
    for (int k = 0; k < replays; k++)
        plan_replay(replay, list, NULL, NULL);
    double each_us = 1e3 * (cpu_ms() - from) / replays;
    printf("%6zu tasks: plan %8.1f ms, replay %8.1f us, finish on day %.1f\n", n, least, each_us,
           finish_d);
    plan_replay_free(replay);
    plan_free(plan);
    plan_draft_free(draft);
    free(list);
    free(start_min);
}

static void
time_calm(size_t n)
{
    PlanDraft *draft = plan_draft_refit(1, n);
    double *before = fresh(n, sizeof *before), *after = fresh(n, sizeof *after);
    double finish_d, sum = 0.0, worst = 0.0;
    Dice dice = {5};
    starts(&draft->work, before, &finish_d);
    for (int k = 0; k < 100; k++) {
        size_t i = dice_below(&dice, n);
        int32_t held = draft->task[i].work_min;
        double change = 0.05 * (2.0 * dice_share(&dice) - 1.0);
        draft->task[i].work_min = (int32_t) lround(held * (1.0 + change));
        starts(&draft->work, after, &finish_d);
        double share = turned(n, before, after, i);
        sum += share;
        worst = fmax(worst, share);
        draft->task[i].work_min = held;
    }
    printf("%6zu tasks, 100 edits of one duration by at most 5 %%: %.2f %% of the pairs turn on "
           "average, "
           "%.2f %% at worst\n",
           n, sum, 100.0 * worst);
    plan_draft_free(draft);
    free(before);
    free(after);
}

static void
time_risk(size_t n, size_t trials)
{
    PlanDraft *draft = plan_draft_refit(1, n);
    PlanOutcome outcome;
    size_t where;
    Plan *plan = plan_new(&draft->work, &outcome, &where);
    uint32_t *list = fresh(n, sizeof *list);
    RiskTask *task = fresh(n, sizeof *task);
    double *lost = fresh(draft->work.days, sizeof *lost), *value = fresh(n, sizeof *value);
    plan_find(plan, &(PlanSearch){.seed = 1}, list);
    for (size_t i = 0; i < n; i++) {
        Duration d;
        double usual = draft->task[i].work_min / 60.0;
        duration_three(DURATION_TRIANGULAR, 0.7 * usual, usual, 2.5 * usual, 4.0, &d);
        task[i] =
            (RiskTask){.takes = duration_curve(&d), .key = 1 + i, .paced = true, .scale = 1.0};
    }
    for (size_t day = 0; day < draft->work.days; day++)
        lost[day] = 0.3;
    const RiskModel model = {.plan = plan,
                             .list = list,
                             .task = task,
                             .pace_log_mean = 0.2,
                             .pace_log_sd = 0.15,
                             .lost_frac = lost,
                             .until_min = PLAN_NEVER,
                             .seed = 1};
    RiskTrials *t = risk_trials_new(trials, n, 0, 1000);
    double from = cpu_ms();
    for (size_t b = 0; b < risk_blocks(t); b++)
        risk_run(&model, b, t);
    double made = cpu_ms();
    risk_cruciality(&model, t, 4000, value);
    int32_t *sorted = risk_sorted(trials, t->finish_min);
    printf("%6zu tasks, %zu trials: %.0f ms, what drives the finish %.0f ms; days %.0f, %.0f, %.0f "
           "(P10, P50, P90)\n",
           n, trials, made - from, cpu_ms() - made, risk_quantile(trials, sorted, 0.1) / 1440.0,
           risk_quantile(trials, sorted, 0.5) / 1440.0,
           risk_quantile(trials, sorted, 0.9) / 1440.0);
    risk_trials_free(t);
    plan_free(plan);
    plan_draft_free(draft);
    free(list);
    free(task);
    free(lost);
    free(value);
    free(sorted);
}

int
main(void)
{
    time_plan(80);
    time_plan(120);
    time_plan(500);
    time_plan(2000);
    time_risk(80, 10000);
    time_risk(120, 10000);
    time_calm(80);
    time_calm(120);
    return 0;
}
