/* Calculators of what happens where paths join, and of tasks that go wrong together. */
#include <math.h>

#include "calc/arguments.h"
#include "calc/results.h"
#include "physics/work/merging.h"
#include "physics/work/together.h"

/* --- merge-paths --------------------------------------------------------------------------------------------------- */

static const Input merge_inputs[] = {
    IN_LIST("mean", "h"),
    IN_LIST("sd", "h"),
    IN_NUMBER("deadline", "h", .otherwise = "none"),
};
static const Output merge_outputs[] = {OUT_NUMBER("mean", "h"), OUT_NUMBER("sd", "h"),
                                       OUT_NUMBER("bias", "h"), OUT_NUMBER("chance", "1"),
                                       OUT_NUMBER("chance_longest", "1")};
static const Method *const merge_methods[] = {&merging_chance_method, NULL};

static void
run_merge(const CalcArguments *in, CalcResults *out)
{
    size_t n, sds;
    const double *mean_h = argument_list(in, "mean", &n), *sd_h = argument_list(in, "sd", &sds);
    double latest_h, spread_h, deadline_h = argument_number(in, "deadline");
    if (n != sds) {
        results_error(out, "mean and sd: lists of equal length are expected, a member a path");
        return;
    }
    if (merging_paths(n, mean_h, sd_h, &latest_h, &spread_h) == REFUSED) {
        results_refuse(out, "every spread must be positive");
        return;
    }
    size_t longest = merging_longest(n, mean_h, sd_h);
    results_set(out, "mean", latest_h);
    results_set(out, "sd", spread_h);
    results_set(out, "bias", latest_h - mean_h[longest]);
    if (!argument_given(in, "deadline"))
        return;
    results_set(out, "chance", merging_chance(n, mean_h, sd_h, deadline_h));
    results_set(out, "chance_longest",
                merging_chance(1, mean_h + longest, sd_h + longest, deadline_h));
}

const Calculator calculator_merge_paths = {
    .name = "merge-paths",
    .question = "what the joining of several independent paths does to the date (merge bias)",
    .sheet = "work.md 1.3",
    CALCULATOR_BODY(merge_inputs, merge_outputs),
    .methods = merge_methods,
    .run = run_merge,
};

/* --- clark-maximum ------------------------------------------------------------------------------------------------- */

static const Input clark_inputs[] = {
    IN_NUMBER("mean_1", "h"),
    IN_NUMBER("sd_1", "h"),
    IN_NUMBER("mean_2", "h"),
    IN_NUMBER("sd_2", "h"),
    IN_NUMBER("correlation", "1", .standard = "0"),
};
static const Output clark_outputs[] = {OUT_NUMBER("mean", "h"), OUT_NUMBER("sd", "h"),
                                       OUT_NUMBER("chance_1_later", "1")};
static const Method *const clark_methods[] = {&clark_mean_method, NULL};

static void
run_clark(const CalcArguments *in, CalcResults *out)
{
    const double mean_h[2] = {argument_number(in, "mean_1"), argument_number(in, "mean_2")};
    const double sd_h[2] = {argument_number(in, "sd_1"), argument_number(in, "sd_2")};
    ClarkMaximum latest;
    if (clark_maximum(mean_h, sd_h, argument_number(in, "correlation"), &latest) == REFUSED)
        results_refuse(out, "no spread may be negative, the correlation lies between -1 and 1, and "
                            "the difference of the two must have a spread");
    results_set(out, "mean", latest.mean_h);
    results_set(out, "sd", latest.sd_h);
    results_set(out, "chance_1_later", latest.chance_first_later);
}

const Calculator calculator_clark_maximum = {
    .name = "clark-maximum",
    .question = "the later of two normal finishes that may be correlated",
    .sheet = "work.md 1.3",
    CALCULATOR_BODY(clark_inputs, clark_outputs),
    .methods = clark_methods,
    .run = run_clark,
};

/* --- task-correlation ---------------------------------------------------------------------------------------------- */

static const Input correlation_inputs[] = {
    IN_NUMBER("log_sd", "1", .otherwise = "none"),
    IN_NUMBER("common_log_sd", "1", .otherwise = "none"),
    IN_NUMBER("score_correlation", "1", .otherwise = "none"),
};
static const Output correlation_outputs[] = {OUT_NUMBER("common_share", "1"),
                                             OUT_NUMBER("correlation", "1"),
                                             OUT_NUMBER("rank_correlation", "1")};
static const Method *const correlation_methods[] = {
    &together_share_method, &together_correlation_method, &together_rank_method, NULL};

static void
run_correlation(const CalcArguments *in, CalcResults *out)
{
    bool common = argument_given(in, "common_log_sd"), log_sd = argument_given(in, "log_sd");
    double share = argument_number(in, "score_correlation"), correlation = NAN, rank = NAN;
    double log_sd_1 = argument_number(in, "log_sd");
    if (common == argument_given(in, "score_correlation") || (common && !log_sd)) {
        results_error(out,
                      "either log_sd and common_log_sd are expected, or score_correlation, with "
                      "log_sd or without");
        return;
    }
    Validity shared =
        common ? together_share(log_sd_1, argument_number(in, "common_log_sd"), &share) : VALID;
    Validity ranked = together_rank(share, &rank);
    Validity scaled = log_sd ? together_correlation(log_sd_1, share, &correlation) : VALID;
    if (shared == REFUSED || ranked == REFUSED || scaled == REFUSED)
        results_refuse(out,
                       "log_sd must be positive (up to 20), the common part lies between 0 and "
                       "it, and a correlation between -1 and 1");
    results_set(out, "common_share", share);
    results_set(out, "correlation", correlation);
    results_set(out, "rank_correlation", rank);
}

const Calculator calculator_task_correlation = {
    .name = "task-correlation",
    .question = "correlation of two tasks that share a common factor",
    .sheet = "work.md 1.5",
    CALCULATOR_BODY(correlation_inputs, correlation_outputs),
    .methods = correlation_methods,
    .run = run_correlation,
};

/* --- sum-spread ---------------------------------------------------------------------------------------------------- */

static const Input sum_inputs[] = {
    IN_LIST("task_sd", "h"),
    IN_NUMBER("correlation", "1", .standard = "0.25"),
};
static const Output sum_outputs[] = {OUT_NUMBER("sd", "h"), OUT_NUMBER("sd_independent", "h"),
                                     OUT_NUMBER("sd_together", "h")};
static const Method *const sum_methods[] = {&together_sum_method, NULL};

static void
run_sum(const CalcArguments *in, CalcResults *out)
{
    size_t n;
    const double *sd_h = argument_list(in, "task_sd", &n);
    SumSpread sum;
    if (together_sum(n, sd_h, argument_number(in, "correlation"), &sum) == REFUSED)
        results_refuse(out,
                       "no spread may be negative, and the correlation of all pairs lies between "
                       "-1/(n - 1) and 1");
    results_set(out, "sd", sum.sd_h);
    results_set(out, "sd_independent", sum.independent_h);
    results_set(out, "sd_together", sum.together_h);
}

const Calculator calculator_sum_spread = {
    .name = "sum-spread",
    .question = "spread of a sum of tasks that go wrong together",
    .sheet = "work.md 1.5, 4",
    CALCULATOR_BODY(sum_inputs, sum_outputs),
    .methods = sum_methods,
    .run = run_sum,
};
