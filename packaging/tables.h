/* The tables of the command line, as the manual page and the completions read them. */
#pragma once

typedef struct {
    const char *name, *words, *what, *more;
} Command;
typedef struct {
    char letter;
    const char *name, *value, *commands, *help;
} Option;

static const Command commands[] = {
#define COMMAND(name, words, what, more) {#name, words, what, more},
#include "app/commands.def"
#undef COMMAND
};
static const Option options[] = {
#define OPTION(member, letter, name, value, commands, help) {letter, name, value, commands, help},
#include "app/options.def"
#undef OPTION
};
enum { N_COMMANDS = sizeof commands / sizeof commands[0] };
enum { N_OPTIONS = sizeof options / sizeof options[0] };
