/* Life of a typed boat and look-ups in it.
 *
 * Invariant: once read, a boat is changed only through record_double; copies share text and
 * strings, never numbers. */
#include "boat/boat_internal.h"

#include <math.h>
#include <string.h>

G_DEFINE_QUARK(careen - boat - error - quark, boat_error)

size_t
section_index(const Section *section)
{
    for (size_t i = 0; boat_sections[i] != NULL; i++)
        if (boat_sections[i] == section)
            return i;
    g_return_val_if_reached(0);
}

static void
record_free(Record *record)
{
    if (record->roles != NULL)
        g_ptr_array_unref(record->roles);
    g_free(record->data);
    g_free(record->state);
    g_free(record);
}

Boat *
boat_new(BoatText *shared)
{
    Boat *boat = g_new0(Boat, 1);
    boat->shared = shared;
    boat->records = g_ptr_array_new_with_free_func((GDestroyNotify) record_free);
    boat->by_path = g_hash_table_new(g_str_hash, g_str_equal);
    boat->blocks = g_ptr_array_new_with_free_func(g_free);
    for (size_t i = 0; boat_sections[i] != NULL; i++)
        boat->of_section[i] = g_ptr_array_new();
    return boat;
}

static void
text_clear(void *data)
{
    BoatText *text = data;
    document_unref(text->merged);
    document_unref(text->base);
    g_string_chunk_free(text->strings);
    g_free(text->option_ids);
}

void
boat_free(Boat *boat)
{
    if (boat == NULL)
        return;
    for (size_t i = 0; boat_sections[i] != NULL; i++)
        g_ptr_array_unref(boat->of_section[i]);
    g_hash_table_unref(boat->by_path);
    g_ptr_array_unref(boat->records);
    g_ptr_array_unref(boat->blocks);
    g_atomic_rc_box_release_full(boat->shared, text_clear);
    g_free(boat);
}

const char *
boat_string(Boat *boat, const char *text)
{
    return g_string_chunk_insert(boat->shared->strings, text);
}

void *
boat_block(Boat *boat, size_t n, size_t size)
{
    void *block = g_malloc0_n(MAX(n, 1), size);
    g_ptr_array_add(boat->blocks, block);
    return block;
}

static void
enlist(Boat *boat, Record *record)
{
    g_ptr_array_add(boat->records, record);
    g_ptr_array_add(boat->of_section[section_index(record->section)], record);
    g_hash_table_insert(boat->by_path, (gpointer) record->path, record);
    if (record->parent != NULL) {
        if (record->parent->roles == NULL)
            record->parent->roles = g_ptr_array_new();
        g_ptr_array_add(record->parent->roles, record);
    }
}

Record *
boat_add_record(Boat *boat, const Section *section, const char *id, const char *path,
                Record *parent)
{
    Record *record = g_new0(Record, 1);
    record->section = section;
    record->id = boat_string(boat, id);
    record->path = boat_string(boat, path);
    record->parent = parent;
    record->data = g_malloc0(section->size);
    record->state = g_new0(FieldState, MAX(section->n_fields, 1));
    for (size_t i = 0; i < section->n_fields; i++)
        field_default(&section->fields[i], record->data, &record->state[i]);
    enlist(boat, record);
    return record;
}

/* --- copy ------------------------------------------------------------------------------------- */

static const void *
copy_array(Boat *boat, const void *from, size_t n, size_t size)
{
    return n == 0 ? from : memcpy(boat_block(boat, n, size), from, n * size);
}

static void
copy_arrays(Boat *boat, Record *record)
{
    for (size_t i = 0; i < record->section->n_fields; i++) {
        const Field *field = &record->section->fields[i];
        void *member = field_member(field, record->data);
        if (field->type == FIELD_ROWS) {
            Rows *rows = member;
            rows->row = copy_array(boat, rows->row, rows->n, sizeof *rows->row);
        } else if (field->type == FIELD_MAP) {
            Map *map = member;
            map->entry = copy_array(boat, map->entry, map->n, sizeof *map->entry);
        } else if (field->type == FIELD_LIST) {
            List *list = member;
            list->id = copy_array(boat, list->id, list->n, sizeof *list->id);
        }
    }
}

Boat *
boat_copy(const Boat *boat)
{
    Boat *copy = boat_new(g_atomic_rc_box_acquire(boat->shared));
    g_autoptr(GHashTable) twin = g_hash_table_new(NULL, NULL);
    for (size_t i = 0; i < boat->records->len; i++) {
        const Record *old = boat->records->pdata[i];
        Record *record = g_memdup2(old, sizeof *old);
        record->data = g_memdup2(old->data, old->section->size);
        record->state = g_memdup2(old->state, MAX(old->section->n_fields, 1) * sizeof *old->state);
        record->roles = NULL;
        record->parent = g_hash_table_lookup(twin, old->parent);
        g_hash_table_insert(twin, (gpointer) old, record);
        copy_arrays(copy, record);
        enlist(copy, record);
    }
    return copy;
}

