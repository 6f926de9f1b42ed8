/* Values as they are written in the file: what a form shows, and what was seen held against what is there. */
#pragma once

#include "boat/boat.h"
#include "boat/document.h"

/* Of a scalar its text, of a map or list its lines as if it stood at the left edge; "" of an empty
 * value, NULL of none. Where options are merged in, what holds with them. g_free. */
char *node_written(const Document *document, const Node *node);

/* Whether text written so, in whatever layout and with whatever comments, says what the node says;
 * "" says that nothing is there. */
bool written_equal(const char *written, const Node *node);

/* The text of a record's field, in the options the boat was read with; NULL when it is not in the
 * file. g_free. */
char *field_written(const Boat *boat, const Record *record, const Field *field);

/* "8 AWG" of "8 AWG (seller)": a scalar without what is said of how sure it is; NULL when it is not typed. g_free. */
char *field_written_bare(const Record *record, const char *key);
