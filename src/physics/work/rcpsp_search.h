/* A good schedule with limited people and equipment: list_search over serial schedules in both directions.
 *
 * Given    schedules   how many may be made; each pass in either direction counts as one
 * Gives    list[n], start_h[n] of the best; the makespan; *made, or NULL, how many were made. It ends early where the makespan meets
 *          the critical path or the work
 * Source   see list_search.h; docs/methods/work.md 2.6, 2.8
 * Checked  tests/physics/test_rcpsp_search.c */
#pragma once

#include "physics/work/rcpsp.h"

double rcpsp_search(Rcpsp *project, size_t schedules, uint64_t seed, size_t list[],
                    double start_h[], size_t *made);

/* Sampling by regret instead: serial, parallel or both in turn, each schedule improved or not. */
typedef enum { RCPSP_SAMPLE_SERIAL, RCPSP_SAMPLE_PARALLEL, RCPSP_SAMPLE_BOTH } RcpspSampling;
double rcpsp_sample(Rcpsp *project, RcpspSampling sampling, bool improve, size_t schedules,
                    uint64_t seed, size_t list[], double start_h[]);

/* The greater of critical path and work; whole, when all durations are. */
double rcpsp_bound(Rcpsp *project);
