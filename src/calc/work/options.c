/* Calculators of a choice between plans or options. */
#include <math.h>

#include "calc/arguments.h"
#include "calc/results.h"
#include "calc/work/table_words.h"
#include "physics/work/dominance.h"
#include "physics/work/scenarios.h"
#include "physics/work/two_plans.h"

/* --- two-plans ----------------------------------------------------------------------------------------------------- */

static const Input plans_inputs[] = {
    IN_NUMBER("mean_a", "h"),
    IN_NUMBER("sd_a", "h"),
    IN_NUMBER("mean_b", "h"),
    IN_NUMBER("sd_b", "h"),
    IN_NUMBER("deadline", "h", .otherwise = "none"),
};
static const Output plans_outputs[] = {
    OUT_NUMBER("chance_a", "1"),        OUT_NUMBER("chance_b", "1"),
    OUT_NUMBER("lateness_a", "h"),      OUT_NUMBER("lateness_b", "h"),
    OUT_NUMBER("crossing", "h"),        OUT_NUMBER("crossing_chance", "1"),
    OUT_NUMBER("chance_a_earlier", "1")};
static const Method *const plans_methods[] = {&two_plans_crossing_method, &two_plans_earlier_method,
                                              NULL};

static void
run_plans(const CalcArguments *in, CalcResults *out)
{
    NormalFinish a = {argument_number(in, "mean_a"), argument_number(in, "sd_a")};
    NormalFinish b = {argument_number(in, "mean_b"), argument_number(in, "sd_b")};
    TwoPlans found;
    if (two_plans(a, b, argument_number(in, "deadline"), &found) == REFUSED)
        results_refuse(out, "both plans need a spread above 0");
    results_set(out, "chance_a", found.chance_a);
    results_set(out, "chance_b", found.chance_b);
    results_set(out, "lateness_a", found.lateness_a_h);
    results_set(out, "lateness_b", found.lateness_b_h);
    results_set(out, "crossing", found.crossing_h);
    results_set(out, "crossing_chance", found.crossing_chance);
    results_set(out, "chance_a_earlier", found.a_earlier);
}

const Calculator calculator_two_plans = {
    .name = "two-plans",
    .question = "which of two plans is likelier in time, and from which deadline on",
    .sheet = "work.md 5",
    CALCULATOR_BODY(plans_inputs, plans_outputs),
    .methods = plans_methods,
    .run = run_plans,
};

/* --- paired-trials ------------------------------------------------------------------------------------------------- */

static const Input paired_inputs[] = {IN_NUMBER("trials", "1"), IN_NUMBER("only_a", "1"),
                                      IN_NUMBER("only_b", "1")};
static const Output paired_outputs[] = {OUT_NUMBER("difference", "1"),
                                        OUT_NUMBER("standard_error", "1")};
static const Method *const paired_methods[] = {&paired_trials_method, NULL};

static void
run_paired(const CalcArguments *in, CalcResults *out)
{
    double difference, error;
    if (paired_trials(argument_number(in, "trials"), argument_number(in, "only_a"),
                      argument_number(in, "only_b"), &difference, &error) == REFUSED)
        results_refuse(out, "all three are whole numbers from 0 up, at least one trial, and only_a "
                            "and only_b together no more than the trials");
    results_set(out, "difference", difference);
    results_set(out, "standard_error", error);
}

const Calculator calculator_paired_trials = {
    .name = "paired-trials",
    .question = "how sure the difference of two options is when both saw the same trials",
    .sheet = "work.md 5",
    CALCULATOR_BODY(paired_inputs, paired_outputs),
    .methods = paired_methods,
    .run = run_paired,
};

/* --- scenario-choice ----------------------------------------------------------------------------------------------- */

static const Column cost_columns[] = {
    {.name = "option"}, {.name = "scenario"}, {.name = "cost", .unit = "1"}};
static const Column chance_columns[] = {{.name = "scenario"}, {.name = "chance", .unit = "1"}};
static const Input scenario_inputs[] = {IN_TABLE("costs", cost_columns),
                                        IN_TABLE("chances", chance_columns)};
static const Output scenario_outputs[] = {
    OUT_NUMBERS("expected", "1"),        OUT_NUMBERS("max_regret", "1"),
    OUT_NUMBERS("expected_regret", "1"), OUT_TEXT("best", "option"),
    OUT_TEXT("least_regret", "option"),  OUT_NUMBER("perfect_information", "1")};
static const Method *const scenario_methods[] = {&scenario_expected_method, &scenario_regret_method,
                                                 NULL};

