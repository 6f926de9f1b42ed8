/* Trials for this boat, predicted. */
#pragma once

#include "result/study/trial.h"
#include "study/sweep.h"

/* In solve->situation, or light. NULL when it was cancelled. */
Trials *trials_find(const SolveInput *solve, const StudyHow *how);
Trials *trials_ref(Trials *trials);
void trials_free(Trials *trials);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Trials, trials_free)
