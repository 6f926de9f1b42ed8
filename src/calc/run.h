/* One calculator from argument texts to results or text.
 *
 *     "volume = 12.5 m3" a line, "validity = valid" first; a refusal is followed by its reason */
#pragma once

#include <glib.h>

#include "calc/arguments.h"
#include "calc/results.h"

/* NULL and *error when the arguments cannot be taken or the name is unknown. */
CalcResults *calc_run(const char *calculator, size_t n, const char *const argument[],
                      const char *folder, GError **error);
CalcResults *calc_run_text(const char *calculator, const char *arguments, const char *folder,
                           GError **error);

/* g_free. Numbers with up to ten significant digits, in the contract's SI unit. */
char *calc_results_text(const CalcResults *results);

/* How to call it: inputs with units, choices and defaults, outputs; g_free. */
char *calc_usage_text(const Calculator *calculator);
/* One line a calculator: name and question; g_free. */
char *calc_list_text(void);
