/* Reads what Markup wrote: every value in double quotes, no < and no > in any text or value, every element closed.
 * Invariant: the end of a node is set when its element closes; an element that never closes makes no tree. */
#include "app/page/view_tree.h"

#include <string.h>

enum { DEEPEST = 64 };

typedef struct {
    ViewTree *tree;
    const char *at, *end;
    guint open[DEEPEST], last[DEEPEST]; /* the open elements, and the last child of each */
    guint depth;
} Reader;

bool
slices_equal(Slice a, Slice b)
{
    gsize length = (gsize) (a.end - a.begin);
    return length == (gsize) (b.end - b.begin) && memcmp(a.begin, b.begin, length) == 0;
}

bool
slice_is(Slice slice, const char *text)
{
    return slices_equal(slice, (Slice){text, text + strlen(text)});
}

const ViewNode *
view_node(const ViewTree *tree, guint i)
{
    return &g_array_index(tree->nodes, ViewNode, i);
}

static ViewNode *
node_at(Reader *reader, guint i)
{
    return &g_array_index(reader->tree->nodes, ViewNode, i);
}

static guint
add(Reader *reader, const ViewNode *node)
{
    guint i = reader->tree->nodes->len;
    g_array_append_val(reader->tree->nodes, *node);
    if (reader->depth == 0)
        return i;
    guint *last = &reader->last[reader->depth - 1];
    if (*last == 0)
        node_at(reader, reader->open[reader->depth - 1])->first = i;
    else
        node_at(reader, *last)->next = i;
    *last = i;
    return i;
}

static void
read_text(Reader *reader)
{
    const char *end = memchr(reader->at, '<', (gsize) (reader->end - reader->at));
    ViewNode text = {.whole = {reader->at, end != NULL ? end : reader->end}};
    add(reader, &text);
    reader->at = text.whole.end;
}

static bool
read_end_tag(Reader *reader, const char *end)
{
    ViewNode *node = node_at(reader, reader->open[--reader->depth]);
    node->whole.end = reader->at = end + 1;
    return true;
}

static bool
read_start_tag(Reader *reader, const char *end)
{
    bool closed = end[-1] == '/';
    const char *name = reader->at + 1, *inside = closed ? end - 1 : end;
    const char *behind = memchr(name, ' ', (gsize) (inside - name));
    ViewNode element = {.element = true,
                        .whole = {reader->at, end + 1},
                        .name = {name, behind != NULL ? behind : inside},
                        .attributes = {behind != NULL ? behind : inside, inside}};
    guint i = add(reader, &element);
    reader->at = end + 1;
    if (closed)
        return true;
    if (reader->depth == DEEPEST)
        return false;
    reader->open[reader->depth] = i;
    reader->last[reader->depth++] = 0;
    return true;
}

/* An end tag names the innermost open element: Markup closes no other. */
static bool
read_tag(Reader *reader)
{
    const char *end = memchr(reader->at, '>', (gsize) (reader->end - reader->at));
    if (end == NULL || end - reader->at < 2 || reader->at[1] == '!')
        return false;
    if (reader->at[1] != '/')
        return read_start_tag(reader, end);
    return reader->depth > 0 &&
           slices_equal(node_at(reader, reader->open[reader->depth - 1])->name,
                        (Slice){reader->at + 2, end}) &&
           read_end_tag(reader, end);
}

ViewTree *
view_tree_new(const char *text, gsize length)
{
    g_autoptr(ViewTree) tree = g_new(ViewTree, 1);
    tree->nodes = g_array_sized_new(FALSE, FALSE, sizeof(ViewNode), (guint) (length / 48 + 16));
    Reader reader = {.tree = tree, .at = text, .end = text + length};
    if (length == 0 || *text != '<')
        return NULL;
    do {
        if (*reader.at != '<')
            read_text(&reader);
        else if (!read_tag(&reader))
            return NULL;
    } while (reader.depth > 0 && reader.at < reader.end);
    return reader.depth == 0 && reader.at == reader.end ? g_steal_pointer(&tree) : NULL;
}

void
view_tree_free(ViewTree *tree)
{
    if (tree == NULL)
        return;
    g_array_unref(tree->nodes);
    g_free(tree);
}

bool
view_attribute(Slice *rest, Slice *name, Slice *value)
{
    const char *at = rest->begin;
    while (at < rest->end && *at == ' ')
        at++;
    const char *equals = memchr(at, '=', (gsize) (rest->end - at));
    if (equals == NULL || rest->end - equals < 3 || equals[1] != '"')
        return false;
    const char *quote = memchr(equals + 2, '"', (gsize) (rest->end - equals - 2));
    if (quote == NULL)
        return false;
    *name = (Slice){at, equals};
    *value = (Slice){equals + 2, quote};
    rest->begin = quote + 1;
    return true;
}
