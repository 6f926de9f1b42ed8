/* From the text of a boat file to the typed boat.
 *
 * Invariant: all that is wrong is said at once; a boat with errors in its notes is given back for
 * its tree and its records, not to be solved. */
#include "boat/read_internal.h"

#include <string.h>

enum { MOST_NEAREST = 200 };

static Reader
reader_new(Boat *boat, const Document *document, Diagnostics *notes, bool patch)
{
    Reader r = {.boat = boat, .notes = notes, .patch = patch, .near_left = MOST_NEAREST};
    r.text = document_text(document, &r.length);
    r.places = g_array_new(FALSE, FALSE, sizeof(MarkedPlace));
    r.references = g_array_new(FALSE, FALSE, sizeof(WaitingReference));
    return r;
}

static void
reader_clear(Reader *r)
{
    for (size_t i = 0; i < r->places->len; i++)
        g_free(g_array_index(r->places, MarkedPlace, i).mark);
    g_array_unref(r->places);
    g_array_unref(r->references);
}

static bool
judge_version(const Node *root, Diagnostics *notes)
{
    const Node *careen = node_child(root, "careen");
    if (careen == NULL || careen->type != NODE_SCALAR) {
        diagnostics_add(notes, NOTE_ERROR, 1, 1, "careen", "a boat file begins with `careen: 1`");
        return false;
    }
    if (strcmp(careen->text, "1") != 0) {
        diagnostics_add(notes, NOTE_ERROR, careen->line, careen->column, "careen",
                        "this file is of version `%s`; this program reads version 1", careen->text);
        return false;
    }
    if (node_nth(root, 0) != careen)
        diagnostics_add(notes, NOTE_ERROR, careen->key_line, careen->key_column, "careen",
                        "`careen: 1` comes first in the file");
    return true;
}

static BoatText *
text_new(Document *base, Document *merged)
{
    BoatText *text = g_atomic_rc_box_new0(BoatText);
    const Node *options = node_child(document_root(base), "options");
    text->base = base;
    text->merged = merged;
    text->strings = g_string_chunk_new(4096);
    if (options != NULL && options->type == NODE_MAP) {
        text->option_ids = g_new0(const char *, node_n_children(options) + 1);
        for (size_t i = 0; i < node_n_children(options); i++)
            text->option_ids[text->n_options++] = node_nth(options, i)->key;
    }
    return text;
}

static bool
is_chosen(const char *id, size_t n, const char *const options[])
{
    for (size_t i = 0; i < n; i++)
        if (strcmp(options[i], id) == 0)
            return true;
    return false;
}

/* The changes of every option are read for their slips, also when the option is not chosen. */
static void
check_option(const Boat *boat, const Node *option, Diagnostics *notes)
{
    const Document *document = boat->shared->base;
    const Node *changes = node_child(option, "changes");
    if (changes == NULL)
        return;
    if (changes->type != NODE_MAP) {
        g_autofree char *path = node_path(changes);
        diagnostics_add(notes, changes->type == NODE_EMPTY ? NOTE_WARNING : NOTE_ERROR,
                        changes->line, changes->column, path,
                        "expected the changed keys below it, as in the base of the file");
        return;
    }
    option_check(document, option, notes);
    /* A boat of its own: what an option says must not reach the boat without it. */
    Boat *scratch = boat_new(g_atomic_rc_box_acquire(boat->shared));
    Reader r = reader_new(scratch, document, notes, true);
    g_autoptr(Node) copy = node_copy(changes);
    g_clear_pointer(&copy->key, g_free);
    option_mark(copy, option->key);
    read_sections(&r, copy);
    read_finish(&r);
    reader_clear(&r);
    boat_free(scratch);
}

static void
check_options(const Boat *boat, size_t n, const char *const chosen[], Diagnostics *notes)
{
    const Node *options = node_child(document_root(boat->shared->base), "options");
    for (size_t i = 0; options != NULL && options->type == NODE_MAP && i < node_n_children(options);
         i++)
        if (!is_chosen(node_nth(options, i)->key, n, chosen))
            check_option(boat, node_nth(options, i), notes);
}

static Boat *
no_boat(const Diagnostics *notes, GError **error)
{
    const Note *first = diagnostics_note(notes, 0);
    for (size_t i = 0; first->level != NOTE_ERROR && i < diagnostics_count(notes); i++)
        first = diagnostics_note(notes, i);
    g_set_error(error, BOAT_ERROR, 0, "line %u, column %u: %s", first->line, first->column,
                first->text);
    return NULL;
}

Boat *
boat_read(Document *base, size_t n_options, const char *const options[], Diagnostics *notes,
          GError **error)
{
    if (!judge_version(document_root(base), notes))
        return no_boat(notes, error);
    Document *merged =
        n_options == 0 ? document_ref(base)
                       : document_with_root(base, option_merge(base, n_options, options, notes));
    Boat *boat = boat_new(text_new(document_ref(base), merged));
    Reader r = reader_new(boat, base, notes, false);
    read_sections(&r, document_root(merged));
    read_finish(&r);
    reader_clear(&r);
    check_options(boat, n_options, options, notes);
    diagnostics_sort(notes);
    return boat;
}

Boat *
boat_parse(const char *text, gsize length, size_t n_options, const char *const options[],
           Diagnostics *notes, GError **error)
{
    g_autoptr(Document) base = document_parse(text, length, notes);
    return base != NULL ? boat_read(base, n_options, options, notes, error) : no_boat(notes, error);
}

Boat *
boat_load(const char *path, size_t n_options, const char *const options[], Diagnostics *notes,
          GError **error)
{
    g_autofree char *text = NULL;
    gsize length;
    if (!g_file_get_contents(path, &text, &length, error))
        return NULL;
    Boat *boat = boat_parse(text, length, n_options, options, notes, error);
    if (boat == NULL)
        g_prefix_error(error, "%s: ", path);
    return boat;
}
