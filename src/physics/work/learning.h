/* What the finished tasks say about the open ones.
 *
 *     P = 1/s0^2 + n/s^2     mean = (m0/s0^2 + sum(ln(r))/s^2)/P     sd = 1/sqrt(P)
 *
 * Given    ratio[n]  hours taken over hours estimated, > 0
 *          m0, s0    what was thought before, of ln(factor); s0 > 0
 *          s         scatter of one task about the factor, of ln; > 0
 * Gives    mean and sd of ln(factor); the median factor is exp(mean)
 * Returns  REFUSED outside these
 * Source   normal model with known scatter, derived; docs/methods/work.md 1.8
 * Checked  learning-factor in tests/cases/work.csv, W1.34 */
#pragma once

#include "base/source.h"
#include "base/validity.h"
#include <stddef.h>

/* Judgement of this project (docs/methods/work.md 1.8). */
#define LEARNING_PRIOR_MEAN 0.0
#define LEARNING_PRIOR_SD 0.35
#define LEARNING_SCATTER 0.30

Validity learning_factor(size_t n, const double ratio[], double m0, double s0, double s,
                         double *log_mean, double *log_sd);
extern const Method learning_factor_method;
