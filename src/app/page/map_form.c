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

static void
entry_form(Page *page, const char *map_path, const MapEntry *entry)
{
    const Node *node = document_find(boat_document(page->boat), map_path);
    const Node *value = node != NULL ? node_child(node, entry->key) : NULL;
    const char *text = value != NULL && value->text != NULL ? value->text : "";
    g_autofree char *path = g_strdup_printf("%s.%s", map_path, entry->key);
    g_autofree char *input = g_strdup_printf("v-%s", path);
    g_autofree char *words = name_words(entry->key);
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

/* Records of a section, or the items that bear the role of that name, as far as they have no entry yet. */
static size_t
candidates(Page *page, const char *word, const Map *map)
{
    const Section *section = section_find(word);
    if (section == NULL)
        section = section_sub(&section_items, word);
    size_t n = 0, written = 0;
    const Record *const *records = section != NULL ? boat_records(page->boat, section, &n) : NULL;
    for (size_t i = 0; i < n; i++) {
        const Record *named = records[i]->parent != NULL ? records[i]->parent : records[i];
        if (in_map(map, named->id))
            continue;
        g_autofree char *words = path_words(page->result, named->path);
        markup_element(page->out, "option", words, "value", named->id, NULL);
        written++;
    }
    return written;
}

static void
add_entry(Page *page, const char *path, const Field *field, const Map *map)
{
    g_auto(GStrv) words = g_strsplit(field->refers_to != NULL ? field->refers_to : "", " ", -1);
    g_autofree char *label = g_strdup_printf("Add to %s", field->label);
    page_form(page, "/edit", "add", NULL);
    page_hidden(page, "path", path);
    markup_open(page->out, "label", NULL);
    page_text(page, "span", NULL, label);
    markup_open(page->out, "select", "name", "entry", NULL);
    for (char **word = words; *word != NULL; word++)
        candidates(page, *word, map);
    markup_close(page->out);
    markup_close(page->out);
    markup_open(page->out, "label", NULL);
    page_text(page, "span", NULL, field->kind == Q_COUNT ? "How many" : "How much");
    markup_empty(page->out, "input", "name", "value", "required", "", "placeholder",
                 field->kind == Q_COUNT ? "2" : field->kind == Q_FRACTION ? "60 %" : field->unit,
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
        entry_form(page, path, &map->entry[i]);
    if (!page->fixed && field->refers_to != NULL)
        add_entry(page, path, field, map);
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
