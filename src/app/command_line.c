/* Taking the command line apart.
 *
 * Invariant: options stand anywhere before `--`; nothing is abbreviated, guessed or silently
 * dropped. */
#include "app/command_line.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/diagnostics.h"

const OptionInfo option_table[N_OPTIONS] = {
#define OPTION(member, letter, name, value, commands, help) {letter, name, value, commands, help},
#include "app/options.def"
#undef OPTION
};

static const char *const command_names[] = {
#define COMMAND(name, words, what, more) #name,
#include "app/commands.def"
#undef COMMAND
};

bool
option_belongs(OptionId id, const char *command)
{
    if (option_table[id].commands == NULL)
        return true;
    g_auto(GStrv) names = g_strsplit(option_table[id].commands, " ", -1);
    return g_strv_contains((const char *const *) names, command);
}

static const char *
nearest_option(const char *name)
{
    const char *names[N_OPTIONS];
    for (size_t i = 0; i < N_OPTIONS; i++)
        names[i] = option_table[i].name;
    return nearest_word(name, N_OPTIONS, names);
}

static bool
date_read(const char *text, Date *date)
{
    char rest;
    Date read = {0};
    if (strlen(text) != strlen("2027-04-12") || strspn(text, "0123456789-") != strlen(text) ||
        sscanf(text, "%4d-%2d-%2d%c", &read.year, &read.month, &read.day, &rest) != 3)
        return false;
    if (read.year < 1 || read.month < 1 || read.day < 1 ||
        !g_date_valid_dmy((GDateDay) read.day, (GDateMonth) read.month, (GDateYear) read.year))
        return false;
    *date = read;
    return true;
}

static char *
take_word(const OptionInfo *info, const char *value, const char *a, const char *b, bool *second)
{
    if (strcmp(value, a) != 0 && strcmp(value, b) != 0)
        return g_strdup_printf("--%s takes %s or %s, not '%s'", info->name, a, b, value);
    *second = strcmp(value, b) == 0;
    return NULL;
}

static char *
take_restore(const char *value, gint64 *restore)
{
    char *end = NULL;
    *restore = g_ascii_strtoll(value, &end, 10);
    if (*restore > 0 && *end == '\0' && g_ascii_isdigit(value[0]))
        return NULL;
    return g_strdup_printf(
        "--restore takes the number of a revision, as careen history lists them, not '%s'", value);
}

static void
take_flag(CommandLine *line, OptionId id)
{
    line->json = line->json || id == OPTION_json;
    line->full = line->full || id == OPTION_full;
    line->help = line->help || id == OPTION_help;
    line->questions = line->questions || id == OPTION_questions;
    line->version = line->version || id == OPTION_version;
}

static char *
take_port(const char *value, unsigned *port)
{
    guint64 number;
    if (!g_ascii_string_to_unsigned(value, 10, 0, 65535, &number, NULL))
        return g_strdup_printf("--port takes a number from 0 to 65535, not '%s'", value);
    *port = (unsigned) number;
    return NULL;
}

/* NULL, or what is wrong with the value. */
static char *
take_value(CommandLine *line, OptionId id, char *value)
{
    const OptionInfo *info = &option_table[id];
    bool second = false;
    char *problem = NULL;
    switch (id) {
    case OPTION_option:
        g_ptr_array_add(line->option, value);
        break;
    case OPTION_remove:
        g_ptr_array_add(line->remove, value);
        break;
    case OPTION_stage:
        problem = take_word(info, value, "now", "done", &second);
        line->stage = second ? STAGE_DONE : STAGE_NOW;
        break;
    case OPTION_units:
        problem = take_word(info, value, "metric", "imperial", &second);
        line->units = second ? UNITS_IMPERIAL : UNITS_METRIC;
        line->units_given = true;
        break;
    case OPTION_today:
        if (!date_read(value, &line->today))
            problem = g_strdup_printf("--today takes a date such as 2027-04-12, not '%s'", value);
        break;
    case OPTION_restore:
        problem = take_restore(value, &line->restore);
        break;
    case OPTION_situation:
        line->situation = value;
        break;
    case OPTION_output:
        line->output = value;
        break;
    case OPTION_why:
        line->why = value;
        break;
    case OPTION_only:
        line->only = value;
        break;
    case OPTION_answers:
        line->answers = value;
        break;
    case OPTION_listen:
        line->listen = value;
        break;
    case OPTION_port:
        problem = take_port(value, &line->port);
        line->port_given = true;
        break;
    default:
        g_assert_not_reached(); /* a flag: options_are_explained in the tests tries each */
    }
    return problem;
}

