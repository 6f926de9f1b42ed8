/* Finish of a network whose durations are uncertain and go wrong together, by simulation.
 *
 *     z_i = sqrt(r) z_0 + sqrt(1 - r) e_i   d_i = F_i^-1(Phi(z_i))   T by the passes, or by replaying one list with few hands
 *
 * The numbers of a trial belong to trial and task: another network meets the same luck. Without limits of capacity each trial has
 * its own backward pass; with a limit the list, by latest finish on the likely durations, is replayed and never made anew.
 *
 * Returns  VALID; EXTRAPOLATED below SCHEDULE_RISK_FEW trials; REFUSED: correlation outside 0 to 1, no trials or more than
 *          SCHEDULE_RISK_MOST. The network comes as its passes or its project, which have been checked when they were made
 * Misses   calendars, windows and slots (risk.h has them); what the model does not know
 * Source   docs/methods/work.md 1.4 to 1.7
 * Checked  schedule-risk in tests/cases/work.csv; tests/physics/test_durations.c: closed forms of two and three uniforms, of sums */
#pragma once

#include "physics/work/critical_path.h"
#include "physics/work/duration.h"
#include "physics/work/rcpsp.h"

enum { SCHEDULE_RISK_FEW = 1000, SCHEDULE_RISK_MOST = 10000000 };

typedef struct {
    size_t n;
    const Duration *duration; /* [n] */
    const TaskPasses *passes; /* either these */
    Rcpsp *project;           /* or this, with the list to replay */
    const size_t *list;
    double correlation, deadline_h; /* deadline NAN: none */
    size_t trials;
    uint64_t seed;
} ScheduleRiskGiven;

typedef struct {
    double mean_h, sd_h, p10_h, p50_h, p80_h, p90_h, p95_h;
    double chance, chance_low, chance_high,
        late_h; /* NAN without a deadline; low, high: 95 % Wilson */
} ScheduleRisk;

/* criticality, significance, sensitivity are NAN when a list was replayed. */
typedef struct {
    double criticality, significance, sensitivity, cruciality, rank_cruciality;
} TaskRisk;

/* Fills task[n]. */
Validity schedule_risk(const ScheduleRiskGiven *given, ScheduleRisk *risk, TaskRisk task[]);

extern const Method schedule_risk_method;
