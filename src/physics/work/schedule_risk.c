/* Trials of a network. Invariant: a task's durations can be drawn again at any time, so that no trial is stored but its finish. */
#include "physics/work/schedule_risk.h"

#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <string.h>

#include "physics/domain.h"
#include "physics/memory.h"
#include "physics/work/counted_chance.h"
#include "physics/work/influence.h"
#include "physics/work/rank_correlation.h"

const Method schedule_risk_method = {"Scores with a common factor",
                                     "z_i = r^0.5 * z_0 + (1 - r)^0.5 * e_i",
                                     {"docs/methods/work.md 1.5", STANDING_DERIVED}};

typedef struct {
    const ScheduleRiskGiven *given;
    DurationCurve *curve;
    double *common;                     /* [trials] score of the trial times sqrt(r) */
    double own;                         /* sqrt(1 - r) */
    double *finish_h;                   /* [trials] */
    double *drawn_h, *early_h, *late_h; /* [n] of one trial */
    double *critical, *weight;          /* [n] sums over the trials */
} Trials;

/* Keys of tasks begin at 1, so that the common score has a key of its own. */
static double
draw(const Trials *t, size_t trial, size_t task)
{
    if (duration_is_constant(&t->given->duration[task]))
        return t->given->duration[task].mean_h;
    Dice dice = dice_of(t->given->seed, trial, task + 1);
    return duration_curve_at(&t->curve[task], t->common[trial] + t->own * dice_normal(&dice));
}

static void
trials_new(const ScheduleRiskGiven *given, Trials *t)
{
    size_t n = given->n;
    *t = (Trials){.given = given,
                  .curve = fresh(n, sizeof(DurationCurve)),
                  .common = fresh(given->trials, sizeof(double)),
                  .own = sqrt(1.0 - given->correlation),
                  .finish_h = fresh(given->trials, sizeof(double)),
                  .drawn_h = fresh(n, sizeof(double)),
                  .early_h = fresh(n, sizeof(double)),
                  .late_h = fresh(n, sizeof(double)),
                  .critical = fresh(n, sizeof(double)),
                  .weight = fresh(n, sizeof(double))};
    for (size_t i = 0; i < n; i++)
        t->curve[i] = duration_curve(&given->duration[i]);
    for (size_t k = 0; k < given->trials; k++) {
        Dice dice = dice_of(given->seed, k, 0);
        t->common[k] = sqrt(given->correlation) * dice_normal(&dice);
    }
}

static void
trials_free(Trials *t)
{
    for (size_t i = 0; i < t->given->n; i++)
        duration_curve_clear(&t->curve[i]);
    free(t->curve);
    free(t->common);
    free(t->finish_h);
    free(t->drawn_h);
    free(t->early_h);
    free(t->late_h);
    free(t->critical);
    free(t->weight);
}

static void
slack_add(Trials *t, double finish_h)
{
    task_passes_backward(t->given->passes, t->drawn_h, finish_h, t->late_h);
    for (size_t i = 0; i < t->given->n; i++) {
        double slack_h = t->late_h[i] - t->early_h[i];
        t->critical[i] += influence_criticality(1, &slack_h);
        t->weight[i] += influence_significance(1, &t->drawn_h[i], &slack_h, &finish_h) * finish_h;
    }
}

static void
run(Trials *t)
{
    const ScheduleRiskGiven *g = t->given;
    for (size_t k = 0; k < g->trials; k++) {
        for (size_t i = 0; i < g->n; i++)
            t->drawn_h[i] = draw(t, k, i);
        if (g->passes != NULL) {
            t->finish_h[k] = task_passes_forward(g->passes, t->drawn_h, t->early_h);
            slack_add(t, t->finish_h[k]);
        } else {
            rcpsp_set_durations(g->project, t->drawn_h);
            t->finish_h[k] = rcpsp_serial(g->project, g->list, t->early_h);
        }
    }
}

