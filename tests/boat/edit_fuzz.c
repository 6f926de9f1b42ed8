/* Random edits of hostile files, each judged by a model that shares no code with the editor.
 *
 * The model is a plain map from path to value, filled by libfyaml's document interface, which the
 * project itself does not use. After each edit: the values are as the model says; every byte
 * outside the edited entry is as before; what was added and removed again leaves the very same
 * bytes. `edit_fuzz [--long | COUNT]`; the same count gives the same edits. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>
#include <libfyaml.h>

#include "boat/document.h"
#include "boat/edit.h"

static unsigned long n_edits = 5000;

static const char mixed[] =
    "# head of the file, about all of it\n"
    "careen: 1   # version\n"
    "\n"
    "boat:\n"
    "  # her name, as painted\n"
    "  name: Dünlïn 船  # a bird\n"
    "  kind: \"keeled-barge\"\n"
    "  note: 'single: quoted'\n"
    "  empty:\n"
    "  empty-too:   # nothing yet\n"
    "  # trailing comment at the same indent\n"
    "marks: {sole: {height: 0.55 m}, deck: {height: 2 m, along: 3 m}}  # flow\n"
    "# before the items\n"
    "items:\n"
    "    engine:   # old one\n"
    "        what: >-\n"
    "            folded text that\n"
    "            runs on\n"
    "\n"
    "            and on\n"
    "        mass: about 1150 kg\n"
    "          # deeper comment below the mass\n"
    "        size: {x: 1 m, y: 2 m}\n"
    "        list: [a, b, 'c d']\n"
    "    # about the pump\n"
    "    # two lines\n"
    "    pump:\n"
    "        what: |   # header comment\n"
    "            literal # no comment\n"
    "              deeper\n"
    "        places:\n"
    "        - one  # first\n"
    "        - two\n"
    "        many:\n"
    "          - x\n"
    "          # inside the list\n"
    "          - y\n"
    "    tank: {}\n"
    "    multi: plain text\n"
    "      over two lines  # end\n"
    "    quoted: \"double\n"
    "      over lines \\u00e9\"\n"
    "deep:\n"
    " one:\n"
    "  two:\n"
    "   three: 3  # only\n"
    "flow: {\n"
    "  a: 1,  # about a\n"
    "  # about b\n"
    "  b: {c: 2},\n"
    "  d: [p, q]  # about d\n"
    "  }\n"
    "last: 17:30\n"
    "# tail of the file\n";

/* --- random
 * -----------------------------------------------------------------------------------------------------------
 */

static uint64_t dice = 88172645463325252u;

static unsigned
roll(unsigned below)
{
    dice ^= dice << 13;
    dice ^= dice >> 7;
    dice ^= dice << 17;
    return (unsigned) ((dice >> 11) % below);
}

static char *
random_value(void)
{
    static const char *const tame[] = {"5 m",  "about 300 kg", "24 kg ± 1 kg", "remove", "17:30",
                                       "-5 m", "yes",          "null",         "1e3"};
    static const char *const wild[] = {
        ":",   ": ", " #", "#",   "'",    "\"", "\n",     "\t",  "[",   "]",  "{",        "}",
        ",",   "- ", "-",  "---", "...",  "|",  ">",      "&a",  "*a",  "!t", "%",        "@",
        "`",   "?",  "? ", " ",   "  ",   "\\", "\\n",    "é",   "船",  "😀",  "\xC2\xA0", "a",
        "b c", "1",  "<<", "~",   "\r\n", "=",  "key: v", "'''", "\"\""};
    if (roll(4) == 0)
        return g_strdup(tame[roll(G_N_ELEMENTS(tame))]);
    GString *value = g_string_new(NULL);
    for (unsigned n = roll(6); n > 0; n--)
        g_string_append(value, wild[roll(G_N_ELEMENTS(wild))]);
    return g_string_free(value, FALSE);
}

/* --- the model
 * --------------------------------------------------------------------------------------------------------
 */

static void
list_text(struct fy_node *list, GString *out)
{
    void *at = NULL;
    struct fy_node *entry;
    g_string_append_c(out, '[');
    while ((entry = fy_node_sequence_iterate(list, &at)) != NULL) {
        size_t length = 0;
        const char *text = fy_node_get_scalar(entry, &length);
        g_string_append_len(out, text == NULL ? "" : text, (gssize) length);
        g_string_append_c(out, '|');
    }
    g_string_append_c(out, ']');
}

