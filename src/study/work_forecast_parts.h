/* What the files of the forecast share. */
#pragma once

#include "study/work_forecast.h"
#include "study/work_model.h"

enum {
    USUAL_TRIALS = 10000,
    FEW_TRIALS = 2000,
    KEPT_TRIALS = 1000,
    LEAST_TRIALS = 200,
    MOST_PLACEMENTS = 4000000 /* tasks times trials */
};

typedef struct {
    WorkModel *model;
    Plan *physics;
    uint32_t *list;
    PlanReplay *replay; /* of the plan itself, with pieces */
    const PlanDates *dates;
    const ForecastAsked *asked;
    const StudyHow *how;
    WorkForecast *out;
    RiskTrials *trials;
    int32_t *sorted; /* finishes of the trials */
} Reckoning;

/* work_forecast, with the trials it rests on (NULL when there are none); risk_trials_free. */
WorkForecast *work_forecast_keep(const WorkPlan *plan, const ForecastAsked *asked,
                                 const StudyHow *how, RiskTrials **trials);
/* Trials of a model on all cores; NULL when it was cancelled. */
RiskTrials *work_try(const RiskModel *risk, size_t tasks, size_t trials, size_t keep,
                     const StudyHow *how);
/* Chance to be done by then. */
double work_chance_by(const RiskTrials *trials, int32_t by_min);
/* Of numbers in any order; NAN when it is not finite. */
double work_quantile(size_t n, const double value[], double share);
/* Of those that are finite; NAN when none is. */
double work_mean(size_t n, const double value[]);
/* The usual number; fewer when fewer were asked for, or when the tasks are so many that it would take minutes. */
size_t work_trials(const StudyHow *how, size_t tasks, size_t usual);

/* Parts of work_forecast, in their order; false when it was cancelled. */
void work_forecast_tasks(Reckoning *r);
void work_forecast_months(Reckoning *r);
bool work_forecast_helps(Reckoning *r);
/* The last day on which beginning still gives the chance asked: the end of that day as a day number; NAN: not even today. */
bool work_no_return(const WorkModel *model, double asked_frac, const StudyHow *how,
                    double *last_day);
/* Why the task of the model begins when it does. */
void work_forecast_why(const Reckoning *r, size_t i, ForecastTask *task);
