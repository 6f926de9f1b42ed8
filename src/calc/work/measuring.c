/* Calculators of what to measure, and whether to look at all. */
#include "physics/work/measuring.h"

#include <math.h>

#include "calc/arguments.h"
#include "calc/results.h"

/* --- measure-value ------------------------------------------------------------------------------------------------- */

static const Input measure_inputs[] = {
    IN_NUMBER("mean", "1"),
    IN_NUMBER("sd", "1", .otherwise = "none"),
    IN_NUMBER("part_sd", "1", .otherwise = "none"),
    IN_NUMBER("noise", "1", .otherwise = "none"),
    IN_NUMBER("readings", "1", .standard = "1"),
    IN_NUMBER("cost", "1", .standard = "0"),
};
static const Output measure_outputs[] = {OUT_NUMBER("perfect", "1"), OUT_NUMBER("part", "1"),
                                         OUT_NUMBER("preposterior_sd", "1"),
                                         OUT_NUMBER("sample", "1"), OUT_NUMBER("net", "1")};
static const Method *const measure_methods[] = {&measure_value_method, &measure_sample_method,
                                                NULL};

static void
run_measure(const CalcArguments *in, CalcResults *out)
{
    Measuring asked = {argument_number(in, "mean"),     argument_number(in, "sd"),
                       argument_number(in, "part_sd"),  argument_number(in, "noise"),
                       argument_number(in, "readings"), argument_number(in, "cost")};
    MeasureValue found;
    if (isnan(asked.sd) && isnan(asked.part_sd)) {
        results_error(out, "sd or part_sd is needed: the spread of the difference, or the part of "
                           "it that could be measured");
        return;
    }
    if (measure_value(&asked, &found) == REFUSED)
        results_refuse(out, "no spread may be negative nor part_sd above sd, readings are a whole "
                            "number from 1 up, the cost is not negative");
    results_set(out, "perfect", found.perfect);
    results_set(out, "part", found.part);
    results_set(out, "preposterior_sd", found.preposterior_sd);
    results_set(out, "sample", found.sample);
    results_set(out, "net", found.net);
}

const Calculator calculator_measure_value = {
    .name = "measure-value",
    .question = "what a measurement is worth before a choice of two options",
    .sheet = "work.md 6.6",
    CALCULATOR_BODY(measure_inputs, measure_outputs),
    .methods = measure_methods,
    .run = run_measure,
};

/* --- inspection-value ---------------------------------------------------------------------------------------------- */

static const char *const now_words[] = {"leave", "act", NULL};
static const Input inspection_inputs[] = {
    IN_NUMBER("chance_bad", "1"),
    IN_NUMBER("act_cost", "1"),
    IN_NUMBER("bad_cost", "1"),
    IN_NUMBER("detects", "1", .standard = "1"),
    IN_NUMBER("clears", "1", .standard = "1"),
    IN_NUMBER("test_cost", "1", .standard = "0"),
};
static const Output inspection_outputs[] = {
    OUT_WORD("best_now", now_words),    OUT_NUMBER("cost_now", "1"),
    OUT_NUMBER("leave_cost", "1"),      OUT_NUMBER("break_even", "1"),
    OUT_NUMBER("perfect", "1"),         OUT_NUMBER("chance_alarm", "1"),
    OUT_NUMBER("bad_after_alarm", "1"), OUT_NUMBER("bad_after_clear", "1"),
    OUT_NUMBER("test_value", "1"),      OUT_NUMBER("net", "1")};
static const Method *const inspection_methods[] = {&inspection_break_even_method,
                                                   &inspection_bayes_method, NULL};

static void
run_inspection(const CalcArguments *in, CalcResults *out)
{
    Inspection asked = {argument_number(in, "chance_bad"), argument_number(in, "act_cost"),
                        argument_number(in, "bad_cost"),   argument_number(in, "detects"),
                        argument_number(in, "clears"),     argument_number(in, "test_cost")};
    InspectionValue found;
    if (inspection_value(&asked, &found) == REFUSED)
        results_refuse(out, "chances lie within 0 to 1, act_cost and bad_cost are above 0, "
                            "test_cost is not negative");
    results_word(out, "best_now", now_words[found.act]);
    results_set(out, "cost_now", found.cost_now);
    results_set(out, "leave_cost", found.leave_cost);
    results_set(out, "break_even", found.break_even);
    results_set(out, "perfect", found.perfect);
    results_set(out, "chance_alarm", found.chance_alarm);
    results_set(out, "bad_after_alarm", found.bad_after_alarm);
    results_set(out, "bad_after_clear", found.bad_after_clear);
    results_set(out, "test_value", found.test_value);
    results_set(out, "net", found.net);
}

const Calculator calculator_inspection_value = {
    .name = "inspection-value",
    .question = "whether to inspect, act at once or leave alone",
    .sheet = "work.md 6.6",
    CALCULATOR_BODY(inspection_inputs, inspection_outputs),
    .methods = inspection_methods,
    .run = run_inspection,
};
