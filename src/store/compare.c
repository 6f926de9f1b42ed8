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

/* What one reading complains of. */
static Diagnostics *
faults_of(Document *document, size_t n, const char *const options[])
{
    Diagnostics *notes = diagnostics_new();
    g_autoptr(GError) error = NULL;
    g_autoptr(Boat) boat = boat_read(document, n, options, notes, &error);
    if (boat == NULL && diagnostics_errors(notes) == 0)
        diagnostics_add(notes, NOTE_ERROR, 0, 0, NULL, "%s",
                        error != NULL ? error->message : "this is no boat file");
    return notes;
}

typedef struct {
    Document *document;
    size_t n_options;
    const char *const *options;
} Reading;

/* With the chosen options, then with each that is not chosen alone. */
static gpointer
faults_with_options(gpointer data)
{
    const Reading *r = data;
    GPtrArray *faults = g_ptr_array_new_with_free_func((GDestroyNotify) diagnostics_free);
    const Node *options = node_child(document_root(r->document), "options");
    if (r->n_options > 0)
        g_ptr_array_add(faults, faults_of(r->document, r->n_options, r->options));
    for (size_t i = 0; options != NULL && options->type == NODE_MAP && i < node_n_children(options);
         i++) {
        const char *id = node_nth(options, i)->key;
        if (r->n_options != 1 || strcmp(id, r->options[0]) != 0)
            g_ptr_array_add(faults, faults_of(r->document, 1, &id));
    }
    return faults;
}

/* The plain reading and those with options at once: an edit on the page waits for them. */
Diagnostics *
compare_faults(Document *document, size_t n_options, const char *const options[])
{
    Reading reading = {document, n_options, options};
    GThread *other = g_thread_new("options", faults_with_options, &reading);
    Diagnostics *faults = faults_of(document, 0, NULL);
    g_autoptr(GPtrArray) more = g_thread_join(other);
    for (guint i = 0; i < more->len; i++)
        add_missing(faults, g_ptr_array_index(more, i));
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
