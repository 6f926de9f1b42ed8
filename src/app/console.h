/* What the terminal gets: one text on stdout at the end, complaints on stderr at once. */
#pragma once

#include <glib.h>
#include <stdbool.h>

enum { EXIT_ALL_DONE = 0, EXIT_FOUND = 1, EXIT_INPUT = 2, EXIT_PROGRAM = 3 };

/* Makes sure that the numbers 0 to 2 are taken, so that no boat file is ever opened as one of them,
 * and that a reader who goes away or a limit on file sizes comes back as an error instead of
 * killing us in the middle of a saving. */
void console_start(void);

/* "careen: ..." on stderr; control characters made visible. Returns code. */
int console_complain(int code, const char *format, ...) G_GNUC_PRINTF(2, 3);

/* Writes all of it to stdout. A reader who went away (EPIPE) is no fault; anything else gives
 * EXIT_PROGRAM. */
int console_write(const char *text, gsize length, int code);

/* Whether stdout is a terminal that takes colours (NO_COLOR, TERM=dumb). */
bool console_colours(void);
int console_columns(void); /* of the terminal, 100 elsewhere */

/* Text of somebody else's, fit for a terminal: control characters become visible. g_free. */
char *console_clean(const char *text);
/* Appends text broken at blanks so that no line passes the width, each line indented. */
void console_wrap(GString *out, const char *text, int indent, int width);
void console_json_string(GString *out, const char *text); /* quoted; NULL gives null */
