/* print: papers to a file. */
#include <string.h>

#include "app/command.h"
#include "app/listing.h"
#include "app/load.h"
#include "app/output_file.h"
#include "checks/figures.h"
#include "report/sheet.h"

/* A picture that the boat does not give is left off the paper. */
static const void *
data_or_null(const Figure *figure)
{
    return figure != NULL ? figure_data(figure) : NULL;
}

static int
write_paper(const Arguments *arguments, Loaded *loaded)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *no_arrangement = NULL;
    g_autofree char *no_lever = NULL;
    loaded->input.fine = true;
    g_autoptr(Result) result = solve(&loaded->input);
    g_autoptr(Figure) arrangement = figure_new("arrangement", &loaded->input, &no_arrangement);
    g_autoptr(Figure) lever = figure_new("righting-lever", &loaded->input, &no_lever);
    if (write_flotation_sheet(result, &loaded->asked, loaded->style.units,
                              data_or_null(arrangement), data_or_null(lever), arguments->output,
                              &error))
        return EXIT_ALL_DONE;
    return console_complain(EXIT_PROGRAM, "%s", error->message);
}

int
command_print(const Arguments *arguments, GString *out)
{
    int code = EXIT_INPUT;
    const char *file = command_file(arguments, 3);
    const char *name = arguments_word(arguments, 2);
    g_autoptr(Loaded) loaded = file != NULL ? load_boat(arguments, file, &code) : NULL;
    if (loaded == NULL)
        return code;
    g_autofree Listed *listed = g_new(Listed, n_papers);
    for (size_t i = 0; i < n_papers; i++)
        listed[i] = (Listed){paper_table[i].name, paper_table[i].title, paper_table[i].what};
    if (name == NULL) {
        listing_write(arguments, "papers", n_papers, listed, out);
        return EXIT_ALL_DONE;
    }
    if (paper_find(name) == NULL)
        return listing_lacks("paper", name, n_papers, listed);
    if (arguments->output == NULL)
        return console_complain(EXIT_INPUT, "say where to: careen print %s %s -o %s.pdf", file,
                                name, name);
    g_autofree char *ending = output_ending(arguments->output);
    if (strcmp(ending, "pdf") != 0)
        return console_complain(EXIT_INPUT, "%s: papers are written as .pdf", arguments->output);
    return output_allowed(arguments->output, file) ? write_paper(arguments, loaded) : EXIT_INPUT;
}
