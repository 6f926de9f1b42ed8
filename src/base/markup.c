/* Writer of SVG and HTML. Every text and attribute value passes one escaping function; only
 * markup_raw does not. Elements close in the order opposite to their opening. */
#include "base/markup.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

enum { NUMBERS = 16, NUMBER_SIZE = 40 };

struct Markup {
    GString *out;
    GPtrArray *open; /* char *: names of the open elements, outermost first */
    char numbers[NUMBERS][NUMBER_SIZE];
    unsigned next_number;
};

Markup *
markup_new(void)
{
    Markup *markup = g_new0(Markup, 1);
    markup->out = g_string_new(NULL);
    markup->open = g_ptr_array_new_with_free_func(g_free);
    return markup;
}

void
markup_free(Markup *markup)
{
    if (markup == NULL)
        return;
    g_string_free(markup->out, TRUE);
    g_ptr_array_unref(markup->open);
    g_free(markup);
}

char *
markup_steal(Markup *markup)
{
    g_assert(markup->open->len == 0);
    char *text = g_string_free(markup->out, FALSE);
    g_ptr_array_unref(markup->open);
    g_free(markup);
    return text;
}

/* XML knows no other control characters than these two, and no U+FFFE and U+FFFF. */
static bool
may_stand(gunichar c)
{
    if (c < 0x20)
        return c == '\t' || c == '\n';
    return !(c >= 0x7f && c < 0xa0) && c != 0xfffe && c != 0xffff;
}

/* Bytes from here on that stand as they are: most of every text. */
static gsize
plain_run(const char *at)
{
    gsize n = 0;
    while (at[n] >= 0x20 && at[n] < 0x7f && strchr("&<>\"'", at[n]) == NULL)
        n++;
    return n;
}

static void
append_escaped(GString *out, const char *text, bool in_attribute)
{
    for (const char *at = text; *at != '\0';) {
        gsize run = plain_run(at);
        if (run > 0) {
            g_string_append_len(out, at, (gssize) run);
            at += run;
            continue;
        }
        gunichar c = g_utf8_get_char_validated(at, -1);
        bool readable = c != (gunichar) -1 && c != (gunichar) -2;
        if (!readable || !may_stand(c)) {
            g_string_append(out, "\xef\xbf\xbd");
            at = readable ? g_utf8_next_char(at) : at + 1;
            continue;
        }
        switch (c) {
        case '&':
            g_string_append(out, "&amp;");
            break;
        case '<':
            g_string_append(out, "&lt;");
            break;
        case '>':
            g_string_append(out, "&gt;");
            break;
        case '"':
            g_string_append(out, "&quot;");
            break;
        case '\'':
            g_string_append(out, "&#39;");
            break;
        case '\t':
        case '\n':
            /* A reader of attributes turns plain ones into blanks. */
            if (in_attribute) {
                g_string_append_printf(out, "&#%u;", c);
                break;
            }
            g_string_append_c(out, (char) c);
            break;
        default:
            g_string_append_unichar(out, c);
        }
        at = g_utf8_next_char(at);
    }
}

static bool
is_name(const char *name)
{
    if (!g_ascii_isalpha(*name) && *name != '_')
        return false;
    while (g_ascii_isalnum(*name) || *name == '-' || *name == '_' || *name == '.' || *name == ':')
        name++;
    return *name == '\0';
}

static void
append_tag(Markup *markup, const char *name, va_list attributes)
{
    g_assert(is_name(name));
    g_string_append_c(markup->out, '<');
    g_string_append(markup->out, name);
    for (const char *key; (key = va_arg(attributes, const char *)) != NULL;) {
        const char *value = va_arg(attributes, const char *);
        g_assert(is_name(key));
        if (value == NULL)
            continue;
        g_string_append_c(markup->out, ' ');
        g_string_append(markup->out, key);
        g_string_append(markup->out, "=\"");
        append_escaped(markup->out, value, true);
        g_string_append_c(markup->out, '"');
    }
}

void
markup_open(Markup *markup, const char *name, ...)
{
    va_list attributes;
    va_start(attributes, name);
    append_tag(markup, name, attributes);
    va_end(attributes);
    g_string_append_c(markup->out, '>');
    g_ptr_array_add(markup->open, g_strdup(name));
}

void
markup_empty(Markup *markup, const char *name, ...)
{
    va_list attributes;
    va_start(attributes, name);
    append_tag(markup, name, attributes);
    va_end(attributes);
    g_string_append(markup->out, "/>");
}

void
markup_close(Markup *markup)
{
    g_assert(markup->open->len > 0);
    guint last = markup->open->len - 1;
    g_string_append(markup->out, "</");
    g_string_append(markup->out, g_ptr_array_index(markup->open, last));
    g_string_append_c(markup->out, '>');
    g_ptr_array_set_size(markup->open, (gint) last);
}

void
markup_text(Markup *markup, const char *text)
{
    append_escaped(markup->out, text, false);
}

void
markup_element(Markup *markup, const char *name, const char *text, ...)
{
    va_list attributes;
    va_start(attributes, text);
    append_tag(markup, name, attributes);
    va_end(attributes);
    g_string_append_c(markup->out, '>');
    append_escaped(markup->out, text, false);
    g_string_append_printf(markup->out, "</%s>", name);
}

void
markup_raw(Markup *markup, const char *finished)
{
    g_string_append(markup->out, finished);
}

/* What "%.3f" gives without its closing zeros, by whole numbers: a page of pictures holds ten thousand coordinates. false where
 * the last digit hangs on bits that the product has lost. */
static bool
write_thousandths(char *text, double value)
{
    double scaled = value * 1000.0, whole = rint(scaled);
    if (fabs(value) > 1e6 || fabs(fabs(scaled - whole) - 0.5) < 1e-6)
        return false;
    long left = labs((long) whole);
    char digits[NUMBER_SIZE], *at = digits + sizeof digits;
    *--at = '\0';
    for (int place = 0; place < 4 || left > 0; place++, left /= 10) {
        if (place == 3 && *at != '\0')
            *--at = '.';
        if (place >= 3 || left % 10 != 0 || *at != '\0')
            *--at = (char) ('0' + left % 10);
    }
    if (whole < 0.0)
        *--at = '-';
    memcpy(text, at, (size_t) (digits + sizeof digits - at));
    return true;
}

const char *
markup_number(Markup *markup, double value)
{
    g_return_val_if_fail(isfinite(value), "0");
    char *text = markup->numbers[markup->next_number++ % NUMBERS];
    /* Past this no picture can be meant, and the digits would not fit. */
    value = CLAMP(value, -1e15, 1e15);
    if (write_thousandths(text, value))
        return text;
    g_ascii_formatd(text, NUMBER_SIZE, "%.3f", value);
    char *last = text + strlen(text) - 1;
    while (*last == '0')
        *last-- = '\0';
    if (*last == '.')
        *last = '\0';
    return g_str_equal(text, "-0") ? "0" : text;
}
