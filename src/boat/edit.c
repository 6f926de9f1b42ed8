/* Edits of the owner's text, each proved before it is given back.
 *
 * Invariant: the text returned parses, and its tree is the old tree with exactly the asked changes;
 * else nothing is returned. */
#include "boat/edit.h"

#include <stdlib.h>
#include <string.h>

#include "boat/document.h"
#include "boat/edit_plan.h"
#include "boat/scalar_text.h"
#include "boat/section.h"

G_DEFINE_QUARK(careen - edit - error - quark, edit_error)

typedef struct {
    char *block, *flow; /* as written outside and inside brackets */
    Node *node;         /* what it must read back as; owned */
} Value;

static void
value_clear(Value *value)
{
    g_free(value->block);
    g_free(value->flow);
    node_free(value->node);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Value, value_clear)

static Document *
parse_or_error(const char *text, gsize length, const char *what, GError **error)
{
    g_autoptr(Diagnostics) notes = diagnostics_new();
    Document *document = document_parse(text, length, notes);
    if (document == NULL) {
        const Note *note = diagnostics_note(notes, 0);
        g_set_error(error, EDIT_ERROR, 0, "%s (line %u: %s)", what, note->line, note->text);
    }
    return document;
}

/* A value in brackets is a list where the place takes one: nowhere else does a boat file begin a
 * value so. */
static bool
takes_list(const Node *old, const char *path)
{
    if (old != NULL && old->type == NODE_LIST)
        return true;
    const Field *field = section_field_at(path, NULL);
    return field != NULL &&
           (field->type == FIELD_LIST || field->type == FIELD_WORDS || field->type == FIELD_ROWS);
}

static bool
list_value(const char *text, Value *value, GError **error)
{
    if (strpbrk(text, "\r\n#") != NULL) {
        g_set_error(error, EDIT_ERROR, 0,
                    "a list is written in one line, without #: [first, second]");
        return false;
    }
    g_autofree char *document = g_strconcat("x: ", text, "\n", NULL);
    g_autoptr(Document) parsed = parse_or_error(document, strlen(document),
                                                "expected a list such as [first, second]", error);
    if (parsed == NULL)
        return false;
    const Node *list = node_child(document_root(parsed), "x");
    if (list == NULL || list->type != NODE_LIST) {
        g_set_error(error, EDIT_ERROR, 0, "expected a list such as [first, second]");
        return false;
    }
    value->node = node_copy(list);
    value->block = g_strdup(text);
    value->flow = g_strdup(text);
    return true;
}

static bool
value_of(const Edit *edit, const Node *old, Value *value, GError **error)
{
    if (edit->value[0] == '[' && takes_list(old, edit->path))
        return list_value(edit->value, value, error);
    value->block = scalar_text(edit->value, false, error);
    value->flow = value->block == NULL ? NULL : scalar_text(edit->value, true, error);
    if (value->flow == NULL)
        return false;
    value->node = g_new0(Node, 1);
    value->node->type = NODE_SCALAR;
    value->node->text = g_strdup(edit->value);
    return true;
}

static bool
key_may_be_made(const char *key)
{
    if (!g_ascii_islower(key[0]))
        return false;
    for (const char *p = key; *p != '\0'; p++)
        if (!g_ascii_islower(*p) && !g_ascii_isdigit(*p) && *p != '-')
            return false;
    return true;
}

/* Deepest existing node on the way; *depth is how many parts of the path it covers. */
static Node *
walk(Node *root, char *const parts[], size_t *depth)
{
    Node *node = root;
    for (*depth = 0; parts[*depth] != NULL; ++*depth) {
        Node *child = node_child(node, parts[*depth]);
        if (child == NULL)
            break;
        node = child;
    }
    return node;
}

/* --- what the tree must be afterwards
 * --------------------------------------------------------------------------------- */

static Node *
keyed(Node *node, const char *key)
{
    g_free(node->key);
    node->key = g_strdup(key);
    return node;
}

static void
expect_set(Node *root, char *const parts[], const Node *value)
{
    size_t depth, n = g_strv_length((char **) parts);
    Node *node = walk(root, parts, &depth);
    if (depth == n) {
        guint index;
        Node *parent = node->parent;
        g_ptr_array_find(parent->children, node, &index);
        Node *fresh = keyed(node_copy(value), parts[n - 1]);
        fresh->parent = parent;
        node_free(node);
        parent->children->pdata[index] = fresh;
        return;
    }
    for (; depth < n; depth++) {
        if (node->type == NODE_EMPTY) {
            node->type = NODE_MAP;
            node->children = g_ptr_array_new_with_free_func((GDestroyNotify) node_free);
        }
        Node *child = node_copy(value);
        if (depth + 1 < n) {
            node_free(child);
            child = g_new0(Node, 1);
            child->type = NODE_EMPTY;
        }
        node_add(node, keyed(child, parts[depth]));
        node = child;
    }
}

