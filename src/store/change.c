/* A change to a text: where each edit goes, whom it would overrule, what it would break.
 *
 * Invariant: either all edits of a change are in the text returned, or none is. */
#include "store/change.h"

#include <string.h>

#include "store/compare.h"

enum { REASON_LONGEST = 500, WHO_LONGEST = 100, VALUE_SHOWN = 60 };

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
find_targets(const Change *change, const Document *document, GPtrArray *edited, GError **error)
{
    for (size_t i = 0; i < change->n; i++) {
        const char *option = NULL;
        char *path = edit_target(document, change->n_options, change->options, change->edit[i].path,
                                 &option, error);
        if (path == NULL)
            return false;
        Edited *one = g_new0(Edited, 1);
        one->path = path;
        one->option = g_strdup(option);
        one->before = compare_value(document, path);
        g_ptr_array_add(edited, one);
    }
    return true;
}

static void
clash_free(Clash *clash)
{
    g_free(clash->path);
    g_free(clash->option);
    g_free(clash->seen);
    g_free(clash->now);
    g_free(clash->wanted);
    g_free(clash);
}

GPtrArray *
clashes_new(void)
{
    return g_ptr_array_new_with_free_func((GDestroyNotify) clash_free);
}

/* In an option the word `remove` says that nothing is there. */
static const char *
value_now(const Edited *one)
{
    return one->option != NULL && g_strcmp0(one->before, "remove") == 0 ? NULL : one->before;
}

static const char *
value_seen(const Change *change, guint i)
{
    return change->was != NULL ? change->was[i] : NULL;
}

/* Whether the edit would overrule what its maker did not see; *seen (g_free) is what he saw. */
static bool
overrules(const Change *change, guint i, const Document *made_on, const Document *document,
          const Edited *one, char **seen)
{
    *seen = NULL;
    if (change->made_on != NULL && !compare_same(made_on, document, one->path)) {
        *seen = compare_value(made_on, one->path);
        return true;
    }
    const char *was = value_seen(change, i), *wanted = change->edit[i].value;
    bool nothing = value_now(one) == NULL;
    if (was == NULL ||
        (nothing ? was[0] == '\0' || wanted == NULL
                 : compare_says(document, one->path, was) ||
                       (wanted != NULL && compare_says(document, one->path, wanted))))
        return false;
    *seen = was[0] != '\0' ? g_strdup(was) : NULL;
    return true;
}

static void
add_clash(GPtrArray *clashes, const Edit *edit, const Edited *one, const char *seen)
{
    Clash *clash = g_new0(Clash, 1);
    clash->path = g_strdup(edit->path);
    clash->option = g_strdup(one->option);
    clash->seen = g_strdup(seen);
    clash->now = g_strdup(value_now(one));
    clash->wanted = g_strdup(edit->value);
    g_ptr_array_add(clashes, clash);
}

static void
say_clash(GString *out, const Edit *edit, const Edited *one, const char *seen)
{
    g_autofree char *was = shortened(seen);
    g_autofree char *now = shortened(value_now(one));
    g_autofree char *wanted = shortened(edit->value);
    g_string_append_printf(out, "\n%s: was %s when you looked, is %s now, yours is %s", one->path,
                           was, now, wanted);
}

static bool
nobody_overruled(const Change *change, const char *name, const Document *document,
                 const GPtrArray *edited, GError **error)
{
    g_autoptr(GString) clash = g_string_new(NULL);
    g_autoptr(Document) made_on =
        change->made_on != NULL ? compare_read(change->made_on, change->made_on_length) : NULL;
    for (guint i = 0; i < edited->len; i++) {
        const Edited *one = g_ptr_array_index(edited, i);
        g_autofree char *seen = NULL;
        if (!overrules(change, i, made_on, document, one, &seen))
            continue;
        say_clash(clash, &change->edit[i], one, seen);
        if (change->clashes != NULL)
            add_clash(change->clashes, &change->edit[i], one, seen);
    }
    if (clash->len == 0)
        return true;
    g_set_error(error, STORE_ERROR, STORE_ERROR_CONFLICT,
                "%s: somebody else changed this meanwhile; nothing was changed%s", name,
                clash->str);
    return false;
}

