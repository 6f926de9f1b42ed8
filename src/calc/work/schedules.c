/* Calculator of schedules with few hands. */
#include <math.h>
#include <string.h>

#include "calc/work/tasks.h"
#include "physics/domain.h"
#include "physics/work/critical_path.h"
#include "physics/work/rcpsp_exact.h"
#include "physics/work/rcpsp_rule.h"
#include "physics/work/rcpsp_search.h"
#include "physics/work/timed_schedule.h"

static const char *const method_words[] = {"exact", "serial", "parallel", NULL};
static const char *const rule_words[] = {"lft", "lst", "mts", "grpw", "rpwall", "spt", NULL};
enum { METHOD_EXACT, METHOD_SERIAL, METHOD_PARALLEL };

/* For durations without a common tick: what the first proof cannot do, a long second one seldom does. */
enum { FEW_NODES = 20000 };

#define NEED(label, blank)                                                                         \
    {                                                                                              \
        .name = label, .unit = "1", .optional = true, .absent = blank                              \
    }
static const Column task_columns[] = {
    TASK_COLUMN,
    {.name = "duration", .unit = "h"},
    NEED("need", 1.0),
    NEED("need_2", 0.0),
    NEED("need_3", 0.0),
    NEED("need_4", 0.0),
    AFTER_COLUMN,
    {.name = "release", .unit = "h", .optional = true},
    {.name = "due", .unit = "h", .optional = true, .absent = INFINITY},
};
static const char *const need_names[RCPSP_KINDS] = {"need", "need_2", "need_3", "need_4"};
static const Column window_columns[] = {
    TASK_COLUMN, {.name = "opens", .unit = "h"}, {.name = "closes", .unit = "h"}};
static const Input schedule_inputs[] = {
    IN_TABLE("tasks", task_columns),
    IN_LIST("capacity", "1", .standard = "1"),
    IN_LINKS,
    IN_TABLE("windows", window_columns, .otherwise = "none"),
    IN_WORD("method", method_words, .standard = "exact"),
    IN_WORD("rule", rule_words, .standard = "lft"),
    IN_WORD("improve", no_yes_words, .standard = "no"),
};
static const Output schedule_outputs[] = {
    OUT_NUMBER("makespan", "h"),      OUT_NUMBERS("start", "h"),
    OUT_TEXTS("order", "task"),       OUT_NUMBERS("right_start", "h"),
    OUT_NUMBER("critical_path", "h"), OUT_NUMBER("work_bound", "h"),
    OUT_NUMBER("bound", "h"),         OUT_WORD("proven", no_yes_words)};
static const Method *const schedule_methods[] = {&rcpsp_serial_method, &rcpsp_work_method,
                                                 &critical_path_early_method, NULL};

typedef struct {
    Tasks tasks;
    unsigned (*need)[RCPSP_KINDS];
    TimedGiven given;
    TimedWindow *window;
    Rcpsp *project; /* when after and lags are all that ties */
    double path_h, work_h;
    /* found */
    double *start_h, *right_h;
    size_t *order;
    double makespan_h;
    bool proven, improved;
} Job;

static void
job_clear(Job *job)
{
    tasks_clear(&job->tasks);
    g_free(job->need);
    g_free(job->window);
    g_free(job->start_h);
    g_free(job->right_h);
    g_free(job->order);
    rcpsp_free(job->project);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Job, job_clear)

static bool
is_amount(double x)
{
    return is_within(x, 0.0, RCPSP_MOST) && x == floor(x);
}

static bool
capacity_read(const CalcArguments *in, CalcResults *out, Job *job)
{
    size_t kinds;
    const double *capacity = argument_list(in, "capacity", &kinds);
    if (kinds > RCPSP_KINDS) {
        results_error(out, "capacity: up to four kinds are taken");
        return false;
    }
    for (size_t k = 0; k < kinds; k++) {
        if (!is_amount(capacity[k])) {
            results_refuse(out, "a capacity is a whole number from 0");
            return false;
        }
        job->given.capacity[k] = (unsigned) capacity[k];
    }
    return true;
}

