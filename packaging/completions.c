/* Writes the completions for three shells from the tables of the command line, at build time.
 *
 * Invariant: no command, option or picture is named here, so that none can be forgotten. */
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

#include "tables.h"

static const char *const pictures[] = {
#define PICTURE(function, name, discipline, of, type, title, question) name,
#include "draw/pictures.def"
#undef PICTURE
};

enum { N_PICTURES = sizeof pictures / sizeof pictures[0] };

static bool
belongs(const Option *option, const char *command)
{
    if (option->commands == NULL)
        return true;
    size_t length = strlen(command);
    for (const char *at = option->commands; (at = strstr(at, command)) != NULL; at += length)
        if ((at == option->commands || at[-1] == ' ') && (at[length] == ' ' || at[length] == '\0'))
            return true;
    return false;
}

static void
words_of_options(const char *command)
{
    bool first = true;
    for (int i = 0; i < N_OPTIONS; i++) {
        if (!belongs(&options[i], command))
            continue;
        printf("%s--%s", first ? "" : " ", options[i].name);
        if (options[i].letter != '\0')
            printf(" -%c", options[i].letter);
        first = false;
    }
}

static void
words_of_commands(void)
{
    for (int i = 0; i < N_COMMANDS; i++)
        printf("%s%s", i > 0 ? " " : "", commands[i].name);
}

static void
words_of_pictures(void)
{
    for (int i = 0; i < N_PICTURES; i++)
        printf("%s%s", i > 0 ? " " : "", pictures[i]);
}

static void
bash_values(void)
{
    for (int i = 0; i < N_OPTIONS; i++)
        if (options[i].value != NULL) {
            printf("        --%s", options[i].name);
            if (options[i].letter != '\0')
                printf("|-%c", options[i].letter);
            fputs(") ", stdout);
            if (strcmp(options[i].value, "STAGE") == 0)
                fputs("COMPREPLY=($(compgen -W 'now done' -- \"$cur\"))", stdout);
            else if (strcmp(options[i].value, "UNITS") == 0)
                fputs("COMPREPLY=($(compgen -W 'metric imperial' -- \"$cur\"))", stdout);
            else
                fputs(strcmp(options[i].value, "FILE") == 0 ? "_careen_files" : ":", stdout);
            fputs("; return ;;\n", stdout);
        }
}

static void
bash(void)
{
    fputs("# completion of careen for bash\n"
          "_careen_files() {\n    compopt -o filenames 2>/dev/null\n    COMPREPLY=($(compgen -f -- "
          "\"$cur\"))\n}\n"
          "_careen_typed() {\n    compopt -o filenames 2>/dev/null\n"
          "    COMPREPLY=($(compgen -d -- \"$cur\") $(compgen -f -X \"!*.$1\" -- \"$cur\"))\n}\n"
          "_careen() {\n    local cur prev command= words=0 i\n    COMPREPLY=()\n    "
          "cur=${COMP_WORDS[COMP_CWORD]}\n"
          "    prev=${COMP_WORDS[COMP_CWORD-1]}\n    for ((i = 1; i < COMP_CWORD; i++)); do\n"
          "        case ${COMP_WORDS[i]} in\n        -*) ;;\n"
          "        *) if [[ -z $command ]]; then command=${COMP_WORDS[i]}; else words=$((words + "
          "1)); fi ;;\n        esac\n    done\n"
          "    case $prev in\n",
          stdout);
    bash_values();
    fputs("    esac\n    if [[ -z $command ]]; then\n        COMPREPLY=($(compgen -W '", stdout);
    words_of_commands();
    fputs(" --help --version' -- \"$cur\"))\n        return\n    fi\n    if [[ $cur == -* ]]; "
          "then\n        case $command in\n",
          stdout);
    for (int i = 0; i < N_COMMANDS; i++) {
        printf("        %s) COMPREPLY=($(compgen -W '", commands[i].name);
        words_of_options(commands[i].name);
        fputs("' -- \"$cur\")) ;;\n", stdout);
    }
    fputs("        esac\n        return\n    fi\n    case $command,$words in\n", stdout);
    for (int i = 0; i < N_COMMANDS; i++) {
        if (strncmp(commands[i].words, "FILE", 4) == 0)
            printf("    %s,0) _careen_typed yaml ;;\n", commands[i].name);
        if (strstr(commands[i].words, "CASES") != NULL)
            printf("    %s,*) _careen_typed csv ;;\n", commands[i].name);
        if (strstr(commands[i].words, "PICTURE") != NULL) {
            printf("    %s,1) COMPREPLY=($(compgen -W '", commands[i].name);
            words_of_pictures();
            fputs("' -- \"$cur\")) ;;\n", stdout);
        }
        if (strstr(commands[i].words, "COMMAND") != NULL) {
            printf("    %s,0) COMPREPLY=($(compgen -W '", commands[i].name);
            words_of_commands();
            fputs("' -- \"$cur\")) ;;\n", stdout);
        }
    }
    fputs("    esac\n}\ncomplete -F _careen careen\n", stdout);
}

/* For single quotes of a shell. */
static void
quoted(const char *text, const char *quote)
{
    for (const char *c = text; *c != '\0'; c++) {
        if (*c == '\'')
            fputs(quote, stdout);
        else
            putchar(*c);
    }
}

/* zsh reads ':' in a description as its end, and brackets as its own. */
static void
zsh_text(const char *text)
{
    for (const char *c = text; *c != '\0'; c++) {
        if (*c == '\'')
            fputs("'\\''", stdout);
        else if (*c == ':' || *c == '[' || *c == ']')
            printf("\\%c", *c);
        else
            putchar(*c);
    }
}

