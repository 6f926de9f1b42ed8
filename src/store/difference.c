/* Two texts of a boat file walked side by side.
 *
 * Invariant: comments, layout and the order of entries are no difference; a list is one value. */
#include "store/difference.h"

#include "boat/written.h"
#include "store/change.h"
#include "store/compare.h"

typedef struct {
    const Document *before, *after;
    GPtrArray *found;
    guint most;
    bool more;
} Walk;

static void
add(Walk *walk, const Node *before, const Node *after)
{
    if (walk->found->len >= walk->most) {
        walk->more = true;
        return;
    }
    Edited *one = g_new0(Edited, 1);
    one->path = node_path(after != NULL ? after : before);
    one->before = node_written(walk->before, before);
    one->after = node_written(walk->after, after);
    g_ptr_array_add(walk->found, one);
}

/* Key to its place in the map, from 1. */
static GHashTable *
places_of(const Node *map)
{
    GHashTable *places = g_hash_table_new(g_str_hash, g_str_equal);
    for (size_t i = 0; i < node_n_children(map); i++)
        g_hash_table_insert(places, node_nth(map, i)->key, GSIZE_TO_POINTER(i + 1));
    return places;
}

/* What the earlier map has from *at on, before `end`, and the later has not. */
static void
taken_out(Walk *walk, const Node *earlier, GHashTable *later, size_t *at, size_t end)
{
    for (; *at < end; ++*at) {
        const Node *child = node_nth(earlier, *at);
        if (!g_hash_table_contains(later, child->key))
            add(walk, child, NULL);
    }
}

static void
compare_maps(Walk *walk, const Node *before, const Node *after)
{
    g_autoptr(GHashTable) old = places_of(before), new = places_of(after);
    size_t at = 0;
    for (size_t i = 0; i < node_n_children(after) && !walk->more; i++) {
        const Node *child = node_nth(after, i);
        size_t place = GPOINTER_TO_SIZE(g_hash_table_lookup(old, child->key));
        const Node *known = place > 0 ? node_nth(before, place - 1) : NULL;
        taken_out(walk, before, new, &at, place);
        if (known != NULL && known->type == NODE_MAP && child->type == NODE_MAP)
            compare_maps(walk, known, child);
        else if (known == NULL || !nodes_equal(known, child))
            add(walk, known, child);
    }
    taken_out(walk, before, new, &at, node_n_children(before));
}

GPtrArray *
differences(const char *before, gsize before_length, const char *after, gsize after_length,
            guint most, bool *more)
{
    g_autoptr(Document) old = compare_read(before, before_length);
    g_autoptr(Document) new = compare_read(after, after_length);
    *more = false;
    if (old == NULL || new == NULL)
        return NULL;
    Walk walk = {.before = old,
                 .after = new,
                 .found = g_ptr_array_new_with_free_func((GDestroyNotify) edited_free),
                 .most = most};
    compare_maps(&walk, document_root(old), document_root(new));
    *more = walk.more;
    return walk.found;
}
