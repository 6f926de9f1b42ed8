/* Boat files for the tests of studies: texts, edited and solved. */
#pragma once

#include "../checks/boats.h"

#include "result/study/remedy.h"
#include "study/plan.h"

typedef struct {
    char *text;
    gsize length;
    const char *option; /* or NULL */
    const char *options[1];
    PlanText plan;
    Boat *boat;
    Catalog *catalog;
    SolveInput input;
    Result *result;
} Opened;

/* Each fails the test where the text is no boat. option NULL: base plan. */
Opened *open_text(const char *text, const char *option, Stage stage);
Opened *open_example(const char *name, const char *option, Stage stage);
/* The remedy typed into the text, and solved. */
Opened *opened_apply(const Opened *opened, const Remedy *remedy);
void opened_free(Opened *opened);
/* That a finding is gone, or no longer a fault and beyond its limit by its spread and by a twentieth of the limit; by one where the zero
 * of the kind says nothing (dates, temperatures). The rule of the program, written out once more. */
void assert_cleared(const Result *result, const char *id);
/* The text with one value set (NULL: removed); g_free. */
char *with(const char *text, const char *path, const char *value);

/* An open box of 6 m by 2 m by 1 m with these lines of items below `items:`, and nobody aboard. g_free. */
char *box_text(const char *items);
