/* The forecast put together. Invariant: the same plan, seed and number of trials give the same forecast on any number of threads. */
#include "study/work_forecast.h"

#include <math.h>
#include <string.h>

#include "physics/work/counted_chance.h"
#include "physics/work/dates.h"
#include "study/work_forecast_parts.h"

enum { MOST_POINTS = 160, CRUCIAL_TRIALS = 4000 };

/* --- trials -------------------------------------------------------------------------------------------------------------------- */

typedef struct {
    const RiskModel *risk;
    RiskTrials *trials;
} Batch;

static void
run_block(size_t block, void *data)
{
    Batch *b = data;
    risk_run(b->risk, block, b->trials);
}

RiskTrials *
work_try(const RiskModel *risk, size_t tasks, size_t trials, size_t keep, const StudyHow *how)
{
    Batch b = {risk, risk_trials_new(trials, tasks, risk->n_marks, keep)};
    if (study_each(risk_blocks(b.trials), run_block, &b, how))
        return b.trials;
    risk_trials_free(b.trials);
    return NULL;
}

double
work_chance_by(const RiskTrials *t, int32_t by_min)
{
    size_t met = 0;
    for (size_t i = 0; i < t->n; i++)
        met += t->finish_min[i] <= by_min;
    return t->n > 0 ? (double) met / (double) t->n : NAN;
}

size_t
work_trials(const StudyHow *how, size_t tasks, size_t usual)
{
    bool said = how != NULL && how->samples > 0;
    if (said)
        return usual == USUAL_TRIALS ? how->samples : MIN(usual, how->samples);
    size_t most = MOST_PLACEMENTS / MAX(tasks, 1) * usual / USUAL_TRIALS;
    return MIN(usual, MAX(most, LEAST_TRIALS));
}

/* --- dates ---------------------------------------------------------------------------------------------------------------------- */

static double
quantile_day(const Reckoning *r, const int32_t sorted[], double share)
{
    return work_model_instant(r->model, risk_quantile(r->trials->n, sorted, share));
}

static ForecastMilestone
milestone_of(const Reckoning *r, size_t index, int32_t plan_min, const int32_t sorted[],
             int32_t date_min)
{
    size_t n = r->trials->n;
    ForecastMilestone m = {.milestone = index,
                           .plan_day = work_model_instant(r->model, plan_min),
                           .p10_day = quantile_day(r, sorted, 0.1),
                           .p50_day = quantile_day(r, sorted, 0.5),
                           .p80_day = quantile_day(r, sorted, 0.8),
                           .p90_day = quantile_day(r, sorted, 0.9),
                           .date_day = work_model_instant(r->model, date_min),
                           .chance_frac = NAN,
                           .chance_low_frac = NAN,
                           .chance_high_frac = NAN};
    if (date_min == PLAN_NEVER)
        return m;
    size_t met = risk_met(n, sorted, date_min);
    m.chance_frac = (double) met / (double) n;
    counted_chance(met, n, SCORE_95, &m.chance_low_frac, &m.chance_high_frac);
    return m;
}

static int32_t
end_of(const WorkModel *m, int day)
{
    return day > 0 ? (int32_t) (((long) day + 1 - m->first_day) * MINUTES_A_DAY) : PLAN_NEVER;
}

static void
fill_milestones(Reckoning *r)
{
    const WorkModel *m = r->model;
    const WorkPlan *p = m->plan;
    ForecastMilestone *all = work_forecast_block(r->out, p->n_milestones + 1, sizeof *all);
    size_t n = 0;
    all[n++] = milestone_of(r, m->milestone, r->dates->finish_min, r->sorted, m->date_min);
    for (size_t i = 0; i < p->n_milestones; i++) {
        const RiskMark *mark = &m->risk.mark[i];
        if (i == m->milestone || mark->n == 0)
            continue;
        int32_t plan_min = 0;
        for (size_t k = 0; k < mark->n; k++)
            plan_min = MAX(plan_min, r->dates->place[mark->task[k]].finish_min);
        int32_t *sorted = risk_sorted(r->trials->n, &r->trials->mark_min[i * r->trials->n]);
        all[n++] = milestone_of(r, i, plan_min, sorted, end_of(m, p->milestone[i].day));
        free(sorted);
    }
    r->out->milestone = all;
    r->out->n_milestones = n;
}

