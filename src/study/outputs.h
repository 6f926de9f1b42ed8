/* What is watched while inputs move: every answer, the margin of every measured finding, and what each reading of a trial
 * should have been. */
#pragma once

#include <glib.h>

#include "checks/solve.h"

typedef struct {
    const char *name;     /* of the answer, or id of the finding; borrowed from the base result */
    const Answer *answer; /* one of the three */
    const Finding *finding;
    const Finding *trial; /* finding of a trial: `reading` counts in its working */
    size_t reading;
    bool folds; /* an answer that may turn to the other side: its size counts */
} Output;

typedef struct {
    size_t n;
    Output *output;
} Outputs;

Outputs outputs_of(const Result *base);
void outputs_clear(Outputs *outputs);

/* Leaves out what a discipline does not give when it is solved alone and briefly: what rests on another's answers, and what no
 * input moves, keep the spread of their own working. */
void outputs_part(Outputs *outputs, const SolveInput *solve);

/* value[n]: NAN when the result has no such thing; governor[n]: which situation and record it was taken from.
 * discipline: the one that was solved, or NULL: all; what belongs to another is as it was. */
void outputs_read(const Outputs *outputs, const Result *result, const char *discipline,
                  double value[], unsigned governor[]);

/* Positive when the limit is met. */
double finding_margin(const Finding *finding);