/* --- look-ups --------------------------------------------------------------------------------- */

const Record *const *
boat_records(const Boat *boat, const Section *section, size_t *n)
{
    const GPtrArray *records = boat->of_section[section_index(section)];
    *n = records->len;
    return (const Record *const *) records->pdata;
}

const Record *
boat_single(const Boat *boat, const Section *section)
{
    g_return_val_if_fail(!section->keyed && section->role_of == NULL, NULL);
    return boat->of_section[section_index(section)]->pdata[0];
}

/* Up to this length a path needs no memory of its own; the list ends with NULL. */
enum { SHORT_PATH = 128 };

static const Record *
at_joined(const Boat *boat, const char *const part[])
{
    char room[SHORT_PATH], *end = room;
    for (size_t i = 0; part[i] != NULL; i++) {
        gsize length = strlen(part[i]);
        if (length >= (gsize) (room + sizeof room - end)) {
            g_autofree char *path = g_strjoinv("", (char **) part);
            return g_hash_table_lookup(boat->by_path, path);
        }
        memcpy(end, part[i], length);
        end += length;
    }
    *end = '\0';
    return g_hash_table_lookup(boat->by_path, room);
}

const Record *
boat_find(const Boat *boat, const Section *section, const char *id)
{
    const char *key = section->key, *of = section->role_of;
    if (of == NULL)
        return at_joined(boat, section->keyed ? (const char *[]){key, ".", id, NULL}
                                              : (const char *[]){key, NULL});
    if (section->keyed)
        return at_joined(boat, (const char *[]){of, ".", key, ".", id, NULL});
    if (section_find(of)->keyed)
        return at_joined(boat, (const char *[]){of, ".", id, ".", key, NULL});
    return at_joined(boat, (const char *[]){of, ".", key, NULL});
}

const Record *
boat_at(const Boat *boat, const char *path, const Field **field)
{
    *field = NULL;
    const Record *record = g_hash_table_lookup(boat->by_path, path);
    g_autofree char *cut = record == NULL ? g_strdup(path) : NULL;
    /* At most a field's key and the key of an entry of its map stand behind a record's path. */
    for (int behind = 1; record == NULL && behind <= 2; behind++) {
        char *dot = strrchr(cut, '.');
        if (dot == NULL)
            return NULL;
        *dot = '\0';
        record = g_hash_table_lookup(boat->by_path, cut);
        if (record == NULL)
            continue;
        const char *rest = path + (dot + 1 - cut);
        g_autofree char *key = g_strndup(rest, strcspn(rest, "."));
        *field = section_field(record->section, key);
        if (*field == NULL || (behind == 2 && (*field)->type != FIELD_MAP)) {
            *field = NULL;
            return NULL;
        }
    }
    return record;
}

const Record *
record_role(const Record *item, const Section *role)
{
    for (size_t i = 0; item->roles != NULL && i < item->roles->len; i++) {
        const Record *record = item->roles->pdata[i];
        if (record->section == role)
            return record;
    }
    return NULL;
}

const FieldState *
record_state(const Record *record, const char *key)
{
    const Field *field = section_field(record->section, key);
    g_return_val_if_fail(field != NULL, NULL);
    return &record->state[field - record->section->fields];
}

const char *
record_what(const Record *record)
{
    static const char *const keys[] = {"what", "do", "who"};
    for (size_t i = 0; i < G_N_ELEMENTS(keys); i++) {
        const Field *field = section_field(record->section, keys[i]);
        if (field == NULL || field->type != FIELD_TEXT)
            continue;
        const char *text = *(const char *const *) field_member(field, record->data);
        return text != NULL && *text != '\0' ? text : NULL;
    }
    return NULL;
}

double *
record_double(const Record *record, const Field *field)
{
    return field_is_number(field) ? field_member(field, record->data) : NULL;
}

double
record_number(const Record *record, const char *key)
{
    const Field *field = section_field(record->section, key);
    const double *number = field == NULL ? NULL : record_double(record, field);
    return number == NULL ? NAN : *number;
}

size_t
boat_options(const Boat *boat, const char *const **ids)
{
    *ids = boat->shared->option_ids;
    return boat->shared->n_options;
}

const Document *
boat_document(const Boat *boat)
{
    return boat->shared->merged;
}

Document *
boat_base(const Boat *boat)
{
    return boat->shared->base;
}

bool
situation_is_built_in(const char *id)
{
    return strcmp(id, "light") == 0 || strcmp(id, "people-side") == 0 ||
           strcmp(id, "people-aft") == 0;
}

bool
limit_value(const Record *limit, QuantityKind kind, Quantity *out, char **problem)
{
    const FieldState *state = record_state(limit, "value");
    if (state->origin != ORIGIN_TYPED) {
        *problem = g_strdup("no value is given");
        return false;
    }
    if (!quantity_parse(state->node->text, kind, out, problem))
        return false;
    if (isnan(out->spread))
        out->spread = quantity_usual_spread(kind, out->basis, out->value);
    return true;
}
