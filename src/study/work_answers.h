/* Answers that only a forecast can give: when the work is finished, with what chance, what to set aside, when it is too late to begin. */
#pragma once

#include "result/result.h"
#include "result/work/forecast.h"

/* Whether a name is one of them, with an option behind it or not: whoever is asked for it makes the forecast first. */
bool work_answer_known(const char *name);
/* Gives them, with their workings, to a result that was solved; once. With a fault they do not exist, and say why; nothing at all where no work is
 * left. */
void work_answers_give(const WorkForecast *forecast, Result *result);
