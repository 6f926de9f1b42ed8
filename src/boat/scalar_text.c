/* Which quotes a value needs in YAML.
 *
 * Invariant: what comes out is one line, and reads back as the same text. */
#include "boat/scalar_text.h"

#include <string.h>

#include "boat/document_internal.h"
#include "boat/edit.h"

static bool
holds_control(const char *value)
{
    return strpbrk(value, "\t\n\r") != NULL;
}

static bool
plain_holds(const char *value, bool flow)
{
    size_t length = strlen(value);
    if (length == 0 || strchr("?:,[]{}#&*!|>'\"%@` ", value[0]) != NULL || value[length - 1] == ' ')
        return false;
    if (value[0] == '-' && !g_ascii_isdigit(value[1]))
        return false;
    if (strstr(value, ": ") != NULL || strstr(value, " #") != NULL || value[length - 1] == ':')
        return false;
    if (g_str_has_prefix(value, "---") || g_str_has_prefix(value, "..."))
        return false;
    return !flow || strpbrk(value, ",[]{}:") == NULL;
}

static char *
single_quoted(const char *value)
{
    return g_strdup_printf("'%s'", value);
}

static char *
double_quoted(const char *value)
{
    GString *text = g_string_new("\"");
    for (const char *p = value; *p != '\0'; p++) {
        const char *escape = *p == '"'    ? "\\\""
                             : *p == '\\' ? "\\\\"
                             : *p == '\n' ? "\\n"
                             : *p == '\t' ? "\\t"
                             : *p == '\r' ? "\\r"
                                          : NULL;
        if (escape != NULL)
            g_string_append(text, escape);
        else
            g_string_append_c(text, *p);
    }
    g_string_append_c(text, '"');
    return g_string_free(text, FALSE);
}

char *
scalar_text(const char *value, bool flow, GError **error)
{
    if (!g_utf8_validate(value, -1, NULL)) {
        g_set_error(error, EDIT_ERROR, 0, "the value is no UTF-8 text");
        return NULL;
    }
    for (const char *p = value; *p != '\0'; p = g_utf8_next_char(p))
        if (document_forbids(g_utf8_get_char(p))) {
            g_set_error(error, EDIT_ERROR, 0,
                        "the value holds the invisible character U+%04X; leave it out",
                        g_utf8_get_char(p));
            return NULL;
        }
    if (holds_control(value))
        return double_quoted(value);
    if (plain_holds(value, flow))
        return g_strdup(value);
    /* libfyaml 0.7.12 reads doubled apostrophes wrongly, so text with one is never put between
     * them. */
    return strchr(value, '\'') != NULL ? double_quoted(value) : single_quoted(value);
}
