/* Calculators of uncertainty: budgets, rectangular errors, readings, lines. */
#include <math.h>

#include "calc/arguments.h"
#include "calc/results.h"
#include "calc/work/table_words.h"
#include "physics/work/readings.h"
#include "physics/work/rectangular_sum.h"
#include "physics/work/uncertainty_budget.h"

/* --- uncertainty-budget -------------------------------------------------------------------------------------------- */

static const char *const shape_words[] = {"standard", "rectangular", "triangular", NULL};
static const Column contribution_columns[] = {
    {.name = "input"},
    {.name = "sensitivity", .unit = "1"},
    {.name = "uncertainty", .unit = "1"},
    {.name = "shape", .words = shape_words, .optional = true},
    {.name = "freedom", .unit = "1", .optional = true, .absent = INFINITY}};
static const Column correlation_columns[] = {
    {.name = "input"}, {.name = "input_2"}, {.name = "correlation", .unit = "1"}};
static const Column cross_columns[] = {
    {.name = "input"}, {.name = "input_2"}, {.name = "cross_sensitivity", .unit = "1"}};
static const Input budget_inputs[] = {
    IN_TABLE("contributions", contribution_columns),
    IN_TABLE("correlations", correlation_columns, .otherwise = "none"),
    IN_TABLE("cross", cross_columns, .otherwise = "none"),
    IN_NUMBER("confidence", "1", .standard = "95 %"),
};
static const Output budget_outputs[] = {
    OUT_NUMBERS("contribution", "1"),  OUT_NUMBER("combined", "1"),
    OUT_NUMBER("freedom", "1"),        OUT_NUMBER("coverage", "1"),
    OUT_NUMBER("expanded", "1"),       OUT_NUMBERS("cross_contribution", "1"),
    OUT_NUMBER("combined_second", "1")};
static const Method *const budget_methods[] = {&budget_combined_method, &budget_freedom_method,
                                               &budget_second_method, NULL};

/* NULL: an error of input stands in out. g_free. */
static BudgetPair *
read_pairs(const CalcArguments *in, CalcResults *out, const GPtrArray *names, const char *table,
           const char *column)
{
    size_t n = argument_rows(in, table);
    g_autofree BudgetPair *pair = g_new0(BudgetPair, n + 1);
    for (size_t k = 0; k < n; k++) {
        const char *a = argument_column_text(in, table, "input")[k];
        const char *b = argument_column_text(in, table, "input_2")[k];
        pair[k] = (BudgetPair){table_words_find(names, a), table_words_find(names, b),
                               argument_column(in, table, column)[k]};
        bool twice = false;
        for (size_t l = 0; l < k && !twice; l++)
            twice = (pair[l].i == pair[k].i && pair[l].j == pair[k].j) ||
                    (pair[l].i == pair[k].j && pair[l].j == pair[k].i);
        if (twice || pair[k].i == names->len || pair[k].j == names->len || pair[k].i == pair[k].j) {
            table_words_error(out,
                              "%s: two different inputs of the contributions are expected, each "
                              "pair once, not `%s` and `%s`",
                              table, a, b);
            return NULL;
        }
    }
    return g_steal_pointer(&pair);
}

static BudgetInput *
read_contributions(const CalcArguments *in, size_t n)
{
    static const double share[] = {1.0, 1.7320508075688772, 2.4494897427831781};
    const double *c = argument_column(in, "contributions", "sensitivity");
    const double *u = argument_column(in, "contributions", "uncertainty");
    const double *freedom = argument_column(in, "contributions", "freedom");
    const size_t *shape = argument_column_choice(in, "contributions", "shape");
    BudgetInput *input = g_new0(BudgetInput, n + 1);
    for (size_t i = 0; i < n; i++)
        input[i] = (BudgetInput){c[i], u[i] / share[shape[i]], freedom[i]};
    return input;
}

static void
run_budget(const CalcArguments *in, CalcResults *out)
{
    size_t n = argument_rows(in, "contributions");
    g_autoptr(GPtrArray) names =
        table_words_gather(n, argument_column_text(in, "contributions", "input"));
    if (names->len < n) {
        results_error(out, "contributions: an input stands twice");
        return;
    }
    g_autofree BudgetInput *input = read_contributions(in, n);
    g_autofree BudgetPair *correlation = read_pairs(in, out, names, "correlations", "correlation");
    g_autofree BudgetPair *cross = read_pairs(in, out, names, "cross", "cross_sensitivity");
    if (correlation == NULL || cross == NULL)
        return;
    Budget budget = {
        n,     argument_rows(in, "correlations"), argument_rows(in, "cross"), input, correlation,
        cross, argument_number(in, "confidence")};
    g_autofree double *part = g_new0(double, n + 1);
    g_autofree double *cross_part = g_new0(double, budget.crosses + 1);
    BudgetResult found;
    if (uncertainty_budget(&budget, part, cross_part, &found) == REFUSED) {
        results_refuse(out, "no uncertainty may be negative, freedoms are 1 or more, correlations "
                            "within -1 to 1 and such that the variance is not negative, the "
                            "confidence between 0 and 1");
        return;
    }
    for (size_t i = 0; i < n; i++)
        results_set_of(out, "contribution", names->pdata[i], part[i]);
    results_set(out, "combined", found.combined);
    results_set(out, "freedom", found.freedom);
    results_set(out, "coverage", found.coverage);
    results_set(out, "expanded", found.expanded);
    for (size_t k = 0; k < budget.crosses; k++)
        results_set_at(out, "cross_contribution", k, cross_part[k]);
    results_set(out, "combined_second", found.combined_second);
}

