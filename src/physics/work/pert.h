/* The classic three-point estimate of a network: the path with the longest mean, taken as normal.
 *
 *     mu_P = sum of means on P   s_P^2 = sum of variances on P   P(T <= D) = Phi((D - mu_P)/s_P)
 *
 * Misses   every other path: where paths join the date is later than this says (merging.h); too hopeful by 0.02 to 0.25
 * Source   Malcolm and others 1959 (memory); docs/methods/work.md 1.3
 * Checked  pert-network in tests/cases/work.csv, textbook networks */
#pragma once

#include "physics/work/critical_path.h"
#include "physics/work/duration.h"

typedef struct {
    double mean_h, variance_h2;
    size_t n; /* tasks on the path */
} PertPath;

/* dates[n] on the means; path[n] holds the longest path in the order of the work, of several equally long ones that with the greatest
 * variance. Finish-start ties. */
PassesOutcome pert_network(const TaskNetwork *net, const Duration duration[], TaskDates dates[],
                           size_t path[], PertPath *found);
/* Chance to be done by deadline_h, and the time met with the confidence; without variance 1 or 0, and the mean. */
double pert_chance(const PertPath *path, double deadline_h);
double pert_finish(const PertPath *path, double confidence);

extern const Method pert_mean_method, pert_chance_method;
