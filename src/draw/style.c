/* Takes the rules for pictures out of web/careen.css and puts the values of one palette in. No
 * var() is left over: a name without a value is a fault of ours. */
#include "draw/style.h"

#include <gio/gio.h>
#include <string.h>

#include "draw_resource.h"

static const char pictures_begin[] = "/* == pictures ==";

static const char *
block_behind(const char *css, const char *head)
{
    const char *at = head != NULL ? strstr(css, head) : css;
    const char *root = at != NULL ? strstr(at, ":root {") : NULL;
    g_assert(root != NULL);
    return root + strlen(":root {");
}

/* Value of --name in a block of declarations, length in *n. */
static const char *
palette_value(const char *block, const char *name, size_t length, size_t *n)
{
    const char *end = strchr(block, '}');
    for (const char *at = block; (at = strstr(at, "--")) != NULL && at < end; at += 2) {
        if (strncmp(at, name, length) != 0 || at[length] != ':')
            continue;
        const char *value = at + length + 1;
        value += strspn(value, " ");
        *n = strcspn(value, ";");
        return value;
    }
    return NULL;
}

char *
style_plain(Palette palette)
{
    g_autoptr(GBytes) bytes = g_resource_lookup_data(draw_get_resource(), "/careen/draw/careen.css",
                                                     G_RESOURCE_LOOKUP_FLAGS_NONE, NULL);
    g_assert(bytes != NULL);
    g_autofree char *css = g_strndup(g_bytes_get_data(bytes, NULL), g_bytes_get_size(bytes));
    const char *block = block_behind(css, palette == PALETTE_PRINT ? "@media print" : NULL);
    const char *rules = strstr(css, pictures_begin);
    g_assert(rules != NULL && strstr(rules, "*/") != NULL);
    rules = strstr(rules, "*/") + 3;

    g_autoptr(GString) out = g_string_new(NULL);
    for (const char *var; (var = strstr(rules, "var(")) != NULL;) {
        g_string_append_len(out, rules, var - rules);
        const char *name = var + strlen("var(");
        size_t length = strcspn(name, ")"), n = 0;
        const char *value = palette_value(block, name, length, &n);
        g_assert(value != NULL);
        g_string_append_len(out, value, (gssize) n);
        rules = name + length + 1;
    }
    g_string_append(out, rules);
    return g_string_free(g_steal_pointer(&out), FALSE);
}
