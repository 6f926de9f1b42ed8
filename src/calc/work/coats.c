/* Calculators of waiting for coats. */
#include "calc/arguments.h"
#include "calc/results.h"
#include "physics/work/coat.h"

static const Input wait_inputs[] = {
    IN_NUMBER("reference_wait", "h"),
    IN_NUMBER("reference_temperature", "K", .standard = "20 degC"),
    IN_LIST("temperature", "K"),
    IN_LIST("spell", "h", .otherwise = "none"),
    IN_NUMBER("least_temperature", "K", .otherwise = "none"),
};
static const Output wait_outputs[] = {OUT_NUMBER("wait", "h")};
static const Method *const wait_methods[] = {&coat_rate_method, NULL};

static void
run_wait(const CalcArguments *in, CalcResults *out)
{
    size_t n, spells;
    const double *temperature = argument_list(in, "temperature", &n);
    const double *spell = argument_list(in, "spell", &spells);
    double wait;
    if (n == 0 || spells > n || spells + 1 < n) {
        results_error(out, "spell needs one time for every temperature but the last, which holds "
                           "on and on");
        return;
    }
    if (coat_wait(argument_number(in, "reference_wait"),
                  argument_number(in, "reference_temperature"), n, temperature, spell,
                  argument_number(in, "least_temperature"), &wait) == REFUSED)
        results_refuse(out, "at these temperatures the coat never gets there, or a time is "
                            "negative");
    results_set(out, "wait", wait);
}

const Calculator calculator_coat_wait = {
    .name = "coat-wait",
    .question = "waiting time of a coat at other temperatures than its sheet's, constant or not",
    .sheet = "work.md 3.5",
    CALCULATOR_BODY(wait_inputs, wait_outputs),
    .methods = wait_methods,
    .run = run_wait,
};

static const Input recoat_inputs[] = {IN_NUMBER("surface_temperature", "K")};
static const Output recoat_outputs[] = {OUT_NUMBER("least", "h"), OUT_NUMBER("most", "h")};
static const Method *const recoat_methods[] = {&recoat_window_method, NULL};

static void
run_recoat(const CalcArguments *in, CalcResults *out)
{
    double least, most;
    Validity validity = recoat_window(argument_number(in, "surface_temperature"), &least, &most);
    if (validity == REFUSED)
        results_refuse(out, "the table goes from 16 degC to 49 degC");
    results_limit(out, validity);
    results_set(out, "least", least);
    results_set(out, "most", most);
}

const Calculator calculator_recoat_window = {
    .name = "recoat-window",
    .question = "least and greatest wait to the next coat of polyurethane on polyurethane",
    .sheet = "work.md 3.5",
    CALCULATOR_BODY(recoat_inputs, recoat_outputs),
    .methods = recoat_methods,
    .run = run_recoat,
};
