/* The doubt of a boat: every unsettled input moved within its spread, and the whole boat solved again. */
#pragma once

#include "result/study/doubt.h"
#include "study/sweep.h"

/* NULL when it was cancelled. base is the result of the same input. */
Doubt *doubt_find(const SolveInput *solve, const Result *base, const StudyHow *how);
Doubt *doubt_ref(Doubt *doubt);
void doubt_free(Doubt *doubt);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Doubt, doubt_free)

/* Puts the studied spreads and verdicts in the place of those that the solve gave by itself. */
void doubt_apply(const Doubt *doubt, Result *result);