static bool
needs_read(const CalcArguments *in, CalcResults *out, Job *job)
{
    job->need = g_malloc0_n(job->tasks.n, sizeof *job->need);
    for (size_t k = 0; k < RCPSP_KINDS; k++) {
        const double *need = argument_column(in, "tasks", need_names[k]);
        for (size_t i = 0; i < job->tasks.n; i++) {
            const char *fault = !is_amount(need[i]) ? "a need is a whole number from 0"
                                : need[i] > job->given.capacity[k]
                                    ? "needs more than there is, even alone"
                                    : NULL;
            if (fault != NULL) {
                g_autofree char *why = g_strdup_printf("%s: %s", job->tasks.name[i], fault);
                results_refuse(out, why);
                return false;
            }
            job->need[i][k] = (unsigned) need[i];
        }
    }
    job->given.need = (const unsigned(*)[RCPSP_KINDS]) job->need;
    return true;
}

static bool
windows_read(const CalcArguments *in, CalcResults *out, Job *job)
{
    size_t n = argument_rows(in, "windows");
    const char *const *name = argument_column_text(in, "windows", "task");
    job->window = g_new0(TimedWindow, n + 1);
    for (size_t k = 0; k < n; k++) {
        TimedWindow *w = &job->window[k];
        *w = (TimedWindow){tasks_find(&job->tasks, name[k]),
                           argument_column(in, "windows", "opens")[k],
                           argument_column(in, "windows", "closes")[k]};
        if (w->task < job->tasks.n)
            continue;
        g_autofree char *what = g_strdup_printf("windows: \"%s\" is no task of the table", name[k]);
        results_error(out, what);
        return false;
    }
    job->given.windows = n;
    job->given.window = job->window;
    return true;
}

/* Length and possibility without capacities. */
static bool
path_read(CalcResults *out, Job *job)
{
    g_autofree TaskDates *dates = g_new0(TaskDates, job->tasks.n);
    switch (critical_path(&job->given.net, job->given.duration_h, NAN, dates, &job->path_h)) {
    case PASSES_LOOP:
        tasks_refuse_loop(&job->tasks, out);
        return false;
    case PASSES_TIGHT:
        results_refuse(out, "a start that may be no later cannot be kept");
        return false;
    case PASSES_BAD:
        results_refuse(out, "a duration cannot be negative");
        return false;
    case PASSES_DONE:
        break;
    }
    return true;
}

static bool
job_read(const CalcArguments *in, CalcResults *out, Job *job)
{
    if (!tasks_read(in, out, &job->tasks) || !capacity_read(in, out, job))
        return false;
    job->given.net = job->tasks.net;
    job->given.net.release_h = argument_column(in, "tasks", "release");
    job->given.duration_h = argument_column(in, "tasks", "duration");
    job->given.due_h = argument_column(in, "tasks", "due");
    job->start_h = g_new0(double, job->tasks.n);
    job->right_h = g_new0(double, job->tasks.n);
    job->order = g_new0(size_t, job->tasks.n);
    return needs_read(in, out, job) && windows_read(in, out, job) && path_read(out, job);
}

static bool
is_dated(const Job *job)
{
    bool dated = job->given.windows > 0;
    for (size_t i = 0; i < job->tasks.n; i++)
        dated = dated || job->given.net.release_h[i] > 0.0 || isfinite(job->given.due_h[i]);
    return dated;
}

static void
project_make(Job *job)
{
    RcpspOutcome outcome;
    RcpspGiven given = {job->given.net, job->given.duration_h, job->given.need, {0}};
    memcpy(given.capacity, job->given.capacity, sizeof given.capacity);
    job->project = rcpsp_new(&given, &outcome);
}

/* The bound by the work; ties and dates are no matter for it. */
static double
work_bound(const Job *job)
{
    double bound_h = 0.0;
    for (size_t k = 0; k < RCPSP_KINDS; k++) {
        double work = 0.0;
        for (size_t i = 0; i < job->tasks.n; i++)
            work += job->given.duration_h[i] * job->need[i][k];
        if (work > 0.0)
            bound_h = fmax(bound_h, work / job->given.capacity[k]);
    }
    return bound_h;
}

