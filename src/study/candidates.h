/* Measurements that could be made, and what each would leave of the doubt of an output. */
#pragma once

#include "study/instruments.h"
#include "study/spreads.h"

typedef struct {
    const char *path; /* borrowed from the inputs */
    char *text;       /* "weigh: old engine" */
    const Instrument *with;
    size_t n;
    size_t *input; /* indices of the inputs it settles */
} Candidate;

typedef struct {
    const Spreads *spreads;
    GPtrArray *list; /* Candidate, in the order of the inputs */
    double *left;    /* [n_inputs], all 1 between calls */
} Candidates;

Candidates *candidates_of(const Spreads *spreads);
void candidates_free(Candidates *candidates);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Candidates, candidates_free)

/* Share of an output's variance that goes when the candidate is measured; never negative. */
double candidate_takes(const Candidates *candidates, const Candidate *candidate, size_t output);
/* The one that takes most; NULL when none takes a hundredth. */
const Candidate *candidates_best(const Candidates *candidates, size_t output);
