/* Options: named patches on the tree of the boat file, RFC 7396 in meaning but for the word
 * `remove`.
 *
 * Invariant: the base tree is never changed; a value from an option keeps its place in the text and
 * its option's id. */
#include "boat/read_internal.h"

#include <string.h>

typedef struct {
    const char *option; /* its id, a key of the base tree */
    Diagnostics *notes;
    GHashTable *leaves,
        *groups; /* paths that earlier options set, and their parents -> option id */
} Merge;

static void
say(const Merge *m, const Node *patch, const char *text)
{
    g_autofree char *path = node_path(patch);
    diagnostics_add(m->notes, NOTE_ERROR, patch->line, patch->column, path, "%s", text);
}

static bool
is_removal(const Node *node)
{
    return node->type == NODE_SCALAR && node->plain && strcmp(node->text, "remove") == 0;
}

static void
nothing_to_remove(const Merge *m, const Node *target, const Node *patch)
{
    g_autoptr(GPtrArray) words = g_ptr_array_new();
    for (size_t i = 0; i < MIN(node_n_children(target), 5000); i++)
        g_ptr_array_add(words, node_nth(target, i)->key);
    const char *near = nearest_word(patch->key, words->len, (const char *const *) words->pdata);
    g_autofree char *text = g_strdup_printf("there is no `%s` here to remove%s%s%s", patch->key,
                                            near == NULL ? "" : "; did you mean `",
                                            near == NULL ? "" : near, near == NULL ? "" : "`?");
    say(m, patch, text);
}

void
option_mark(Node *node, const char *option)
{
    node->option = option;
    for (size_t i = 0; i < node_n_children(node); i++)
        option_mark(node_nth(node, i), option);
}

static void
replace_child(Node *target, Node *old, Node *fresh)
{
    guint index;
    if (old == NULL) {
        node_add(target, fresh);
    } else if (g_ptr_array_find(target->children, old, &index)) {
        fresh->parent = target;
        target->children->pdata[index] = fresh;
        node_free(old);
    }
}

static Node *
bare_map(const Node *patch)
{
    Node *map = g_memdup2(patch, sizeof *patch);
    map->key = g_strdup(patch->key);
    map->text = NULL;
    map->children = g_ptr_array_new_with_free_func((GDestroyNotify) node_free);
    map->parent = NULL;
    return map;
}

static void
merge_maps(const Merge *m, Node *target, const Node *patch)
{
    for (size_t i = 0; i < node_n_children(patch); i++) {
        const Node *change = node_nth(patch, i);
        Node *old = node_child(target, change->key);
        if (change->type == NODE_EMPTY)
            continue; /* counts as missing; the reader of the option says so */
        if (is_removal(change)) {
            if (old == NULL)
                nothing_to_remove(m, target, change);
            else
                g_ptr_array_remove(target->children, old);
        } else if (change->type == NODE_MAP) {
            if (old == NULL || old->type != NODE_MAP) {
                Node *fresh = bare_map(change);
                fresh->option = m->option;
                replace_child(target, old, fresh);
                old = fresh;
            }
            merge_maps(m, old, change);
        } else {
            Node *fresh = node_copy(change);
            option_mark(fresh, m->option);
            replace_child(target, old, fresh);
        }
    }
}

/* --- two options on one path ------------------------------------------------------------------ */

static void
clash(const Merge *m, const Node *patch, const char *other)
{
    g_autofree char *text = g_strdup_printf(
        "the options `%s` and `%s` both change this; choose one of them", other, m->option);
    say(m, patch, text);
}

static void
claim(const Merge *m, const Node *patch, const char *path, GHashTable *leaves, GHashTable *groups)
{
    for (size_t i = 0; i < node_n_children(patch); i++) {
        const Node *change = node_nth(patch, i);
        g_autofree char *below =
            path[0] == '\0' ? g_strdup(change->key) : g_strconcat(path, ".", change->key, NULL);
        const char *other = g_hash_table_lookup(m->leaves, below);
        bool leaf = change->type != NODE_MAP || node_n_children(change) == 0;
        if (other == NULL && leaf)
            other = g_hash_table_lookup(m->groups, below);
        if (other != NULL && change->type != NODE_EMPTY) {
            clash(m, change, other);
        } else if (leaf) {
            g_hash_table_insert(leaves, g_steal_pointer(&below), (gpointer) m->option);
        } else {
            claim(m, change, below, leaves, groups);
            g_hash_table_insert(groups, g_steal_pointer(&below), (gpointer) m->option);
        }
    }
}

static gboolean
move_entry(gpointer key, gpointer value, gpointer into)
{
    g_hash_table_insert(into, key, value);
    return TRUE;
}

