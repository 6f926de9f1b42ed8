/* Studies kept by what was asked: what was reckoned once is not reckoned again while neither the text of the boat nor the question
 * changed; an undo finds what stood before.
 *
 * The key is made from the text, its options, stage, situation, day, units of the sentences, seed, samples, and the finding or the
 * plans asked for. Threads that ask the same at the same time wait for the one that came first; when that one is cancelled, the
 * next goes on from the start. A waiter is told no progress (the first is), and stops when its own flag is set. Each kind keeps
 * the last `most` studies asked for, and lets the others go; whoever still holds a reference keeps what it holds.
 *
 *     g_autoptr(StudyCache) cache = study_cache_new(8);
 *     g_autoptr(Doubt) doubt = study_cache_doubt(cache, &asked, &how);      // NULL: cancelled
 *
 * Everything here may be called from any thread. solve->boat must be the boat of the text, base its result. */
#pragma once

#include "study/compare.h"
#include "study/doubt.h"
#include "study/remedies.h"
#include "study/trials.h"

typedef struct StudyCache StudyCache;

typedef struct {
    const SolveInput *solve;
    const PlanText *text;
    const Result *base; /* of doubt and remedies */
} StudyAsked;

StudyCache *study_cache_new(size_t most);
void study_cache_free(StudyCache *cache); /* when nobody asks it any more */
G_DEFINE_AUTOPTR_CLEANUP_FUNC(StudyCache, study_cache_free)

/* Each gives a reference of the caller's own, or NULL when it was cancelled. */
Doubt *study_cache_doubt(StudyCache *cache, const StudyAsked *asked, const StudyHow *how);
/* finding NULL: of all dangers and faults. */
Remedies *study_cache_remedies(StudyCache *cache, const StudyAsked *asked, const char *finding,
                               const StudyHow *how);
Comparison *study_cache_compare(StudyCache *cache, const StudyAsked *asked, size_t n_options,
                                const char *const options[], const StudyHow *how);
Trials *study_cache_trials(StudyCache *cache, const StudyAsked *asked, const StudyHow *how);

/* How many are kept now; for tests, and for whoever wonders about memory. */
size_t study_cache_kept(StudyCache *cache);
