/* The papers of paper_table, each solved and written whole. */
#include "app/papers.h"

#include <string.h>

#include "checks/figures.h"
#include "report/cable_labels.h"
#include "report/conductor_schedule.h"
#include "report/crane_sheet.h"
#include "report/fuse_list.h"
#include "report/measuring_sheets.h"
#include "report/sheet.h"
#include "report/trials_paper.h"
#include "report/words.h"
#include "study/trials.h"

/* A boat on paper: solved finely, with the day it was made. */
typedef struct {
    const Loaded *loaded;
    SolveInput input;
    Asked asked;
} Print;

/* A picture that the boat does not give is left off the paper. */
static const void *
data_or_null(const Figure *figure)
{
    return figure != NULL ? figure_data(figure) : NULL;
}

static Figure *
figure_or_null(const Print *print, const char *picture)
{
    g_autofree char *why_not = NULL;
    return figure_new(picture, NULL, &print->input, &why_not);
}

static GBytes *
write_blanks(const Print *print, GError **error)
{
    g_autoptr(Result) unsolved = result_new(print->input.boat, print->input.stage);
    return write_measuring_sheets(boat_name(unsolved), print->asked.today, error);
}

static GBytes *
write_flotation(const Print *print, GError **error)
{
    g_autoptr(Result) result = solve(&print->input);
    g_autoptr(Figure) arrangement = figure_or_null(print, "arrangement");
    g_autoptr(Figure) lever = figure_or_null(print, "righting-lever");
    g_autoptr(Figure) weights = figure_or_null(print, "weight-plan");
    SheetFigures figures = {.arrangement = data_or_null(arrangement),
                            .lever = data_or_null(lever),
                            .weights = data_or_null(weights)};
    return write_flotation_sheet(result, &print->asked, print->loaded->style.units, &figures,
                                 error);
}

static GBytes *
write_crane(const Print *print, GError **error)
{
    g_autoptr(Result) result = solve(&print->input);
    g_autoptr(Figure) arrangement = figure_or_null(print, "arrangement");
    return write_crane_sheet(result, &print->asked, print->loaded->style.units,
                             data_or_null(arrangement), error);
}

static GBytes *
write_trials(const Print *print, GError **error)
{
    g_autoptr(Result) result = solve(&print->input);
    g_autoptr(Trials) trials = trials_find(&print->input, NULL);
    return write_trials_paper(result, &print->asked, print->loaded->style.units, trials, error);
}

/* The papers of the wiring need but the result. */
typedef GBytes *(*WriteSheet)(const Result *, const Asked *, UnitsChoice, GError **);

static GBytes *
write_wiring(const Print *print, WriteSheet write, GError **error)
{
    g_autoptr(Result) result = solve(&print->input);
    return write(result, &print->asked, print->loaded->style.units, error);
}

static GBytes *
write_conductors(const Print *print, GError **error)
{
    return write_wiring(print, write_conductor_schedule, error);
}

static GBytes *
write_fuses(const Print *print, GError **error)
{
    return write_wiring(print, write_fuse_list, error);
}

static GBytes *
write_labels(const Print *print, GError **error)
{
    return write_wiring(print, write_cable_labels, error);
}

static const struct {
    const char *name;
    bool fine;
    GBytes *(*write)(const Print *print, GError **error);
    void (*table)(const Result *result, UnitsChoice units, GString *out); /* or NULL */
} writers[] = {
    {"flotation-sheet", true, write_flotation},
    {"measuring-sheets", false, write_blanks},
    {"crane-sheet", true, write_crane},
    {"trials", false, write_trials},
    {"conductor-schedule", false, write_conductors, write_conductors_csv},
    {"fuse-list", false, write_fuses, write_fuses_csv},
    {"labels", false, write_labels, write_labels_csv},
};

static size_t
writer_of(const char *name)
{
    for (size_t i = 0; i < G_N_ELEMENTS(writers); i++)
        if (strcmp(writers[i].name, name) == 0)
            return i;
    g_assert_not_reached(); /* paper_table and writers name the same papers: the tests print each */
}

static Print *
print_new(const Loaded *loaded, Date today, bool fine)
{
    Print *print = g_new0(Print, 1);
    *print = (Print){.loaded = loaded, .input = loaded->input, .asked = loaded->asked};
    print->asked.today = print->input.today = today;
    print->input.fine = fine;
    return print;
}

GBytes *
paper_write(const char *name, const Loaded *loaded, Date today, GError **error)
{
    size_t writer = writer_of(name);
    g_autofree Print *print = print_new(loaded, today, writers[writer].fine);
    return writers[writer].write(print, error);
}

GBytes *
paper_table_write(const char *name, const Loaded *loaded, Date today)
{
    size_t writer = writer_of(name);
    g_autofree Print *print = print_new(loaded, today, writers[writer].fine);
    g_autoptr(Result) result = solve(&print->input);
    GString *out = g_string_new(NULL);
    writers[writer].table(result, loaded->style.units, out);
    return g_string_free_to_bytes(out);
}