static bool
repeatable(OptionId id)
{
    return id == OPTION_option || id == OPTION_remove || option_table[id].value == NULL;
}

/* The option an argument names; the value after '=' or in the same word, else NULL. */
static bool
find_option(char *argument, OptionId *id, char **value, char **problem)
{
    *value = NULL;
    bool longer = argument[1] == '-';
    char *equals = longer ? strchr(argument, '=') : NULL;
    g_autofree char *name =
        longer ? g_strndup(argument + 2,
                           equals != NULL ? (gsize) (equals - argument - 2) : strlen(argument))
               : g_strndup(argument + 1, 1);
    for (size_t i = 0; i < N_OPTIONS; i++) {
        if (longer ? strcmp(option_table[i].name, name) != 0 : option_table[i].letter != name[0])
            continue;
        *id = (OptionId) i;
        if (equals != NULL)
            *value = equals + 1;
        else if (!longer && argument[2] != '\0')
            *value = argument + 2;
        return true;
    }
    const char *near = longer ? nearest_option(name) : NULL;
    *problem = near != NULL
                   ? g_strdup_printf("there is no option '%s'; did you mean --%s?", argument, near)
                   : g_strdup_printf("there is no option '%s'", argument);
    return false;
}

/* The option that starts at argv[*i]; *i moves on when its value is the next word. */
static char *
read_option(CommandLine *line, int argc, char *const argv[], int *i, bool seen[])
{
    OptionId id;
    char *value, *problem = NULL;
    if (!find_option(argv[*i], &id, &value, &problem))
        return problem;
    const OptionInfo *info = &option_table[id];
    if (seen[id] && !repeatable(id))
        return g_strdup_printf("--%s is given twice", info->name);
    seen[id] = true;
    if (info->value == NULL && value != NULL)
        return g_strdup_printf("--%s takes no value", info->name);
    if (info->value == NULL) {
        take_flag(line, id);
        return NULL;
    }
    if (value == NULL && *i + 1 < argc)
        value = argv[++*i];
    if (value == NULL || value[0] == '\0')
        return g_strdup_printf("--%s needs a value: --%s %s", info->name, info->name, info->value);
    return take_value(line, id, value);
}

static char *
options_fit(const CommandLine *line, const bool seen[])
{
    const char *command = command_line_word(line, 0);
    if (command == NULL)
        return NULL;
    bool known = false;
    for (size_t i = 0; i < G_N_ELEMENTS(command_names); i++)
        known = known || strcmp(command, command_names[i]) == 0;
    for (size_t i = 0; known && i < N_OPTIONS; i++)
        if (seen[i] && !option_belongs((OptionId) i, command))
            return g_strdup_printf("%s takes no --%s (it belongs to: %s)", command,
                                   option_table[i].name, option_table[i].commands);
    return NULL;
}

static size_t
end_list(GPtrArray *list)
{
    size_t n = list->len;
    g_ptr_array_add(list, NULL);
    return n;
}

CommandLine *
command_line_parse(int argc, char *const argv[], char **problem)
{
    g_autoptr(CommandLine) line = g_new0(CommandLine, 1);
    bool seen[N_OPTIONS] = {false};
    bool ended = false;
    *problem = NULL;
    line->stage = STAGE_DONE;
    line->words = g_ptr_array_new();
    line->option = g_ptr_array_new();
    line->remove = g_ptr_array_new();
    for (int i = 1; i < argc && *problem == NULL; i++) {
        if (ended || argv[i][0] != '-' || argv[i][1] == '\0')
            g_ptr_array_add(line->words, argv[i]);
        else if (strcmp(argv[i], "--") == 0)
            ended = true;
        else
            *problem = read_option(line, argc, argv, &i, seen);
    }
    line->n_words = end_list(line->words);
    line->n_option = end_list(line->option);
    line->n_remove = end_list(line->remove);
    if (*problem == NULL)
        *problem = options_fit(line, seen);
    return *problem == NULL ? g_steal_pointer(&line) : NULL;
}

void
command_line_free(CommandLine *line)
{
    if (line == NULL)
        return;
    g_clear_pointer(&line->words, g_ptr_array_unref);
    g_clear_pointer(&line->option, g_ptr_array_unref);
    g_clear_pointer(&line->remove, g_ptr_array_unref);
    g_free(line);
}

const char *
command_line_word(const CommandLine *line, size_t i)
{
    return i < line->n_words ? g_ptr_array_index(line->words, i) : NULL;
}
