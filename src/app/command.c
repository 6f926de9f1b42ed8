/* The table of commands and what all of them share. */
#include "app/command.h"

#include <string.h>

#include "base/diagnostics.h"
#include "store/error.h"

const Command command_table[] = {
#define COMMAND(name, words, what, more) {#name, words, what, more, command_##name},
#include "app/commands.def"
#undef COMMAND
};
const size_t n_commands = G_N_ELEMENTS(command_table);

const Command *
command_find(const char *name)
{
    for (size_t i = 0; i < n_commands; i++)
        if (strcmp(command_table[i].name, name) == 0)
            return &command_table[i];
    return NULL;
}

const char *
command_nearest(const char *name)
{
    const char *names[G_N_ELEMENTS(command_table)];
    for (size_t i = 0; i < n_commands; i++)
        names[i] = command_table[i].name;
    return nearest_word(name, n_commands, names);
}

const char *
command_file(const CommandLine *line, size_t most)
{
    const Command *command = command_find(command_line_word(line, 0));
    const char *file = command_line_word(line, 1);
    if (file == NULL || file[0] == '\0') {
        console_complain(EXIT_INPUT, "%s needs a boat file: careen %s %s", command->name,
                         command->name, command->words);
        return NULL;
    }
    if (most > 0 && line->n_words > most) {
        console_complain(EXIT_INPUT, "'%s' is one word too many: careen %s %s",
                         command_line_word(line, most), command->name, command->words);
        return NULL;
    }
    return file;
}

int
command_store_error(const GError *error)
{
    bool ours = g_error_matches(error, STORE_ERROR, STORE_ERROR_BUSY) ||
                g_error_matches(error, STORE_ERROR, STORE_ERROR_DISK);
    return console_complain(ours ? EXIT_PROGRAM : EXIT_INPUT, "%s", error->message);
}

const char *
command_login(void)
{
    const char *name = g_get_user_name(); /* "somebody" is GLib's word for nobody it knows */
    return strcmp(name, "somebody") == 0 ? NULL : name;
}
