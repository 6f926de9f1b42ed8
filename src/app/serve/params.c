/* Pairs of an address or a form. What is no clean text is refused whole: half a form is worse than none. */
#include "app/serve/params.h"

#include <string.h>

enum { MOST_PAIRS = 4096 };

struct Params {
    GPtrArray *texts; /* name, value, name, value: owned */
};

static Params *
params_new(void)
{
    Params *params = g_new(Params, 1);
    params->texts = g_ptr_array_new_with_free_func(g_free);
    return params;
}

void
params_free(Params *params)
{
    if (params == NULL)
        return;
    g_ptr_array_unref(params->texts);
    g_free(params);
}

char *
params_decode(const char *text, gsize length, bool plus_is_blank)
{
    g_autofree char *out = g_malloc(length + 1);
    gsize n = 0;
    for (gsize i = 0; i < length; i++) {
        char c = text[i];
        if (c == '%') {
            int high = i + 2 < length ? g_ascii_xdigit_value(text[i + 1]) : -1;
            int low = i + 2 < length ? g_ascii_xdigit_value(text[i + 2]) : -1;
            if (high < 0 || low < 0)
                return NULL;
            c = (char) (high * 16 + low);
            i += 2;
        } else if (c == '+' && plus_is_blank) {
            c = ' ';
        }
        out[n++] = c;
    }
    if (!g_utf8_validate_len(out, n, NULL))
        return NULL;
    out[n] = '\0';
    return g_steal_pointer(&out);
}

static bool
add_pair(Params *params, const char *pair, gsize length)
{
    const char *equals = memchr(pair, '=', length);
    gsize name_length = equals != NULL ? (gsize) (equals - pair) : length;
    const char *value = equals != NULL ? equals + 1 : pair + length;
    char *name = params_decode(pair, name_length, true);
    char *text = params_decode(value, (gsize) (pair + length - value), true);
    g_ptr_array_add(params->texts, name);
    g_ptr_array_add(params->texts, text);
    return name != NULL && text != NULL && params->texts->len <= 2 * MOST_PAIRS;
}

Params *
params_parse(const char *text, gsize length)
{
    g_autoptr(Params) params = params_new();
    const char *end = text + length;
    while (text < end) {
        const char *amp = memchr(text, '&', (gsize) (end - text));
        const char *stop = amp != NULL ? amp : end;
        if (stop > text && !add_pair(params, text, (gsize) (stop - text)))
            return NULL;
        text = stop + (amp != NULL);
    }
    return g_steal_pointer(&params);
}

size_t
params_count(const Params *params)
{
    return params->texts->len / 2;
}

const char *
params_name(const Params *params, size_t i)
{
    g_return_val_if_fail(i < params_count(params), NULL);
    return g_ptr_array_index(params->texts, 2 * i);
}

const char *
params_value(const Params *params, size_t i)
{
    g_return_val_if_fail(i < params_count(params), NULL);
    return g_ptr_array_index(params->texts, 2 * i + 1);
}

const char *
params_get(const Params *params, const char *name)
{
    for (size_t i = params_count(params); i-- > 0;)
        if (strcmp(params_name(params, i), name) == 0)
            return params_value(params, i);
    return NULL;
}
