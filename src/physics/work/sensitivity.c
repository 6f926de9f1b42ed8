/* Shares of the variance. Invariant: the mean is taken off before anything is multiplied. */
#include "physics/work/sensitivity.h"

#include <string.h>

#include "physics/domain.h"
#include "physics/memory.h"

#define SHEET "as read in library documentation; docs/methods/work.md 6.4"
const Method sensitivity_jansen_method = {"Share of one input alone, after Jansen",
                                          "S_i = 1 - mean((f_B - f_ABi)^2) / (2 * V)",
                                          {"Jansen 1999, " SHEET, STANDING_SECONDARY}};
const Method sensitivity_saltelli_method = {
    "Share of one input alone, after Saltelli",
    "S_i = mean(f_B * (f_ABi - f_A)) / V",
    {"Saltelli and others 2010, " SHEET, STANDING_SECONDARY}};
const Method sensitivity_total_method = {"Share of one input and all it works with",
                                         "T_i = mean((f_A - f_ABi)^2) / (2 * V)",
                                         {"Jansen 1999, " SHEET, STANDING_SECONDARY}};

enum { LEAST_SAMPLES = 256 };

typedef struct {
    size_t d, n;
    double *f_A, *f_B, *f_AB; /* [n], [n], [d * n] */
} Values;

static void
values_take(Values *v, const TrialFunction *function, Sobol *sobol)
{
    double *point = fresh(2 * v->d, sizeof *point), *mixed = fresh(v->d, sizeof *mixed);
    for (size_t k = 0; k < v->n; k++) {
        sobol_next(sobol, point);
        v->f_A[k] = trial_function_value(function, point);
        v->f_B[k] = trial_function_value(function, point + v->d);
        for (size_t i = 0; i < v->d; i++) {
            memcpy(mixed, point, v->d * sizeof *mixed);
            mixed[i] = point[v->d + i];
            v->f_AB[i * v->n + k] = trial_function_value(function, mixed);
        }
    }
    free(point);
    free(mixed);
}

static void
moments(const Values *v, double *mean, double *variance)
{
    double sum = 0.0, squares = 0.0, N = 2.0 * (double) v->n;
    for (size_t k = 0; k < v->n; k++)
        sum += v->f_A[k] + v->f_B[k];
    *mean = sum / N;
    for (size_t k = 0; k < v->n; k++)
        squares += pow(v->f_A[k] - *mean, 2.0) + pow(v->f_B[k] - *mean, 2.0);
    *variance = squares / N;
}

static void
shares(const Values *v, size_t i, FirstEstimator estimator, double mean, double V, double *first,
       double *total)
{
    double from_B = 0.0, from_A = 0.0, product = 0.0, N = (double) v->n;
    for (size_t k = 0; k < v->n; k++) {
        double f_AB = v->f_AB[i * v->n + k];
        from_B += pow(v->f_B[k] - f_AB, 2.0);
        from_A += pow(v->f_A[k] - f_AB, 2.0);
        product += (v->f_B[k] - mean) * (f_AB - v->f_A[k]);
    }
    *first = estimator == FIRST_JANSEN ? 1.0 - from_B / (2.0 * V * N) : product / (V * N);
    *total = from_A / (2.0 * V * N);
}

Validity
sensitivity_sampled(const TrialFunction *function, FirstEstimator estimator, Sobol *sobol,
                    size_t samples, double *mean, double *variance, double first[], double total[])
{
    *mean = *variance = NAN;
    if (samples < 2 || samples > SENSITIVITY_MOST / (function->dimensions + 2) ||
        sobol->dimensions < 2 * function->dimensions)
        return REFUSED;
    size_t d = function->dimensions;
    Values v = {d, samples, fresh(samples, sizeof(double)), fresh(samples, sizeof(double)),
                fresh(d * samples, sizeof(double))};
    values_take(&v, function, sobol);
    moments(&v, mean, variance);
    bool varies = is_positive(*variance);
    for (size_t i = 0; i < d && varies; i++)
        shares(&v, i, estimator, *mean, *variance, &first[i], &total[i]);
    free(v.f_A);
    free(v.f_B);
    free(v.f_AB);
    return !varies ? REFUSED : samples < LEAST_SAMPLES ? EXTRAPOLATED : VALID;
}