static void
expect_removal(Node *root, char *const parts[])
{
    size_t depth;
    Node *node = walk(root, parts, &depth);
    g_ptr_array_remove(node->parent->children, node);
}

/* --- one edit
 * ---------------------------------------------------------------------------------------------------------
 */

static bool
plan_value(EditPlan *plan, Node *node, char **parts, size_t depth, const Value *value,
           GError **error)
{
    size_t n = g_strv_length(parts);
    if (depth == n)
        return plan_set(plan, node, value->block, value->flow, error);
    for (size_t i = depth; i < n; i++)
        if (!key_may_be_made(parts[i])) {
            g_set_error(error, EDIT_ERROR, 0,
                        "`%s` is no name for an entry; expected small letters, digits and -, "
                        "beginning with a letter",
                        parts[i]);
            return false;
        }
    return plan_add(plan, node, n - depth, parts + depth, value->block, value->flow, error);
}

static Node *
planned(EditPlan *plan, const Document *document, const Edit *edit, char **parts, GError **error)
{
    size_t depth;
    Node *node = walk(document_root(document), parts, &depth);
    bool there = parts[depth] == NULL;
    g_autoptr(Node) expected = node_copy(document_root(document));
    if (edit->value == NULL) {
        if (!there) {
            g_set_error(error, EDIT_ERROR, 0, "there is nothing at %s to remove", edit->path);
            return NULL;
        }
        if (!plan_remove(plan, node, error))
            return NULL;
        expect_removal(expected, parts);
    } else {
        g_auto(Value) value = {0};
        if (!value_of(edit, there ? node : NULL, &value, error) ||
            !plan_value(plan, node, parts, depth, &value, error))
            return NULL;
        expect_set(expected, parts, value.node);
    }
    return g_steal_pointer(&expected);
}

static char **
parts_of(const char *path, GError **error)
{
    bool text = g_utf8_validate(path, -1, NULL);
    char **parts = text ? path_split(path) : NULL;
    if (parts == NULL)
        g_set_error(error, EDIT_ERROR, 0, "`%s` is no path; expected one such as items.heater.mass",
                    text ? path : "?");
    return parts;
}

/* The document that a plan gives, read back; NULL unless its tree is the expected one. path: what is edited. */
static Document *
read_back(const EditPlan *plan, const Node *expected, const char *path, GError **error)
{
    gsize length = 0;
    g_autofree char *text = plan_text(plan, &length);
    g_autoptr(Document) after = parse_or_error(
        text, length, "the layout around this place does not allow the edit; edit the file by hand",
        error);
    if (after == NULL)
        return NULL;
    if (!nodes_equal(document_root(after), expected)) {
        g_set_error(error, EDIT_ERROR, 0,
                    "the layout around %s does not allow the edit without touching other values; "
                    "edit the file by hand",
                    path);
        return NULL;
    }
    return g_steal_pointer(&after);
}

/* The document after one edit, or NULL. */
static Document *
edited(const Document *document, const Edit *edit, GError **error)
{
    g_auto(GStrv) parts = parts_of(edit->path, error);
    if (parts == NULL)
        return NULL;
    EditPlan plan;
    edit_plan_init(&plan, document);
    g_autoptr(Node) expected = planned(&plan, document, edit, parts, error);
    Document *after = expected != NULL ? read_back(&plan, expected, edit->path, error) : NULL;
    edit_plan_clear(&plan);
    return after;
}

/* --- several values at once
 * ---------------------------------------------------------------------------------------------- */

/* The scalar that an edit replaces by another; NULL: it does something else, or cannot be made. */
static Node *
replaced(const Document *document, const Edit *edit)
{
    if (edit->value == NULL || edit->value[0] == '[')
        return NULL;
    g_auto(GStrv) parts = parts_of(edit->path, NULL);
    size_t depth;
    Node *node = parts != NULL ? walk(document_root(document), parts, &depth) : NULL;
    return node != NULL && parts[depth] == NULL && node->type == NODE_SCALAR ? node : NULL;
}

typedef struct {
    const Edit *edit;
    Node *node;
} Replacement;

static int
in_order_of_text(gconstpointer a, gconstpointer b)
{
    const Replacement *left = a, *right = b;
    return (left->node->start > right->node->start) - (left->node->start < right->node->start);
}

/* How many of the edits, from the first, replace scalars, each another one; sorted by their places. */
static size_t
find_replacements(const Document *document, size_t n, const Edit edit[], Replacement replacement[])
{
    g_autoptr(GHashTable) seen = g_hash_table_new(NULL, NULL);
    size_t k = 0;
    for (; k < n; k++) {
        Node *node = replaced(document, &edit[k]);
        if (node == NULL || !g_hash_table_add(seen, node))
            break;
        replacement[k] = (Replacement){&edit[k], node};
    }
    qsort(replacement, k, sizeof *replacement, in_order_of_text);
    return k;
}

