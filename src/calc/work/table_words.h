/* Words of tables (options, scenarios, inputs) by their place of first appearance, and dates as typed. */
#pragma once

#include <glib.h>

#include "base/date.h"
#include "calc/results.h"

/* The different words of a column, in any case, in the order they appear; the words stay the table's. */
GPtrArray *table_words_gather(size_t n, const char *const word[]);
size_t table_words_find(const GPtrArray *words, const char *word); /* words->len: not among them */

/* An error of input in the form of printf. */
void table_words_error(CalcResults *out, const char *format, ...) G_GNUC_PRINTF(2, 3);

/* A date as typed, false with an error of input in out. label: the input, or the column. */
bool table_words_date(CalcResults *out, const char *label, const char *text, Date *date);