/* --- what the trials say -------------------------------------------------------------------------------------------- */

static int
rising(const void *a, const void *b)
{
    const double *p = a, *q = b;
    return (*p > *q) - (*p < *q);
}

static void
deadline_judge(const Trials *t, ScheduleRisk *risk)
{
    size_t met = 0;
    double late_h = 0.0, deadline_h = t->given->deadline_h;
    for (size_t k = 0; k < t->given->trials; k++) {
        met += t->finish_h[k] <= deadline_h + 1e-9;
        late_h += fmax(0.0, t->finish_h[k] - deadline_h);
    }
    risk->chance = (double) met / (double) t->given->trials;
    counted_chance(met, t->given->trials, SCORE_95, &risk->chance_low, &risk->chance_high);
    risk->late_h = late_h / (double) t->given->trials;
}

static void
spread_judge(const Trials *t, ScheduleRisk *risk)
{
    size_t n = t->given->trials;
    double *sorted = fresh(n, sizeof(double));
    memcpy(sorted, t->finish_h, n * sizeof sorted[0]);
    qsort(sorted, n, sizeof sorted[0], rising);
    risk->mean_h = gsl_stats_mean(sorted, 1, n);
    risk->sd_h = n > 1 ? gsl_stats_sd_m(sorted, 1, n, risk->mean_h) : 0.0;
    risk->p10_h = gsl_stats_quantile_from_sorted_data(sorted, 1, n, 0.10);
    risk->p50_h = gsl_stats_quantile_from_sorted_data(sorted, 1, n, 0.50);
    risk->p80_h = gsl_stats_quantile_from_sorted_data(sorted, 1, n, 0.80);
    risk->p90_h = gsl_stats_quantile_from_sorted_data(sorted, 1, n, 0.90);
    risk->p95_h = gsl_stats_quantile_from_sorted_data(sorted, 1, n, 0.95);
    free(sorted);
}

static void
tasks_judge(const Trials *t, const ScheduleRisk *risk, TaskRisk task[])
{
    size_t n = t->given->trials;
    bool passes = t->given->passes != NULL;
    double *drawn = fresh(n, sizeof(double)), *rank = fresh(n, sizeof(double));
    double *finish_rank = fresh(n, sizeof(double));
    rank_of(n, t->finish_h, finish_rank);
    for (size_t i = 0; i < t->given->n; i++) {
        double critical = t->critical[i] / (double) n;
        double mean = risk->mean_h > 0.0 ? t->weight[i] / (double) n / risk->mean_h : 0.0;
        task[i] =
            (TaskRisk){passes ? critical : NAN, passes ? mean : NAN, passes ? 0.0 : NAN, 0.0, 0.0};
        if (duration_is_constant(&t->given->duration[i]))
            continue;
        for (size_t k = 0; k < n; k++)
            drawn[k] = draw(t, k, i);
        rank_of(n, drawn, rank);
        if (passes)
            task[i].sensitivity = influence_sensitivity(n, critical, drawn, t->finish_h);
        task[i].cruciality = fabs(influence_pearson(n, drawn, t->finish_h));
        task[i].rank_cruciality = fabs(rank_correlation(n, rank, finish_rank));
    }
    free(drawn);
    free(rank);
    free(finish_rank);
}

Validity
schedule_risk(const ScheduleRiskGiven *given, ScheduleRisk *risk, TaskRisk task[])
{
    *risk = (ScheduleRisk){NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN};
    if (!is_within(given->correlation, 0.0, 1.0) || given->trials == 0 ||
        given->trials > SCHEDULE_RISK_MOST)
        return REFUSED;
    Trials t;
    trials_new(given, &t);
    run(&t);
    spread_judge(&t, risk);
    if (!isnan(given->deadline_h))
        deadline_judge(&t, risk);
    tasks_judge(&t, risk, task);
    trials_free(&t);
    return given->trials < SCHEDULE_RISK_FEW ? EXTRAPOLATED : VALID;
}
