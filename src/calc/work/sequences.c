/* Calculators of samples: quasi-random points, what samples of a kind miss, and shares of variance found with them. */
#include <math.h>
#include <stdlib.h>

#include "calc/arguments.h"
#include "calc/results.h"
#include "catalog/trade_table.h"
#include "physics/domain.h"
#include "physics/work/sample_mean.h"
#include "physics/work/sensitivity.h"

/* Dimensions 2 and up of the table; g_free. Its numbers are proved by sobol_open. */
static SobolRow *
sobol_rows(void)
{
    g_autoptr(TradeTable) table = trade_table_load(TABLE_SOBOL);
    SobolRow *row = g_new0(SobolRow, table->n);
    for (size_t i = 0; i < table->n; i++) {
        const char *at = table->text[0][i];
        row[i].degree = (unsigned) table->figure[1][i];
        row[i].code = (unsigned) strtoul(table->text[1][i], NULL, 10);
        for (size_t k = 0; k < SOBOL_DEGREE && *at != '\0'; k++) {
            char *end;
            row[i].m[k] = (uint32_t) strtoul(at, &end, 10);
            at = end;
        }
    }
    return row;
}

static bool
sobol_ready(Sobol *sobol, size_t dimensions)
{
    g_autofree SobolRow *row = sobol_rows();
    return sobol_open(sobol, dimensions, row);
}

/* --- sequence-point ------------------------------------------------------------------------------------------------ */

static const char *const sequence_words[] = {"sobol", "halton", NULL};
static const Input point_inputs[] = {IN_WORD("sequence", sequence_words, .standard = "sobol"),
                                     IN_NUMBER("index", "1"), IN_NUMBER("dimension", "1")};
static const Output point_outputs[] = {OUT_NUMBER("coordinate", "1")};
static const Method *const point_methods[] = {&sobol_method, &halton_method, NULL};

static double
sobol_coordinate(uint32_t index, size_t dimension)
{
    Sobol sobol;
    if (!sobol_ready(&sobol, dimension))
        return NAN;
    double x = sobol_at(&sobol, index, dimension - 1);
    sobol_close(&sobol);
    return x;
}

static void
run_point(const CalcArguments *in, CalcResults *out)
{
    bool sobol = argument_choice(in, "sequence") == 0;
    double index = argument_number(in, "index"), dimension = argument_number(in, "dimension");
    if (!is_whole(index, 0.0, sobol ? 4294967295.0 : 9e15) ||
        !is_whole(dimension, 1.0, sobol ? SOBOL_MOST : HALTON_MOST)) {
        results_refuse(out, sobol ? "Sobol: dimension 1 to 129, index a whole number below 2^32"
                                  : "Halton: dimension 1 to 1000, index a whole number from 0 up");
        return;
    }
    results_limit(out, !sobol && dimension > HALTON_GOOD ? EXTRAPOLATED : VALID);
    results_set(out, "coordinate",
                sobol ? sobol_coordinate((uint32_t) index, (size_t) dimension)
                      : radical_inverse((uint64_t) index, halton_base((size_t) dimension)));
}

const Calculator calculator_sequence_point = {
    .name = "sequence-point",
    .question = "one coordinate of a quasi-random point",
    .sheet = "work.md 6.3",
    CALCULATOR_BODY(point_inputs, point_outputs),
    .methods = point_methods,
    .run = run_point,
};

/* --- sample-mean --------------------------------------------------------------------------------------------------- */

static const char *const mean_words[] = {"g-function", "exponential", "coordinate-power",
                                         "coordinate-product", NULL};
static const TrialForm mean_forms[] = {TRIAL_G, TRIAL_EXPONENTIAL, TRIAL_POWER, TRIAL_COORDINATES};
static const char *const sampling_words[] = {
    "sobol", "halton", "random", "latin-hypercube", "scrambled-sobol", NULL}; /* as Sampling */
static const Input mean_inputs[] = {
    IN_WORD("function", mean_words),
    IN_LIST("parameter", "1"),
    IN_WORD("sampling", sampling_words, .standard = "sobol"),
    IN_NUMBER("samples", "1"),
    IN_NUMBER("replicates", "1", .standard = "1"),
    IN_NUMBER("seed", "1", .standard = "1"),
};
static const Output mean_outputs[] = {OUT_NUMBER("mean", "1"), OUT_NUMBER("exact", "1"),
                                      OUT_NUMBER("rms_error", "1")};
static const Method *const mean_methods[] = {&sample_latin_method, &sample_error_method,
                                             &trial_g_method, NULL};

/* False: an error or a refusal stands in out. */
static bool
read_function(const CalcArguments *in, CalcResults *out, TrialForm form, TrialFunction *function)
{
    size_t n;
    const double *parameter = argument_list(in, "parameter", &n);
    if (!trial_function_takes(form, n, parameter)) {
        results_error(out, "parameter: ishigami takes [a, b], g-function [a1, a2, ...], product "
                           "[m1, s1, m2, s2, ...], exponential [d], coordinate-power [k], "
                           "coordinate-product [d1, d2, ...] with dimensions up to 1000");
        return false;
    }
    if (trial_function_open(form, n, parameter, function) == REFUSED)
        results_refuse(out, "no parameter of the g-function, spread or power may be negative");
    return results_validity(out) != REFUSED;
}

