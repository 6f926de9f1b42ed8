/* A CSV table as the input of a calculator: header cells column/unit, split at the first slash, or column alone. */
#pragma once

#include <glib.h>

#include "calc/calculator.h"

typedef struct CalcTable CalcTable;

/* NULL and *error with file and line for a column that is unknown, missing, twice there or in a wrong unit, and for a cell
 * that is no number or none of the words. */
CalcTable *calc_table_load(const Input *input, const char *path, GError **error);
void calc_table_free(CalcTable *table);

size_t calc_table_rows(const CalcTable *table);
/* One value a row; the column must be of that kind. */
const double *calc_table_numbers(const CalcTable *table, const char *column);
const size_t *calc_table_choices(const CalcTable *table, const char *column);
const char *const *calc_table_texts(const CalcTable *table, const char *column);
