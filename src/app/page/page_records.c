/* What is in her: every section of the boat file as a table that is edited in place, and one record with all its fields. */
#include <string.h>

#include "app/page/pages.h"
#include "boat/model.h"
#include "report/words.h"

enum { COLUMNS = 5 };

static bool
is_row(const Section *section)
{
    return section->role_of == NULL && section != &section_options;
}

static size_t
count(const Page *page, const Section *section)
{
    size_t n;
    boat_records(page->boat, section, &n);
    return n;
}

static char *
record_words(const Page *page, const Record *record)
{
    return path_words(page->result, record->path);
}

/* The fields that a table has room for: those that most records of the section state. */
static size_t
columns(const Page *page, const Section *section, const Field *column[COLUMNS])
{
    size_t n_records, n = 0;
    const Record *const *records = boat_records(page->boat, section, &n_records);
    for (size_t f = 0; f < section->n_fields && n < COLUMNS; f++) {
        const Field *field = &section->fields[f];
        size_t stated = 0;
        for (size_t i = 0; i < n_records; i++)
            stated += records[i]->state[f].origin >= ORIGIN_TYPED;
        if (strcmp(field->key, "what") != 0 && field->type != FIELD_ROWS &&
            field->type != FIELD_MAP && field->type != FIELD_LIST && 4 * stated >= n_records)
            column[n++] = field;
    }
    return n;
}

static void
table_head(Page *page, size_t n, const Field *const column[])
{
    markup_open(page->out, "tr", NULL);
    markup_element(page->out, "th", "", "scope", "col", NULL);
    for (size_t i = 0; i < n; i++)
        markup_element(page->out, "th", column[i]->label, "scope", "col", NULL);
    markup_close(page->out);
}

/* The one that a phone has room for. */
static size_t
main_column(size_t n, const Field *const column[])
{
    for (size_t i = 0; i < n; i++)
        if (column[i]->type == FIELD_QUANTITY)
            return i;
    return 0;
}

static void
table_row(Page *page, const Record *record, size_t n, const Field *const column[])
{
    g_autofree char *words = record_words(page, record);
    markup_open(page->out, "tr", NULL);
    markup_open(page->out, "th", "scope", "row", NULL);
    page_anchor(page, page_link(page, "/record", "path", record->path, NULL), NULL, words);
    markup_close(page->out);
    size_t first = main_column(n, column);
    for (size_t i = 0; i < n; i++) {
        markup_open(page->out, "td", "data-label", column[i]->label, "class",
                    i == first ? NULL : "aside", NULL);
        page_field_small(page, record, column[i]);
        markup_close(page->out);
    }
    markup_close(page->out);
}

static void
add_form(Page *page, const Section *section)
{
    if (page->fixed || section_field(section, "what") == NULL)
        return;
    page_form(page, "/add", "add", NULL);
    page_hidden(page, "section", section->key);
    markup_open(page->out, "label", NULL);
    page_text(page, "span", NULL, "Add one; what is it?");
    markup_empty(page->out, "input", "name", "what", "required", "", "maxlength", "80", NULL);
    markup_close(page->out);
    page_button(page, "always", "Add");
    page_form_close(page);
}

static void
section_table(Page *page, const Section *section)
{
    size_t n_records;
    const Record *const *records = boat_records(page->boat, section, &n_records);
    const Field *column[COLUMNS];
    size_t n = columns(page, section, column);
    g_autofree char *file = g_strdup_printf("/table/%s.csv", section->key);
    page_text(page, "p", NULL, section->what);
    if (n_records == 0)
        page_text(page, "p", "empty", "Nothing of this stands in the file yet.");
    else {
        page_anchor(page, page_link(page, file, NULL), "file", "CSV");
        markup_open(page->out, "div", "class", "wide", "tabindex", "0", "role", "region",
                    "aria-label", section->title, NULL);
        markup_open(page->out, "table", "class", "records", NULL);
        table_head(page, n, column);
        for (size_t i = 0; i < n_records; i++)
            table_row(page, records[i], n, column);
        markup_close(page->out);
        markup_close(page->out);
    }
    add_form(page, section);
}

