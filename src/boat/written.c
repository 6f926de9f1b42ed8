/* Values as they are written in the file.
 *
 * Invariant: what node_written gives is written_equal to its node. */
#include "boat/written.h"

#include <string.h>

#include "boat/scalar_text.h"

/* Where a map or list begins its first line, the lines below begin too. */
static char *
at_left_edge(const char *span, size_t length, unsigned column)
{
    GString *out = g_string_sized_new(length);
    for (size_t i = 0; i < length;) {
        size_t line = i;
        while (i > 0 && i < length && i - line < column - 1 && span[i] == ' ')
            i++;
        const char *end = memchr(span + i, '\n', length - i);
        size_t n = end != NULL ? (size_t) (end - span) + 1 - i : length - i;
        g_string_append_len(out, span + i, (gssize) n);
        i += n;
    }
    return g_string_free(out, FALSE);
}

static char *
without_returns(const char *text)
{
    GString *out = g_string_new(NULL);
    for (; *text != '\0'; text++)
        if (*text != '\r')
            g_string_append_c(out, *text);
    return g_strstrip(g_string_free(out, FALSE));
}

/* A map or list read alone: the one entry of a map. NULL when it cannot be read. */
static Document *
read_alone(const char *written)
{
    g_autoptr(GString) text = g_string_new("x:\n ");
    for (const char *at = written; *at != '\0'; at++) {
        g_string_append_c(text, *at);
        if (*at == '\n')
            g_string_append_c(text, ' ');
    }
    g_string_append_c(text, '\n');
    g_autoptr(Diagnostics) notes = diagnostics_new();
    return document_parse(text->str, text->len, notes);
}

static bool
children_equal(const Node *a, const Node *b)
{
    if (a->type != b->type || node_n_children(a) != node_n_children(b))
        return false;
    for (size_t i = 0; i < node_n_children(a); i++)
        if (!nodes_equal(node_nth(a, i), node_nth(b, i)))
            return false;
    return true;
}

bool
written_equal(const char *written, const Node *node)
{
    g_autofree char *said = without_returns(written);
    if (node == NULL || node->type == NODE_EMPTY)
        return said[0] == '\0';
    if (node->type == NODE_SCALAR) {
        g_autofree char *there = without_returns(node->text);
        return strcmp(said, there) == 0;
    }
    g_autoptr(Document) alone = read_alone(said);
    const Node *value = alone != NULL ? node_child(document_root(alone), "x") : NULL;
    return value != NULL && children_equal(value, node);
}

static void
write_text(GString *out, const char *text, bool flow)
{
    g_autofree char *scalar = scalar_text(text, flow, NULL);
    g_string_append(out, scalar != NULL ? scalar : "''");
}

static void write_in_brackets(GString *out, const Node *node);

/* A value behind its key, if it has one. */
static void
write_entry(GString *out, const Node *node, bool flow)
{
    if (node->key != NULL) {
        write_text(out, node->key, flow);
        g_string_append(out, node->type == NODE_EMPTY ? ":" : ": ");
    }
    if (node->type == NODE_SCALAR)
        write_text(out, node->text, flow);
    else if (node->type != NODE_EMPTY)
        write_in_brackets(out, node);
}

static void
write_in_brackets(GString *out, const Node *node)
{
    bool map = node->type == NODE_MAP;
    g_string_append_c(out, map ? '{' : '[');
    for (size_t i = 0; i < node_n_children(node); i++) {
        if (i > 0)
            g_string_append(out, ", ");
        write_entry(out, node_nth(node, i), true);
    }
    g_string_append_c(out, map ? '}' : ']');
}

/* What stands nowhere in one piece, since options change parts of it: a map with an entry a line. */
static char *
put_together(const Node *node)
{
    GString *out = g_string_new(NULL);
    bool lines = node->type == NODE_MAP && node_n_children(node) > 0;
    if (!lines)
        write_in_brackets(out, node);
    for (size_t i = 0; lines && i < node_n_children(node); i++) {
        if (i > 0)
            g_string_append_c(out, '\n');
        write_entry(out, node_nth(node, i), false);
    }
    return g_string_free(out, FALSE);
}

char *
node_written(const Document *document, const Node *node)
{
    if (node == NULL)
        return NULL;
    if (node->type == NODE_EMPTY)
        return g_strdup("");
    if (node->type == NODE_SCALAR)
        return g_strdup(node->text);
    const char *text = document_text(document, NULL);
    g_autofree char *span = at_left_edge(text + node->start, node->end - node->start, node->column);
    return written_equal(span, node) ? g_steal_pointer(&span) : put_together(node);
}

/* By its path, not by what was read from it: a value that cannot be read is shown too. */
char *
field_written(const Boat *boat, const Record *record, const Field *field)
{
    g_autofree char *path = g_strconcat(record->path, ".", field->key, NULL);
    const Document *document = boat_document(boat);
    return node_written(document, document_find(document, path));
}

char *
field_written_bare(const Record *record, const char *key)
{
    static const char *const sure[] = {" (", " \u00b1", " +/-"};
    const FieldState *state = record_state(record, key);
    if (state->origin != ORIGIN_TYPED || state->node == NULL || state->node->text == NULL)
        return NULL;
    char *bare = g_strdup(state->node->text);
    for (size_t i = 0; i < G_N_ELEMENTS(sure); i++) {
        char *at = strstr(bare, sure[i]);
        if (at != NULL)
            *at = '\0';
    }
    return g_strstrip(bare);
}
