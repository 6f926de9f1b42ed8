/* Calculators of uncertain durations. */
#include <math.h>

#include "calc/arguments.h"
#include "calc/results.h"
#include "physics/work/duration.h"

static const char *const model_words[] = {"pert",    "pert-beta", "triangular",
                                          "uniform", "lognormal", NULL}; /* as DurationModel */

static const Input spread_inputs[] = {
    IN_WORD("model", model_words, .standard = "pert-beta"),
    IN_NUMBER("low", "h", .otherwise = "none"),
    IN_NUMBER("likely", "h", .otherwise = "none"),
    IN_NUMBER("high", "h", .otherwise = "none"),
    IN_NUMBER("weight", "1", .standard = "4"),
    IN_NUMBER("mean", "h", .otherwise = "none"),
    IN_NUMBER("variation", "1", .otherwise = "none"),
    IN_NUMBER("p10", "h", .otherwise = "none"),
    IN_NUMBER("p90", "h", .otherwise = "none"),
    IN_NUMBER("at", "h", .otherwise = "none"),
};
static const Output spread_outputs[] = {
    OUT_NUMBER("low", "h"),  OUT_NUMBER("high", "h"),      OUT_NUMBER("alpha", "1"),
    OUT_NUMBER("beta", "1"), OUT_NUMBER("log_mean", "1"),  OUT_NUMBER("log_sd", "1"),
    OUT_NUMBER("mean", "h"), OUT_NUMBER("variance", "h2"), OUT_NUMBER("sd", "h"),
    OUT_NUMBER("p10", "h"),  OUT_NUMBER("p50", "h"),       OUT_NUMBER("p80", "h"),
    OUT_NUMBER("p90", "h"),  OUT_NUMBER("chance", "1")};
static const Method *const spread_methods[] = {
    &duration_classic_method, &duration_beta_method,      &duration_triangular_method,
    &duration_uniform_method, &duration_lognormal_method, NULL};

/* The inputs that describe a duration, and the sets that do for each model; a bit an input. */
enum { LOW = 1, LIKELY = 2, HIGH = 4, MEAN = 8, VARIATION = 16, P10 = 32, P90 = 64 };
static const char *const described[] = {"low", "likely", "high", "mean", "variation", "p10", "p90"};

static unsigned
given(const CalcArguments *in)
{
    unsigned set = 0;
    for (size_t i = 0; i < COUNT(described); i++)
        set |= argument_given(in, described[i]) ? 1u << i : 0u;
    return set;
}

static Validity
spread_read(const CalcArguments *in, DurationModel model, unsigned set, Duration *d)
{
    double likely = argument_number(in, "likely"), p10 = argument_number(in, "p10");
    double p90 = argument_number(in, "p90");
    if (set == (MEAN | VARIATION))
        return duration_lognormal(argument_number(in, "mean"), argument_number(in, "variation"), d);
    if (set == (P10 | P90))
        return duration_lognormal_between(p10, p90, d);
    if (set == (P10 | LIKELY | P90))
        return duration_triangle(p10, likely, p90, d);
    return duration_three(model, argument_number(in, "low"), likely, argument_number(in, "high"),
                          argument_number(in, "weight"), d);
}

/* What the model wants, in words, when it did not get it; or NULL. */
static const char *
spread_lacks(DurationModel model, unsigned set)
{
    switch (model) {
    case DURATION_UNIFORM:
        return set == (LOW | HIGH) ? NULL : "a uniform duration takes low and high, nothing else";
    case DURATION_LOGNORMAL:
        return set == (MEAN | VARIATION) || set == (P10 | P90)
                   ? NULL
                   : "a lognormal duration takes either mean and variation or p10 and p90";
    case DURATION_TRIANGULAR:
        return set == (LOW | LIKELY | HIGH) || set == (P10 | LIKELY | P90)
                   ? NULL
                   : "a triangular duration takes either low, likely and high or p10, likely and "
                     "p90";
    case DURATION_CLASSIC:
    case DURATION_BETA:
        break;
    }
    return set == (LOW | LIKELY | HIGH) ? NULL : "this model takes low, likely and high";
}

static void
run_spread(const CalcArguments *in, CalcResults *out)
{
    DurationModel model = (DurationModel) argument_choice(in, "model");
    unsigned set = given(in);
    const char *lacks = spread_lacks(model, set);
    Duration d;
    if (lacks != NULL) {
        results_error(out, lacks);
        return;
    }
    Validity validity = spread_read(in, model, set, &d);
    if (validity == REFUSED) {
        results_refuse(
            out, "three points must rise from 0 or more: low, likely, high or p10, likely, p90; "
                 "weight, mean and variation must be positive");
        return;
    }
    results_limit(out, validity);
    results_set(out, "low", d.low_h);
    results_set(out, "high", d.high_h);
    results_set(out, "alpha", d.alpha);
    results_set(out, "beta", d.beta);
    results_set(out, "log_mean", d.log_mean);
    results_set(out, "log_sd", d.log_sd);
    results_set(out, "mean", d.mean_h);
    results_set(out, "variance", d.variance_h2);
    results_set(out, "sd", sqrt(d.variance_h2));
    results_set(out, "p10", duration_at(&d, 0.1));
    results_set(out, "p50", duration_at(&d, 0.5));
    results_set(out, "p80", duration_at(&d, 0.8));
    results_set(out, "p90", duration_at(&d, 0.9));
    results_set(out, "chance", duration_chance(&d, argument_number(in, "at")));
}

const Calculator calculator_duration_spread = {
    .name = "duration-spread",
    .question = "mean, spread and percentiles of a duration from three points, two percentiles, or "
                "mean and variation",
    .sheet = "work.md 1.2",
    CALCULATOR_BODY(spread_inputs, spread_outputs),
    .methods = spread_methods,
    .run = run_spread,
};
