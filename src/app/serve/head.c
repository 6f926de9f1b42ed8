/* RFC 9112: 3 the request line, 5 header lines. Stricter where a lenient reader could be led to see another request than we do: no
 * bare CR or LF, no folded line, no blank before a colon, no octet beyond ASCII in the first line. */
#include "app/serve/head.h"

#include <glib.h>
#include <stdbool.h>
#include <string.h>

enum { LONGEST_METHOD = 16, MOST_LINES = 100 };

static bool
is_token_char(char c)
{
    return g_ascii_isalnum(c) || (c != '\0' && strchr("!#$%&'*+-.^_`|~", c) != NULL);
}

static size_t
span(const char *text, size_t length, bool (*is_in)(char c))
{
    size_t n = 0;
    while (n < length && is_in(text[n]))
        n++;
    return n;
}

static bool
is_capital(char c)
{
    return c >= 'A' && c <= 'Z';
}

static bool
is_visible(char c)
{
    return c > ' ' && c < 0x7f;
}

static bool
is_value_char(char c)
{
    return c == '\t' || (unsigned char) c >= 0x80 || (c >= ' ' && c != 0x7f);
}

/* METHOD SP TARGET SP HTTP/1.x */
static bool
first_line_is_sound(const char *line, size_t length)
{
    size_t method = span(line, length, is_capital);
    if (method == 0 || method > LONGEST_METHOD || method == length || line[method] != ' ')
        return false;
    line += method + 1;
    length -= method + 1;
    size_t target = span(line, length, is_visible);
    static const char one[] = " HTTP/1.";
    return target > 0 && length - target == strlen(one) + 1 &&
           memcmp(line + target, one, strlen(one)) == 0 &&
           (line[length - 1] == '0' || line[length - 1] == '1');
}

/* Framing said in other words than these is said in order to be misread; and libsoup 3.2.3 keeps the path of a request whose
 * framing it does not know. NULL: digits. */
static const struct {
    const char *name, *value;
} framing[] = {
    {"Content-Length", NULL},
    {"Transfer-Encoding", "chunked"},
    {"Expect", "100-continue"},
};

static bool
is_digits(const char *text)
{
    return text[0] != '\0' && strspn(text, "0123456789") == strlen(text);
}

static bool
framing_is_plain(const char *line, size_t name, size_t length)
{
    for (size_t i = 0; i < G_N_ELEMENTS(framing); i++) {
        if (strlen(framing[i].name) != name ||
            g_ascii_strncasecmp(line, framing[i].name, name) != 0)
            continue;
        g_autofree char *value = g_strndup(line + name + 1, length - name - 1);
        g_strstrip(value);
        return framing[i].value != NULL ? g_ascii_strcasecmp(value, framing[i].value) == 0
                                        : is_digits(value);
    }
    return true;
}

static bool
line_is_sound(const char *line, size_t length)
{
    size_t name = span(line, length, is_token_char);
    if (name == 0 || name == length || line[name] != ':')
        return false;
    return span(line + name + 1, length - name - 1, is_value_char) == length - name - 1 &&
           framing_is_plain(line, name, length);
}

const char *
head_fault(const char *text, size_t length)
{
    const char *end = text + length;
    for (size_t lines = 0; text < end; lines++) {
        const char *stop = memmem(text, (size_t) (end - text), "\r\n", 2);
        if (stop == NULL)
            return "a line of this request does not end";
        size_t n = (size_t) (stop - text);
        if (lines > 0 && n == 0)
            return NULL;
        if (lines > MOST_LINES)
            return "this request has too many headers";
        if (lines == 0 && !first_line_is_sound(text, n))
            return "this is no request that a browser would make";
        if (lines > 0 && !line_is_sound(text, n))
            return "a header of this request cannot be read";
        text = stop + 2;
    }
    return "this request does not end";
}