/* The costs as a grid, NAN where the table has none; NULL: an error of input stands in out. g_free. */
static double *
cost_grid(const CalcArguments *in, CalcResults *out, const GPtrArray *options,
          const GPtrArray *scenarios)
{
    size_t rows = argument_rows(in, "costs"), cells = (size_t) options->len * scenarios->len;
    const char *const *option = argument_column_text(in, "costs", "option");
    const char *const *scenario = argument_column_text(in, "costs", "scenario");
    const double *cost = argument_column(in, "costs", "cost");
    g_autofree double *grid = g_new(double, cells);
    for (size_t k = 0; k < cells; k++)
        grid[k] = NAN;
    for (size_t i = 0; i < rows; i++) {
        size_t s = table_words_find(scenarios, scenario[i]),
               o = table_words_find(options, option[i]);
        if (s == scenarios->len || !isnan(grid[o * scenarios->len + s])) {
            table_words_error(out,
                              "costs: scenario `%s` of option `%s` has no chance or stands twice",
                              scenario[i], option[i]);
            return NULL;
        }
        grid[o * scenarios->len + s] = cost[i];
    }
    return g_steal_pointer(&grid);
}

static void
run_scenarios(const CalcArguments *in, CalcResults *out)
{
    size_t n = argument_rows(in, "costs"), m = argument_rows(in, "chances");
    g_autoptr(GPtrArray) options =
        table_words_gather(n, argument_column_text(in, "costs", "option"));
    g_autoptr(GPtrArray) scenarios =
        table_words_gather(m, argument_column_text(in, "chances", "scenario"));
    if (scenarios->len < m) {
        results_error(out, "chances: a scenario stands twice");
        return;
    }
    g_autofree double *grid = cost_grid(in, out, options, scenarios);
    if (grid == NULL)
        return;
    g_autofree ScenarioOption *found = g_new0(ScenarioOption, options->len);
    ScenarioChoice choice;
    if (scenario_choice(options->len, scenarios->len, grid,
                        argument_column(in, "chances", "chance"), found, &choice) == REFUSED) {
        results_refuse(out,
                       "every option needs a cost in every scenario, and the chances sum to 1");
        return;
    }
    for (size_t o = 0; o < options->len; o++) {
        results_set_of(out, "expected", options->pdata[o], found[o].expected);
        results_set_of(out, "max_regret", options->pdata[o], found[o].max_regret);
        results_set_of(out, "expected_regret", options->pdata[o], found[o].expected_regret);
    }
    results_word(out, "best", options->pdata[choice.best]);
    results_word(out, "least_regret", options->pdata[choice.least_regret]);
    results_set(out, "perfect_information", choice.perfect_information);
}

const Calculator calculator_scenario_choice = {
    .name = "scenario-choice",
    .question = "expected cost, regret and value of knowing the scenario",
    .sheet = "work.md 5",
    CALCULATOR_BODY(scenario_inputs, scenario_outputs),
    .methods = scenario_methods,
    .run = run_scenarios,
};

/* --- dominance ----------------------------------------------------------------------------------------------------- */

static const char *const better_words[] = {"a", "b", "both", "neither", NULL}; /* as Better */
static const Input dominance_inputs[] = {IN_LIST("value", "h"), IN_LIST("chance_a", "1"),
                                         IN_LIST("chance_b", "1")};
static const Output dominance_outputs[] = {OUT_WORD("first_order", better_words),
                                           OUT_WORD("convex_order", better_words),
                                           OUT_NUMBER("mean_a", "h"), OUT_NUMBER("mean_b", "h")};
static const Method *const dominance_methods[] = {&dominance_first_method, &dominance_convex_method,
                                                  NULL};

static void
run_dominance(const CalcArguments *in, CalcResults *out)
{
    size_t n, n_a, n_b;
    const double *value = argument_list(in, "value", &n);
    const double *a = argument_list(in, "chance_a", &n_a);
    const double *b = argument_list(in, "chance_b", &n_b);
    Dominance found;
    if (n_a != n || n_b != n) {
        results_error(out, "chance_a and chance_b need one chance for each value");
        return;
    }
    if (dominance(n, value, a, b, &found) == REFUSED) {
        results_refuse(out, "the values must rise, and each list of chances sums to 1");
        return;
    }
    results_word(out, "first_order", better_words[found.first_order]);
    results_word(out, "convex_order", better_words[found.convex_order]);
    results_set(out, "mean_a", found.mean_a);
    results_set(out, "mean_b", found.mean_b);
}

const Calculator calculator_dominance = {
    .name = "dominance",
    .question = "whether one option is better whatever the deadline, or for all who dislike delay",
    .sheet = "work.md 5",
    CALCULATOR_BODY(dominance_inputs, dominance_outputs),
    .methods = dominance_methods,
    .run = run_dominance,
};
