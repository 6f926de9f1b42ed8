/* Answers that only a study can give, under names as stable as any: how much is not settled, and how many verdicts hang on it. */
#pragma once

#include "study/doubt.h"

/* Whether a name is that of an answer of study: whoever is asked for it runs doubt_find first. */
bool study_answer_known(const char *name);
/* Gives them, with their workings, to a result that was solved; once. */
void study_answers_give(const Doubt *doubt, Result *result);
