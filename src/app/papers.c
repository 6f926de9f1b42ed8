/* The papers of paper_table, each solved and written whole. */
#include "app/papers.h"

#include <string.h>

#include "checks/figures.h"
#include "report/crane_sheet.h"
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
    return figure_new(picture, &print->input, &why_not);
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

static const struct {
    const char *name;
    bool fine;
    GBytes *(*write)(const Print *print, GError **error);
} writers[] = {
    {"flotation-sheet", true, write_flotation},
    {"measuring-sheets", false, write_blanks},
    {"crane-sheet", true, write_crane},
    {"trials", false, write_trials},
};

GBytes *
paper_write(const char *name, const Loaded *loaded, Date today, GError **error)
{
    g_autofree Print *print = g_new0(Print, 1);
    *print = (Print){.loaded = loaded, .input = loaded->input, .asked = loaded->asked};
    print->asked.today = print->input.today = today;
    for (size_t i = 0; i < G_N_ELEMENTS(writers); i++) {
        if (strcmp(writers[i].name, name) != 0)
            continue;
        print->input.fine = writers[i].fine;
        return writers[i].write(print, error);
    }
    g_assert_not_reached(); /* paper_table and writers name the same papers: the tests print each */
}
