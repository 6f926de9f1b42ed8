/* Numbers as people type them, without any locale. Inside base only. */
#pragma once

#include <stdbool.h>

typedef enum { SCAN_NUMBER, SCAN_NOTHING, SCAN_WRONG } Scan;

/* Reads 4.5, -2, 3/8, 1 1/2, 1e3 or 12 500 (hard blanks) at the start of text. *end is behind it.
 * On SCAN_WRONG *problem (g_free) says why; SCAN_NOTHING: no number stands there. Lenient: a comma
 * that cannot separate thousands is a decimal point. */
Scan scan_number(const char *text, bool lenient, const char **end, double *value, char **problem);

/* The first place behind blanks, hard blanks included. */
const char *scan_blanks(const char *text);
