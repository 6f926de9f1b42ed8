/* A boat file and the line's options, read and ready to be solved. */
#pragma once

#include "app/command_line.h"
#include "catalog/catalog.h"
#include "checks/solve.h"
#include "report/report.h"
#include "study/plan.h"

enum { LOAD_MOST_CHECKS = 256 };

typedef struct {
    Boat *boat;
    Catalog *catalog;
    SolveInput input;
    Asked asked;
    Style style;
    const CheckInfo *checks[LOAD_MOST_CHECKS];
} Loaded;

/* Reads the file; what is wrong or worth a note goes to stderr, all of it. NULL when the boat must
 * not be solved; *code is then the program's status. */
Loaded *load_boat(const CommandLine *line, const char *file, int *code);
void loaded_free(Loaded *loaded);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Loaded, loaded_free)
/* The file's text and the options asked for, as studies take them; it lives as long as the boat. */
PlanText loaded_text(const Loaded *loaded);
