/* Two trees walked side by side as long as they have the same shape.
 * Invariant: a place in the one is the same place in the other, since nothing is said of an element whose children differ in
 * number, kind, name or id but all of it. */
#include "app/page/view_changes.h"

#include <string.h>

#include "app/page/view_tree.h"
#include "base/markup.h"

enum { DEEPEST = 64 };

typedef struct {
    const ViewTree *before, *after;
    GString *out;
    Slice id;             /* of the nearest element that has one */
    guint place[DEEPEST]; /* from there */
    guint depth;
    bool in_picture;
} Walk;

static Slice
id_of(const ViewNode *node)
{
    Slice rest = node->attributes, name, value;
    while (view_attribute(&rest, &name, &value))
        if (slice_is(name, "id"))
            return value;
    return (Slice){node->whole.begin, node->whole.begin};
}

static bool
same_kind(const ViewNode *a, const ViewNode *b)
{
    return a->element == b->element &&
           (!a->element || (slices_equal(a->name, b->name) && slices_equal(id_of(a), id_of(b))));
}

static bool
same_shape(const Walk *walk, const ViewNode *a, const ViewNode *b)
{
    guint i = a->first, j = b->first;
    while (i != 0 && j != 0) {
        const ViewNode *x = view_node(walk->before, i), *y = view_node(walk->after, j);
        if (!same_kind(x, y))
            return false;
        i = x->next;
        j = y->next;
    }
    return i == 0 && j == 0;
}

/* A browser puts rows that stand in a table by themselves into a body of their own. */
static bool
is_loose_table(const Walk *walk, const ViewNode *b)
{
    return slice_is(b->name, "table") && b->first != 0 &&
           slice_is(view_node(walk->after, b->first)->name, "tr");
}

/* What htmx reads is read when an element is brought in, and what is typed into a box of many lines is its content. */
static bool
goes_whole(const ViewNode *a, const ViewNode *b)
{
    if (slice_is(b->name, "textarea"))
        return true;
    Slice rest_a = a->attributes, rest_b = b->attributes, name, value, name_b, value_b;
    for (;;) {
        bool more = view_attribute(&rest_a, &name, &value);
        if (more != view_attribute(&rest_b, &name_b, &value_b))
            return true;
        if (!more)
            return false;
        bool htmx = g_str_has_prefix(name_b.begin, "hx-") || g_str_has_prefix(name.begin, "hx-");
        if (htmx && (!slices_equal(name, name_b) || !slices_equal(value, value_b)))
            return true;
    }
}

static void
append_slice(GString *out, Slice slice)
{
    g_string_append_len(out, slice.begin, slice.end - slice.begin);
}

static void
part_open(Walk *walk, const ViewNode *node)
{
    g_string_append(walk->out, "<part at=\"");
    append_slice(walk->out, walk->id);
    for (guint i = 0; i < walk->depth; i++)
        g_string_append_printf(walk->out, " %u", walk->place[i]);
    g_string_append(walk->out, "\" is=\"");
    append_slice(walk->out, node->name);
    g_string_append(walk->out, "\">");
}

static void
part_close(Walk *walk)
{
    g_string_append(walk->out, "</part>");
}

static void
say_whole(Walk *walk, const ViewNode *node)
{
    g_autofree char *text = g_strndup(node->whole.begin, node->whole.end - node->whole.begin);
    g_autoptr(Markup) escaped = markup_new();
    markup_text(escaped, text);
    g_autofree char *once_more = markup_steal(g_steal_pointer(&escaped));
    part_open(walk, node);
    g_string_append_printf(walk->out, "<whole>%s</whole>", once_more);
    part_close(walk);
}

static bool
has(Slice attributes, Slice wanted, Slice *value)
{
    Slice name;
    while (view_attribute(&attributes, &name, value))
        if (slices_equal(name, wanted))
            return true;
    return false;
}

/* Values stand escaped in the view already. */
static void
say_attributes(Walk *walk, const ViewNode *a, const ViewNode *b)
{
    Slice rest = b->attributes, name, value, was;
    while (view_attribute(&rest, &name, &value)) {
        if (has(a->attributes, name, &was) && slices_equal(was, value))
            continue;
        g_string_append(walk->out, "<set name=\"");
        append_slice(walk->out, name);
        g_string_append(walk->out, "\">");
        append_slice(walk->out, value);
        g_string_append(walk->out, "</set>");
    }
    rest = a->attributes;
    while (view_attribute(&rest, &name, &value)) {
        if (has(b->attributes, name, &was))
            continue;
        g_string_append(walk->out, "<unset name=\"");
        append_slice(walk->out, name);
        g_string_append(walk->out, "\"/>");
    }
}

