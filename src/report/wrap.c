/* Breaking text into lines. A word longer than the line is left whole: paths must stay fit to copy.
 */
#include "report/wrap.h"

#include <string.h>

static int
columns_of(const char *text, gssize length)
{
    int columns = 0;
    const char *end = text + length;
    for (const char *at = text; at < end; at = g_utf8_next_char(at)) {
        gunichar c = g_utf8_get_char(at);
        columns += g_unichar_iszerowidth(c) ? 0 : g_unichar_iswide(c) ? 2 : 1;
    }
    return columns;
}

int
text_columns(const char *text)
{
    return columns_of(text, (gssize) strlen(text));
}

void
wrap_text(GString *out, const char *text, int first, int indent, int width)
{
    int column = first;
    gboolean fresh = TRUE;
    for (const char *at = text + strspn(text, " "); *at != '\0';) {
        size_t length = strcspn(at, " ");
        int wide = columns_of(at, (gssize) length);
        if (!fresh && column + 1 + wide > width) {
            g_string_append_printf(out, "\n%*s", indent, "");
            column = indent;
            fresh = TRUE;
        }
        if (!fresh) {
            g_string_append_c(out, ' ');
            column++;
        }
        g_string_append_len(out, at, (gssize) length);
        column += wide;
        fresh = FALSE;
        at += length;
        at += strspn(at, " ");
    }
    g_string_append_c(out, '\n');
}

void
pad_text(GString *out, const char *text, int columns)
{
    g_string_append(out, text);
    int missing = columns - text_columns(text);
    if (missing > 0)
        g_string_append_printf(out, "%*s", missing, "");
}

char *
text_cut(const char *text, int columns)
{
    if (text_columns(text) <= columns)
        return g_strdup(text);
    const char *end = text;
    while (*end != '\0' && columns_of(text, g_utf8_next_char(end) - text) <= columns - 3)
        end = g_utf8_next_char(end);
    return g_strdup_printf("%.*s...", (int) (end - text), text);
}
