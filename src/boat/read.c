/* The walk from the merged tree to records, guided by the section tables alone.
 *
 * Invariant: a key is read by a table, known to be pending, or an error; nothing is skipped in
 * silence. */
#include "boat/read_internal.h"

#include <math.h>
#include <string.h>

static char *
shown_path(const Node *node)
{
    g_autofree char *path = node_path(node);
    return node->option == NULL ? g_steal_pointer(&path)
                                : g_strdup_printf("options.%s.changes.%s", node->option, path);
}

static void
note(Reader *r, NoteLevel level, const Node *node, const char *format, va_list args)
{
    g_autofree char *said = g_strdup_vprintf(format, args);
    g_autofree char *path = shown_path(node);
    diagnostics_add(r->notes, level, node->line, node->column, path, "%s", said);
}

void
reader_error(Reader *r, const Node *node, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    note(r, NOTE_ERROR, node, format, args);
    va_end(args);
}

void
reader_warn(Reader *r, const Node *node, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    note(r, NOTE_WARNING, node, format, args);
    va_end(args);
}

char *
reader_nearest(Reader *r, const char *word, GPtrArray *words)
{
    if (r->near_left == 0 || words->len == 0)
        return g_strdup("");
    r->near_left--;
    const char *near =
        nearest_word(word, MIN(words->len, 5000), (const char *const *) words->pdata);
    return near == NULL ? g_strdup("") : g_strdup_printf("; did you mean `%s`?", near);
}

/* --- ids -------------------------------------------------------------------------------------- */

bool
id_is_reserved(const char *id)
{
    static const char *const reserved[] = {"null",  "all",   "none", "unknown", "remove", "on",
                                           "off",   "yes",   "no",   "y",       "n",      "true",
                                           "false", "stern", "base", "between"};
    for (size_t i = 0; i < G_N_ELEMENTS(reserved); i++)
        if (strcmp(reserved[i], id) == 0)
            return true;
    return false;
}

bool
id_is_good(const char *id)
{
    if (!g_ascii_islower(id[0]))
        return false;
    for (const char *p = id; *p != '\0'; p++)
        if (!g_ascii_islower(*p) && !g_ascii_isdigit(*p) && *p != '-')
            return false;
    return true;
}

static bool
judge_id(Reader *r, const Node *node)
{
    g_autofree char *path = shown_path(node);
    if (!id_is_good(node->key))
        diagnostics_add(r->notes, NOTE_ERROR, node->key_line, node->key_column, path,
                        "`%s` is no id; expected small letters, digits and -, beginning with a "
                        "letter, such as engine-vent",
                        node->key);
    else if (id_is_reserved(node->key))
        diagnostics_add(r->notes, NOTE_ERROR, node->key_line, node->key_column, path,
                        "`%s` has a meaning of its own and cannot be an id; take another word",
                        node->key);
    else
        return true;
    return false;
}

/* --- records ---------------------------------------------------------------------------------- */

static void
unknown_key(Reader *r, const Section *section, const Node *node)
{
    g_autoptr(GPtrArray) words = g_ptr_array_new();
    for (size_t i = 0; section != NULL && i < section->n_fields; i++)
        g_ptr_array_add(words, (gpointer) section->fields[i].key);
    for (size_t i = 0; boat_sections[i] != NULL; i++) {
        const char *of = boat_sections[i]->role_of;
        if (section == NULL ? of == NULL : of != NULL && strcmp(of, section->key) == 0)
            g_ptr_array_add(words, (gpointer) boat_sections[i]->key);
    }
    for (size_t i = 0; pending_nth(section, i) != NULL; i++)
        g_ptr_array_add(words, (gpointer) pending_nth(section, i));
    g_autofree char *near = reader_nearest(r, node->key, words);
    g_autofree char *path = shown_path(node);
    diagnostics_add(r->notes, NOTE_ERROR, node->key_line, node->key_column, path,
                    "there is no `%s` %s%s%s", node->key,
                    section == NULL ? "in a boat file" : "under ",
                    section == NULL ? "" : section->key, near);
}

static bool
is_removal(const Reader *r, const Node *node)
{
    return r->patch && node->type == NODE_SCALAR && node->plain &&
           strcmp(node->text, "remove") == 0;
}

