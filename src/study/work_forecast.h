/* From the work as it stands to when it will be done: plan, risk, what drives it, what helps, points of no return. */
#pragma once

#include "result/work/forecast.h"
#include "study/plan.h"
#include "study/sweep.h"

/* What is asked; all of it may be left zero. StudyHow gives seed, trials (samples, 10,000 as usual) and threads. */
typedef struct {
    double asked_frac; /* the chance that is asked for; 0: the one that the owner wants */
    const char *
        milestone; /* id; NULL: the smallest finish, else the end of the berth, else the launch, else all the work */
    bool brief;    /* dates and chances alone: no help, no point of no return, no money by month */
    bool taskless; /* besides: of the milestones alone, not of each task */
} ForecastAsked;

/* Of one plan; the only option of the forecast is the plan itself. NULL when it was cancelled; what stands in the way is its `fault`. */
WorkForecast *work_forecast(const WorkPlan *plan, const ForecastAsked *asked, const StudyHow *how);
/* Of a boat, with each option of its file begun instead (not when brief); owns its plan. solve->boat must be the boat of the text and
 * outlive the forecast. */
WorkForecast *work_forecast_find(const SolveInput *solve, const PlanText *text,
                                 const ForecastAsked *asked, const StudyHow *how);
