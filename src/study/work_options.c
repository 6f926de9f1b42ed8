/* The forecast of a boat, and what its options would do to it. Invariant: every option is begun today and meets the same luck. */
#include <math.h>
#include <string.h>

#include "boat/model.h"
#include "checks/work/work.h"
#include "study/work_forecast_parts.h"

/* One option: chance, finish, cost and the last day to begin; false when it was cancelled. */
static bool
try_plan(const WorkPlan *plan, const WorkForecast *f, const ForecastAsked *asked,
         const StudyHow *how, ForecastOption *out, RiskTrials **trials)
{
    g_autoptr(WorkModel) m = work_model_new(plan, asked->milestone, &out->fault);
    if (m == NULL)
        return true;
    PlanOutcome outcome;
    size_t where;
    Plan *physics = plan_new(&m->work, &outcome, &where);
    if (physics == NULL) {
        out->fault = "the order of the work goes round in a circle";
        return true;
    }
    g_autofree uint32_t *list = g_new0(uint32_t, m->n + 1);
    plan_find(physics, &(PlanSearch){.seed = f->seed, .risk = m->doubt}, list);
    m->risk.plan = physics;
    m->risk.list = list;
    m->risk.seed = f->seed;
    RiskTrials *t = work_try(&m->risk, m->n, work_trials(how, m->n, FEW_TRIALS), 0, how);
    bool whole = t != NULL;
    if (whole) {
        int32_t *sorted = risk_sorted(t->n, t->finish_min);
        out->chance_frac = m->date_min == PLAN_NEVER ? NAN : work_chance_by(t, m->date_min);
        out->p50_day = work_model_instant(m, risk_quantile(t->n, sorted, 0.5));
        out->cost_money = work_quantile(t->n, t->cost_money, 0.5);
        out->mean_money = work_mean(t->n, t->cost_money);
        free(sorted);
        whole = work_no_return(m, f->asked_frac, how, &out->no_return_day);
    }
    *trials = t;
    plan_free(physics);
    return whole;
}

static bool
is_chosen(const PlanText *text, const char *option)
{
    for (size_t i = 0; i < text->n_options; i++)
        if (strcmp(text->options[i], option) == 0)
            return true;
    return false;
}

static bool
try_option(WorkForecast *f, const SolveInput *solve, const PlanText *text, const char *option,
           const ForecastAsked *asked, const StudyHow *how, ForecastOption *out,
           RiskTrials **trials)
{
    g_autofree const char **options = g_new0(const char *, text->n_options + 1);
    for (size_t i = 0; i < text->n_options; i++)
        options[i] = text->options[i];
    options[text->n_options] = option;
    g_autoptr(GError) error = NULL;
    g_autoptr(Boat) boat = plan_read(boat_base(solve->boat), text->n_options + 1, options, &error);
    *out = (ForecastOption){.option = work_forecast_text(f, "%s", option),
                            .chance_frac = NAN,
                            .p50_day = NAN,
                            .cost_money = NAN,
                            .mean_money = NAN,
                            .regret_money = NAN,
                            .no_return_day = NAN};
    if (boat == NULL) {
        g_auto(GStrv) lines = g_strsplit(error->message, "\n", 2); /* the first will do */
        out->fault = work_forecast_text(f, "%s", lines[0] != NULL ? lines[0] : "");
        return true;
    }
    g_autoptr(WorkPlan) plan = work_plan_of(boat, solve->today);
    return try_plan(plan, f, asked, how, out, trials);
}

/* Whether the plan has trials that say what it costs. */
static bool
has_cost(const RiskTrials *t, const ForecastOption *o)
{
    return t != NULL && isfinite(o->mean_money);
}

/* The cheapest in a trial; INFINITY when one of them is never finished in it. */
static double
least_cost(size_t n, RiskTrials *const trials[], const ForecastOption option[], size_t trial)
{
    double least = INFINITY;
    for (size_t i = 0; i < n; i++) {
        if (!has_cost(trials[i], &option[i]))
            continue;
        if (!isfinite(trials[i]->cost_money[trial]))
            return INFINITY;
        least = fmin(least, trials[i]->cost_money[trial]);
    }
    return least;
}

/* What each plan costs above the cheapest of its trial, over the trials in which all of them are finished. */
static void
regret(size_t n, RiskTrials *const trials[], ForecastOption option[])
{
    size_t common = SIZE_MAX, plans = 0, counted = 0;
    g_autofree double *sum = g_new0(double, n);
    for (size_t i = 0; i < n; i++)
        if (has_cost(trials[i], &option[i])) {
            common = MIN(common, trials[i]->n);
            plans++;
        }
    for (size_t t = 0; plans > 1 && t < common; t++) {
        double least = least_cost(n, trials, option, t);
        if (!isfinite(least))
            continue;
        counted++;
        for (size_t i = 0; i < n; i++)
            if (has_cost(trials[i], &option[i]))
                sum[i] += trials[i]->cost_money[t] - least;
    }
    for (size_t i = 0; counted > 0 && i < n; i++)
        if (has_cost(trials[i], &option[i]))
            option[i].regret_money = sum[i] / (double) counted;
}

/* Options of the file that are not chosen already, behind the chosen plan. */
static bool
add_options(WorkForecast *f, RiskTrials *own, const SolveInput *solve, const PlanText *text,
            const ForecastAsked *asked, const StudyHow *how)
{
    const char *const *ids;
    size_t n_ids = boat_options(solve->boat, &ids), n = f->n_options;
    bool whole = true;
    ForecastOption *all = work_forecast_block(f, n + n_ids, sizeof *all);
    g_autofree RiskTrials **trials = g_new0(RiskTrials *, n + n_ids);
    memcpy(all, f->option, n * sizeof *all);
    trials[0] = own;
    for (size_t i = 0; i < n_ids && whole; i++)
        if (!is_chosen(text, ids[i])) {
            whole = try_option(f, solve, text, ids[i], asked, how, &all[n], &trials[n]);
            n++;
        }
    if (whole)
        regret(n, trials, all);
    for (size_t i = 1; i < n; i++)
        risk_trials_free(trials[i]);
    f->option = all;
    f->n_options = n;
    return whole;
}

WorkForecast *
work_forecast_find(const SolveInput *solve, const PlanText *text, const ForecastAsked *asked,
                   const StudyHow *how)
{
    static const ForecastAsked usual = {0};
    asked = asked != NULL ? asked : &usual;
    RiskTrials *trials = NULL;
    WorkPlan *plan = work_plan_of(solve->boat, solve->today);
    WorkForecast *f = work_forecast_keep(plan, asked, how, &trials);
    bool whole = f != NULL;
    if (whole)
        f->own = plan;
    else
        work_plan_free(plan);
    if (whole && f->fault == NULL && !asked->brief)
        whole = add_options(f, trials, solve, text, asked, how);
    risk_trials_free(trials);
    if (whole)
        return f;
    work_forecast_free(f);
    return NULL;
}
