/* A check: one question about the boat, from typed boat and physics to answers and findings.
 * It does no physics beyond comparing, keeps its working whether or not it complains, and names levers, never amounts. */
#pragma once

#include "result/finding.h"
#include "result/result.h"

typedef struct Afloat Afloat;
typedef struct Wiring Wiring;
typedef struct Work Work;

typedef struct {
    CheckInfo info;
    void (*run)(const Afloat *afloat, Result *result); /* what it looks at: one of the three */
    void (*wired)(const Wiring *wiring, Result *result);
    void (*planned)(const Work *work, Result *result);
} Check;