static Validity
mean_by(const CalcArguments *in, const TrialFunction *function, Sobol *sobol, double *mean,
        double *error)
{
    double samples = argument_number(in, "samples"), seed = argument_number(in, "seed");
    double replicates = argument_number(in, "replicates");
    if (!is_whole(samples, 1.0, SAMPLE_MOST) || !is_whole(replicates, 1.0, SAMPLE_MOST) ||
        !is_whole(seed, 0.0, 9e15) ||
        samples * replicates * (double) function->dimensions > 10.0 * SAMPLE_MOST)
        return REFUSED;
    return sample_mean(function, (Sampling) argument_choice(in, "sampling"), sobol,
                       (size_t) samples, (size_t) replicates, (uint64_t) seed, mean, error);
}

static void
run_mean(const CalcArguments *in, CalcResults *out)
{
    TrialFunction function;
    if (!read_function(in, out, mean_forms[argument_choice(in, "function")], &function))
        return;
    Sampling sampling = (Sampling) argument_choice(in, "sampling");
    Sobol sobol;
    bool by_sobol = sampling == SAMPLING_SOBOL || sampling == SAMPLING_SCRAMBLED;
    bool ready = by_sobol && sobol_ready(&sobol, function.dimensions);
    double mean, error;
    Validity validity = mean_by(in, &function, ready ? &sobol : NULL, &mean, &error);
    if (ready)
        sobol_close(&sobol);
    if (validity == REFUSED) {
        results_refuse(out, "samples, replicates and seed are whole numbers, 20 million samples "
                            "times dimensions at most and ten times that with the replicates; "
                            "sobol and halton have one replicate; Sobol ends at dimension 129");
        return;
    }
    results_limit(out, validity);
    results_set(out, "mean", mean);
    results_set(out, "exact", trial_function_mean(&function));
    results_set(out, "rms_error", error);
}

const Calculator calculator_sample_mean = {
    .name = "sample-mean",
    .question = "mean of a test function over a sample, and how far samples of this kind miss",
    .sheet = "work.md 6.3",
    CALCULATOR_BODY(mean_inputs, mean_outputs),
    .methods = mean_methods,
    .run = run_mean,
};

/* --- sensitivity-indices ------------------------------------------------------------------------------------------- */

static const char *const share_words[] = {"ishigami", "g-function", "product", NULL};
static const TrialForm share_forms[] = {TRIAL_ISHIGAMI, TRIAL_G, TRIAL_PRODUCT};
enum { METHOD_EXACT, METHOD_JANSEN, METHOD_SALTELLI };
static const char *const method_words[] = {"exact", "jansen", "saltelli", NULL};
static const Input share_inputs[] = {
    IN_WORD("function", share_words),
    IN_LIST("parameter", "1"),
    IN_WORD("method", method_words, .standard = "exact"),
    IN_NUMBER("samples", "1", .standard = "16384"),
    IN_NUMBER("seed", "1", .standard = "1"),
};
static const Output share_outputs[] = {OUT_NUMBER("mean", "1"), OUT_NUMBER("variance", "1"),
                                       OUT_NUMBERS("first", "1"), OUT_NUMBERS("total", "1")};
static const Method *const share_methods[] = {&trial_ishigami_method,
                                              &trial_g_method,
                                              &trial_product_method,
                                              &sensitivity_jansen_method,
                                              &sensitivity_saltelli_method,
                                              &sensitivity_total_method,
                                              NULL};

static Validity
shares_sampled(const CalcArguments *in, const TrialFunction *function, double *mean,
               double *variance, double first[], double total[])
{
    double samples = argument_number(in, "samples"), seed = argument_number(in, "seed");
    Sobol sobol;
    if (!is_whole(samples, 2.0, SENSITIVITY_MOST) || !is_whole(seed, 0.0, 9e15) ||
        !sobol_ready(&sobol, 2 * function->dimensions))
        return REFUSED;
    Dice dice = {(uint64_t) seed};
    FirstEstimator estimator =
        argument_choice(in, "method") == METHOD_JANSEN ? FIRST_JANSEN : FIRST_SALTELLI;
    sobol_scramble(&sobol, &dice);
    Validity validity = sensitivity_sampled(function, estimator, &sobol, (size_t) samples, mean,
                                            variance, first, total);
    sobol_close(&sobol);
    return validity;
}

static void
run_shares(const CalcArguments *in, CalcResults *out)
{
    TrialFunction function;
    if (!read_function(in, out, share_forms[argument_choice(in, "function")], &function))
        return;
    g_autofree double *first = g_new0(double, function.dimensions);
    g_autofree double *total = g_new0(double, function.dimensions);
    double mean = trial_function_mean(&function), variance;
    Validity validity = argument_choice(in, "method") == METHOD_EXACT
                            ? trial_function_shares(&function, &variance, first, total)
                            : shares_sampled(in, &function, &mean, &variance, first, total);
    if (validity == REFUSED) {
        results_refuse(out, "the function must vary; by samples it has 64 inputs at most, samples "
                            "and seed are whole numbers, and samples times inputs stay below 20 "
                            "million");
        return;
    }
    results_limit(out, validity);
    results_set(out, "mean", mean);
    results_set(out, "variance", variance);
    for (size_t i = 0; i < function.dimensions; i++) {
        results_set_at(out, "first", i, first[i]);
        results_set_at(out, "total", i, total[i]);
    }
}

const Calculator calculator_sensitivity_indices = {
    .name = "sensitivity-indices",
    .question = "share of each input in the variance of a test function, exact or by samples",
    .sheet = "work.md 6.4",
    CALCULATOR_BODY(share_inputs, share_outputs),
    .methods = share_methods,
    .run = run_shares,
};
