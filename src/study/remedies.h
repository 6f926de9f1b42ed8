/* Remedies: for every danger and fault the smallest change of each lever that clears it with margin, found by solving the
 * whole boat with the lever moved, and proved by solving the edited text. */
#pragma once

#include "result/study/remedy.h"
#include "study/plan.h"
#include "study/sweep.h"

/* finding: this one only, or NULL for all. solve->boat is the boat of the text. NULL when it was cancelled. */
Remedies *remedies_find(const SolveInput *solve, const PlanText *text, const Result *base,
                        const char *finding, const StudyHow *how);
Remedies *remedies_ref(Remedies *remedies);
void remedies_free(Remedies *remedies);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Remedies, remedies_free)

/* Whether the finding is gone or holds with margin: its spread, at least 5 % of the limit. */
bool remedy_clears(const Result *result, const char *finding);
/* How much is lacking: negative while it does not clear; NAN when it is not made at all. */
double remedy_lacks(const Result *result, const char *finding);
