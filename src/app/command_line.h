/* The command line, taken apart by the tables commands.def and options.def. */
#pragma once

#include <glib.h>
#include <stdbool.h>

#include "base/kind.h"
#include "boat/boat.h"

typedef enum {
#define OPTION(member, letter, name, value, commands, help) OPTION_##member,
#include "app/options.def"
#undef OPTION
    N_OPTIONS
} OptionId;

typedef struct {
    char letter;
    const char *name, *value, *commands, *help;
} OptionInfo;

extern const OptionInfo option_table[N_OPTIONS];
bool option_belongs(OptionId id, const char *command);

typedef struct {
    GPtrArray *words; /* the command first, if any; NULL ended, the NULL not counted in n_words */
    size_t n_words;
    GPtrArray *option; /* NULL ended likewise */
    size_t n_option;
    GPtrArray *remove;
    size_t n_remove;
    Stage stage;
    const char *situation; /* NULL: all */
    Date today;            /* year 0: not given */
    bool units_given;
    UnitsChoice units;
    bool json, full, help, version;
    const char *output, *why, *only;
    const char *answers;
    bool questions;
    gint64 restore; /* 0: not given */
    const char *listen;
    bool port_given;
    unsigned port;
} CommandLine;

/* NULL with *problem, a sentence for the user, g_free. All strings are borrowed from argv. */
CommandLine *command_line_parse(int argc, char *const argv[], char **problem);
void command_line_free(CommandLine *line);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(CommandLine, command_line_free)

const char *command_line_word(const CommandLine *line,
                              size_t i); /* NULL past the end; 0 is the command */