static char *
value_text(struct fy_node *node)
{
    if (node == NULL || fy_node_is_null(node))
        return g_strdup("~");
    if (fy_node_is_sequence(node)) {
        GString *out = g_string_new(NULL);
        list_text(node, out);
        return g_string_free(out, FALSE);
    }
    size_t length = 0;
    const char *text = fy_node_get_scalar(node, &length);
    if (length == 0 && fy_node_get_style(node) == FYNS_PLAIN)
        return g_strdup("~");
    g_autofree char *owned = g_strndup(text == NULL ? "" : text, length);
    return g_strconcat("=", owned, NULL);
}

static void
flatten(struct fy_node *map, const char *prefix, GHashTable *model)
{
    void *at = NULL;
    struct fy_node_pair *pair;
    if (fy_node_mapping_item_count(map) == 0)
        g_hash_table_insert(model, g_strdup(prefix), g_strdup("{}"));
    while ((pair = fy_node_mapping_iterate(map, &at)) != NULL) {
        size_t length = 0;
        const char *key = fy_node_get_scalar(fy_node_pair_key(pair), &length);
        g_autofree char *name = g_strndup(key, length);
        g_autofree char *path =
            prefix[0] == '\0' ? g_strdup(name) : g_strconcat(prefix, ".", name, NULL);
        struct fy_node *value = fy_node_pair_value(pair);
        if (value != NULL && fy_node_is_mapping(value))
            flatten(value, path, model);
        else
            g_hash_table_insert(model, g_steal_pointer(&path), value_text(value));
    }
}

static GHashTable *
model_of(const char *text, gsize length)
{
    struct fy_parse_cfg cfg = {.flags = FYPCF_DEFAULT_VERSION_1_2 | FYPCF_JSON_NONE | FYPCF_QUIET};
    struct fy_document *document = fy_document_build_from_string(&cfg, text, length);
    assert_non_null(document);
    GHashTable *model = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, g_free);
    flatten(fy_document_root(document), "", model);
    fy_document_destroy(document);
    return model;
}

static bool
below(const char *path, const char *parent)
{
    size_t n = strlen(parent);
    return strncmp(path, parent, n) == 0 && path[n] == '.';
}

static gboolean
is_below(gpointer path, gpointer value, gpointer parent)
{
    (void) value;
    return below(path, parent);
}

static char *
parent_of(const char *path)
{
    const char *dot = strrchr(path, '.');
    return dot == NULL ? NULL : g_strndup(path, (gsize) (dot - path));
}

static void
model_set(GHashTable *model, const char *path, const char *value)
{
    g_hash_table_foreach_remove(model, is_below, (gpointer) path);
    g_hash_table_insert(model, g_strdup(path), g_strconcat("=", value, NULL));
    for (char *up = parent_of(path); up != NULL;) {
        g_hash_table_remove(model, up);
        char *next = parent_of(up);
        g_free(up);
        up = next;
    }
}

static void
model_remove(GHashTable *model, const char *path)
{
    g_hash_table_foreach_remove(model, is_below, (gpointer) path);
    g_hash_table_remove(model, path);
    g_autofree char *parent = parent_of(path);
    if (parent != NULL && g_hash_table_find(model, is_below, parent) == NULL)
        g_hash_table_insert(model, g_strdup(parent), g_strdup("{}"));
}

static void
models_agree(GHashTable *expected, GHashTable *found, const char *text)
{
    GHashTableIter iter;
    gpointer path, value;
    g_hash_table_iter_init(&iter, expected);
    while (g_hash_table_iter_next(&iter, &path, &value)) {
        const char *other = g_hash_table_lookup(found, path);
        if (other == NULL || strcmp(other, value) != 0)
            fail_msg("%s: expected %s, found %s in\n%s", (char *) path, (char *) value, other,
                     text);
    }
    if (g_hash_table_size(expected) != g_hash_table_size(found))
        fail_msg("values appeared or went in\n%s", text);
}

/* --- bytes
 * ------------------------------------------------------------------------------------------------------------
 */

static size_t
back_to_line(const char *text, size_t at)
{
    while (at > 0 && text[at - 1] != '\n')
        at--;
    return at;
}

static size_t
line_after(const char *text, size_t length, size_t at)
{
    while (at < length && text[at] != '\n')
        at++;
    return MIN(at + 1, length);
}

static bool
comment_line(const char *text, size_t length, size_t at)
{
    while (at < length && text[at] == ' ')
        at++;
    return at < length && text[at] == '#';
}