/* Day by day, or in longer steps when that is many. */
static void
fill_chances(Reckoning *r)
{
    size_t n = r->trials->n, points = 0;
    int32_t low = risk_quantile(n, r->sorted, 0.002), high = risk_quantile(n, r->sorted, 0.998);
    ForecastChance *all = work_forecast_block(r->out, MOST_POINTS + 2, sizeof *all);
    if (high == PLAN_NEVER)
        high = n > 0 && r->sorted[0] != PLAN_NEVER
                   ? r->sorted[risk_met(n, r->sorted, PLAN_NEVER - 1) - 1]
                   : PLAN_NEVER;
    if (low == PLAN_NEVER || high == PLAN_NEVER)
        return;
    int32_t first = low / MINUTES_A_DAY, last = high / MINUTES_A_DAY + 1;
    int32_t step = (last - first) / MOST_POINTS + 1;
    for (int32_t day = first; day < last + step; day += step) {
        int32_t at = day * MINUTES_A_DAY;
        all[points++] = (ForecastChance){work_model_instant(r->model, at),
                                         (double) risk_met(n, r->sorted, at) / (double) n};
    }
    r->out->chance = all;
    r->out->n_chances = points;
}

/* --- slots ---------------------------------------------------------------------------------------------------------------------- */

/* The open task that waits for slots of a kind; NO_TASK: none. */
static size_t
slot_task(const WorkModel *m, unsigned tag)
{
    for (size_t i = 0; i < m->n; i++)
        if (m->task[i] != NO_TASK && (m->plan->task[m->task[i]].tags & tag) != 0)
            return i;
    return NO_TASK;
}

static double
slot_chance(const Reckoning *r, const WorkSlot *slot, size_t task)
{
    size_t kept = r->trials->n_kept, taken = 0;
    int32_t from = end_of(r->model, slot->from_day - 1);
    int32_t until = end_of(r->model, MAX(slot->from_day, slot->until_day));
    for (size_t t = 0; t < kept; t++) {
        int32_t start = r->trials->kept_start[t * r->model->n + task];
        taken += start >= from && start < until;
    }
    return (double) taken / (double) MAX(kept, 1);
}

/* Slots of the next change of element: out of the water while that is still to be done, else back into it. */
static void
fill_slots(Reckoning *r)
{
    const WorkPlan *p = r->model->plan;
    size_t haul = slot_task(r->model, TAG_HAUL), launch = slot_task(r->model, TAG_LAUNCH), n = 0;
    size_t task = haul != NO_TASK ? haul : launch;
    int kind = haul != NO_TASK ? SLOT_HAUL_OUT : SLOT_LAUNCH;
    double some = 0.0;
    ForecastSlot *all = work_forecast_block(r->out, p->n_slots, sizeof *all);
    for (size_t s = 0; task != NO_TASK && s < p->n_slots; s++) {
        if (p->slot[s].kind != kind || p->slot[s].from_day <= 0)
            continue;
        all[n] = (ForecastSlot){s, slot_chance(r, &p->slot[s], task)};
        some += all[n++].chance_frac;
    }
    r->out->no_slot_frac = n > 0 ? fmax(0.0, 1.0 - some) : NAN;
    r->out->slot = all;
    r->out->n_slots = n;
}

/* --- money and hours ------------------------------------------------------------------------------------------------------------ */

static int
rising(gconstpointer a, gconstpointer b)
{
    const double *x = a, *y = b;
    return (*x > *y) - (*x < *y);
}

double
work_quantile(size_t n, const double value[], double share)
{
    g_autofree double *sorted = g_memdup2(value, n * sizeof(double));
    qsort(sorted, n, sizeof(double), rising);
    size_t k = (size_t) ceil(share * (double) n);
    double at = sorted[k > 0 ? k - 1 : 0];
    return isfinite(at) ? at : NAN;
}

double
work_mean(size_t n, const double value[])
{
    double sum = 0.0;
    size_t finite = 0;
    for (size_t i = 0; i < n; i++)
        if (isfinite(value[i])) {
            sum += value[i];
            finite++;
        }
    return finite > 0 ? sum / (double) finite : NAN;
}

static void
fill_sums(Reckoning *r)
{
    const RiskTrials *t = r->trials;
    WorkForecast *f = r->out;
    f->hours_p50_h = work_quantile(t->n, t->hours_h, 0.5);
    f->hours_p90_h = work_quantile(t->n, t->hours_h, 0.9);
    f->cost_p50_money = work_quantile(t->n, t->cost_money, 0.5);
    f->cost_p80_money = work_quantile(t->n, t->cost_money, 0.8);
    double likely = r->model->likely_money;
    for (size_t i = 0; i < r->model->n; i++)
        likely += r->model->risk.task[i].wage_money * r->model->work.task[i].work_min / 60.0;
    if (r->dates->finish_min != PLAN_NEVER)
        likely += r->model->risk.day_money * r->dates->finish_min / MINUTES_A_DAY;
    f->likely_money = likely;
    f->contingency_money = f->cost_p80_money - likely;
}

