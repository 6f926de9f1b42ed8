/* Findings that hold, by question.
 * Invariant: nothing is left out of a count. */
#include "report/fine.h"

#include <math.h>

/* INFINITY without a number. */
static double
room_frac(const Finding *f)
{
    if (!f->measured || !isfinite(f->value) || !isfinite(f->limit) || f->limit == 0.0)
        return INFINITY;
    return (f->sense == AT_MOST ? f->limit - f->value : f->value - f->limit) / fabs(f->limit);
}

const Finding *
fine_nearest(const Result *result, const CheckInfo *check, size_t *n)
{
    const Finding *nearest = NULL;
    *n = 0;
    for (size_t i = 0; i < result_findings(result); i++) {
        const Finding *f = result_finding(result, i);
        if (f->check != check || f->level != LEVEL_FINE)
            continue;
        ++*n;
        if (nearest == NULL || room_frac(f) < room_frac(nearest))
            nearest = f;
    }
    return nearest;
}