const Calculator calculator_uncertainty_budget = {
    .name = "uncertainty-budget",
    .question = "combined and expanded uncertainty of a result from its inputs",
    .sheet = "work.md 6.1",
    CALCULATOR_BODY(budget_inputs, budget_outputs),
    .methods = budget_methods,
    .run = run_budget,
};

/* --- rectangular-sum ----------------------------------------------------------------------------------------------- */

static const Input rectangular_inputs[] = {IN_LIST("half_width", "1"),
                                           IN_NUMBER("confidence", "1", .standard = "95 %")};
static const Output rectangular_outputs[] = {OUT_NUMBER("sd", "1"),
                                             OUT_NUMBER("half_interval", "1"),
                                             OUT_NUMBER("half_interval_normal", "1")};
static const Method *const rectangular_methods[] = {&rectangular_sd_method, &rectangular_sum_method,
                                                    NULL};

static void
run_rectangular(const CalcArguments *in, CalcResults *out)
{
    size_t n;
    const double *half_width = argument_list(in, "half_width", &n);
    RectangularSum found;
    if (rectangular_sum(n, half_width, argument_number(in, "confidence"), &found) == REFUSED)
        results_refuse(out, "1 to 12 half widths, all above 0, and a confidence between 0 and 1");
    results_set(out, "sd", found.sd);
    results_set(out, "half_interval", found.half_interval);
    results_set(out, "half_interval_normal", found.half_interval_normal);
}

const Calculator calculator_rectangular_sum = {
    .name = "rectangular-sum",
    .question = "exact interval of a sum of rectangular errors against the normal one",
    .sheet = "work.md 6.2",
    CALCULATOR_BODY(rectangular_inputs, rectangular_outputs),
    .methods = rectangular_methods,
    .run = run_rectangular,
};

/* --- repeat-readings ----------------------------------------------------------------------------------------------- */

static const Input repeat_inputs[] = {IN_LIST("reading", "1"),
                                      IN_LIST("second", "1", .otherwise = "none")};
static const Output repeat_outputs[] = {OUT_NUMBER("mean", "1"), OUT_NUMBER("sd", "1"),
                                        OUT_NUMBER("mean_uncertainty", "1"),
                                        OUT_NUMBER("correlation", "1")};
static const Method *const repeat_methods[] = {&readings_mean_method, NULL};

static void
run_repeat(const CalcArguments *in, CalcResults *out)
{
    size_t n, m;
    const double *reading = argument_list(in, "reading", &n);
    const double *second = argument_list(in, "second", &m);
    Repeated found;
    if (second != NULL && m != n) {
        results_error(out, "second needs as many readings as reading");
        return;
    }
    if (repeat_readings(n, reading, second, &found) == REFUSED)
        results_refuse(out, "at least two readings are needed");
    results_set(out, "mean", found.mean);
    results_set(out, "sd", found.sd);
    results_set(out, "mean_uncertainty", found.mean_uncertainty);
    results_set(out, "correlation", found.correlation);
}

const Calculator calculator_repeat_readings = {
    .name = "repeat-readings",
    .question = "mean of repeated readings and its uncertainty",
    .sheet = "work.md 6.1",
    CALCULATOR_BODY(repeat_inputs, repeat_outputs),
    .methods = repeat_methods,
    .run = run_repeat,
};

/* --- line-fit ------------------------------------------------------------------------------------------------------ */

static const Input line_inputs[] = {IN_LIST("x", "1"), IN_LIST("y", "1"),
                                    IN_NUMBER("origin", "1", .standard = "0"),
                                    IN_NUMBER("at", "1", .otherwise = "none")};
static const Output line_outputs[] = {
    OUT_NUMBER("intercept", "1"),   OUT_NUMBER("intercept_uncertainty", "1"),
    OUT_NUMBER("slope", "1"),       OUT_NUMBER("slope_uncertainty", "1"),
    OUT_NUMBER("correlation", "1"), OUT_NUMBER("residual_sd", "1"),
    OUT_NUMBER("value", "1"),       OUT_NUMBER("value_uncertainty", "1")};
static const Method *const line_methods[] = {&line_slope_method, &line_value_method, NULL};

static void
run_line(const CalcArguments *in, CalcResults *out)
{
    size_t n, m;
    const double *x = argument_list(in, "x", &n), *y = argument_list(in, "y", &m);
    FittedLine line;
    if (m != n) {
        results_error(out, "y needs one reading for each x");
        return;
    }
    if (line_fit(n, x, y, argument_number(in, "origin"), argument_number(in, "at"), &line) ==
        REFUSED)
        results_refuse(out, "at least three points are needed, and not all at one x");
    results_set(out, "intercept", line.intercept);
    results_set(out, "intercept_uncertainty", line.intercept_u);
    results_set(out, "slope", line.slope);
    results_set(out, "slope_uncertainty", line.slope_u);
    results_set(out, "correlation", line.correlation);
    results_set(out, "residual_sd", line.residual_sd);
    results_set(out, "value", line.value);
    results_set(out, "value_uncertainty", line.value_u);
}

const Calculator calculator_line_fit = {
    .name = "line-fit",
    .question = "straight calibration line and its uncertainty",
    .sheet = "work.md 6.1",
    CALCULATOR_BODY(line_inputs, line_outputs),
    .methods = line_methods,
    .run = run_line,
};