/* --- methods ------------------------------------------------------------------------------------------------------- */

static bool
single_pass(Job *job, size_t method, RcpspRule rule, bool improve, CalcResults *out)
{
    if (job->tasks.links > 0 || is_dated(job) || job->project == NULL) {
        results_error(out,
                      "serial and parallel take `after` only: no links, windows, release or due");
        return false;
    }
    g_autofree double *key = g_new(double, job->tasks.n);
    rcpsp_rule(job->project, rule, key);
    if (method == METHOD_SERIAL) {
        task_list_by_key(rcpsp_lists(job->project), key, false, job->order);
        job->makespan_h = rcpsp_serial(job->project, job->order, job->start_h);
    } else {
        job->makespan_h = rcpsp_parallel(job->project, key, NULL, job->order, job->start_h);
    }
    if (improve)
        job->makespan_h = rcpsp_improve(job->project, job->start_h, job->order, job->right_h, NULL);
    job->improved = improve;
    job->proven = job->makespan_h <= fmax(job->path_h, job->work_h) + 1e-9;
    return true;
}

static int
by_start(gconstpointer a, gconstpointer b, gpointer data)
{
    const Job *job = data;
    size_t i = *(const size_t *) a, j = *(const size_t *) b;
    double x = job->start_h[i], y = job->start_h[j];
    return x != y ? (x > y) - (x < y) : (i > j) - (i < j);
}

static bool
exact(Job *job, CalcResults *out)
{
    size_t n = job->tasks.n;
    if (n > TIMED_TASKS) {
        results_refuse(out, "exact takes up to 64 tasks: serial and parallel take any number");
        return false;
    }
    bool dated = is_dated(job);
    job->makespan_h = INFINITY;
    dated = dated || job->project == NULL; /* or tied in other ways than by waits */
    if (!dated)
        job->makespan_h = rcpsp_exact(job->project, 0, job->order, job->start_h, &job->proven);
    if (!job->proven)
        job->makespan_h = timed_schedule(&job->given, dated ? 0 : FEW_NODES, job->makespan_h,
                                         job->start_h, &job->proven);
    if (isinf(job->makespan_h)) {
        results_refuse(out, job->proven
                                ? "dates, windows or greatest lags cannot be met with these hands"
                                : "no schedule was found in the time taken");
        return false;
    }
    for (size_t i = 0; i < n; i++)
        job->order[i] = i;
    g_qsort_with_data(job->order, (int) n, sizeof job->order[0], by_start, job);
    return true;
}

static void
run_schedule(const CalcArguments *in, CalcResults *out)
{
    g_auto(Job) job = {0};
    size_t method = argument_choice(in, "method");
    if (!job_read(in, out, &job))
        return;
    project_make(&job);
    job.work_h = work_bound(&job);
    bool done = method == METHOD_EXACT
                    ? exact(&job, out)
                    : single_pass(&job, method, (RcpspRule) argument_choice(in, "rule"),
                                  argument_choice(in, "improve") == 1, out);
    if (!done)
        return;
    results_set(out, "makespan", job.makespan_h);
    for (size_t i = 0; i < job.tasks.n; i++)
        results_set_of(out, "start", job.tasks.name[i], job.start_h[i]);
    for (size_t k = 0; k < job.tasks.n; k++)
        results_word_at(out, "order", k, job.tasks.name[job.order[k]]);
    for (size_t i = 0; job.improved && i < job.tasks.n; i++)
        results_set_of(out, "right_start", job.tasks.name[i], job.right_h[i]);
    results_set(out, "critical_path", job.path_h);
    results_set(out, "work_bound", job.work_h);
    results_set(out, "bound", fmax(job.path_h, job.work_h));
    results_word(out, "proven", no_yes_words[job.proven]);
}

const Calculator calculator_schedule = {
    .name = "schedule",
    .question =
        "shortest plan with limited people and equipment, lags and time windows; single-pass "
        "rules for comparison",
    .sheet = "work.md 2.1, 2.2, 2.3, 2.5, 2.9",
    CALCULATOR_BODY(schedule_inputs, schedule_outputs),
    .methods = schedule_methods,
    .run = run_schedule,
};
