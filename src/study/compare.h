/* The base plan and its options side by side. */
#pragma once

#include "result/study/compare.h"
#include "study/plan.h"
#include "study/sweep.h"

/* text: the file with the options that hold for all plans (often none). options: what is compared, one plan each. today and
 * situation are taken from solve. NULL when it was cancelled. */
Comparison *compare_plans(const SolveInput *solve, const PlanText *text, size_t n_options,
                          const char *const options[], const StudyHow *how);
Comparison *comparison_ref(Comparison *comparison);
void comparison_free(Comparison *comparison);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Comparison, comparison_free)