/* Bytes that may change with an entry: its lines and the comment lines touching them; from the end
 * of what stands before. */
static void
entry_span(const char *text, size_t length, const Node *node, bool removal, size_t *from,
           size_t *to)
{
    if (node->parent->flow) {
        *from = node->parent->start + 1;
        *to = node->parent->end - 1;
        for (size_t i = 0; i < node_n_children(node->parent); i++) {
            const Node *other = node_nth(node->parent, i);
            if (other->end <= node->key_start)
                *from = MAX(*from, other->end);
            else if (other->key_start >= node->end)
                *to = MIN(*to, other->key_start);
        }
        return;
    }
    *from = removal ? back_to_line(text, node->key_start) : node->key_end;
    *to = line_after(text, length, node->end);
    while (removal && *from > 0 && comment_line(text, length, back_to_line(text, *from - 1)))
        *from = back_to_line(text, *from - 1);
    while (*to < length && comment_line(text, length, *to))
        *to = line_after(text, length, *to);
    if (removal && *to == length && *from > 0) {
        --*from;
        if (*from > 0 && text[*from - 1] == '\r')
            --*from;
    }
    if (removal && node_n_children(node->parent) == 1) /* {} is put behind the parent's colon */
        *from = MIN(*from, node->parent->key_end);
}

static void
bytes_kept(const char *old, size_t old_length, const char *new, size_t new_length, size_t from,
           size_t to)
{
    size_t tail = old_length - to;
    if (new_length < from + tail || memcmp(old, new, from) != 0 ||
        memcmp(old + to, new + new_length - tail, tail) != 0)
        fail_msg("bytes outside %zu..%zu changed:\n%s\n--- to ---\n%s", from, to, old, new);
}

/* --- the edits
 * --------------------------------------------------------------------------------------------------------
 */

typedef struct {
    char *text;
    gsize length;
    unsigned long done, refused, inverses;
} File;

static void
collect(const Node *node, GPtrArray *nodes)
{
    for (size_t i = 0; node->type == NODE_MAP && i < node_n_children(node); i++) {
        g_ptr_array_add(nodes, node_nth(node, i));
        collect(node_nth(node, i), nodes);
    }
}

static Document *
document_of(const char *text, gsize length)
{
    g_autoptr(Diagnostics) notes = diagnostics_new();
    Document *document = document_parse(text, length, notes);
    if (document == NULL)
        fail_msg("%s in\n%s", diagnostics_note(notes, 0)->text, text);
    return document;
}

static char *
new_path(const Node *place)
{
    g_autofree char *parent = node_path(place);
    GString *path = g_string_new(parent);
    for (unsigned n = 1 + roll(3); n > 0; n--)
        g_string_append_printf(path, ".k%u", roll(30));
    return g_string_free(path, FALSE);
}

/* Where nothing stood: added and removed again from the top of what was made, the text is the very
 * same. */
static void
check_inverse(File *file, const Document *before, const char *path, const char *text, gsize length)
{
    g_auto(GStrv) parts = path_split(path);
    const Node *node = document_root(before);
    GString *top = g_string_new(NULL);
    bool only_brackets = false;
    for (size_t i = 0; node != NULL && parts[i] != NULL; i++) {
        g_string_append_printf(top, "%s%s", i > 0 ? "." : "", parts[i]);
        const Node *next = node_child(node, parts[i]);
        if (next == NULL)
            only_brackets = node->type == NODE_EMPTY || node_n_children(node) == 0;
        node = next;
    }
    Edit removal = {top->str, NULL};
    gsize back_length;
    g_autofree char *back =
        only_brackets ? NULL : edit_apply(text, length, 1, &removal, &back_length, NULL);
    if (back != NULL && (back_length != file->length || memcmp(back, file->text, back_length) != 0))
        fail_msg("adding and removing %s did not leave the same bytes:\n%s\n--- became ---\n%s",
                 top->str, file->text, back);
    file->inverses += back != NULL;
    g_string_free(top, TRUE);
}

static const Node *
deepest(const Document *before, const char *path)
{
    g_auto(GStrv) parts = path_split(path);
    const Node *node = document_root(before);
    for (size_t i = 0; parts[i] != NULL && node_child(node, parts[i]) != NULL; i++)
        node = node_child(node, parts[i]);
    return node;
}

