/* JSON text. Numbers have the shortest digits that read back the same; what is no number is null.
 */
#include "report/json_out.h"

#include <math.h>

#include "base/date.h"
#include "base/number.h"

static void
append_string(GString *out, const char *text)
{
    g_autofree char *valid = g_utf8_make_valid(text, -1);
    g_string_append_c(out, '"');
    for (const char *at = valid; *at != '\0'; at++) {
        unsigned char c = (unsigned char) *at;
        if (c == '"' || c == '\\')
            g_string_append_printf(out, "\\%c", c);
        else if (c < 0x20 || c == 0x7f)
            g_string_append_printf(out, "\\u%04x", c);
        else
            g_string_append_c(out, *at);
    }
    g_string_append_c(out, '"');
}

static void
key_out(Json *json, const char *key)
{
    if (json->comma)
        g_string_append_c(json->out, ',');
    if (json->comma || key != NULL)
        g_string_append_c(json->out, key != NULL ? '\n' : ' ');
    json->comma = TRUE;
    if (key == NULL)
        return;
    append_string(json->out, key);
    g_string_append(json->out, ": ");
}

void
json_begin(Json *json, const char *key, char bracket)
{
    key_out(json, key);
    g_string_append_c(json->out, bracket);
    json->comma = FALSE;
}

void
json_end(Json *json, char bracket)
{
    g_string_append_c(json->out, bracket);
    json->comma = TRUE;
}

void
json_text(Json *json, const char *key, const char *text)
{
    key_out(json, key);
    if (text == NULL)
        g_string_append(json->out, "null");
    else
        append_string(json->out, text);
}

void
json_number(Json *json, const char *key, double value)
{
    key_out(json, key);
    g_autofree char *text = isfinite(value) ? number_exact(value) : g_strdup("null");
    g_string_append(json->out, text);
}

void
json_quantity(Json *json, const char *key, double value, QuantityKind kind)
{
    if (kind != Q_DATE || day_date(value).year == 0) {
        json_number(json, key, kind == Q_DATE ? NAN : value);
        return;
    }
    g_autofree char *text = day_iso(value);
    json_text(json, key, text);
}

void
json_flag(Json *json, const char *key, gboolean value)
{
    key_out(json, key);
    g_string_append(json->out, value ? "true" : "false");
}
