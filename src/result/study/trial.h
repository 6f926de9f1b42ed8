/* Cheap, safe trials on the quay: what this very boat should do, how surely that is known, how to do it, and when not. Plain
 * data; made by study/trials, freed by trials_free. */
#pragma once

#include "result/study/doubt.h"

typedef enum { TRIAL_FREEBOARD, TRIAL_DOWN, TRIAL_UP, TRIAL_SWING } TrialWay;

typedef struct {
    TrialWay way;
    double x_m;               /* forward of the stern */
    int side;                 /* +1 port, -1 starboard, 0 on the centreline */
    const char *label;        /* "deck edge amidships goes down, port" */
    double value_m, spread_m; /* 95 % */
    size_t n;
    const DoubtShare *share; /* what brings the spread: what a reading outside it accuses */
} TrialReading;

enum { TRIAL_READINGS = 4 };

typedef struct {
    const char *id, *title;
    const char *how, *when_not, *tells; /* sentences */
    double from_x_m, to_x_m;            /* where the weight or the people are, before and after */
    double to_y_m;                      /* port + */
    double z_m;                         /* centre of the weight; NAN: of people who stand there */
    bool comes_aboard;                  /* it was not aboard before */
    double plumb_m;                     /* length of the plumb line */
    double mass_kg, people;             /* moved or added; people 0: a known weight */
    const char *refused;                /* why she is not sent to do it, or NULL */
    double clear_m, heel_rad, gm_m; /* at the worst moment of it, at the bad end of the spread */
    size_t n;
    TrialReading reading[TRIAL_READINGS]; /* none when refused */
} Trial;

typedef struct {
    const char *situation; /* in which it is reckoned */
    size_t n;
    const Trial *trial;
    const char *nothing; /* why there is none, or NULL */
    size_t solves;
    void *owner;
} Trials;

typedef enum { TRIAL_AGREES, TRIAL_ABOVE, TRIAL_BELOW } TrialOutcome;

typedef struct {
    TrialOutcome outcome;
    double off_m;    /* reading less prediction */
    double spread_m; /* of the two together */
    size_t n;
    const DoubtShare *accused; /* borrowed from the reading: largest first; 0 when it agrees */
} TrialVerdict;

/* A reading against its prediction. read_within_m: how closely it was read (95 %). */
TrialVerdict trial_judge(const TrialReading *prediction, double reading_m, double read_within_m);
