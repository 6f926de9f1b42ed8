/* careen: one command, one text, one status. */
#include <gsl/gsl_errno.h>
#include <locale.h>
#include <string.h>

#include "app/command.h"
#include "base/heap.h"

static int
dispatch(const CommandLine *line, GString *out)
{
    const char *name = command_line_word(line, 0);
    if (line->version) {
        g_string_append(out, "careen " CAREEN_VERSION "\n");
        return EXIT_ALL_DONE;
    }
    if (name == NULL && line->help) {
        help_program(out);
        return EXIT_ALL_DONE;
    }
    if (name == NULL)
        return console_complain(
            EXIT_INPUT,
            "say what to do: careen COMMAND [OPTION...]; careen help lists the commands");
    const Command *command = command_find(name);
    if (command == NULL) {
        const char *near = command_nearest(name);
        if (near != NULL)
            return console_complain(EXIT_INPUT, "there is no command '%s'; did you mean '%s'?",
                                    name, near);
        return console_complain(EXIT_INPUT, "there is no command '%s'; careen help lists them",
                                name);
    }
    if (line->help) {
        help_command(out, command);
        return EXIT_ALL_DONE;
    }
    return command->run(line, out);
}

int
main(int argc, char *argv[])
{
    heap_keep();
    console_start();
    setlocale(LC_CTYPE, ""); /* numbers stay as they are written everywhere */
    gsl_set_error_handler_off();
    g_autofree char *problem = NULL;
    g_autoptr(CommandLine) line = command_line_parse(argc, argv, &problem);
    if (line == NULL)
        return console_complain(EXIT_INPUT, "%s", problem);
    g_autoptr(GString) out = g_string_new(NULL);
    int code = dispatch(line, out);
    return console_write(out->str, out->len, code);
}