/* --- all of it ------------------------------------------------------------------------------------------------------------------- */

/* False with the forecast's fault. */
static bool
make_plan(Reckoning *r)
{
    WorkModel *m = r->model;
    PlanOutcome outcome;
    size_t where;
    r->physics = plan_new(&m->work, &outcome, &where);
    if (r->physics == NULL) {
        r->out->fault = outcome == PLAN_LOOP ? "the order of the work goes round in a circle"
                                             : "a number of the plan is out of all range";
        return false;
    }
    r->list = g_new0(uint32_t, m->n + 1);
    plan_find(r->physics, &(PlanSearch){.seed = r->out->seed, .risk = m->doubt}, r->list);
    m->risk.plan = r->physics;
    m->risk.list = r->list;
    m->risk.seed = r->out->seed;
    r->replay = plan_replay_new(r->physics, true);
    r->dates = plan_replay(r->replay, r->list, NULL, NULL);
    return true;
}

static bool
fill_option(Reckoning *r)
{
    WorkForecast *f = r->out;
    ForecastOption *self = work_forecast_block(f, 1, sizeof *self);
    *self = (ForecastOption){.chance_frac = f->milestone[0].chance_frac,
                             .p50_day = f->milestone[0].p50_day,
                             .cost_money = f->cost_p50_money,
                             .mean_money = work_mean(r->trials->n, r->trials->cost_money),
                             .regret_money = NAN,
                             .no_return_day = NAN};
    f->option = self;
    f->n_options = 1;
    return r->asked->brief || work_no_return(r->model, f->asked_frac, r->how, &self->no_return_day);
}

static bool
fill(Reckoning *r)
{
    WorkForecast *f = r->out;
    f->pace_log_mean = r->model->risk.pace_log_mean;
    f->pace_log_sd = r->model->risk.pace_log_sd;
    f->n_unknown = r->model->n_unknown;
    f->begin_day = work_model_instant(r->model, 0);
    if (!make_plan(r))
        return true;
    f->trials = work_trials(r->how, r->model->n, USUAL_TRIALS);
    r->trials = work_try(&r->model->risk, r->model->n, f->trials, KEPT_TRIALS, r->how);
    if (r->trials == NULL)
        return false;
    r->sorted = risk_sorted(f->trials, r->trials->finish_min);
    fill_milestones(r);
    fill_chances(r);
    fill_slots(r);
    fill_sums(r);
    if (!r->asked->taskless)
        work_forecast_tasks(r);
    if (!r->asked->brief)
        work_forecast_months(r);
    return fill_option(r) && (r->asked->brief || work_forecast_helps(r));
}

static void
clear(Reckoning *r)
{
    plan_replay_free(r->replay);
    plan_free(r->physics);
    risk_trials_free(r->trials);
    free(r->sorted);
    g_free(r->list);
    work_model_free(r->model);
}

WorkForecast *
work_forecast_keep(const WorkPlan *plan, const ForecastAsked *asked, const StudyHow *how,
                   RiskTrials **trials)
{
    static const ForecastAsked usual = {0};
    WorkForecast *f = work_forecast_new(plan);
    Reckoning r = {.asked = asked != NULL ? asked : &usual, .how = how, .out = f};
    f->seed = how != NULL ? how->seed : 0;
    f->asked_frac = r.asked->asked_frac > 0.0 ? r.asked->asked_frac : plan->chance_frac;
    f->no_slot_frac = f->cost_p50_money = f->cost_p80_money = f->contingency_money = NAN;
    f->likely_money = f->hours_p50_h = f->hours_p90_h = NAN;
    r.model = work_model_new(plan, r.asked->milestone, &f->fault);
    bool whole = r.model == NULL || fill(&r);
    *trials = r.trials;
    r.trials = NULL;
    clear(&r);
    if (whole)
        return f;
    work_forecast_free(f);
    return NULL;
}

WorkForecast *
work_forecast(const WorkPlan *plan, const ForecastAsked *asked, const StudyHow *how)
{
    RiskTrials *trials = NULL;
    WorkForecast *f = work_forecast_keep(plan, asked, how, &trials);
    risk_trials_free(trials);
    return f;
}
