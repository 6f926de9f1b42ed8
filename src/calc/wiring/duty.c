/* Calculators of short-time duty. */
#include "calc/arguments.h"
#include "calc/results.h"
#include "physics/wiring/overload.h"

static const Input overload_inputs[] = {
    IN_NUMBER("time_constant", "s"),
    IN_NUMBER("overload", "1"),
};
static const Output overload_outputs[] = {OUT_NUMBER("time", "s")};
static const Method *const overload_methods[] = {&overload_time_method, NULL};

static void
run_overload(const CalcArguments *in, CalcResults *out)
{
    double time_s;
    if (overload_time(argument_number(in, "time_constant"), argument_number(in, "overload"),
                      &time_s) == REFUSED)
        results_refuse(out, "the time constant must be positive and the overload above 1: at its "
                            "continuous current a motor has no time limit");
    results_set(out, "time", time_s);
}

const Calculator calculator_overload_time = {
    .name = "overload-time",
    .question = "how long a motor may run above its continuous current from cold",
    .sheet = "wires.md 8",
    CALCULATOR_BODY(overload_inputs, overload_outputs),
    .methods = overload_methods,
    .run = run_overload,
};
