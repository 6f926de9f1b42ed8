/* Any bytes as the head of a request. What is called sound has no octet that two readers could take differently. */
#include <glib.h>
#include <stdint.h>
#include <string.h>

#include "app/serve/head.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void
is_clear(const char *text, size_t size)
{
    g_assert_true(size >= 4);
    const char *end = memmem(text, size, "\r\n\r\n", 4);
    g_assert_nonnull(end);
    for (const char *c = text; c < end + 4; c++) {
        g_assert_true(*c != '\0' && *c != '\x7f');
        g_assert_true(*c != '\r' || c[1] == '\n');
        g_assert_true(*c != '\n' || (c > text && c[-1] == '\r'));
        g_assert_true(*c != '\n' || c + 1 == end + 4 || (c[1] != ' ' && c[1] != '\t'));
    }
}

int
LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    const char *fault = head_fault((const char *) data, size);
    if (fault == NULL)
        is_clear((const char *) data, size);
    else
        g_assert_true(fault[0] != '\0');
    return 0;
}
