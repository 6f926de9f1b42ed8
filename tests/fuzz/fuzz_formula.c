/* Any bytes as a formula: no crash, markup that is well formed, and every byte of what is no formula still there. */
#include <glib.h>
#include <stdint.h>
#include <string.h>

#include "report/formula_math.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void
well_formed(const char *math)
{
    static const GMarkupParser nothing = {0};
    g_autofree char *whole = g_strdup_printf("<all>%s</all>", math);
    GMarkupParseContext *context = g_markup_parse_context_new(&nothing, 0, NULL, NULL);
    g_assert_true(g_markup_parse_context_parse(context, whole, -1, NULL));
    g_assert_true(g_markup_parse_context_end_parse(context, NULL));
    g_markup_parse_context_free(context);
}

int
LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    g_autofree char *text = g_strndup((const char *) data, size);
    for (int shape = MATH_INLINE; shape <= MATH_BROKEN; shape++) {
        Markup *out = markup_new(), *plain = markup_new();
        bool read = write_formula_math(text, (MathShape) shape, out);
        markup_text(plain, text);
        g_autofree char *math = markup_steal(out), *escaped = markup_steal(plain);
        well_formed(math);
        g_assert_true(read || strstr(math, escaped) != NULL);
    }
    g_assert_true(formula_math_columns(text) >= 0);
    return 0;
}
