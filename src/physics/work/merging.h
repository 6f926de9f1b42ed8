/* Where paths of the work join: the latest of several normal finishes.
 *
 *     independent   P(max <= x) = product of Phi((x - mu_k)/s_k)
 *     two           theta = sqrt(s1^2 + s2^2 - 2 r s1 s2)   A = (m1 - m2)/theta
 *                   E max = m1 Phi(A) + m2 Phi(-A) + theta phi(A)   P(X1 > X2) = Phi(A)
 *                   E max^2 = (m1^2 + s1^2) Phi(A) + (m2^2 + s2^2) Phi(-A) + (m1 + m2) theta phi(A)
 *
 * Source   Clark, Operations Research 9 (1961) 145-162 (memory); docs/methods/work.md 1.3
 * Checked  merge-paths and clark-maximum in tests/cases/work.csv; by simulation in tests/physics/test_durations.c */
#pragma once

#include <stddef.h>

#include "base/source.h"
#include "base/validity.h"

/* Mean and sd of the latest of n independent finishes, by quadrature; every sd_h > 0. */
Validity merging_paths(size_t n, const double mean_h[], const double sd_h[], double *latest_mean_h,
                       double *latest_sd_h);
/* The chance that all are done by deadline_h. */
double merging_chance(size_t n, const double mean_h[], const double sd_h[], double deadline_h);
/* The path with the greatest mean, of equal ones the greatest sd: what the classic method looks at. */
size_t merging_longest(size_t n, const double mean_h[], const double sd_h[]);

typedef struct {
    double mean_h, sd_h, chance_first_later;
} ClarkMaximum;

/* sd_h >= 0, correlation -1 to 1; REFUSED when the difference has no spread. */
Validity clark_maximum(const double mean_h[2], const double sd_h[2], double correlation,
                       ClarkMaximum *latest);

extern const Method merging_chance_method, clark_mean_method;
