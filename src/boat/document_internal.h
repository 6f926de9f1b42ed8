/* What the parts of the document share: the owned text, the check before parsing, the parse itself.
 */
#pragma once

#include "boat/document.h"

#define DOCUMENT_MAX_BYTES ((gsize) 4 << 20)
#define DOCUMENT_MAX_DEPTH 32
#define DOCUMENT_MAX_NODES 200000
#define DOCUMENT_MAX_COMPLAINTS 50 /* past that a file is garbage, not a boat with slips */

/* Counted (atomic); the text is counted by itself, since trees share it. */
struct Document {
    char *text; /* GRefString */
    gsize length;
    Node *root;
};

/* False, with the reason in notes, when the bytes are no text that may reach the parser. */
bool document_text_clean(const char *text, gsize length, Diagnostics *notes);

/* Whether a decoded character has no business in a boat file. */
bool document_forbids(gunichar character);

/* The tree, or NULL with the reasons in notes. */
Node *document_build(const char *text, gsize length, Diagnostics *notes);

Node *node_new(NodeType type);
