/* What is watched while inputs move: every answer of the studied discipline, the margin of every measured finding, and what each reading of a trial
 * should have been. */
#pragma once

#include <glib.h>

#include "result/result.h"

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

/* The one whose inputs are moved so far: a move solves it alone. */
#define STUDIED_DISCIPLINE "afloat"

Outputs outputs_of(const Result *base);
void outputs_clear(Outputs *outputs);

/* value[n]: NAN when the result has no such thing; governor[n]: which situation and record it was taken from. */
void outputs_read(const Outputs *outputs, const Result *result, double value[],
                  unsigned governor[]);

/* Positive when the limit is met. */
double finding_margin(const Finding *finding);
