/* The commands of commands.def: each fills one text and returns the status of the program. */
#pragma once

#include "app/command_line.h"
#include "app/console.h"

typedef struct {
    const char *name, *words, *what, *more;
    int (*run)(const CommandLine *line, GString *out);
} Command;

extern const Command command_table[];
extern const size_t n_commands;

const Command *command_find(const char *name);
const char *command_nearest(const char *name); /* NULL */

#define COMMAND(name, words, what, more) int command_##name(const CommandLine *line, GString *out);
#include "app/commands.def"
#undef COMMAND

/* The boat file named on the line, or NULL when that was complained of. At most most words may
 * stand on the line, the command included; 0: any number. */
const char *command_file(const CommandLine *line, size_t most);

/* Help of the whole program, or of one command. */
void help_program(GString *out);
void help_command(GString *out, const Command *command);

/* Complains of an error of the store; its status. */
int command_store_error(const GError *error);

/* The login of whoever runs the program; NULL where the system does not know it. */
const char *command_login(void);
