/* One boat solved many times, each time with some of its inputs moved, on all cores. */
#pragma once

#include "study/inputs.h"
#include "study/outputs.h"

/* How a study is run. All of it may be left zero. */
typedef struct {
    unsigned threads; /* 0: as many as there are cores */
    guint64 seed;
    size_t samples;     /* of the sampled mode; 0: as many as usual */
    const gint *cancel; /* read atomically: not 0 stops the study */
    void (*progress)(size_t done, size_t all, void *data); /* called from one thread at a time */
    void *data;
} StudyHow;

bool study_cancelled(const StudyHow *how);

typedef struct {
    size_t input; /* index */
    double delta;
} Nudge;

typedef struct { /* one solve to make, and what it found */
    size_t n;
    const Nudge *nudge;
    double *value;      /* [outputs->n] */
    unsigned *governor; /* [outputs->n] */
} Move;

/* Fills value and governor of every move; false when it was cancelled. The result does not depend on the number of threads. */
bool sweep(const SolveInput *base, const Inputs *inputs, const Outputs *outputs, size_t n,
           Move move[], const StudyHow *how);

/* Runs job(i, data) for i < n on all cores; false when it was cancelled. */
bool study_each(size_t n, void (*job)(size_t i, void *data), void *data, const StudyHow *how);
