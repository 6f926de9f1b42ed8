/* Sentences about a forecast of the work, for terminal, page and papers. All g_free. */
#pragma once

#include "base/kind.h"
#include "result/work/forecast.h"

/* "37 in 100", "less than 1 in 100", "not known" */
char *share_words(double frac);
/* "the end of the berth", "launch" */
char *milestone_words(const WorkForecast *forecast, size_t milestone);
/* "All the work: as likely as not done by 12 March 2028; in 8 of 10 cases between ... and .... 37 in 100 to make 31 October 2027 (34 to 40
 * from so many trials)." */
char *reached_words(const WorkForecast *forecast, const ForecastMilestone *reached);
/* The first task that cannot be done at all, and why; NULL: there is none. */
char *stuck_words(const WorkForecast *forecast);
/* "A second pair of hands on ...: 45 in 100, 8 more." */
char *help_words(const WorkForecast *forecast, const ForecastHelp *help);
/* "12 April 2027 to 14 April 2027", one day where both are the same */
char *days_words(double from_day, double to_day);
/* "begun before 3 May 2027 it still has 80 in 100; begun today 91 in 100, most likely done by ..." */
char *option_words(const WorkForecast *forecast, const ForecastOption *option);
/* "electric drive", "the plan as it stands" */
char *option_name(const ForecastOption *option);
/* Own pace: "Things take 1.3 times as long as written (1.0 to 1.7), learned from 9 finished tasks." NULL: nothing is finished. */
char *pace_words(const WorkForecast *forecast);
/* Who does it: "the owner and the welder"; NULL: nobody is needed. */
char *hands_words(const WorkForecast *forecast, const ForecastTask *task);
/* How many of the first helps gain at least one in a hundred. */
size_t helps_that_count(const WorkForecast *forecast, size_t room);
/* "Spent so far 4 310; ordered and not paid yet 2 100; still to come ...": what stands in the file, and what the trials add. */
char *money_words(const WorkForecast *forecast, UnitsChoice units);
/* Open tasks that begin on the first day on which any work is planned: what comes next. Indices of forecast->task; at most room. */
size_t forecast_next(const WorkForecast *forecast, size_t room, size_t index[]);