static bool
plan_replacement(EditPlan *plan, Node *expected, const Replacement *replacement)
{
    g_auto(GStrv) parts = parts_of(replacement->edit->path, NULL);
    g_auto(Value) value = {0};
    if (!value_of(replacement->edit, replacement->node, &value, NULL) ||
        !plan_set(plan, replacement->node, value.block, value.flow, NULL))
        return false;
    expect_set(expected, parts, value.node);
    return true;
}

/* The document with all of them made and read back once; NULL: they must be made one by one. */
static Document *
replaced_at_once(const Document *document, size_t n, const Replacement replacement[])
{
    EditPlan plan;
    edit_plan_init(&plan, document);
    g_autoptr(Node) expected = node_copy(document_root(document));
    bool planned = true;
    for (size_t i = 0; i < n && planned; i++)
        planned = plan_replacement(&plan, expected, &replacement[i]);
    Document *after = planned ? read_back(&plan, expected, "", NULL) : NULL;
    edit_plan_clear(&plan);
    return after;
}

/* The document after the first *done of the edits, one or more, or NULL. */
static Document *
edited_on(const Document *document, size_t n, const Edit edit[], size_t *done, GError **error)
{
    g_autofree Replacement *replacement = g_new(Replacement, n);
    *done = find_replacements(document, n, edit, replacement);
    Document *after = *done > 1 ? replaced_at_once(document, *done, replacement) : NULL;
    if (after != NULL)
        return after;
    *done = 1;
    return edited(document, edit, error);
}

Document *
edit_read(const char *text, gsize length, GError **error)
{
    return parse_or_error(text, length, "the file cannot be edited before it can be read", error);
}

Document *
edit_document(Document *document, size_t n, const Edit edit[], GError **error)
{
    Document *after = document_ref(document);
    for (size_t i = 0, done; after != NULL && i < n; i += done) {
        Document *next = edited_on(after, n - i, &edit[i], &done, error);
        document_unref(after);
        after = next;
    }
    return after;
}

char *
edit_apply(const char *text, gsize length, size_t n, const Edit edit[], gsize *new_length,
           GError **error)
{
    if (new_length != NULL)
        *new_length = 0;
    g_autoptr(Document) before = edit_read(text, length, error);
    g_autoptr(Document) after = before != NULL ? edit_document(before, n, edit, error) : NULL;
    if (after == NULL)
        return NULL;
    gsize size;
    const char *result = document_text(after, &size);
    if (new_length != NULL)
        *new_length = size;
    return g_strndup(result, size);
}

/* --- where an edit goes
 * -----------------------------------------------------------------------------------------------
 */

typedef enum { PATCH_SILENT, PATCH_SETS, PATCH_ADDS, PATCH_REMOVES } PatchSays;

/* What an option's changes say about a path of a boat that is `known` so far. */
static PatchSays
patch_says(const Node *changes, const Node *known, char *const parts[])
{
    for (size_t i = 0; parts[i] != NULL; i++) {
        const Node *child = node_child(changes, parts[i]);
        if (child == NULL)
            return known == NULL ? PATCH_ADDS : PATCH_SILENT;
        known = known == NULL ? NULL : node_child(known, parts[i]);
        if (parts[i + 1] == NULL || child->type == NODE_LIST)
            return child->type == NODE_MAP && known != NULL ? PATCH_SILENT : PATCH_SETS;
        if (child->type == NODE_SCALAR)
            return PATCH_REMOVES;
        changes = child;
    }
    return PATCH_SILENT;
}

char *
edit_target(const Document *document, size_t n_options, const char *const options[],
            const char *path, const char **option, GError **error)
{
    *option = NULL;
    g_auto(GStrv) parts = parts_of(path, error);
    if (parts == NULL)
        return NULL;
    const Node *base = document_root(document);
    for (size_t i = n_options; i-- > 0;) {
        const Node *one = node_child(node_child(base, "options"), options[i]);
        PatchSays says =
            one == NULL ? PATCH_SILENT : patch_says(node_child(one, "changes"), base, parts);
        if (says == PATCH_REMOVES) {
            g_set_error(error, EDIT_ERROR, 0,
                        "the option %s removes what %s belongs to; edit it without that option",
                        options[i], path);
            *option = NULL;
            return NULL;
        }
        if (says == PATCH_SETS || says == PATCH_ADDS)
            *option = options[i];
        if (says == PATCH_SETS)
            break;
    }
    return *option == NULL ? g_strdup(path)
                           : g_strdup_printf("options.%s.changes.%s", *option, path);
}
