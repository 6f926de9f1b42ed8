/* A boat file's text and what was chosen of it, read and ready to be solved. */
#pragma once

#include "app/command_line.h"
#include "catalog/catalog.h"
#include "checks/solve.h"
#include "report/report.h"
#include "study/plan.h"

enum { LOAD_MOST_CHECKS = 256 };

/* Which boat of the file is meant, and in which units it is told. */
typedef struct {
    size_t n_options;
    const char *const *options; /* in the order given */
    Stage stage;
    const char *situation; /* NULL: all */
    Date today;            /* year 0: not given, the clock says */
    bool units_given;      /* else as the file says */
    UnitsChoice units;
} Chosen;

typedef struct {
    Boat *boat;
    const Catalog *catalog;
    Catalog *own_catalog; /* NULL: borrowed */
    SolveInput input;
    Asked asked;
    Style style;
    const CheckInfo *checks[LOAD_MOST_CHECKS];
} Loaded;

/* Reads the text; what is wrong or worth a note is in notes, all of it. NULL with *problem, a sentence (g_free), when the boat
 * must not be solved. The texts of what was chosen and the catalogue are borrowed and must live as long. */
Loaded *loaded_new(const char *text, gsize length, const Chosen *chosen, const Catalog *catalog,
                   Diagnostics *notes, char **problem);
/* The same of a text that was parsed. */
Loaded *loaded_read(Document *document, const Chosen *chosen, const Catalog *catalog,
                    Diagnostics *notes, char **problem);
void loaded_free(Loaded *loaded);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Loaded, loaded_free)
/* The same of a file, with what the line chose; notes and problem go to stderr. NULL with *code, the program's status. */
Loaded *load_boat(const CommandLine *line, const char *file, int *code);
/* The file's text and the options asked for, as studies take them; it lives as long as the boat. */
PlanText loaded_text(const Loaded *loaded);
