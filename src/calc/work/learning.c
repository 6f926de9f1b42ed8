/* Calculator of the own pace. */
#include <math.h>

#include "calc/arguments.h"
#include "calc/results.h"
#include "physics/work/learning.h"

static const Input learning_inputs[] = {
    IN_LIST("ratio", "1"),
    IN_NUMBER("prior_mean", "1", .standard = "0"),
    IN_NUMBER("prior_sd", "1", .standard = "0.35"),
    IN_NUMBER("scatter", "1", .standard = "0.30"),
};
static const Output learning_outputs[] = {
    OUT_NUMBER("log_mean", "1"), OUT_NUMBER("log_sd", "1"), OUT_NUMBER("median_factor", "1"),
    OUT_NUMBER("mean_factor", "1"), OUT_NUMBER("task_log_sd", "1")};
static const Method *const learning_methods[] = {&learning_factor_method, NULL};

static void
run_learning(const CalcArguments *in, CalcResults *out)
{
    size_t n;
    const double *ratio = argument_list(in, "ratio", &n);
    double scatter = argument_number(in, "scatter"), log_mean, log_sd;
    if (learning_factor(n, ratio, argument_number(in, "prior_mean"),
                        argument_number(in, "prior_sd"), scatter, &log_mean, &log_sd) == REFUSED)
        results_refuse(out,
                       "ratios (actual over estimated), prior_sd and scatter must be positive");
    results_set(out, "log_mean", log_mean);
    results_set(out, "log_sd", log_sd);
    results_set(out, "median_factor", exp(log_mean));
    results_set(out, "mean_factor", exp(log_mean + 0.5 * log_sd * log_sd));
    results_set(out, "task_log_sd", hypot(log_sd, scatter));
}

const Calculator calculator_learning_factor = {
    .name = "learning-factor",
    .question = "what the finished tasks say about the open ones",
    .sheet = "work.md 1.8",
    CALCULATOR_BODY(learning_inputs, learning_outputs),
    .methods = learning_methods,
    .run = run_learning,
};
