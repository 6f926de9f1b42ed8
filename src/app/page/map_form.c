/* Maps of a record (people by place, tanks by item): each entry a value of its own, and a way to add one. */
#include <string.h>

#include "app/page/page.h"
#include "boat/model.h"
#include "report/words.h"

static const Map *
map_of(const Record *record, const Field *field)
{
    return (const Map *) (const void *) ((const char *) record->data + field->offset);
}

/* Of the sections that a map's keys are of: a section, or the items that bear the role of that name. */
static const Section *
referred(const char *word)
{
    const Section *section = section_find(word);
    return section != NULL ? section : section_sub(&section_items, word);
}

static char *
entry_words(const Page *page, const Field *field, const char *key)
{
    g_auto(GStrv) words = g_strsplit(field->refers_to != NULL ? field->refers_to : "", " ", -1);
    for (char **word = words; *word != NULL; word++) {
        const Section *section = referred(*word);
        const Record *record = section != NULL ? boat_find(page->boat, section, key) : NULL;
        if (record != NULL)
            return path_words(page->result,
                              record->parent != NULL ? record->parent->path : record->path);
    }
    return name_words(key);
}

static void
entry_form(Page *page, const char *map_path, const Field *field, const MapEntry *entry)
{
    const Node *node = document_find(boat_document(page->boat), map_path);
    const Node *value = node != NULL ? node_child(node, entry->key) : NULL;
    const char *text = value != NULL && value->text != NULL ? value->text : "";
    g_autofree char *path = g_strdup_printf("%s.%s", map_path, entry->key);
    g_autofree char *input = g_strdup_printf("v-%s", path);
    g_autofree char *words = entry_words(page, field, entry->key);
    page_value_form(page, path, input, words, text);
}

static bool
in_map(const Map *map, const char *id)
{
    for (size_t i = 0; i < map->n; i++)
        if (strcmp(map->entry[i].key, id) == 0)
            return true;
    return false;
}

/* Records that the map could have an entry of and has not: borrowed. */
static GPtrArray *
candidates(const Page *page, const Field *field, const Map *map)
{
    GPtrArray *found = g_ptr_array_new();
    g_auto(GStrv) words = g_strsplit(field->refers_to, " ", -1);
    for (char **word = words; *word != NULL; word++) {
        const Section *section = referred(*word);
        size_t n = 0;
        const Record *const *records =
            section != NULL ? boat_records(page->boat, section, &n) : NULL;
        for (size_t i = 0; i < n; i++) {
            const Record *named = records[i]->parent != NULL ? records[i]->parent : records[i];
            if (!in_map(map, named->id))
                g_ptr_array_add(found, (gpointer) named);
        }
    }
    return found;
}

static void
add_entry(Page *page, const char *path, const Field *field, const GPtrArray *records)
{
    g_autofree char *label = g_strdup_printf("Add to %s", field->label);
    page_form(page, "/edit", "add", NULL);
    page_hidden(page, "path", path);
    markup_open(page->out, "label", NULL);
    page_text(page, "span", NULL, label);
    markup_open(page->out, "select", "name", "entry", NULL);
    for (guint i = 0; i < records->len; i++) {
        const Record *record = g_ptr_array_index(records, i);
        g_autofree char *words = path_words(page->result, record->path);
        markup_element(page->out, "option", words, "value", record->id, NULL);
    }
    markup_close(page->out);
    markup_close(page->out);
    markup_open(page->out, "label", NULL);
    page_text(page, "span", NULL, field->kind == Q_COUNT ? "How many" : "How much");
    markup_empty(page->out, "input", "name", "value", "required", "", "placeholder",
                 field->kind == Q_COUNT      ? "2"
                 : field->kind == Q_FRACTION ? "60 %"
                                             : field->unit,
                 NULL);
    markup_close(page->out);
    page_button(page, "always", "Add");
    page_form_close(page);
}

static void
map_field(Page *page, const Record *record, const Field *field)
{
    const Map *map = map_of(record, field);
    g_autofree char *path = g_strdup_printf("%s.%s", record->path, field->key);
    markup_open(page->out, "fieldset", NULL);
    markup_element(page->out, "legend", field->label, NULL);
    page_text(page, "p", "help", field->help);
    for (size_t i = 0; i < map->n; i++)
        entry_form(page, path, field, &map->entry[i]);
    g_autoptr(GPtrArray) more =
        !page->fixed && field->refers_to != NULL ? candidates(page, field, map) : NULL;
    if (more != NULL && more->len > 0)
        add_entry(page, path, field, more);
    markup_close(page->out);
}

void
page_fields(Page *page, const Record *record)
{
    for (size_t i = 0; i < record->section->n_fields; i++) {
        const Field *field = &record->section->fields[i];
        if (field->type == FIELD_MAP)
            map_field(page, record, field);
        else
            page_field(page, record, field);
    }
}
