/* The sentences that stand first: can she sink, can she burn, is she insurable, will I be done,
 * what next. */
#pragma once

#include "report/report.h"

char *front_line(const Result *result, const Asked *asked, FrontLine line,
                 UnitsChoice units); /* g_free */
/* with_paths: for a reader who can type them; g_free. */
char *next_line(const Result *result, bool with_paths);
