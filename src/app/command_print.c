/* print: papers to a file. */
#include <string.h>

#include "app/command.h"
#include "app/listing.h"
#include "app/load.h"
#include "app/output_file.h"
#include "app/papers.h"

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
        listed[i] = (Listed){paper_table[i].name, paper_table[i].title, paper_table[i].what, NULL};
    if (name == NULL) {
        listing_write(line, "papers", n_papers, listed, out);
        return EXIT_ALL_DONE;
    }
    const PaperInfo *paper = paper_find(name);
    if (paper == NULL)
        return listing_lacks("paper", name, n_papers, listed);
    if (line->output == NULL)
        return console_complain(EXIT_INPUT, "say where to: careen print %s %s -o %s.pdf", file,
                                name, name);
    g_autofree char *ending = output_ending(line->output);
    if (!paper_ends(paper, ending)) {
        g_auto(GStrv) also = paper_also(paper);
        g_autofree char *more = g_strjoinv(" or .", also);
        return console_complain(EXIT_INPUT, "%s: this paper is written as .pdf%s%s", line->output,
                                more[0] != '\0' ? " or ." : "", more);
    }
    if (!output_allowed(line->output, file))
        return EXIT_INPUT;
    GError *error = NULL;
    GBytes *bytes = paper_write(name, ending, loaded, line->today, &error);
    return output_bytes(line->output, bytes, error);
}
