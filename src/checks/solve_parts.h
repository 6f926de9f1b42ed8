/* What a solve puts together of each discipline, for who goes on from there: pictures. */
#pragma once

#include "checks/afloat/afloat.h"
#include "checks/solve.h"
#include "checks/wiring/wiring.h"
#include "checks/work/work.h"

typedef struct {
    Afloat *afloat; /* NULL: was not asked for */
    Wiring *wiring; /* NULL: was not asked for */
    Work *work;     /* NULL: was not asked for */
} SolveParts;

/* As solve; the parts are the caller's. */
Result *solve_parts(const SolveInput *input, SolveParts *parts);
void solve_parts_clear(SolveParts *parts);
