/* From moved inputs to spreads: what every input, and every group of guesses that err together, does to every output.
 *
 * An input is moved by sqrt(3) of its standard deviation (the standard deviation is half of the spread) to one side, and to
 * the other side too where it counts. Three points with the weights 1/6, 2/3, 1/6 (Gauss and Hermite) give the variance of
 * a normal distribution exactly up to the second order; variances of what is independent add. Where an output jumps (another
 * situation or opening governs, or it ceases to be) all inputs are moved at once, by random, and its spread is counted.
 * Places of many light items are moved in bundles first, all one way; a bundle that counts is taken apart (group screening).
 * Then the results of trials are taken (spreads_take): each is one linear measurement of all inputs together, with the signed
 * effects that the differences found; what agrees with the file narrows, what is outside is told and not believed.
 * Source  Watson, Technometrics 3 (1961) 371; Rahman and Xu, Probabilistic Engineering Mechanics 19 (2004) 393 (univariate dimension reduction);
 *         Potter and Stern, AIAA Guidance and Control Conference 1963 (square root of a scalar measurement, from memory). */
#pragma once

#include "study/readings.h"
#include "study/sweep.h"

typedef struct {
    size_t n_inputs, n_outputs;
    size_t n_units; /* groups, independent inputs, and what the weight of each trial leaves open */
    const Inputs *inputs; /* borrowed */
    size_t *unit_of;      /* [n_inputs] */
    double *base;         /* [n_outputs] */
    double *variance;     /* [n_units * n_outputs] */
    double *effect;       /* [n_units * n_outputs] signed: change for one standard deviation */
    double *pull;   /* [n_inputs * n_outputs] signed: half the change from one side to the other */
    double *moved;  /* [n_outputs] by how much the trials put it elsewhere; 0 without any */
    double *before; /* [n_outputs] spread before the trials were taken */
    double *spread; /* [n_outputs], 95 %; NAN when the output is not there half of the time */
    double *turns;  /* [n_outputs] share of samples on the other side of zero; NAN: not sampled */
    bool *sampled;  /* [n_outputs] */
    size_t solves, samples;
} Spreads;

/* NULL when it was cancelled. */
Spreads *spreads_find(const SolveInput *solve, const Result *base, const Inputs *inputs,
                      const Outputs *outputs, Readings *readings, const StudyHow *how);
/* Takes the readings that agree; part of spreads_find. */
void spreads_take(Spreads *spreads, Readings *readings);
void spreads_free(Spreads *spreads);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Spreads, spreads_free)

/* Variance of an output by differences, all units together. */
double spreads_variance(const Spreads *spreads, size_t output);
/* Share of it that one input brings; a group's share is split by what each of its members does. */
double spreads_share(const Spreads *spreads, size_t input, size_t output);
/* Variance that stays when some inputs are known to `left_frac` of their spreads: left[n_inputs], 1 where nothing is measured. */
double spreads_variance_left(const Spreads *spreads, const double left[], size_t output);
