/* Functions whose mean and shares of variance are known, to prove samples and estimators on.
 *
 *     ishigami    sin x_1 + a sin^2 x_2 + b x_3^4 sin x_1, x in -pi to pi
 *     g-function  prod (abs(4 x_i - 2) + a_i)/(1 + a_i), x in 0 to 1
 *     product     prod N(m_i, s_i), independent normal factors
 *     exponential exp(x_1 + ... + x_d)   power x_1^k   coordinates prod x_d of the dimensions named, x in 0 to 1
 *
 * Given    parameters: [a, b]; [a_1, ...], a >= 0; [m_1, s_1, ...], s >= 0; [d]; [k], k >= 0; [d_1, ...], each once
 *          u[dimensions], shares 0 to 1 that the inputs are taken at; for the normal factors kept off 0 and 1
 * Gives    value; exact mean, variance, first and total shares (NAN where the function has no published ones)
 * Returns  VALID; REFUSED outside the ranges above, and for shares of something that does not vary
 * Source   Ishigami and Homma 1990; Saltelli and Sobol 1995; variance of products, derived; docs/methods/work.md 6.5
 * Checked  sensitivity-indices in tests/cases/work.csv; tests/physics/test_sequences.c */
#pragma once

#include <stdbool.h>
#include <stddef.h>

#include "base/source.h"
#include "base/validity.h"

typedef enum {
    TRIAL_ISHIGAMI,
    TRIAL_G,
    TRIAL_PRODUCT,
    TRIAL_EXPONENTIAL,
    TRIAL_POWER,
    TRIAL_COORDINATES
} TrialForm;

enum { TRIAL_DIMENSIONS = 1000 };

typedef struct {
    TrialForm form;
    size_t n;
    const double *parameter;
    size_t dimensions; /* found by trial_function_open */
} TrialFunction;

/* False when the number of parameters is not that of the form, or one of them names no dimension. */
bool trial_function_takes(TrialForm form, size_t n, const double parameter[]);
Validity trial_function_open(TrialForm form, size_t n, const double parameter[],
                             TrialFunction *function);
double trial_function_value(const TrialFunction *function, const double u[]);
double trial_function_mean(const TrialFunction *function);
/* first[dimensions], total[dimensions]: of the ishigami, the g-function and the product only. */
Validity trial_function_shares(const TrialFunction *function, double *variance, double first[],
                               double total[]);

extern const Method trial_ishigami_method, trial_g_method, trial_product_method;
