/* Workings that answers and findings of the work share. */
#pragma once

#include "checks/work/work.h"

/* k: own pace. */
void working_pace(const Work *work, Working *w);
/* Hours left of those open tasks for which `counts` is true (NULL: of all), at own pace: last step H. *spread 95 %. NULL when none
 * has hours. */
Working *working_of_hours(const Work *work, Result *result, const char *title, const bool counts[],
                          double *hours_h, double *spread_h);
