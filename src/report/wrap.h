/* Text broken at blanks, by columns as a terminal counts them. */
#pragma once

#include <glib.h>

int text_columns(const char *text);
/* Appends text and a newline; the first line begins in column `first` of what is already written,
 * the others at indent. */
void wrap_text(GString *out, const char *text, int first, int indent, int width);
/* Pads with blanks up to a column count. */
void pad_text(GString *out, const char *text, int columns);
/* The text, or as much of it as leaves room for "..." within the columns; g_free. */
char *text_cut(const char *text, int columns);
