/* A change to a text: where each edit goes, whom it would overrule, what it would break.
 *
 * Invariant: either all edits of a change are in the text returned, or none is. */
#include "store/change.h"

#include <string.h>

#include "store/compare.h"

enum { REASON_LONGEST = 500, VALUE_SHOWN = 60 };

void
edited_free(Edited *edited)
{
    g_free(edited->path);
    g_free(edited->option);
    g_free(edited->before);
    g_free(edited->after);
    g_free(edited);
}

static char *
shortened(const char *value)
{
    if (value == NULL)
        return g_strdup("nothing");
    g_autofree char *valid = g_utf8_make_valid(value, -1);
    g_strdelimit(valid, "\n\r\t", ' ');
    if (g_utf8_strlen(valid, -1) <= VALUE_SHOWN)
        return g_steal_pointer(&valid);
    g_autofree char *start = g_utf8_substring(valid, 0, VALUE_SHOWN - 1);
    return g_strconcat(start, "\u2026", NULL);
}

/* Where the edits go when the options are chosen. */
static bool
find_targets(const Change *change, const char *text, gsize length, GPtrArray *edited,
             GError **error)
{
    for (size_t i = 0; i < change->n; i++) {
        const char *option = NULL;
        char *path = edit_target(text, length, change->n_options, change->options,
                                 change->edit[i].path, &option, error);
        if (path == NULL)
            return false;
        Edited *one = g_new0(Edited, 1);
        one->path = path;
        one->option = g_strdup(option);
        one->before = compare_value(text, length, path);
        g_ptr_array_add(edited, one);
    }
    return true;
}

static bool
nobody_overruled(const Change *change, const char *name, const char *text, gsize length,
                 const GPtrArray *edited, GError **error)
{
    if (change->made_on == NULL)
        return true;
    g_autoptr(GString) clash = g_string_new(NULL);
    for (guint i = 0; i < edited->len; i++) {
        const Edited *one = g_ptr_array_index(edited, i);
        if (compare_same(change->made_on, change->made_on_length, text, length, one->path))
            continue;
        g_autofree char *seen = compare_value(change->made_on, change->made_on_length, one->path);
        g_autofree char *seen_short = shortened(seen);
        g_autofree char *now_short = shortened(one->before);
        g_autofree char *wanted = shortened(change->edit[i].value);
        g_string_append_printf(clash, "\n%s: was %s when you looked, is %s now, yours is %s",
                               one->path, seen_short, now_short, wanted);
    }
    if (clash->len == 0)
        return true;
    g_set_error(error, STORE_ERROR, STORE_ERROR_CONFLICT,
                "%s: somebody else changed this meanwhile; nothing was changed%s", name,
                clash->str);
    return false;
}

static bool
still_valid(const Change *change, const char *name, const char *before, gsize before_length,
            const char *after, gsize after_length, GError **error)
{
    g_autoptr(Diagnostics) new_faults =
        compare_faults(after, after_length, change->n_options, change->options);
    if (diagnostics_errors(new_faults) == 0)
        return true;
    g_autoptr(Diagnostics) old_faults =
        compare_faults(before, before_length, change->n_options, change->options);
    g_autoptr(Diagnostics) fresh = compare_new_errors(old_faults, new_faults);
    if (fresh == NULL)
        return true;
    g_autofree char *list = diagnostics_text(fresh, name);
    g_set_error(error, STORE_ERROR, STORE_ERROR_REFUSED,
                "%s: the file would be wrong afterwards; nothing was changed\n%s", name,
                g_strchomp(list));
    return false;
}

char *
change_apply(const Change *change, const char *name, const char *text, gsize length,
             gsize *new_length, GPtrArray *edited, GError **error)
{
    *new_length = 0;
    g_autoptr(GError) refused = NULL;
    if (!find_targets(change, text, length, edited, &refused)) {
        g_set_error(error, STORE_ERROR, STORE_ERROR_REFUSED, "%s: %s", name, refused->message);
        return NULL;
    }
    if (!nobody_overruled(change, name, text, length, edited, error))
        return NULL;
    g_autofree Edit *moved = g_new0(Edit, change->n);
    for (size_t i = 0; i < change->n; i++) {
        const Edited *one = g_ptr_array_index(edited, (guint) i);
        moved[i] = (Edit){.path = one->path, .value = change->edit[i].value};
    }
    g_autofree char *after = edit_apply(text, length, change->n, moved, new_length, &refused);
    if (after == NULL) {
        g_set_error(error, STORE_ERROR, STORE_ERROR_REFUSED, "%s: %s", name, refused->message);
        return NULL;
    }
    if (!still_valid(change, name, text, length, after, *new_length, error))
        return NULL;
    for (guint i = 0; i < edited->len; i++) {
        Edited *one = g_ptr_array_index(edited, i);
        one->after = compare_value(after, *new_length, one->path);
    }
    return g_steal_pointer(&after);
}

char *
change_reason(const char *given, const GPtrArray *edited)
{
    g_autoptr(GString) reason = g_string_new(NULL);
    if (given != NULL && given[0] != '\0') {
        g_autofree char *valid = g_utf8_make_valid(given, -1);
        for (const char *c = valid; *c != '\0' && reason->len < REASON_LONGEST;
             c = g_utf8_next_char(c)) {
            gunichar letter = g_utf8_get_char(c);
            g_string_append_unichar(reason, g_unichar_iscntrl(letter) ? ' ' : letter);
        }
        return g_strdup(reason->str);
    }
    for (guint i = 0; i < edited->len && reason->len < REASON_LONGEST; i++) {
        const Edited *one = g_ptr_array_index(edited, i);
        g_autofree char *before = shortened(one->before);
        g_autofree char *after = shortened(one->after);
        g_string_append_printf(reason, "%s%s: %s \u2192 %s", i > 0 ? "; " : "", one->path, before,
                               after);
    }
    return g_strdup(reason->str);
}
