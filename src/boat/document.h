/* The text of a boat file as a tree that knows the byte span of every value.
 *
 * Built from libfyaml events. Hostile text is refused (anchors, aliases, tags, directives, second
 * documents, duplicate keys, depth over 32, more than 200 000 nodes, over 4 MiB, NUL and control
 * characters, bad UTF-8). */
#pragma once

#include <glib.h>
#include <stdbool.h>

#include "base/diagnostics.h"

typedef enum { NODE_SCALAR, NODE_MAP, NODE_LIST, NODE_EMPTY } NodeType;

typedef struct Node Node;
struct Node {
    NodeType type;
    char *key;         /* NULL in a list and for the root */
    char *text;        /* of a scalar, decoded; else NULL */
    bool plain;        /* scalar written without quotes or block */
    bool flow;         /* map or list in brackets; inside one everything is flow */
    size_t start, end; /* byte span of the value, quotes and brackets included */
    size_t key_start, key_end;
    unsigned line, column; /* of the value, from 1; of the key when the value is empty */
    unsigned key_line, key_column;
    const char *option; /* the option this value came from, or NULL: base (set by option_merge) */
    Node *parent;
    GPtrArray *children; /* of map and list; owned */
};

/* Counted; what was parsed never changes, so that threads may read it at once. */
typedef struct Document Document;

/* NULL when the text is no acceptable YAML; the reasons are in notes. */
Document *document_parse(const char *text, gsize length, Diagnostics *notes);
Document *document_ref(Document *document);
void document_unref(Document *document);
/* Another tree over the same text: the file with options merged in. Takes the root over. */
Document *document_with_root(const Document *document, Node *root);
const char *document_text(const Document *document, gsize *length);
Node *document_root(const Document *document);
Node *node_child(const Node *map, const char *key); /* NULL when there is none */
size_t node_n_children(const Node *node);
Node *node_nth(const Node *node, size_t i);
Node *document_find(const Document *document, const char *path); /* "items.heater.mass"; NULL */
char *node_path(const Node *node);                               /* g_free */
Node *node_copy(const Node *node);                               /* deep, without parent */
void node_free(Node *node);
void node_add(Node *parent, Node *child); /* at the end; takes the child over */
bool nodes_equal(const Node *a,
                 const Node *b); /* same keys, order, texts; styles and spans may differ */
/* "items.heater.mass" in its parts, ended by NULL, or NULL when a part is empty; g_strfreev. */
char **path_split(const char *path);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Document, document_unref)
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Node, node_free)
