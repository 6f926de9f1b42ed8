/* Any bytes as a boat file: document, typed boat with and without each of its options, copies, notes. What is refused must
 * say why. */
#include <glib.h>
#include <math.h>
#include <stdint.h>
#include <string.h>

#include "boat/boat.h"
#include "boat/written.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void
check_spans(const Node *node, gsize length)
{
    g_assert_true(node->start <= node->end && node->end <= length);
    g_assert_true(node->key_start <= node->key_end && node->key_end <= length);
    for (guint i = 0; node->children != NULL && i < node->children->len; i++) {
        const Node *child = g_ptr_array_index(node->children, i);
        g_assert_true(child->parent == node);
        check_spans(child, length);
    }
}

/* What a form is given says what the file says. */
static void
check_written(const Document *document, const Node *node, int depth, int *left)
{
    if ((*left)-- <= 0 || depth > 30) /* read alone it lies one deeper */
        return;
    g_autofree char *written = node_written(document, node);
    g_assert_true(written_equal(written, node));
    for (guint i = 0; node->children != NULL && i < node->children->len; i++)
        check_written(document, g_ptr_array_index(node->children, i), depth + 1, left);
}

static void
check_document(const char *text, gsize size)
{
    g_autoptr(Diagnostics) notes = diagnostics_new();
    g_autoptr(Document) document = document_parse(text, size, notes);
    g_assert_true(document != NULL || diagnostics_errors(notes) > 0);
    g_autofree char *said = diagnostics_text(notes, "boat.yaml");
    g_assert_true(g_utf8_validate(said, -1, NULL));
    if (document == NULL)
        return;
    int most = 60;
    check_spans(document_root(document), size);
    check_written(document, document_root(document), 0, &most);
}

static void
check_records(const Boat *boat)
{
    for (size_t s = 0; boat_sections[s] != NULL; s++) {
        size_t n;
        const Record *const *records = boat_records(boat, boat_sections[s], &n);
        for (size_t i = 0; i < n; i++)
            for (size_t f = 0; f < boat_sections[s]->n_fields; f++) {
                const double *value = record_double(records[i], &boat_sections[s]->fields[f]);
                g_assert_true(value == NULL || isnan(*value) || isfinite(*value));
            }
    }
}

static Boat *
parse(const char *text, gsize size, size_t n, const char *const options[])
{
    g_autoptr(Diagnostics) notes = diagnostics_new();
    g_autoptr(GError) error = NULL;
    Boat *boat = boat_parse(text, size, n, options, notes, &error);
    g_assert_true((boat == NULL) == (error != NULL));
    g_autofree char *said = diagnostics_text(notes, "boat.yaml");
    g_assert_true(g_utf8_validate(said, -1, NULL));
    if (boat != NULL)
        check_records(boat);
    return boat;
}

int
LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    g_autofree char *text = g_strndup("", size); /* room for a NUL behind it */
    memcpy(text, data, size);
    check_document(text, size);
    g_autoptr(Boat) boat = parse(text, size, 0, NULL);
    if (boat == NULL)
        return 0;
    g_autoptr(Boat) copy = boat_copy(boat);
    check_records(copy);
    const char *const *ids;
    size_t n = boat_options(boat, &ids);
    for (size_t i = 0; i < n && i < 4; i++)
        boat_free(parse(text, size, 1, &ids[i]));
    return 0;
}
