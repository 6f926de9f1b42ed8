/* Two texts of one boat file held against each other.
 *
 * Invariant: places (line, column) never count, since an edit above moves them; path and wording
 * do. */
#include "store/compare.h"

#include <string.h>

#include "boat/boat.h"
#include "boat/written.h"

static bool
same_note(const Note *a, const Note *b)
{
    return a->level == b->level && g_strcmp0(a->path, b->path) == 0 &&
           strcmp(a->text, b->text) == 0;
}

static bool
holds(const Diagnostics *notes, const Note *note)
{
    for (size_t i = 0; i < diagnostics_count(notes); i++)
        if (same_note(diagnostics_note(notes, i), note))
            return true;
    return false;
}

static void
add_missing(Diagnostics *to, const Diagnostics *from)
{
    for (size_t i = 0; i < diagnostics_count(from); i++) {
        const Note *note = diagnostics_note(from, i);
        if (!holds(to, note))
            diagnostics_add(to, note->level, note->line, note->column, note->path, "%s",
                            note->text);
    }
}

static Boat *
read_with(Diagnostics *faults, Document *document, size_t n, const char *const options[])
{
    g_autoptr(Diagnostics) notes = diagnostics_new();
    g_autoptr(GError) error = NULL;
    Boat *boat = boat_read(document, n, options, notes, &error);
    if (boat == NULL && diagnostics_errors(notes) == 0)
        diagnostics_add(notes, NOTE_ERROR, 0, 0, NULL, "%s",
                        error != NULL ? error->message : "this is no boat file");
    add_missing(faults, notes);
    return boat;
}

Diagnostics *
compare_faults(Document *document, size_t n_options, const char *const options[])
{
    Diagnostics *faults = diagnostics_new();
    g_autoptr(Boat) boat = read_with(faults, document, 0, NULL);
    if (boat == NULL)
        return faults;
    if (n_options > 0)
        boat_free(read_with(faults, document, n_options, options));
    const char *const *ids = NULL;
    size_t n = boat_options(boat, &ids);
    for (size_t i = 0; i < n; i++) {
        if (n_options == 1 && strcmp(ids[i], options[0]) == 0)
            continue;
        boat_free(read_with(faults, document, 1, &ids[i]));
    }
    diagnostics_sort(faults);
    return faults;
}

Diagnostics *
compare_new_errors(const Diagnostics *before, const Diagnostics *after)
{
    g_autoptr(Diagnostics) fresh = diagnostics_new();
    for (size_t i = 0; i < diagnostics_count(after); i++) {
        const Note *note = diagnostics_note(after, i);
        if (note->level == NOTE_ERROR && !holds(before, note))
            diagnostics_add(fresh, note->level, note->line, note->column, note->path, "%s",
                            note->text);
    }
    return diagnostics_count(fresh) > 0 ? g_steal_pointer(&fresh) : NULL;
}

Document *
compare_read(const char *text, gsize length)
{
    g_autoptr(Diagnostics) notes = diagnostics_new();
    return document_parse(text, length, notes);
}

char *
compare_value(const Document *document, const char *path)
{
    return document != NULL ? node_written(document, document_find(document, path)) : NULL;
}

bool
compare_says(const Document *document, const char *path, const char *written)
{
    return written_equal(written, document != NULL ? document_find(document, path) : NULL);
}

static bool
same_node(const Node *a, const Node *b)
{
    return a == NULL || b == NULL ? a == b : nodes_equal(a, b);
}

bool
compare_same(const Document *a, const Document *b, const char *path)
{
    return same_node(a != NULL ? document_find(a, path) : NULL,
                     b != NULL ? document_find(b, path) : NULL);
}
