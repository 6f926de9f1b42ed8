/* Writes the manual page from the tables of the command line, at build time.
 *
 * Invariant: no command or option is described here, so that none can be forgotten. */
#include <stdio.h>

#include "tables.h"

static void
roff(const char *text)
{
    if (text[0] == '.' || text[0] == '\'')
        fputs("\\&", stdout);
    for (const char *c = text; *c != '\0'; c++) {
        if (*c == '-')
            fputs("\\-", stdout);
        else if (*c == '\\')
            fputs("\\e", stdout);
        else if (*c == '\'')
            fputs("\\(aq", stdout);
        else
            putchar(*c);
    }
}

static void
man_option(const Option *option)
{
    fputs(".TP\n.B ", stdout);
    if (option->letter != '\0')
        printf("\\-%c, ", option->letter);
    fputs("\\-\\-", stdout);
    roff(option->name);
    if (option->value != NULL)
        printf(" \\fI%s\\fR", option->value);
    putchar('\n');
    roff(option->help);
    if (option->commands != NULL) {
        fputs(" (", stdout);
        roff(option->commands);
        putchar(')');
    }
    fputs(".\n", stdout);
}

static void
man_command(const Command *command)
{
    printf(".TP\n.B %s", command->name);
    if (command->words[0] != '\0') {
        fputs(" \\fI", stdout);
        roff(command->words);
        fputs("\\fR", stdout);
    }
    putchar('\n');
    roff(command->what);
    fputs(".\n", stdout);
    if (command->more[0] != '\0') {
        roff(command->more);
        putchar('\n');
    }
}

static void
man(const char *version)
{
    printf(".TH CAREEN 1 \"\" \"careen %s\" \"User Commands\"\n", version);
    fputs(".SH NAME\ncareen \\- what a change to an old steel boat does to the whole boat\n"
          ".SH SYNOPSIS\n.B careen\n.I COMMAND\n.RI [ OPTION \" ...]\"\n.RI [ ARGUMENT \" ...]\"\n"
          ".SH DESCRIPTION\nOne YAML file describes one boat. careen reads it and says whether she "
          "floats level and stays "
          "upright, with the working behind\nevery number, how sure it is, and what to measure "
          "next. It needs no network and "
          "writes nothing but what\n.B edit\nand its sisters are asked to write.\n.SH COMMANDS\n",
          stdout);
    for (int i = 0; i < N_COMMANDS; i++)
        man_command(&commands[i]);
    fputs(".SH OPTIONS\nOptions may stand anywhere on the line;\n.B \\-\\-\nends them.\n", stdout);
    for (int i = 0; i < N_OPTIONS; i++)
        man_option(&options[i]);
    fputs(
        ".SH EXIT STATUS\n.TP\n.B 0\nall done\n.TP\n.B 1\na danger or a fault was found, or a "
        "reference case failed (check and "
        "verify only)\n.TP\n.B 2\nthe input is wrong\n.TP\n.B 3\nthe program failed\n"
        ".SH ENVIRONMENT\n.TP\n.B NO_COLOR\nwhen set to anything, no colours are used\n"
        ".SH FILES\n.TP\n.I NAME.yaml\nthe boat file; the only truth about the boat\n.TP\n.I "
        ".NAME.careen/\nbeside it: every "
        "saved text with time and reason. It may be deleted when no history is wanted\n.TP\n.I "
        "NAME.files/\nbeside it: photos "
        "and scans that the boat file names\n"
        ".SH EXAMPLES\n.nf\ncareen check dunlin.yaml\ncareen check dunlin.yaml \\-\\-stage now "
        "\\-\\-json\ncareen why dunlin.yaml "
        "afloat.gm\ncareen edit dunlin.yaml items.stove.mass=\\(aq95 kg\\(aq \\-\\-why "
        "\\(aqweighed\\(aq\ncareen undo "
        "dunlin.yaml\ncareen calc wall\\-sided\\-gz gm=\\(aq0.5 m\\(aq heel=\\(aq10 deg\\(aq\n.fi\n"
        ".SH NOTES\nNothing found is not safe: the first lines of\n.B check\nsay how many "
        "questions could be answered.\n",
        stdout);
}

int
main(int argc, char *argv[])
{
    if (argc != 2)
        return 2;
    man(argv[1]);
    return fflush(stdout) == 0 ? 0 : 1;
}