static void
claim_paths(Merge *m, const Node *changes)
{
    g_autoptr(GHashTable) leaves = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
    g_autoptr(GHashTable) groups = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
    claim(m, changes, "", leaves, groups);
    g_hash_table_foreach_steal(leaves, move_entry, m->leaves);
    g_hash_table_foreach_steal(groups, move_entry, m->groups);
}

/* --- the door --------------------------------------------------------------------------------- */

const Node *
option_changes(const Document *document, const char *id)
{
    const Node *option = node_child(node_child(document_root(document), "options"), id);
    return option == NULL ? NULL : node_child(option, "changes");
}

static bool
touches_only_the_boat(const Merge *m, const Node *changes)
{
    bool good = true;
    for (size_t i = 0; i < node_n_children(changes); i++) {
        const Node *change = node_nth(changes, i);
        if (strcmp(change->key, "options") != 0 && strcmp(change->key, "careen") != 0)
            continue;
        say(m, change, "an option changes the boat, not `options` or `careen`");
        good = false;
    }
    return good;
}

static void
no_such_option(const Document *document, const char *id, Diagnostics *notes)
{
    const Node *options = node_child(document_root(document), "options");
    g_autoptr(GPtrArray) words = g_ptr_array_new();
    for (size_t i = 0; i < node_n_children(options) && options->type == NODE_MAP; i++)
        g_ptr_array_add(words, node_nth(options, i)->key);
    const char *near = nearest_word(id, MIN(words->len, 5000), (const char *const *) words->pdata);
    diagnostics_add(notes, NOTE_ERROR, 0, 0, "options", "there is no option `%s`%s%s%s", id,
                    near == NULL ? "" : "; did you mean `", near == NULL ? "" : near,
                    near == NULL ? "" : "`?");
}

static void
merge_one(Merge *m, const Document *document, const char *id, Node *root)
{
    const Node *option = node_child(node_child(document_root(document), "options"), id);
    if (option == NULL) {
        no_such_option(document, id, m->notes);
        return;
    }
    const Node *changes = node_child(option, "changes");
    m->option = option->key;
    if (changes == NULL || changes->type != NODE_MAP || !touches_only_the_boat(m, changes))
        return; /* what is wrong with it the reader says */
    claim_paths(m, changes);
    merge_maps(m, root, changes);
}

Node *
option_merge(const Document *document, size_t n, const char *const options[], Diagnostics *notes)
{
    g_autoptr(GHashTable) leaves = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
    g_autoptr(GHashTable) groups = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
    Merge m = {.notes = notes, .leaves = leaves, .groups = groups};
    Node *root = node_copy(document_root(document));
    for (size_t i = 0; i < n; i++) {
        bool again = false;
        for (size_t j = 0; j < i; j++)
            again |= strcmp(options[j], options[i]) == 0;
        if (again)
            diagnostics_add(notes, NOTE_ERROR, 0, 0, "options", "the option `%s` is named twice",
                            options[i]);
        else
            merge_one(&m, document, options[i], root);
    }
    return root;
}

/* --- options that are not chosen -------------------------------------------------------------- */

/* Whether another option makes the path: this one may be meant to go on top of it. */
static bool
made_elsewhere(const Document *document, const Node *change, const Node *own)
{
    const Node *options = node_child(document_root(document), "options");
    g_autoptr(GPtrArray) keys = g_ptr_array_new();
    for (const Node *node = change; node != NULL && strcmp(node->key, "changes") != 0;
         node = node->parent)
        g_ptr_array_insert(keys, 0, node->key);
    for (size_t i = 0; i < MIN(node_n_children(options), 50); i++) {
        const Node *node = node_nth(options, i);
        if (node == own)
            continue;
        node = node_child(node, "changes");
        for (size_t j = 0; node != NULL && j < keys->len; j++)
            node = node_child(node, keys->pdata[j]);
        if (node != NULL && !is_removal(node))
            return true;
    }
    return false;
}

static void
check_removals(const Merge *m, const Document *document, const Node *option, const Node *target,
               const Node *patch)
{
    for (size_t i = 0; i < node_n_children(patch); i++) {
        const Node *change = node_nth(patch, i);
        const Node *old = target == NULL ? NULL : node_child(target, change->key);
        if (is_removal(change) && old == NULL && !made_elsewhere(document, change, option))
            nothing_to_remove(m, target, change);
        else if (change->type == NODE_MAP)
            check_removals(m, document, option, old, change);
    }
}

void
option_check(const Document *document, const Node *option, Diagnostics *notes)
{
    Merge m = {.option = option->key, .notes = notes};
    const Node *changes = node_child(option, "changes");
    if (changes != NULL && changes->type == NODE_MAP && touches_only_the_boat(&m, changes))
        check_removals(&m, document, option, document_root(document), changes);
}
