/* What an edit makes of a text: whether it stays valid, what it changes, whom it would overrule. */
#pragma once

#include <glib.h>
#include <stdbool.h>

#include "base/diagnostics.h"
#include "boat/document.h"

/* Everything wrong in a boat's tree: read alone, with the chosen options, and with each of its
 * options. Two readings complaining of the same thing give one note. */
Diagnostics *compare_faults(Document *document, size_t n_options, const char *const options[]);

/* Errors of after that before did not have, in the order of the text; NULL when there are none. */
Diagnostics *compare_new_errors(const Diagnostics *before, const Diagnostics *after);

/* The tree of a text, or NULL when it is no YAML that a boat file may be. */
Document *compare_read(const char *text, gsize length);

/* The value at a path as it is written, or NULL when there is none. document may be NULL. g_free. */
char *compare_value(const Document *document, const char *path);

/* Whether the value at the path is the one written so, comments and layout aside; "": nothing is
 * there. */
bool compare_says(const Document *document, const char *path, const char *written);

/* Whether the two hold the same value at the path, comments and layout aside. Either may be NULL. */
bool compare_same(const Document *a, const Document *b, const char *path);
