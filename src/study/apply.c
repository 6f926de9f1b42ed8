/* The studied doubt put into a result.
 * Invariant: only spreads, levels and what settles them change; no value, limit or working does. Where trials put a value
 * elsewhere, its spread reaches as far as what they leave. */
#include <math.h>

#include "study/doubt.h"
#include "study/outputs.h"

void
doubt_apply(const Doubt *doubt, Result *result)
{
    for (size_t i = 0; i < doubt->n_answers; i++) {
        /* The result is ours to finish before anybody reads it. */
        Answer *answer = (Answer *) result_answer_find(result, doubt->answer[i].name);
        if (answer != NULL)
            answer->spread = doubt->answer[i].spread + fabs(doubt->answer[i].moved);
    }
    for (size_t i = 0; i < doubt->n_verdicts; i++) {
        const DoubtVerdict *v = &doubt->verdict[i];
        Finding *f = (Finding *) result_finding_find(result, v->finding);
        if (f == NULL || !isfinite(v->spread))
            continue;
        f->spread = v->spread + fabs(v->margin - finding_margin(f));
        f->level = v->after;
        if (v->could_turn && v->settle_path != NULL)
            finding_settle(result, f, v->settle_path, v->settle_text);
        else if (v->after == LEVEL_FINE)
            finding_settle(result, f, NULL, NULL);
    }
    result_settle(result);
}
