/* Results of trials as measurements: what was read, how closely, and what it should have been. */
#pragma once

#include <glib.h>

#include "checks/solve.h"
#include "study/outputs.h"

typedef struct {
    size_t output;       /* what it should have been: index among the outputs */
    size_t trial;        /* readings of one trial share what its weight leaves open */
    const char *finding; /* id of the trial's finding; borrowed from the base result */
    const char *path;    /* measured.ID; likewise */
    const char *where;   /* "7.50 m forward of the stern, port"; likewise */
    double read, within; /* SI; how closely it was read, 95 % */
    double weight_frac;  /* what weight and places leave open, as a share of the reading, 95 % */
    double reckoned, reckoned_spread; /* before it was taken; filled by spreads_take */
    bool outside;                     /* likewise: off by more than both are known to */
    bool used;                        /* likewise: no reading of its trial is outside */
} TrialTaken;

typedef struct {
    size_t n, n_trials;
    TrialTaken *taken;
} Readings;

Readings *readings_of(const SolveInput *solve, const Outputs *outputs);
void readings_free(Readings *readings);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Readings, readings_free)
