/* Times of the forecast of one boat file on one core: plan, 10,000 trials, all of it; and how calm its order stays.
 * Invariant: one line a quantity, "name value unit"; times are processor time. */
#include <math.h>
#include <stdio.h>
#include <time.h>

#include "boat_file.h"
#include "base/heap.h"
#include "checks/work/work.h"
#include "physics/dice.h"
#include "study/work_forecast_parts.h"
#include "turned.h"

static double
cpu_ms(void)
{
    return 1e3 * (double) clock() / CLOCKS_PER_SEC;
}

static double *
starts(const WorkPlan *plan, size_t *n)
{
    const char *fault;
    PlanOutcome outcome;
    size_t where;
    g_autoptr(WorkModel) m = work_model_new(plan, NULL, &fault);
    if (m == NULL)
        return NULL;
    Plan *physics = plan_new(&m->work, &outcome, &where);
    g_autofree uint32_t *list = g_new0(uint32_t, m->n);
    double *start = g_new0(double, m->n);
    plan_find(physics, &(PlanSearch){.seed = 1, .risk = m->doubt}, list);
    PlanReplay *replay = plan_replay_new(physics, false);
    const PlanDates *d = plan_replay(replay, list, NULL, NULL);
    for (size_t i = 0; i < m->n; i++)
        start[i] = d->place[i].start_min;
    *n = m->n;
    plan_replay_free(replay);
    plan_free(physics);
    return start;
}

static void
time_plan(const WorkPlan *plan)
{
    size_t n = 0;
    double least = INFINITY;
    for (int k = 0; k < 7; k++) {
        double from = cpu_ms();
        g_autofree double *start = starts(plan, &n);
        least = fmin(least, cpu_ms() - from);
    }
    printf("forecast-tasks %zu\nplan %.1f ms\n", n, least);
}

static void
time_calm(WorkPlan *plan)
{
    size_t n;
    double sum = 0.0, worst = 0.0;
    g_autofree double *before = starts(plan, &n);
    g_autofree size_t *open = g_new0(size_t, plan->n_tasks + 1);
    size_t n_open = 0;
    for (size_t i = 0; i < plan->n_tasks; i++)
        if (work_task_is_open(&plan->task[i]))
            open[n_open++] = i;
    Dice dice = {5};
    for (int k = 0; k < 100; k++) {
        size_t at = dice_below(&dice, n_open);
        ThreePoint held = plan->task[open[at]].left_h, *left = &plan->task[open[at]].left_h;
        double factor = 1.0 + 0.05 * (2.0 * dice_share(&dice) - 1.0);
        *left = (ThreePoint){held.low * factor, held.likely * factor, held.high * factor};
        g_autofree double *after = starts(plan, &n);
        double share = turned(n, before, after, at);
        sum += share;
        worst = fmax(worst, share);
        *left = held;
    }
    printf("pairs-turned %.2f %%\npairs-turned-at-worst %.2f %%\n", sum, 100.0 * worst);
}

static void
time_forecast(const WorkPlan *plan, bool brief)
{
    const StudyHow how = {.threads = 1, .seed = 1};
    const ForecastAsked asked = {.brief = brief};
    double from = cpu_ms();
    g_autoptr(WorkForecast) f = work_forecast(plan, &asked, &how);
    printf("%s %.0f ms\n", brief ? "plan-and-10000-trials" : "forecast", cpu_ms() - from);
    if (f->fault != NULL)
        printf("fault %s\n", f->fault);
}

int
main(int argc, char *argv[])
{
    heap_keep();
    PlanText text = {0};
    g_autofree char *read = NULL;
    g_autoptr(Boat) boat = boat_of_argument(argc, argv, &text, &read);
    if (boat == NULL)
        return 2;
    g_autoptr(WorkPlan) plan = work_plan_of(boat, (Date){0, 0, 0});
    time_plan(plan);
    time_forecast(plan, true);
    time_forecast(plan, false);
    time_calm(plan);
    return 0;
}
