/* What the terminal gets: one text on stdout at the end, complaints on stderr at once. */
#pragma once

#include <glib.h>
#include <stdbool.h>

enum { EXIT_ALL_DONE = 0, EXIT_FOUND = 1, EXIT_INPUT = 2, EXIT_PROGRAM = 3 };

/* Makes sure that the numbers 0 to 2 are taken, so that no boat file is ever opened as one of them,
 * and that a reader who goes away or a limit on file sizes comes back as an error instead of
 * killing us in the middle of a saving. */
void console_start(void);

/* "careen: ..." on stderr, a line or several; control characters made visible. Returns code. */
int console_complain(int code, const char *format, ...) G_GNUC_PRINTF(2, 3);

/* Writes all of it to stdout. A reader who went away (EPIPE) is no fault; anything else gives
 * EXIT_PROGRAM. */
int console_write(const char *text, gsize length, int code);

/* Whether stdout is a terminal that takes colours (NO_COLOR, TERM=dumb). */
bool console_colours(void);
int console_columns(void); /* of the terminal, 100 elsewhere */