/* An addition takes nothing away but the {} of an empty entry; the comment behind it stays. */
static void
addition_kept(const File *file, const Node *node, const char *text, gsize length)
{
    const char *old = file->text;
    size_t same = 0;
    while (same < file->length && old[same] == text[same])
        same++;
    if (node->type == NODE_MAP && node_n_children(node) == 0 && !node->parent->flow) {
        size_t end = node->end;
        while (end < file->length && old[end] != '\n' && old[end] != '\r')
            end++;
        bytes_kept(old, file->length, text, length, node->key_end + 1, end);
        assert_memory_equal(text + node->key_end + 1, old + node->end, end - node->end);
    } else {
        bytes_kept(old, file->length, text, length, same, same);
    }
}

static void
check_edit(File *file, const Document *before, const Node *node, const Edit *edit, bool added,
           char *text, gsize length)
{
    g_autoptr(GHashTable) expected = model_of(file->text, file->length);
    g_autoptr(GHashTable) found = model_of(text, length);
    if (edit->value == NULL)
        model_remove(expected, edit->path);
    else
        model_set(expected, edit->path, edit->value);
    models_agree(expected, found, text);
    if (added) {
        check_inverse(file, before, edit->path, text, length);
        addition_kept(file, deepest(before, edit->path), text, length);
    } else {
        size_t from, to;
        entry_span(file->text, file->length, node, edit->value == NULL, &from, &to);
        bytes_kept(file->text, file->length, text, length, from, to);
    }
}

static void
one_edit(File *file)
{
    g_autoptr(Document) before = document_of(file->text, file->length);
    g_autoptr(GPtrArray) nodes = g_ptr_array_new();
    collect(document_root(before), nodes);
    const Node *node = nodes->pdata[roll(nodes->len)];
    unsigned what = roll(10);
    bool added = what < 4 && (node->type == NODE_MAP || node->type == NODE_EMPTY);
    g_autofree char *path = added ? new_path(node) : node_path(node);
    g_autofree char *value = what >= 8 ? NULL : random_value();
    if (added && document_find(before, path) != NULL)
        return;
    if (value != NULL && value[0] == '[' && node->type == NODE_LIST)
        return;
    Edit edit = {path, value};
    gsize length;
    g_autoptr(GError) error = NULL;
    char *text = edit_apply(file->text, file->length, 1, &edit, &length, &error);
    file->done++;
    if (text == NULL) {
        assert_non_null(error);
        file->refused++;
        return;
    }
    check_edit(file, before, node, &edit, added, text, length);
    g_free(file->text);
    file->text = text;
    file->length = length;
}

static char *
with_crlf(const char *text, bool bom)
{
    g_auto(GStrv) lines = g_strsplit(text, "\n", -1);
    g_autofree char *joined = g_strjoinv("\r\n", lines);
    return g_strconcat(bom ? "\xEF\xBB\xBF" : "", joined, NULL);
}

static void
run_on(const char *start)
{
    File file = {.text = g_strdup(start), .length = strlen(start)};
    for (unsigned long i = 0; i < n_edits; i++) {
        if (i % 25 == 0) {
            g_free(file.text);
            file.text = g_strdup(start);
            file.length = strlen(start);
        }
        one_edit(&file);
    }
    g_free(file.text);
    print_message("%lu edits, %lu refused, %lu undone by the opposite edit\n", file.done,
                  file.refused, file.inverses);
    assert_true(file.refused * 20 < file.done); /* refusing is no way to pass */
    assert_true(file.inverses * 20 > file.done);
}

static void
mixed_file(void **state)
{
    (void) state;
    run_on(mixed);
}

static void
crlf_file(void **state)
{
    (void) state;
    g_autofree char *text = with_crlf(mixed, false);
    run_on(text);
}

static void
bom_file(void **state)
{
    (void) state;
    g_autofree char *text = with_crlf(mixed, true);
    run_on(text);
}

static void
no_newline_at_the_end(void **state)
{
    (void) state;
    g_autofree char *text =
        g_strndup(mixed, (gsize) (strstr(mixed, "last: 17:30") + strlen("last: 17:30") - mixed));
    run_on(text);
}

int
main(int argc, char **argv)
{
    if (argc > 1)
        n_edits = strcmp(argv[1], "--long") == 0 ? 100000 : strtoul(argv[1], NULL, 10);
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(mixed_file),
        cmocka_unit_test(crlf_file),
        cmocka_unit_test(bom_file),
        cmocka_unit_test(no_newline_at_the_end),
    };
    return cmocka_run_group_tests_name("edit_fuzz", tests, NULL, NULL);
}
