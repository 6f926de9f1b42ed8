/* Calculators of schedule risk: a network by simulation, and the influence of one task. */
#include <math.h>

#include "calc/work/tasks.h"
#include "physics/domain.h"
#include "physics/work/influence.h"
#include "physics/work/rcpsp_rule.h"
#include "physics/work/schedule_risk.h"

/* --- schedule-risk ------------------------------------------------------------------------------------------------- */

#define MAYBE .optional = true, .absent = NAN
static const char *const distribution_words[] = {"triangular", "pert-beta", "lognormal", "uniform",
                                                 NULL};
static const DurationModel distribution_models[] = {DURATION_TRIANGULAR, DURATION_BETA,
                                                    DURATION_LOGNORMAL, DURATION_UNIFORM};
static const Column risk_columns[] = {
    TASK_COLUMN,
    {.name = "low", .unit = "h"},
    {.name = "likely", .unit = "h", MAYBE},
    {.name = "high", .unit = "h"},
    AFTER_COLUMN,
    {.name = "need", .unit = "1", .optional = true, .absent = 1.0},
};
static const Input risk_inputs[] = {
    IN_TABLE("tasks", risk_columns),
    IN_LINKS,
    IN_WORD("distribution", distribution_words, .standard = "triangular"),
    IN_NUMBER("correlation", "1", .standard = "0.3"),
    IN_NUMBER("deadline", "h", .otherwise = "none"),
    IN_NUMBER("capacity", "1", .otherwise = "none"),
    IN_NUMBER("trials", "1", .standard = "10000"),
    IN_NUMBER("seed", "1", .standard = "1"),
};
static const Output risk_outputs[] = {OUT_NUMBER("mean", "h"),
                                      OUT_NUMBER("sd", "h"),
                                      OUT_NUMBER("p10", "h"),
                                      OUT_NUMBER("p50", "h"),
                                      OUT_NUMBER("p80", "h"),
                                      OUT_NUMBER("p90", "h"),
                                      OUT_NUMBER("p95", "h"),
                                      OUT_NUMBER("chance", "1"),
                                      OUT_NUMBER("chance_low", "1"),
                                      OUT_NUMBER("chance_high", "1"),
                                      OUT_NUMBER("expected_lateness", "h"),
                                      OUT_NUMBERS("criticality", "1"),
                                      OUT_NUMBERS("cruciality", "1"),
                                      OUT_NUMBERS("rank_cruciality", "1"),
                                      OUT_NUMBERS("significance", "1"),
                                      OUT_NUMBERS("sensitivity", "1")};
static const Method *const risk_methods[] = {&schedule_risk_method, &influence_significance_method,
                                             &influence_sensitivity_method, NULL};

typedef struct {
    Tasks tasks;
    Duration *duration;
    double *likely_h;
    unsigned (*need)[RCPSP_KINDS];
    size_t *list;
    TaskPasses *passes;
    Rcpsp *project;
} RiskTable;

