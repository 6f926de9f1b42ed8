/* Any text as the call of a calculator: the first word is its name, the rest its inputs. Whatever comes out is finite. */
#include <glib.h>
#include <math.h>
#include <stdint.h>
#include <string.h>

#include "calc/run.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

int
LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    g_autofree char *name = g_strndup((const char *) data, size);
    char *inputs = strchr(name, ' ');
    if (inputs != NULL)
        *inputs++ = '\0';
    g_autoptr(GError) error = NULL;
    g_autoptr(CalcResults) results =
        calc_run_text(name, inputs != NULL ? inputs : "", NULL, &error);
    g_assert_true((results == NULL) == (error != NULL));
    if (results == NULL) {
        g_assert_true(g_utf8_validate(error->message, -1, NULL));
        return 0;
    }
    for (size_t i = 0; i < results_count(results); i++)
        g_assert_true(results_value(results, i)->word != NULL ||
                      isfinite(results_value(results, i)->value));
    g_assert_true(results_validity(results) != REFUSED || results_count(results) == 0);
    g_autofree char *text = calc_results_text(results);
    g_assert_true(g_utf8_validate(text, -1, NULL));
    return 0;
}
