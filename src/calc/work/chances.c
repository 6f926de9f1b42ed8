/* Calculators of chances: of a date, and how sure a counted one is. */
#include <math.h>

#include "calc/arguments.h"
#include "calc/results.h"
#include "physics/work/chance.h"
#include "physics/work/lateness.h"

/* --- lateness ------------------------------------------------------------------------------------------------------ */

static const Input lateness_inputs[] = {
    IN_NUMBER("mean", "h"),
    IN_NUMBER("sd", "h"),
    IN_NUMBER("deadline", "h", .otherwise = "none"),
    IN_NUMBER("confidence", "1", .otherwise = "none"),
    IN_NUMBER("late_rate", "1/h", .standard = "0 1/d"),
};
static const Output lateness_outputs[] = {
    OUT_NUMBER("chance", "1"), OUT_NUMBER("expected_lateness", "h"),
    OUT_NUMBER("expected_cost", "1"), OUT_NUMBER("finish_at", "h")};
static const Method *const lateness_methods[] = {&lateness_chance_method, &lateness_expected_method,
                                                 NULL};

static void
run_lateness(const CalcArguments *in, CalcResults *out)
{
    double mean_h = argument_number(in, "mean"), sd_h = argument_number(in, "sd");
    double chance = NAN, late_h = NAN, finish_h = NAN;
    Validity dated = VALID, sure = VALID;
    if (argument_given(in, "deadline"))
        dated = lateness_expected(mean_h, sd_h, argument_number(in, "deadline"), &chance, &late_h);
    if (argument_given(in, "confidence"))
        sure = lateness_finish(mean_h, sd_h, argument_number(in, "confidence"), &finish_h);
    if (!(sd_h > 0.0) || dated == REFUSED || sure == REFUSED)
        results_refuse(out, "the spread must be positive and the confidence lie between 0 and 1");
    results_set(out, "chance", chance);
    results_set(out, "expected_lateness", late_h);
    results_set(out, "expected_cost", late_h * argument_number(in, "late_rate"));
    results_set(out, "finish_at", finish_h);
}

const Calculator calculator_lateness = {
    .name = "lateness",
    .question = "chance, expected lateness and its cost for a normal finish against a deadline",
    .sheet = "work.md 1.7, 4",
    CALCULATOR_BODY(lateness_inputs, lateness_outputs),
    .methods = lateness_methods,
    .run = run_lateness,
};

/* --- chance-interval ----------------------------------------------------------------------------------------------- */

static const Input interval_inputs[] = {
    IN_NUMBER("met", "1"),
    IN_NUMBER("trials", "1"),
    IN_NUMBER("confidence", "1", .standard = "95 %"),
    IN_NUMBER("half_width", "1", .otherwise = "none"),
};
static const Output interval_outputs[] = {
    OUT_NUMBER("chance", "1"),    OUT_NUMBER("wilson_low", "1"), OUT_NUMBER("wilson_high", "1"),
    OUT_NUMBER("exact_low", "1"), OUT_NUMBER("exact_high", "1"), OUT_NUMBER("trials_needed", "1")};
static const Method *const interval_methods[] = {&chance_wilson_method, &chance_exact_method,
                                                 &chance_trials_method, NULL};

static void
run_interval(const CalcArguments *in, CalcResults *out)
{
    double confidence = argument_number(in, "confidence"), trials = NAN;
    ChanceInterval interval;
    if (chance_interval(argument_number(in, "met"), argument_number(in, "trials"), confidence,
                        &interval) == REFUSED)
        results_refuse(out, "met and trials must be whole numbers, no more met than trials and at "
                            "least one trial; the confidence lies between 0 and 1");
    else if (argument_given(in, "half_width") &&
             chance_trials(interval.chance, argument_number(in, "half_width"), confidence,
                           &trials) == REFUSED)
        results_refuse(out, "the half width must be positive");
    results_set(out, "chance", interval.chance);
    results_set(out, "wilson_low", interval.wilson_low);
    results_set(out, "wilson_high", interval.wilson_high);
    results_set(out, "exact_low", interval.exact_low);
    results_set(out, "exact_high", interval.exact_high);
    results_set(out, "trials_needed", trials);
}

const Calculator calculator_chance_interval = {
    .name = "chance-interval",
    .question = "how sure a chance counted from trials is, and the trials needed",
    .sheet = "work.md 1.7",
    CALCULATOR_BODY(interval_inputs, interval_outputs),
    .methods = interval_methods,
    .run = run_interval,
};

/* --- quantile-ranks ------------------------------------------------------------------------------------------------ */

static const Input ranks_inputs[] = {
    IN_NUMBER("trials", "1"),
    IN_NUMBER("quantile", "1"),
    IN_NUMBER("confidence", "1", .standard = "95 %"),
};
static const Output ranks_outputs[] = {OUT_NUMBER("rank_low", "1"), OUT_NUMBER("rank_high", "1"),
                                       OUT_NUMBER("coverage", "1")};

static void
run_ranks(const CalcArguments *in, CalcResults *out)
{
    QuantileRanks ranks;
    if (quantile_ranks(argument_number(in, "trials"), argument_number(in, "quantile"),
                       argument_number(in, "confidence"), &ranks) == REFUSED)
        results_refuse(out, "the sample has no such ranks: more trials, or a percentile nearer the "
                            "middle; quantile and confidence lie between 0 and 1");
    results_set(out, "rank_low", ranks.low);
    results_set(out, "rank_high", ranks.high);
    results_set(out, "coverage", ranks.coverage);
}

const Calculator calculator_quantile_ranks = {
    .name = "quantile-ranks",
    .question = "which order statistics of a sample bracket a percentile",
    .sheet = "work.md 1.7",
    CALCULATOR_BODY(ranks_inputs, ranks_outputs),
    .run = run_ranks,
};
