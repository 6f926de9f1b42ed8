/* A demonstration boat, read without a single note and solved. */
#pragma once

#include "checks/solve.h"

typedef struct {
    Boat *boat;
    Catalog *catalog;
    Result *result;
} Example;

/* name without ending; option "" for the base plan; stage "now" or "done". Fails the running test. */
/* list_alone: readings of the water are left aside, as the sum written apart does. */
void example_solve(Example *example, const char *name, const char *option, const char *stage,
                   bool list_alone);
void example_clear(Example *example);
