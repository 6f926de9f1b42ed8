/* Calculators of networks of tasks: passes, and the classic estimate from three points. */
#include <math.h>

#include "calc/work/tasks.h"
#include "physics/work/pert.h"

/* --- critical-path ------------------------------------------------------------------------------------------------- */

static const Column path_columns[] = {
    TASK_COLUMN,
    {.name = "duration", .unit = "h"},
    AFTER_COLUMN,
    {.name = "release", .unit = "h", .optional = true},
};
static const Input path_inputs[] = {
    IN_TABLE("tasks", path_columns),
    IN_LINKS,
    IN_NUMBER("deadline", "h", .otherwise = "none"),
};
static const Output path_outputs[] = {
    OUT_NUMBER("length", "h"),          OUT_NUMBERS("early_start", "h"),
    OUT_NUMBERS("early_finish", "h"),   OUT_NUMBERS("late_start", "h"),
    OUT_NUMBERS("late_finish", "h"),    OUT_NUMBERS("total_float", "h"),
    OUT_NUMBERS("free_float", "h"),     OUT_WORDS("critical", no_yes_words),
    OUT_WORD("possible", no_yes_words), OUT_TEXTS("cycle", "task")};
static const Method *const path_methods[] = {
    &critical_path_early_method, &critical_path_late_method, &critical_path_float_method, NULL};

static void
dates_set(const Tasks *tasks, const TaskDates dates[], CalcResults *out)
{
    for (size_t i = 0; i < tasks->n; i++) {
        const char *name = tasks->name[i];
        results_set_of(out, "early_start", name, dates[i].early_start_h);
        results_set_of(out, "early_finish", name, dates[i].early_finish_h);
        results_set_of(out, "late_start", name, dates[i].late_start_h);
        results_set_of(out, "late_finish", name, dates[i].late_finish_h);
        results_set_of(out, "total_float", name, dates[i].total_float_h);
    }
}

/* Refused, but the loop itself is an answer. */
static void
loop_set(const Tasks *tasks, CalcResults *out)
{
    g_autofree size_t *task = g_new(size_t, tasks->n + 1), *tie = g_new(size_t, tasks->n + 1);
    size_t length = task_loop(&tasks->net, task, tie);
    results_refuse_but(out, "the tasks wait for each other in a loop");
    results_word(out, "possible", "no");
    for (size_t k = 0; k < length; k++)
        results_word_at(out, "cycle", k, tasks->name[task[k]]);
}

static void
run_path(const CalcArguments *in, CalcResults *out)
{
    g_auto(Tasks) tasks = {0};
    double length_h;
    if (!tasks_read(in, out, &tasks))
        return;
    for (size_t k = 0; k < tasks.net.ties; k++)
        if (tasks.net.tie[k].kind == TIE_APART) {
            results_error(out, "links: apart is no tie of a critical path; schedule takes it");
            return;
        }
    tasks.net.release_h = argument_column(in, "tasks", "release");
    g_autofree TaskDates *dates = g_new0(TaskDates, tasks.n);
    switch (critical_path(&tasks.net, argument_column(in, "tasks", "duration"),
                          argument_number(in, "deadline"), dates, &length_h)) {
    case PASSES_LOOP:
        loop_set(&tasks, out);
        return;
    case PASSES_TIGHT:
        results_refuse_but(out, "a start that may be no later cannot be kept");
        results_word(out, "possible", "no");
        return;
    case PASSES_BAD:
        results_refuse(out, "a duration cannot be negative");
        return;
    case PASSES_DONE:
        break;
    }
    results_set(out, "length", length_h);
    dates_set(&tasks, dates, out);
    for (size_t i = 0; i < tasks.n; i++) {
        results_set_of(out, "free_float", tasks.name[i], dates[i].free_float_h);
        results_word_of(out, "critical", tasks.name[i], no_yes_words[dates[i].critical]);
    }
    results_word(out, "possible", "yes");
}

const Calculator calculator_critical_path = {
    .name = "critical-path",
    .question =
        "earliest and latest dates, float and critical tasks of a network with lags; a loop "
        "if it cannot be done",
    .sheet = "work.md 1.1",
    CALCULATOR_BODY(path_inputs, path_outputs),
    .methods = path_methods,
    .run = run_path,
};

