/* What is done in each trial, and what of it is read. */
#pragma once

#include "checks/afloat/quay_trial.h"
#include "result/study/trial.h"

typedef struct {
    const char *id, *title, *how, *when_not, *tells;
    bool risky; /* heels her, or loads the stern: held to the condition of safety */
    double people;
    TrialLoad before, after;
    size_t n;
    TrialPoint point[TRIAL_READINGS];
} TrialPlan;

enum { MOST_TRIALS = 5 };
/* Values of a trial in one go: readings, then the three of safety. */
enum { TRIAL_CLEAR = TRIAL_READINGS, TRIAL_HEEL, TRIAL_GM, TRIAL_VALUES };

/* Laid out on the boat as she is known; returns how many. */
size_t trial_plans(const Afloat *afloat, const Case *c, TrialPlan plan[static MOST_TRIALS]);
/* What the trial reads on a boat that may have been moved; NAN where she does not float. */
void trial_values(const Afloat *afloat, const Case *c, const TrialPlan *plan,
                  double value[static TRIAL_VALUES]);