static void
sections_menu(Page *page, const Section *here)
{
    markup_open(page->out, "nav", "aria-label", "Sections of the boat file", "class", "sections",
                NULL);
    markup_open(page->out, "ul", NULL);
    for (size_t i = 0; boat_sections[i] != NULL; i++) {
        const Section *section = boat_sections[i];
        if (!is_row(section))
            continue;
        g_autofree char *href = section->keyed
                                    ? page_link(page, "/records", "section", section->key, NULL)
                                    : page_link(page, "/record", "path", section->key, NULL);
        size_t n = section->keyed ? count(page, section) : 0;
        g_autofree char *words = section->keyed ? g_strdup_printf("%s (%zu)", section->title, n)
                                                : g_strdup(section->title);
        markup_open(page->out, "li", NULL);
        markup_element(page->out, "a", words, "href", href, "aria-current",
                       section == here ? "true" : NULL, NULL);
        markup_close(page->out);
    }
    markup_close(page->out);
    markup_close(page->out);
}

void
page_records(Page *page)
{
    const char *key = params_get(page->query, "section");
    const Section *section = key != NULL ? section_find(key) : &section_items;
    if (section == NULL || !section->keyed)
        section = &section_items;
    page_title(page, "%s", section->title);
    sections_menu(page, section);
    section_table(page, section);
}

/* Entries of a map, each a value of its own. */
static void
map_field(Page *page, const Record *record, const Field *field)
{
    const Map *map = (const Map *) ((const char *) record->data + field->offset);
    markup_element(page->out, "h3", field->label, NULL);
    page_text(page, "p", "help", field->help);
    markup_open(page->out, "ul", NULL);
    for (size_t i = 0; i < map->n; i++) {
        g_autofree char *name = name_words(map->entry[i].key);
        const char *text = map->entry[i].text;
        g_autofree char *value =
            text != NULL ? text_clean(text)
                         : value_words(map->entry[i].value.value, 0.0, field->kind, page->units);
        g_autofree char *line = g_strdup_printf("%s: %s", name, value);
        markup_element(page->out, "li", line, NULL);
    }
    markup_close(page->out);
}

static void
fields(Page *page, const Record *record)
{
    for (size_t i = 0; i < record->section->n_fields; i++) {
        const Field *field = &record->section->fields[i];
        if (field->type == FIELD_MAP)
            map_field(page, record, field);
        else
            page_field(page, record, field);
    }
}

static void
roles(Page *page, const Record *record)
{
    for (guint i = 0; record->roles != NULL && i < record->roles->len; i++) {
        const Record *role = g_ptr_array_index(record->roles, i);
        page_heading(page, role->section->title);
        if (role->section->keyed) {
            page_anchor(page, page_link(page, "/record", "path", role->path, NULL), "more",
                        role->id);
            continue;
        }
        page_text(page, "p", "quiet", role->section->what);
        fields(page, role);
    }
}

/* Findings and answers that speak of it. */
static void
spoken_of(Page *page, const Record *record)
{
    bool any = false;
    for (size_t i = 0; i < result_findings(page->result); i++) {
        const Finding *f = result_finding(page->result, i);
        if (strcmp(f->about, record->path) != 0)
            continue;
        if (!any) {
            page_heading(page, "Findings about it");
            markup_open(page->out, "ul", "class", "list", NULL);
        }
        any = true;
        page_finding_line(page, f);
    }
    if (any)
        markup_close(page->out);
}

static void
remove_form(Page *page, const Record *record)
{
    if (page->fixed || record->parent != NULL || !record->section->keyed)
        return;
    g_autofree char *to = page_link(page, "/records", "section", record->section->key, NULL);
    page_post_button(page, "/remove", "Take it out of the file", "path", record->path, "to", to,
                     NULL);
}

void
page_record(Page *page)
{
    const char *path = params_get(page->query, "path");
    const Field *field = NULL;
    const Record *record = path != NULL ? boat_at(page->boat, path, &field) : NULL;
    const Section *single = path != NULL ? section_find(path) : NULL;
    if (record == NULL && single != NULL && !single->keyed)
        record = boat_single(page->boat, single);
    if (record == NULL) {
        page_title(page, "This is no longer in the file");
        page_anchor(page, page_link(page, "/records", NULL), "more", "What is in her");
        page->status = 404;
        return;
    }
    g_autofree char *words = record_words(page, record);
    if (record->section->keyed)
        page_title(page, "%s", words);
    else
        page_title(page, "%s", record->section->title);
    page_text(page, "p", "quiet", record->section->what);
    spoken_of(page, record);
    fields(page, record);
    roles(page, record);
    if (strcmp(record->path, "items") != 0 && record->section->keyed) {
        page_heading(page, "Where it is");
        page_figure(page, "arrangement", record->path);
    }
    remove_form(page, record);
}
