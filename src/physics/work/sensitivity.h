/* Shares of the variance by samples: two points A and B, and A with one coordinate of B.
 *
 *     V: of all values at A and B
 *     first, Jansen    S_i = 1 - mean((f_B - f_ABi)^2)/(2 V)      first, Saltelli  S_i = mean(f_B (f_ABi - f_A))/V
 *     total, Jansen    T_i = mean((f_A - f_ABi)^2)/(2 V)
 *
 * Given    a function that trial_function_open took; sobol of twice its dimensions, scrambled; samples >= 2, samples (dimensions + 2) up to SENSITIVITY_MOST
 * Gives    mean, variance; first[dimensions], total[dimensions]
 * Returns  VALID; EXTRAPOLATED for fewer than 256 samples; REFUSED for what does not vary
 * Source   Jansen 1999, Saltelli and others 2010, as read in library documentation; docs/methods/work.md 6.4
 * Checked  sensitivity-indices in tests/cases/work.csv */
#pragma once

#include "physics/work/sobol.h"
#include "physics/work/trial_functions.h"

enum { SENSITIVITY_MOST = 20000000 }; /* values of the function */

typedef enum { FIRST_JANSEN, FIRST_SALTELLI } FirstEstimator;

Validity sensitivity_sampled(const TrialFunction *function, FirstEstimator estimator, Sobol *sobol,
                             size_t samples, double *mean, double *variance, double first[],
                             double total[]);

extern const Method sensitivity_jansen_method, sensitivity_saltelli_method,
    sensitivity_total_method;