static void
zsh_option(const Option *option)
{
    const char *action = "";
    if (option->value != NULL && strcmp(option->value, "STAGE") == 0)
        action = "(now done)";
    else if (option->value != NULL && strcmp(option->value, "UNITS") == 0)
        action = "(metric imperial)";
    else if (option->value != NULL && strcmp(option->value, "FILE") == 0)
        action = "_files";
    for (int letter = 0; letter < (option->letter != '\0' ? 2 : 1); letter++) {
        fputs("        '*", stdout);
        if (letter)
            printf("-%c[", option->letter);
        else
            printf("--%s%s[", option->name, option->value != NULL ? "=" : "");
        zsh_text(option->help);
        putchar(']');
        if (option->value != NULL)
            printf(":%s:%s", option->value, action);
        fputs("' \\\n", stdout);
    }
}

static void
zsh_words(const Command *command)
{
    if (strncmp(command->words, "FILE", 4) == 0)
        fputs("        '1:boat file:_files -g \"*.yaml\"' \\\n", stdout);
    else if (strstr(command->words, "COMMAND") != NULL) {
        fputs("        '1:command:(", stdout);
        words_of_commands();
        fputs(")' \\\n", stdout);
    }
    if (strstr(command->words, "PICTURE") != NULL) {
        fputs("        '2:picture:(", stdout);
        words_of_pictures();
        fputs(")' \\\n", stdout);
    }
    fputs(strstr(command->words, "CASES") != NULL ? "        '*:cases:_files -g \"*.csv\"'\n"
                                                  : "        '*: :'\n",
          stdout);
}

static void
zsh(void)
{
    fputs("#compdef careen\n_careen() {\n    local -a commands\n    commands=(\n", stdout);
    for (int i = 0; i < N_COMMANDS; i++) {
        printf("        '%s:", commands[i].name);
        zsh_text(commands[i].what);
        fputs("'\n", stdout);
    }
    fputs(
        "    )\n    if (( CURRENT == 2 )); then\n        _describe command commands\n        "
        "return\n    fi\n"
        "    local command=$words[2]\n    shift words\n    (( CURRENT-- ))\n    case $command in\n",
        stdout);
    for (int i = 0; i < N_COMMANDS; i++) {
        printf("    %s)\n        _arguments -s \\\n", commands[i].name);
        for (int k = 0; k < N_OPTIONS; k++)
            if (belongs(&options[k], commands[i].name))
                zsh_option(&options[k]);
        zsh_words(&commands[i]);
        fputs("        ;;\n", stdout);
    }
    fputs("    esac\n}\n_careen \"$@\"\n", stdout);
}

static void
fish_option(const Option *option)
{
    fputs("complete -c careen ", stdout);
    if (option->commands != NULL)
        printf("-n '__fish_seen_subcommand_from %s' ", option->commands);
    if (option->letter != '\0')
        printf("-s %c ", option->letter);
    printf("-l %s ", option->name);
    if (option->value != NULL && strcmp(option->value, "STAGE") == 0)
        fputs("-x -a 'now done' ", stdout);
    else if (option->value != NULL && strcmp(option->value, "UNITS") == 0)
        fputs("-x -a 'metric imperial' ", stdout);
    else if (option->value != NULL)
        fputs(strcmp(option->value, "FILE") == 0 ? "-r -F " : "-x ", stdout);
    fputs("-d '", stdout);
    quoted(option->help, "\\'");
    fputs("'\n", stdout);
}

static void
fish(void)
{
    fputs("# completion of careen for fish\ncomplete -c careen -f\n", stdout);
    for (int i = 0; i < N_COMMANDS; i++) {
        printf("complete -c careen -n __fish_use_subcommand -a %s -d '", commands[i].name);
        quoted(commands[i].what, "\\'");
        fputs("'\n", stdout);
    }
    for (int i = 0; i < N_OPTIONS; i++)
        fish_option(&options[i]);
    for (int i = 0; i < N_COMMANDS; i++) {
        const char *name = commands[i].name;
        if (strncmp(commands[i].words, "FILE", 4) == 0)
            printf("complete -c careen -n '__fish_seen_subcommand_from %s' -k -a "
                   "'(__fish_complete_suffix .yaml)'\n",
                   name);
        if (strstr(commands[i].words, "CASES") != NULL)
            printf("complete -c careen -n '__fish_seen_subcommand_from %s' -k -a "
                   "'(__fish_complete_suffix .csv)'\n",
                   name);
        if (strstr(commands[i].words, "PICTURE") != NULL) {
            printf("complete -c careen -n '__fish_seen_subcommand_from %s' -a '", name);
            words_of_pictures();
            fputs("'\n", stdout);
        }
        if (strstr(commands[i].words, "COMMAND") != NULL) {
            printf("complete -c careen -n '__fish_seen_subcommand_from %s' -a '", name);
            words_of_commands();
            fputs("'\n", stdout);
        }
    }
}

int
main(int argc, char *argv[])
{
    const char *shell = argc > 1 ? argv[1] : "";
    if (strcmp(shell, "bash") == 0)
        bash();
    else if (strcmp(shell, "zsh") == 0)
        zsh();
    else if (strcmp(shell, "fish") == 0)
        fish();
    else
        return 2;
    return fflush(stdout) == 0 ? 0 : 1;
}
