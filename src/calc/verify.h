/* Reference cases run through the calculators.
 *
 *     calculator,inputs,output,expected,tolerance,source,status
 *
 * output: name, name[i], name[word] or validity. Expected and tolerance with unit or none; a tolerance in % is of the
 * expected value. A word needs no tolerance, a number does. An unknown calculator fails, so does an output not given. */
#pragma once

#include <glib.h>
#include <stddef.h>

typedef struct {
    size_t passed, failed;
} VerifyCounts;

/* Each failing row becomes a line of report. only: NULL-terminated names, or NULL for all; a name there that no row
 * bears counts as failed. FALSE and *error when a file is no cases file at all. */
gboolean verify_cases(size_t n, const char *const path[], const char *const only[], GString *report,
                      VerifyCounts *counts, GError **error);