static void
say_texts(Walk *walk, const ViewNode *a, const ViewNode *b)
{
    guint n = 0;
    for (guint i = a->first, j = b->first; i != 0; n++) {
        const ViewNode *x = view_node(walk->before, i), *y = view_node(walk->after, j);
        if (!x->element && !slices_equal(x->whole, y->whole)) {
            g_string_append_printf(walk->out, "<text n=\"%u\">", n);
            append_slice(walk->out, y->whole);
            g_string_append(walk->out, "</text>");
        }
        i = x->next;
        j = y->next;
    }
}

/* Its own attributes and texts; nothing where only what stands in it differs. */
static void
say_own(Walk *walk, const ViewNode *a, const ViewNode *b)
{
    gsize before = walk->out->len;
    part_open(walk, b);
    gsize opened = walk->out->len;
    if (!slices_equal(a->attributes, b->attributes))
        say_attributes(walk, a, b);
    say_texts(walk, a, b);
    if (walk->out->len == opened)
        g_string_truncate(walk->out, before);
    else
        part_close(walk);
}

static bool walk_children(Walk *walk, const ViewNode *a, const ViewNode *b);

/* False: it is part of a picture and must be brought in anew with all of it. */
static bool
walk_element(Walk *walk, const ViewNode *a, const ViewNode *b)
{
    bool picture = !walk->in_picture && slice_is(b->name, "svg");
    bool differs = goes_whole(a, b) || is_loose_table(walk, b) || !same_shape(walk, a, b);
    gsize before = walk->out->len;
    if (differs && walk->in_picture)
        return false;
    if (!differs) {
        walk->in_picture |= picture;
        say_own(walk, a, b);
        differs = !walk_children(walk, a, b);
        walk->in_picture &= !picture;
    }
    if (differs && walk->in_picture)
        return false;
    if (differs) {
        g_string_truncate(walk->out, before);
        say_whole(walk, b);
    }
    return true;
}

/* The nth child element: from its own id where it has one. */
static bool
walk_child(Walk *walk, guint n, const ViewNode *a, const ViewNode *b)
{
    Walk outside = *walk;
    Slice id = id_of(b);
    if (walk->depth == DEEPEST)
        return false;
    if (id.end > id.begin) {
        walk->id = id;
        walk->depth = 0;
    } else {
        walk->place[walk->depth++] = n;
    }
    bool done = walk_element(walk, a, b);
    walk->id = outside.id;
    walk->depth = outside.depth;
    memcpy(walk->place, outside.place, sizeof walk->place);
    return done;
}

static bool
walk_children(Walk *walk, const ViewNode *a, const ViewNode *b)
{
    guint n = 0;
    for (guint i = a->first, j = b->first; i != 0;) {
        const ViewNode *x = view_node(walk->before, i), *y = view_node(walk->after, j);
        if (x->element && !slices_equal(x->whole, y->whole) && !walk_child(walk, n, x, y))
            return false;
        n += x->element;
        i = x->next;
        j = y->next;
    }
    return true;
}

char *
view_changes(const char *before, const char *after)
{
    gsize length = strlen(after);
    g_autoptr(ViewTree) was = view_tree_new(before, strlen(before));
    g_autoptr(ViewTree) is = view_tree_new(after, length);
    if (was == NULL || is == NULL)
        return NULL;
    const ViewNode *a = view_node(was, 0), *b = view_node(is, 0);
    g_autoptr(GString) out = g_string_new("<changes>");
    Walk walk = {.before = was, .after = is, .out = out, .id = id_of(b)};
    bool said = same_kind(a, b) && same_shape(&walk, a, b) && walk.id.end > walk.id.begin;
    if (said)
        say_texts(&walk, a, b);
    said = said && out->len == strlen("<changes>") && walk_children(&walk, a, b);
    g_string_append(out, "</changes>");
    return said && out->len < length / 2 ? g_strdup(out->str) : NULL;
}
