/* A view taken apart again, as Markup wrote it: elements and texts with where they stand. Nothing but what Markup writes is read;
 * anything else is no tree. */
#pragma once

#include <glib.h>
#include <stdbool.h>

typedef struct {
    const char *begin, *end; /* in the view; of an element with its tags */
} Slice;

typedef struct {
    bool element;      /* else text */
    Slice whole;       /* all of it */
    Slice name;        /* of an element: "circle" */
    Slice attributes;  /* " cx=\"1\"...": what stands behind the name in its start tag */
    guint first, next; /* child, sibling: places in the tree; 0: none */
} ViewNode;

typedef struct {
    GArray *nodes; /* ViewNode; the outermost element stands first */
} ViewTree;

/* Borrows the text. NULL when it is not one whole element. */
ViewTree *view_tree_new(const char *text, gsize length);
void view_tree_free(ViewTree *tree);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(ViewTree, view_tree_free)
const ViewNode *view_node(const ViewTree *tree, guint i);

bool slices_equal(Slice a, Slice b);
bool slice_is(Slice slice, const char *text);
/* The next `name="value"` of a start tag, without its quotes and still escaped; false when there is none. */
bool view_attribute(Slice *rest, Slice *name, Slice *value);
