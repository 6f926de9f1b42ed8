/* The help, from the tables of commands and options. */
#include "app/command.h"
#include "report/wrap.h"

enum { NAME_WIDTH = 10, OPTION_WIDTH = 22 };

static void
add_option(GString *out, const OptionInfo *info)
{
    char letter[] = {'-', info->letter, ',', ' ', '\0'};
    g_autofree char *name =
        g_strdup_printf("%s--%s%s%s", info->letter != '\0' ? letter : "", info->name,
                        info->value != NULL ? " " : "", info->value != NULL ? info->value : "");
    g_string_append_printf(out, "  %-*s %s\n", OPTION_WIDTH, name, info->help);
}

static void
add_options(GString *out, const char *command)
{
    for (int id = 0; id < N_OPTIONS; id++)
        if (command != NULL ? option_belongs((OptionId) id, command)
                            : option_table[id].commands == NULL)
            add_option(out, &option_table[id]);
}

void
help_program(GString *out)
{
    g_string_append(out, "careen COMMAND [OPTION...]: what a change to an old steel boat does to "
                         "the whole boat\n\nCommands:\n");
    for (size_t i = 0; i < n_commands; i++)
        g_string_append_printf(out, "  %-*s %s\n", NAME_WIDTH, command_table[i].name,
                               command_table[i].what);
    g_string_append(out, "\nOptions of every command, anywhere on the line:\n");
    add_options(out, NULL);
    g_string_append(out, "\nStatus: 0 all done; 1 danger or fault found (check, verify); 2 the "
                         "input is wrong; 3 the program "
                         "failed.\ncareen help COMMAND says more.\n");
}

void
help_command(GString *out, const Command *command)
{
    int width = console_columns();
    g_string_append_printf(out, "careen %s%s%s: %s\n", command->name,
                           command->words[0] != '\0' ? " " : "", command->words, command->what);
    if (command->more[0] != '\0') {
        g_string_append_c(out, '\n');
        wrap_text(out, command->more, 0, 0, width);
    }
    g_string_append(out, "\nOptions:\n");
    add_options(out, command->name);
}

int
command_help(const CommandLine *line, GString *out)
{
    const char *name = command_line_word(line, 1);
    if (line->n_words > 2)
        return console_complain(EXIT_INPUT, "help takes one command at a time");
    if (name == NULL) {
        help_program(out);
        return EXIT_ALL_DONE;
    }
    const Command *command = command_find(name);
    if (command == NULL) {
        const char *near = command_nearest(name);
        return console_complain(EXIT_INPUT, "there is no command '%s'%s%s%s", name,
                                near != NULL ? "; did you mean '" : "", near != NULL ? near : "",
                                near != NULL ? "'?" : "");
    }
    help_command(out, command);
    return EXIT_ALL_DONE;
}
