/* A named number that the checks find. */
#pragma once

#include "result/working.h"

typedef enum { WORSE_MORE, WORSE_LESS, WORSE_AWAY_FROM_ZERO } WorseWay;

typedef struct {
    const char *discipline; /* "afloat" */
    const char *name;       /* "displacement" */
    const char *label;      /* "Displacement" */
    const char *help;       /* one line: what it says to the owner */
    QuantityKind kind;
    WorseWay worse;   /* which way the governing one is taken */
    const char *with; /* taken where this quantity governs instead ("trim"), or NULL */
    bool own_spread;  /* it is how far methods differ, and adds to what inputs leave open */
} AnswerKind;

typedef struct {
    const AnswerKind *kind;
    const char *
        name; /* whole: "afloat.opening-height.engine-vent@evening"; the bare one is the governing */
    const char *record;      /* id, or NULL */
    const char *record_path; /* "openings.engine-vent", or NULL */
    const char *situation;   /* the situation it was found in (also of the bare name), or NULL */
    double value, spread;    /* SI; NAN when it does not exist (a curve that never vanishes) */
    Basis basis;
    Validity validity;
    Standing standing;
    bool aside; /* does not count for the governing one (an opening that holds against water) */
    const Working *working;
} Answer;
