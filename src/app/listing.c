/* Lists of names with what they stand for. */
#include "app/listing.h"

#include "app/console.h"
#include "base/diagnostics.h"
#include "report/json_out.h"
#include "report/wrap.h"

enum { NAME_WIDTH = 22 };

void
listing_write(const CommandLine *line, const char *key, size_t n, const Listed listed[],
              GString *out)
{
    if (!line->json) {
        for (size_t i = 0; i < n; i++) {
            g_autofree char *of = listed[i].of != NULL ? g_ascii_strup(listed[i].of, -1) : NULL;
            g_autofree char *name = g_strconcat(listed[i].name, of != NULL ? "[." : "",
                                                of != NULL ? of : "", of != NULL ? "]" : "", NULL);
            pad_text(out, name, NAME_WIDTH);
            g_string_append_printf(out, " %s. %s\n", listed[i].title, listed[i].what);
        }
        return;
    }
    Json json = {.out = out};
    json_begin(&json, NULL, '{');
    json_begin(&json, key, '[');
    for (size_t i = 0; i < n; i++) {
        json_begin(&json, NULL, '{');
        json_text(&json, "name", listed[i].name);
        json_text(&json, "title", listed[i].title);
        json_text(&json, "what", listed[i].what);
        if (listed[i].of != NULL)
            json_text(&json, "of", listed[i].of);
        json_end(&json, '}');
    }
    json_end(&json, ']');
    json_end(&json, '}');
    g_string_append_c(out, '\n');
}

int
listing_lacks(const char *what, const char *name, size_t n, const Listed listed[])
{
    g_autofree const char **names = g_new(const char *, n);
    for (size_t i = 0; i < n; i++)
        names[i] = listed[i].name;
    const char *near = nearest_word(name, n, names);
    if (near != NULL)
        return console_complain(EXIT_INPUT, "there is no %s '%s'; did you mean '%s'?", what, name,
                                near);
    return console_complain(EXIT_INPUT, "there is no %s '%s'", what, name);
}
