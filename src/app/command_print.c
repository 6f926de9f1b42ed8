/* print: papers to a file. */
#include <string.h>

#include "app/command.h"
#include "app/listing.h"
#include "app/load.h"
#include "app/output_file.h"
#include "checks/figures.h"
#include "report/crane_sheet.h"
#include "report/measuring_sheets.h"
#include "report/sheet.h"
#include "report/trials_paper.h"
#include "report/words.h"
#include "study/trials.h"

/* A picture that the boat does not give is left off the paper. */
static const void *
data_or_null(const Figure *figure)
{
    return figure != NULL ? figure_data(figure) : NULL;
}

static Figure *
figure_or_null(const Loaded *loaded, const char *picture)
{
    g_autofree char *why_not = NULL;
    return figure_new(picture, &loaded->input, &why_not);
}

static int
write_blanks(const CommandLine *line, Loaded *loaded)
{
    g_autoptr(Result) unsolved = result_new(loaded->boat, loaded->input.stage);
    GError *error = NULL;
    GBytes *bytes = write_measuring_sheets(boat_name(unsolved), line->today, &error);
    return output_bytes(line->output, bytes, error);
}

static int
write_flotation(const CommandLine *line, Loaded *loaded)
{
    loaded->input.fine = true;
    g_autoptr(Result) result = solve(&loaded->input);
    g_autoptr(Figure) arrangement = figure_or_null(loaded, "arrangement");
    g_autoptr(Figure) lever = figure_or_null(loaded, "righting-lever");
    g_autoptr(Figure) weights = figure_or_null(loaded, "weight-plan");
    SheetFigures figures = {.arrangement = data_or_null(arrangement),
                            .lever = data_or_null(lever),
                            .weights = data_or_null(weights)};
    GError *error = NULL;
    GBytes *bytes =
        write_flotation_sheet(result, &loaded->asked, loaded->style.units, &figures, &error);
    return output_bytes(line->output, bytes, error);
}

static int
write_crane(const CommandLine *line, Loaded *loaded)
{
    loaded->input.fine = true;
    g_autoptr(Result) result = solve(&loaded->input);
    g_autoptr(Figure) arrangement = figure_or_null(loaded, "arrangement");
    GError *error = NULL;
    GBytes *bytes = write_crane_sheet(result, &loaded->asked, loaded->style.units,
                                      data_or_null(arrangement), &error);
    return output_bytes(line->output, bytes, error);
}

static int
write_trials(const CommandLine *line, Loaded *loaded)
{
    g_autoptr(Result) result = solve(&loaded->input);
    g_autoptr(Trials) trials = trials_find(&loaded->input, NULL);
    GError *error = NULL;
    GBytes *bytes = write_trials_paper(result, &loaded->asked, loaded->style.units, trials, &error);
    return output_bytes(line->output, bytes, error);
}

static const struct {
    const char *name;
    int (*write)(const CommandLine *line, Loaded *loaded);
} writers[] = {
    {"flotation-sheet", write_flotation},
    {"measuring-sheets", write_blanks},
    {"crane-sheet", write_crane},
    {"trials", write_trials},
};

static int
write_paper(const CommandLine *line, Loaded *loaded, const char *name)
{
    for (size_t i = 0; i < G_N_ELEMENTS(writers); i++)
        if (strcmp(writers[i].name, name) == 0)
            return writers[i].write(line, loaded);
    g_assert_not_reached(); /* paper_table and writers name the same papers: the tests print each */
}

int
command_print(const CommandLine *line, GString *out)
{
    int code = EXIT_INPUT;
    const char *file = command_file(line, 3);
    const char *name = command_line_word(line, 2);
    g_autoptr(Loaded) loaded = file != NULL ? load_boat(line, file, &code) : NULL;
    if (loaded == NULL)
        return code;
    g_autofree Listed *listed = g_new(Listed, n_papers);
    for (size_t i = 0; i < n_papers; i++)
        listed[i] = (Listed){paper_table[i].name, paper_table[i].title, paper_table[i].what};
    if (name == NULL) {
        listing_write(line, "papers", n_papers, listed, out);
        return EXIT_ALL_DONE;
    }
    if (paper_find(name) == NULL)
        return listing_lacks("paper", name, n_papers, listed);
    if (line->output == NULL)
        return console_complain(EXIT_INPUT, "say where to: careen print %s %s -o %s.pdf", file,
                                name, name);
    g_autofree char *ending = output_ending(line->output);
    if (strcmp(ending, "pdf") != 0)
        return console_complain(EXIT_INPUT, "%s: papers are written as .pdf", line->output);
    return output_allowed(line->output, file) ? write_paper(line, loaded, name) : EXIT_INPUT;
}