/* The edits where they go; what somebody else took out meanwhile need not be taken out again. */
static size_t
edits_left(const Change *change, const GPtrArray *edited, Edit left[])
{
    size_t n = 0;
    for (guint i = 0; i < edited->len; i++) {
        const Edited *one = g_ptr_array_index(edited, i);
        const char *wanted = change->edit[i].value;
        if (wanted != NULL || one->before != NULL || value_seen(change, i) == NULL)
            left[n++] = (Edit){.path = one->path, .value = wanted};
    }
    return n;
}

static void
take_faults(Diagnostics *into, const Diagnostics *faults)
{
    for (size_t i = 0; i < diagnostics_count(faults); i++) {
        const Note *note = diagnostics_note(faults, i);
        diagnostics_add(into, note->level, note->line, note->column, note->path, "%s", note->text);
    }
}

static bool
still_valid(const Change *change, const char *name, Document *before, Document *after,
            GError **error)
{
    g_autoptr(Diagnostics) new_faults = compare_faults(after, change->n_options, change->options);
    if (diagnostics_errors(new_faults) == 0)
        return true;
    g_autoptr(Diagnostics) old_faults = compare_faults(before, change->n_options, change->options);
    g_autoptr(Diagnostics) fresh = compare_new_errors(old_faults, new_faults);
    if (fresh == NULL)
        return true;
    if (change->faults != NULL)
        take_faults(change->faults, fresh);
    g_autofree char *list = diagnostics_text(fresh, name);
    g_set_error(error, STORE_ERROR, STORE_ERROR_REFUSED,
                "%s: the file would be wrong afterwards; nothing was changed\n%s", name,
                g_strchomp(list));
    return false;
}

Document *
change_apply(const Change *change, const char *name, Document *before, GPtrArray *edited,
             GError **error)
{
    g_autoptr(GError) refused = NULL;
    if (!find_targets(change, before, edited, &refused)) {
        g_set_error(error, STORE_ERROR, STORE_ERROR_REFUSED, "%s: %s", name, refused->message);
        return NULL;
    }
    if (!nobody_overruled(change, name, before, edited, error))
        return NULL;
    g_autofree Edit *left = g_new0(Edit, change->n);
    size_t n = edits_left(change, edited, left);
    g_autoptr(Document) after = edit_document(before, n, left, &refused);
    if (after == NULL) {
        g_set_error(error, STORE_ERROR, STORE_ERROR_REFUSED, "%s: %s", name, refused->message);
        return NULL;
    }
    if (!still_valid(change, name, before, after, error))
        return NULL;
    for (guint i = 0; i < edited->len; i++) {
        Edited *one = g_ptr_array_index(edited, i);
        one->after = compare_value(after, one->path);
    }
    return g_steal_pointer(&after);
}

/* Whatever was typed, on one line. */
static char *
one_line(const char *given, gsize longest)
{
    g_autofree char *valid = g_utf8_make_valid(given, -1);
    GString *line = g_string_new(NULL);
    for (const char *c = valid; *c != '\0' && line->len < longest; c = g_utf8_next_char(c)) {
        gunichar letter = g_utf8_get_char(c);
        g_string_append_unichar(line, g_unichar_iscntrl(letter) ? ' ' : letter);
    }
    return g_strstrip(g_string_free(line, FALSE));
}

char *
change_who(const char *given)
{
    g_autofree char *who = one_line(given != NULL ? given : "", WHO_LONGEST);
    return who[0] != '\0' ? g_steal_pointer(&who) : NULL;
}

char *
change_reason(const char *given, const GPtrArray *edited)
{
    g_autofree char *line = one_line(given != NULL ? given : "", REASON_LONGEST);
    if (line[0] != '\0')
        return g_steal_pointer(&line);
    g_autoptr(GString) reason = g_string_new(NULL);
    for (guint i = 0; i < edited->len && reason->len < REASON_LONGEST; i++) {
        const Edited *one = g_ptr_array_index(edited, i);
        g_autofree char *before = shortened(one->before);
        g_autofree char *after = shortened(one->after);
        g_string_append_printf(reason, "%s%s: %s \u2192 %s", i > 0 ? "; " : "", one->path, before,
                               after);
    }
    return g_strdup(reason->str);
}
