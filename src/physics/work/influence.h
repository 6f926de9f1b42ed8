/* How strongly one task drives the date, from its trials.
 *
 *     criticality   share of trials without slack (within 1e-9 h)
 *     significance  mean(d/(d + slack) T)/mean(T)
 *     sensitivity   criticality sd(d)/sd(T)
 *     cruciality    correlation of d with T: Pearson's, Spearman's on ranks, Kendall's tau-b
 *
 * A constant task has no correlation and no sensitivity: 0. Criticality alone misleads: a short sure task on the critical path has 1.
 * Source   Vanhoucke, schedule risk analysis; Kendall 1938, Spearman 1904 (memory); docs/methods/work.md 1.6
 * Checked  task-influence in tests/cases/work.csv, W1.27 to W1.29 */
#pragma once

#include <stddef.h>

#include "base/source.h"

double influence_criticality(size_t n, const double slack_h[]);
double influence_significance(size_t n, const double duration_h[], const double slack_h[],
                              const double finish_h[]);
double influence_sensitivity(size_t n, double criticality, const double duration_h[],
                             const double finish_h[]);
double influence_pearson(size_t n, const double duration_h[], const double finish_h[]);
double influence_spearman(size_t n, const double duration_h[], const double finish_h[]);
/* Looks at every pair of trials: for lists of a few thousand. */
double influence_kendall(size_t n, const double duration_h[], const double finish_h[]);

extern const Method influence_significance_method, influence_sensitivity_method;