static void
risk_table_clear(RiskTable *t)
{
    tasks_clear(&t->tasks);
    g_free(t->duration);
    g_free(t->likely_h);
    g_free(t->need);
    g_free(t->list);
    task_passes_free(t->passes);
    rcpsp_free(t->project);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(RiskTable, risk_table_clear)

static bool
refuse_of(CalcResults *out, const char *name, const char *what)
{
    g_autofree char *why = g_strdup_printf("%s: %s", name, what);
    results_refuse(out, why);
    return false;
}

static bool
durations_read(const CalcArguments *in, CalcResults *out, RiskTable *t)
{
    DurationModel model = distribution_models[argument_choice(in, "distribution")];
    const double *low = argument_column(in, "tasks", "low");
    const double *likely = argument_column(in, "tasks", "likely");
    const double *high = argument_column(in, "tasks", "high");
    t->duration = g_new0(Duration, t->tasks.n);
    t->likely_h = g_new0(double, t->tasks.n);
    for (size_t i = 0; i < t->tasks.n; i++) {
        if (model != DURATION_UNIFORM && isnan(likely[i])) {
            g_autofree char *what =
                g_strdup_printf("tasks: %s has no likely duration", t->tasks.name[i]);
            results_error(out, what);
            return false;
        }
        if (duration_three(model, low[i], likely[i], high[i], 4.0, &t->duration[i]) == REFUSED)
            return refuse_of(out, t->tasks.name[i],
                             "low, likely and high must rise from 0 or more");
        t->likely_h[i] = model == DURATION_UNIFORM ? 0.5 * (low[i] + high[i]) : likely[i];
    }
    return true;
}

static bool
ties_are_plain(const Tasks *tasks, bool limited, CalcResults *out)
{
    for (size_t k = 0; k < tasks->net.ties; k++) {
        const Tie *tie = &tasks->net.tie[k];
        if (limited && (tie->kind != TIE_FINISH_START || tie->lag_h < 0.0)) {
            results_error(out,
                          "links: with a capacity only finish-start is taken, its lag 0 or more");
            return false;
        }
        if (!tie_orders(tie)) {
            results_error(out, "links: no-later and apart are not taken here");
            return false;
        }
    }
    return true;
}

static bool
project_read(const CalcArguments *in, CalcResults *out, RiskTable *t)
{
    size_t n = t->tasks.n;
    double capacity = argument_number(in, "capacity");
    const double *need = argument_column(in, "tasks", "need");
    RcpspOutcome outcome = RCPSP_BAD;
    t->need = g_malloc0_n(n, sizeof *t->need);
    for (size_t i = 0; i < n; i++) {
        if (!is_within(need[i], 0.0, RCPSP_MOST) || need[i] != floor(need[i]))
            return refuse_of(out, t->tasks.name[i], "need is a whole number from 0");
        t->need[i][0] = (unsigned) need[i];
    }
    if (!is_within(capacity, 1.0, RCPSP_MOST) || capacity != floor(capacity)) {
        results_refuse(out, "the capacity is a whole number from 1");
        return false;
    }
    const RcpspGiven given = {.net = t->tasks.net,
                              .duration_h = t->likely_h,
                              .need = (const unsigned(*)[RCPSP_KINDS]) t->need,
                              .capacity = {(unsigned) capacity}};
    t->project = rcpsp_new(&given, &outcome);
    if (outcome == RCPSP_LOOP)
        tasks_refuse_loop(&t->tasks, out);
    else if (outcome == RCPSP_ABOVE)
        results_refuse(out, "a task needs more hands than there are");
    else if (outcome == RCPSP_BAD)
        results_refuse(out, "a duration or a lag is out of range");
    if (t->project == NULL)
        return false;
    g_autofree double *key = g_new(double, n);
    t->list = g_new(size_t, n);
    rcpsp_rule(t->project, RCPSP_LFT, key);
    task_list_by_key(rcpsp_lists(t->project), key, false, t->list);
    return true;
}

static bool
network_read(CalcResults *out, RiskTable *t)
{
    PassesOutcome outcome;
    t->passes = task_passes_new(&t->tasks.net, &outcome);
    if (outcome == PASSES_LOOP)
        tasks_refuse_loop(&t->tasks, out);
    else if (outcome != PASSES_DONE)
        results_refuse(out, "a lag is out of range");
    return t->passes != NULL;
}

static void
risk_set(const RiskTable *t, const ScheduleRisk *risk, const TaskRisk task[], CalcResults *out)
{
    results_set(out, "mean", risk->mean_h);
    results_set(out, "sd", risk->sd_h);
    results_set(out, "p10", risk->p10_h);
    results_set(out, "p50", risk->p50_h);
    results_set(out, "p80", risk->p80_h);
    results_set(out, "p90", risk->p90_h);
    results_set(out, "p95", risk->p95_h);
    results_set(out, "chance", risk->chance);
    results_set(out, "chance_low", risk->chance_low);
    results_set(out, "chance_high", risk->chance_high);
    results_set(out, "expected_lateness", risk->late_h);
    for (size_t i = 0; i < t->tasks.n; i++) {
        const char *name = t->tasks.name[i];
        results_set_of(out, "criticality", name, task[i].criticality);
        results_set_of(out, "cruciality", name, task[i].cruciality);
        results_set_of(out, "rank_cruciality", name, task[i].rank_cruciality);
        results_set_of(out, "significance", name, task[i].significance);
        results_set_of(out, "sensitivity", name, task[i].sensitivity);
    }
}

static void
run_risk(const CalcArguments *in, CalcResults *out)
{
    g_auto(RiskTable) t = {0};
    bool limited = argument_given(in, "capacity");
    double trials = argument_number(in, "trials"), seed = argument_number(in, "seed");
    if (!tasks_read(in, out, &t.tasks) || !ties_are_plain(&t.tasks, limited, out))
        return;
    if (!is_within(trials, 1.0, SCHEDULE_RISK_MOST) || trials != floor(trials) ||
        !is_within(seed, 0.0, 9e15) || seed != floor(seed)) {
        results_refuse(out, "trials is a whole number from 1 to 10 million, the seed one from 0");
        return;
    }
    if (!durations_read(in, out, &t) ||
        !(limited ? project_read(in, out, &t) : network_read(out, &t)))
        return;
    const ScheduleRiskGiven given = {.n = t.tasks.n,
                                     .duration = t.duration,
                                     .passes = t.passes,
                                     .project = t.project,
                                     .list = t.list,
                                     .correlation = argument_number(in, "correlation"),
                                     .deadline_h = argument_number(in, "deadline"),
                                     .trials = (size_t) trials,
                                     .seed = (uint64_t) seed};
    g_autofree TaskRisk *task = g_new0(TaskRisk, t.tasks.n);
    ScheduleRisk risk;
    Validity validity = schedule_risk(&given, &risk, task);
    if (validity == REFUSED) {
        results_refuse(out, "the correlation lies between 0 and 1");
        return;
    }
    results_limit(out, validity);
    risk_set(&t, &risk, task, out);
}

const Calculator calculator_schedule_risk = {
    .name = "schedule-risk",
    .question =
        "distribution of the finish of a network, chance to meet the deadline and which task "
        "drives it, by simulation",
    .sheet = "work.md 1.4, 1.5, 1.6, 1.7",
    CALCULATOR_BODY(risk_inputs, risk_outputs),
    .methods = risk_methods,
    .run = run_risk,
};

/* --- task-influence ------------------------------------------------------------------------------------------------ */

static const Input influence_inputs[] = {IN_LIST("duration", "h"), IN_LIST("slack", "h"),
                                         IN_LIST("finish", "h")};
static const Output influence_outputs[] = {
    OUT_NUMBER("criticality", "1"), OUT_NUMBER("significance", "1"), OUT_NUMBER("sensitivity", "1"),
    OUT_NUMBER("pearson", "1"),     OUT_NUMBER("spearman", "1"),     OUT_NUMBER("kendall", "1")};
static const Method *const influence_methods[] = {&influence_significance_method,
                                                  &influence_sensitivity_method, NULL};

static void
run_influence(const CalcArguments *in, CalcResults *out)
{
    size_t n, slacks, finishes;
    const double *duration_h = argument_list(in, "duration", &n);
    const double *slack_h = argument_list(in, "slack", &slacks);
    const double *finish_h = argument_list(in, "finish", &finishes);
    if (n != slacks || n != finishes) {
        results_error(out,
                      "duration, slack and finish: lists of equal length are expected, a member "
                      "a trial");
        return;
    }
    for (size_t k = 0; k < n; k++)
        if (!is_not_negative(duration_h[k]) || !is_number(slack_h[k]) || !is_number(finish_h[k]))
            results_refuse(out, "a duration cannot be negative");
    double criticality = influence_criticality(n, slack_h);
    results_set(out, "criticality", criticality);
    results_set(out, "significance", influence_significance(n, duration_h, slack_h, finish_h));
    results_set(out, "sensitivity", influence_sensitivity(n, criticality, duration_h, finish_h));
    results_set(out, "pearson", influence_pearson(n, duration_h, finish_h));
    results_set(out, "spearman", influence_spearman(n, duration_h, finish_h));
    results_set(out, "kendall", influence_kendall(n, duration_h, finish_h));
}

const Calculator calculator_task_influence = {
    .name = "task-influence",
    .question = "how strongly one task drives the date, from its trials",
    .sheet = "work.md 1.6",
    CALCULATOR_BODY(influence_inputs, influence_outputs),
    .methods = influence_methods,
    .run = run_influence,
};
