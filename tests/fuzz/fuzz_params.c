/* Any bytes as a form: what is read is clean text, and written again it reads the same. */
#include <glib.h>
#include <stdint.h>
#include <string.h>

#include "app/serve/params.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void
write_text(GString *out, const char *text)
{
    for (; *text != '\0'; text++)
        g_string_append_printf(out, "%%%02x", (unsigned char) *text);
}

static void
reads_the_same(const Params *params)
{
    g_autoptr(GString) text = g_string_new(NULL);
    for (size_t i = 0; i < params_count(params); i++) {
        write_text(text, params_name(params, i));
        g_string_append_c(text, '=');
        write_text(text, params_value(params, i));
        g_string_append_c(text, '&');
    }
    g_autoptr(Params) again = params_parse(text->str, text->len);
    g_assert_nonnull(again);
    g_assert_cmpuint(params_count(again), ==, params_count(params));
    for (size_t i = 0; i < params_count(params); i++) {
        g_assert_cmpstr(params_name(again, i), ==, params_name(params, i));
        g_assert_cmpstr(params_value(again, i), ==, params_value(params, i));
        g_assert_nonnull(params_get(params, params_name(params, i)));
    }
}

int
LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    g_autoptr(Params) params = params_parse((const char *) data, size);
    if (params == NULL)
        return 0;
    g_assert_cmpuint(params_count(params), <=, 4096);
    for (size_t i = 0; i < params_count(params); i++) {
        g_assert_true(g_utf8_validate(params_name(params, i), -1, NULL));
        g_assert_true(g_utf8_validate(params_value(params, i), -1, NULL));
    }
    reads_the_same(params);
    return 0;
}
