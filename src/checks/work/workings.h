/* Workings that answers and findings of the work share. */
#pragma once

#include "checks/work/work.h"

/* k: own pace. */
void working_pace(const Work *work, Working *w);
/* Hours left of those open tasks for which `counts` is true (NULL: of all), at own pace: last step H. *spread 95 %. NULL when none
 * has hours. */
Working *working_of_hours(const Work *work, Result *result, const char *title, const bool counts[],
                          double *hours_h, double *spread_h);

/* --- levers ---------------------------------------------------------------------------------------------------------- */

/* The date `key` of what stands at the path. */
void lever_day(Result *result, Finding *f, const char *path, const char *key, LeverWay way);
/* The start that the owner fixed; nothing where it is free. */
void lever_start(Result *result, Finding *f, const WorkTask *task, LeverWay way);
/* More hours of the owner's, and somebody more. */
void lever_hands(const Work *work, Result *result, Finding *f);
/* What is kept indoors, for work inside. */
void lever_warmth(const WorkPlan *plan, Result *result, Finding *f, const WorkTask *task);
/* Of those that count the tasks that nothing needs, those with most hours first. */
void lever_leave_out(const Work *work, Result *result, Finding *f, const bool counts[]);