/* --- pert-network -------------------------------------------------------------------------------------------------- */

static const Column pert_columns[] = {
    TASK_COLUMN,
    {.name = "low", .unit = "h"},
    {.name = "likely", .unit = "h"},
    {.name = "high", .unit = "h"},
    AFTER_COLUMN,
};
static const Input pert_inputs[] = {
    IN_TABLE("tasks", pert_columns),
    IN_NUMBER("deadline", "h", .otherwise = "none"),
    IN_NUMBER("confidence", "1", .otherwise = "none"),
};
static const Output pert_outputs[] = {
    OUT_NUMBERS("task_mean", "h"),   OUT_NUMBERS("task_sd", "h"),
    OUT_NUMBERS("early_start", "h"), OUT_NUMBERS("early_finish", "h"),
    OUT_NUMBERS("late_start", "h"),  OUT_NUMBERS("late_finish", "h"),
    OUT_NUMBERS("total_float", "h"), OUT_TEXTS("path", "task"),
    OUT_NUMBER("mean", "h"),         OUT_NUMBER("variance", "h2"),
    OUT_NUMBER("sd", "h"),           OUT_NUMBER("chance", "1"),
    OUT_NUMBER("finish_at", "h")};
static const Method *const pert_methods[] = {&duration_classic_method, &pert_mean_method,
                                             &pert_chance_method, NULL};

static bool
points_read(const CalcArguments *in, CalcResults *out, const Tasks *tasks, Duration duration[])
{
    const double *low = argument_column(in, "tasks", "low");
    const double *likely = argument_column(in, "tasks", "likely");
    const double *high = argument_column(in, "tasks", "high");
    for (size_t i = 0; i < tasks->n; i++)
        if (duration_three(DURATION_CLASSIC, low[i], likely[i], high[i], 4.0, &duration[i]) ==
            REFUSED) {
            g_autofree char *why = g_strdup_printf(
                "%s: low, likely and high must rise from 0 or more", tasks->name[i]);
            results_refuse(out, why);
            return false;
        }
    return true;
}

static void
run_pert(const CalcArguments *in, CalcResults *out)
{
    g_auto(Tasks) tasks = {0};
    PertPath found;
    double confidence = argument_number(in, "confidence");
    if (!tasks_read(in, out, &tasks))
        return;
    g_autofree Duration *duration = g_new0(Duration, tasks.n);
    g_autofree TaskDates *dates = g_new0(TaskDates, tasks.n);
    g_autofree size_t *path = g_new0(size_t, tasks.n);
    if (!points_read(in, out, &tasks, duration))
        return;
    if (argument_given(in, "confidence") && !(confidence > 0.0 && confidence < 1.0)) {
        results_refuse(out, "the confidence must lie between 0 and 1");
        return;
    }
    if (pert_network(&tasks.net, duration, dates, path, &found) != PASSES_DONE) {
        tasks_refuse_loop(&tasks, out);
        return;
    }
    for (size_t i = 0; i < tasks.n; i++) {
        results_set_of(out, "task_mean", tasks.name[i], duration[i].mean_h);
        results_set_of(out, "task_sd", tasks.name[i], sqrt(duration[i].variance_h2));
    }
    dates_set(&tasks, dates, out);
    for (size_t k = 0; k < found.n; k++)
        results_word_at(out, "path", k, tasks.name[path[k]]);
    results_set(out, "mean", found.mean_h);
    results_set(out, "variance", found.variance_h2);
    results_set(out, "sd", sqrt(found.variance_h2));
    if (argument_given(in, "deadline"))
        results_set(out, "chance", pert_chance(&found, argument_number(in, "deadline")));
    if (argument_given(in, "confidence"))
        results_set(out, "finish_at", pert_finish(&found, confidence));
}

const Calculator calculator_pert_network = {
    .name = "pert-network",
    .question = "the classic three-point estimate of a network: mean length, variance, chance to "
                "meet a date (too hopeful, see schedule-risk)",
    .sheet = "work.md 1.3",
    CALCULATOR_BODY(pert_inputs, pert_outputs),
    .methods = pert_methods,
    .run = run_pert,
};
