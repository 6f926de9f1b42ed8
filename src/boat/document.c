/* The tree of a boat file and the walks over it.
 *
 * Invariant: a child's parent is the node that owns it; spans of parsed nodes lie inside the
 * document's text. */
#include "boat/document_internal.h"

#include <string.h>

Node *
node_new(NodeType type)
{
    Node *node = g_new0(Node, 1);
    node->type = type;
    if (type == NODE_MAP || type == NODE_LIST)
        node->children = g_ptr_array_new_with_free_func((GDestroyNotify) node_free);
    return node;
}

void
node_free(Node *node)
{
    if (node == NULL)
        return;
    g_clear_pointer(&node->children, g_ptr_array_unref);
    g_free(node->key);
    g_free(node->text);
    g_free(node);
}

void
node_add(Node *parent, Node *child)
{
    child->parent = parent;
    g_ptr_array_add(parent->children, child);
}

Node *
node_copy(const Node *node)
{
    Node *copy = g_memdup2(node, sizeof *node);
    copy->key = g_strdup(node->key);
    copy->text = g_strdup(node->text);
    copy->parent = NULL;
    if (node->children != NULL) {
        copy->children = g_ptr_array_new_with_free_func((GDestroyNotify) node_free);
        for (size_t i = 0; i < node->children->len; i++)
            node_add(copy, node_copy(node->children->pdata[i]));
    }
    return copy;
}

bool
nodes_equal(const Node *a, const Node *b)
{
    if (a->type != b->type || g_strcmp0(a->key, b->key) != 0 || g_strcmp0(a->text, b->text) != 0 ||
        node_n_children(a) != node_n_children(b))
        return false;
    for (size_t i = 0; i < node_n_children(a); i++)
        if (!nodes_equal(node_nth(a, i), node_nth(b, i)))
            return false;
    return true;
}

size_t
node_n_children(const Node *node)
{
    return node == NULL || node->children == NULL ? 0 : node->children->len;
}

Node *
node_nth(const Node *node, size_t i)
{
    return node->children->pdata[i];
}

Node *
node_child(const Node *map, const char *key)
{
    if (map == NULL || map->type != NODE_MAP)
        return NULL;
    for (size_t i = 0; i < map->children->len; i++) {
        Node *child = map->children->pdata[i];
        if (strcmp(child->key, key) == 0)
            return child;
    }
    return NULL;
}

char **
path_split(const char *path)
{
    if (!g_utf8_validate(path, -1, NULL))
        return NULL;
    char **parts = g_strsplit(path, ".", -1);
    for (size_t i = 0; parts[i] != NULL; i++)
        if (parts[i][0] == '\0') {
            g_strfreev(parts);
            return NULL;
        }
    if (parts[0] == NULL)
        g_clear_pointer(&parts, g_strfreev);
    return parts;
}

char *
node_path(const Node *node)
{
    GString *path = g_string_new(NULL);
    for (; node != NULL; node = node->parent)
        if (node->key != NULL) {
            if (path->len > 0)
                g_string_prepend_c(path, '.');
            g_string_prepend(path, node->key);
        }
    return g_string_free(path, FALSE);
}

static Document *
document_new(char *text, gsize length, Node *root)
{
    Document *document = g_atomic_rc_box_new0(Document);
    *document = (Document){.text = text, .length = length, .root = root};
    return document;
}

Document *
document_parse(const char *text, gsize length, Diagnostics *notes)
{
    g_return_val_if_fail(text != NULL || length == 0, NULL);
    if (!document_text_clean(text, length, notes))
        return NULL;
    Node *root = document_build(text, length, notes);
    if (root == NULL)
        return NULL;
    return document_new(g_ref_string_new_len(text, (gssize) length), length, root);
}

Document *
document_with_root(const Document *document, Node *root)
{
    return document_new(g_ref_string_acquire(document->text), document->length, root);
}

Document *
document_ref(Document *document)
{
    return g_atomic_rc_box_acquire(document);
}

static void
document_clear(void *data)
{
    Document *document = data;
    node_free(document->root);
    g_ref_string_release(document->text);
}

void
document_unref(Document *document)
{
    if (document != NULL)
        g_atomic_rc_box_release_full(document, document_clear);
}

const char *
document_text(const Document *document, gsize *length)
{
    if (length != NULL)
        *length = document->length;
    return document->text;
}

Node *
document_root(const Document *document)
{
    return document->root;
}

Node *
document_find(const Document *document, const char *path)
{
    g_auto(GStrv) parts = path_split(path);
    Node *node = parts == NULL ? NULL : document->root;
    for (size_t i = 0; node != NULL && parts[i] != NULL; i++)
        node = node_child(node, parts[i]);
    return node;
}