/* Whether the node is a group to go into; says what is wrong if not. */
static bool
is_group(Reader *r, const Node *node)
{
    if (node->type == NODE_MAP)
        return true;
    if (node->type == NODE_EMPTY)
        reader_warn(r, node, "nothing stands here: it counts as missing");
    else if (!is_removal(r, node))
        reader_error(r, node,
                     "expected keys below it, one a line, as in `%s:` and then `  key: value`",
                     node->key);
    return false;
}

static void read_section(Reader *r, const Section *section, const Node *node, Record *parent);

static void
demand(Reader *r, const Record *record, const Node *node)
{
    for (size_t i = 0; !r->patch && i < record->section->n_fields; i++) {
        const Field *field = &record->section->fields[i];
        const FieldState *state = &record->state[i];
        bool nameless = field->type == FIELD_TEXT && state->origin == ORIGIN_UNKNOWN;
        if (!field->demanded || (state->node != NULL && !nameless))
            continue;
        g_autofree char *path = g_strconcat(record->path, ".", field->key, NULL);
        bool keyed = node->key != NULL;
        diagnostics_add(r->notes, NOTE_ERROR, keyed ? node->key_line : node->line,
                        keyed ? node->key_column : node->column, path, "`%s` is missing: %s",
                        field->key, field->help);
    }
}

static void
read_record(Reader *r, Record *record, const Node *node)
{
    const Section *section = record->section;
    record->line = node->key != NULL ? node->key_line : node->line;
    record->option = node->option;
    for (size_t i = 0; i < node_n_children(node); i++) {
        const Node *child = node_nth(node, i);
        const Field *field = section_field(section, child->key);
        const Section *sub = field == NULL ? section_sub(section, child->key) : NULL;
        bool changes = section == &section_options && strcmp(child->key, "changes") == 0;
        if (field != NULL)
            read_field(r, record, field, child);
        else if (sub != NULL)
            read_section(r, sub, child, record);
        else if (!changes && !pending_key(section, child->key))
            unknown_key(r, section, child);
    }
    demand(r, record, node);
}

static Record *
find_or_add(Reader *r, const Section *section, const char *id, const char *path, Record *parent)
{
    Record *record = g_hash_table_lookup(r->boat->by_path, path);
    return record != NULL ? record : boat_add_record(r->boat, section, id, path, parent);
}

static void
read_section(Reader *r, const Section *section, const Node *node, Record *parent)
{
    if (!is_group(r, node))
        return;
    g_autofree char *path = node_path(node);
    if (!section->keyed) {
        read_record(r, find_or_add(r, section, section->key, path, parent), node);
        return;
    }
    for (size_t i = 0; i < node_n_children(node); i++) {
        const Node *child = node_nth(node, i);
        if (!judge_id(r, child) || !is_group(r, child))
            continue;
        g_autofree char *below = g_strconcat(path, ".", child->key, NULL);
        read_record(r, find_or_add(r, section, child->key, below, parent), child);
    }
}

static void
add_single_sections(Reader *r)
{
    for (size_t i = 0; boat_sections[i] != NULL; i++)
        if (!boat_sections[i]->keyed && boat_sections[i]->role_of == NULL)
            boat_add_record(r->boat, boat_sections[i], boat_sections[i]->key, boat_sections[i]->key,
                            NULL);
}

void
read_sections(Reader *r, const Node *root)
{
    add_single_sections(r);
    for (size_t i = 0; i < node_n_children(root); i++) {
        const Node *child = node_nth(root, i);
        const Section *section = section_find(child->key);
        if (section != NULL)
            read_section(r, section, child, NULL);
        else if (strcmp(child->key, "careen") != 0 && !pending_key(NULL, child->key))
            unknown_key(r, NULL, child);
    }
    const Record *boat = boat_single(r->boat, &section_boat);
    const Node *written = node_child(root, "boat");
    if (written == NULL || written->type != NODE_MAP)
        demand(r, boat, written == NULL ? root : written);
}

void
read_finish(Reader *r)
{
    places_resolve(r);
    references_resolve(r);
    if (!r->patch)
        rules_apply(r);
}
