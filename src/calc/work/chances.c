/* Calculators of chances: of a date, and how sure a counted one is. */
#include <math.h>

#include "calc/arguments.h"
#include "calc/results.h"
#include "physics/work/lateness.h"

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
