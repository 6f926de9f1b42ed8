/* The one entrance to the checks: a boat at a stage, all disciplines in their order.
 * Pure and re-entrant: no globals, no I/O, no clock. */
#pragma once

#include "boat/boat.h"
#include "catalog/catalog.h"
#include "result/result.h"

typedef struct {
    const Boat *boat; /* options already patched in */
    const Catalog *catalog;
    Stage stage;
    const char *situation; /* only this one, or NULL: all */
    Date today;            /* year 0: not given */
    const char *only;      /* this discipline alone ("afloat"), or NULL: all */
    bool fine;             /* GZ by 1 degree and KN too: for pictures, papers and why */
    bool
        brief; /* for studies: of the wiring the worst situation of each circuit and device alone, no wetted surface */
} SolveInput;

/* Never NULL; what stood in the way is a finding. */
Result *solve(const SolveInput *input);

/* All checks there are, in their order; returns how many. */
size_t solve_checks(const CheckInfo **infos, size_t room);
