/* Cells and rows of a table as RFC 4180 has it. */
#pragma once

#include <glib.h>

#include "base/unit.h"

void csv_word(GString *out, const char *text); /* our own */
/* The owner's text, nothing in it that would break a table; NULL: an empty cell. */
void csv_text(GString *out, const char *text);
void csv_number(GString *out, double number); /* not finite: an empty cell */
void csv_row_end(GString *out);
void csv_head(GString *out, const char *const words[]); /* NULL ended; ends the row */
/* The unit of a whole column: that of the kind, never one that follows the size of the number. */
Unit csv_unit(QuantityKind kind, UnitsChoice units);
