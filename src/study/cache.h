/* Studies kept by the text of the boat: what was reckoned once is not reckoned again while nothing in the file changed. */
#pragma once

#include "study/doubt.h"
#include "study/remedies.h"

typedef struct StudyCache StudyCache;

/* Keeps the last `most` studies of each kind. Safe from any thread. */
StudyCache *study_cache_new(size_t most);
void study_cache_free(StudyCache *cache);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(StudyCache, study_cache_free)

/* Each gives a reference of its own (doubt_free, remedies_free), or NULL when it was cancelled. solve->boat is the boat of the
 * text; base its result. */
Doubt *study_cache_doubt(StudyCache *cache, const SolveInput *solve, const PlanText *text,
                         const Result *base, const StudyHow *how);
Remedies *study_cache_remedies(StudyCache *cache, const SolveInput *solve, const PlanText *text,
                               const Result *base, const StudyHow *how);
