/* What moving every unsettled input found: how sure each answer is, what brings its doubt, which verdicts could turn, and
 * what to measure next. Plain data; made by study/doubt, freed by doubt_free. */
#pragma once

#include "result/finding.h"

typedef struct {
    const char *path; /* of the unsettled value */
    double
        share; /* of the variance; those of one answer add to 1, or to less when small ones are left out */
} DoubtShare;

typedef struct {
    const char *name; /* of the answer */
    QuantityKind kind;
    double value, spread; /* SI, 95 %; spread NAN when the answer is mostly not there */
    double closed;        /* the spread that the solve itself gave */
    double before;        /* the spread before the trials were taken; the same without any */
    double moved;         /* where the trials put it: value + moved */
    bool sampled;         /* it jumps or bends too much for differences */
    size_t n;
    const DoubtShare *share; /* largest first */
} DoubtAnswer;

typedef struct {
    const char *finding; /* id */
    Level before, after;
    bool could_turn;       /* the unsettled inputs reach across the limit */
    double margin, spread; /* margin > 0: the limit is met; where the trials put it */
    double turns_frac;     /* of the samples, how many say the opposite; NAN: not sampled */
    const char *settle_path, *settle_text; /* the measurement that settles most of it, or NULL */
    size_t n;
    const DoubtShare *share;
} DoubtVerdict;

typedef struct {
    const char *path;
    const char *what; /* "weigh: old engine" */
    const char *instrument, *how;
    double minutes; /* about */
    size_t n;
    const char *const *settles; /* ids of findings that name it */
    size_t settled_alone; /* of them, how many no longer could turn once this alone is known */
    double worth;         /* what is ranked by, beside that */
    double takes_frac;    /* of the variance of the answer it tells most about */
    const char *answer;   /* that answer, or NULL */
} MeasureNext;

typedef struct {                        /* one reading of a trial that was typed in */
    const char *finding, *path, *where; /* measured.ID; "7.50 m forward of the stern, port" */
    double read, within, reckoned,
        reckoned_spread; /* m, 95 %; down and to the side of the weight + */
    bool outside, used;  /* outside of both spreads; no reading of its trial is, so it was taken */
    size_t n;
    const DoubtShare *share; /* what brings the reckoned spread: what it accuses when outside */
} DoubtReading;

typedef struct { /* unsettled numbers of one section of the boat file */
    const char *title;
    size_t n;
} DoubtPart;

typedef struct {
    size_t n_inputs, n_solves, n_sampled;
    size_t n_parts;
    const DoubtPart *part; /* in the order they were found */
    size_t n_readings;
    const DoubtReading *reading;
    size_t n_answers;
    const DoubtAnswer *answer; /* in the order of the result */
    size_t n_verdicts;
    const DoubtVerdict *verdict; /* of measured findings, in the order of the result */
    size_t n_next;
    const MeasureNext *next; /* worth most first */
    void *owner;
} Doubt;

const DoubtAnswer *doubt_answer(const Doubt *doubt, const char *name);      /* NULL */
const DoubtVerdict *doubt_verdict(const Doubt *doubt, const char *finding); /* NULL */
