/* What is in her: every section of the boat file as a table that is edited in place, and one record with all its fields. */
#include <string.h>

#include "app/page/pages.h"
#include "app/page/typical.h"
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
            field->type != FIELD_MAP && field->type != FIELD_LIST && field->type != FIELD_WORDS &&
            4 * stated >= n_records)
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
        markup_open(page->out, "tbody", NULL);
        table_head(page, n, column);
        for (size_t i = 0; i < n_records; i++)
            table_row(page, records[i], n, column);
        markup_close(page->out);
        markup_close(page->out);
        markup_close(page->out);
    }
    page_add_record(page, section->key, section);
}

void
page_sections_menu(Page *page, const Section *here)
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
    page->still = true;
    const char *key = params_get(page->query, "section");
    const Section *section = key != NULL ? section_find(key) : &section_items;
    if (section == NULL || !section->keyed)
        section = &section_items;
    page_title(page, "%s", section->title);
    page_sections_menu(page, section);
    page_kinds(page, section);
    section_table(page, section);
}

static void
role_part(Page *page, const Record *role)
{
    if (role->section->keyed) {
        g_autofree char *words = record_words(page, role);
        page_anchor(page, page_link(page, "/record", "path", role->path, NULL), "more", words);
        return;
    }
    page_heading(page, role->section->title);
    page_text(page, "p", "quiet", role->section->what);
    page_fields(page, role);
}

/* What belongs to it: roles of an item, stations of the hull; and what could. */
static void
parts(Page *page, const Record *record)
{
    for (size_t i = 0; boat_sections[i] != NULL; i++) {
        const Section *section = boat_sections[i];
        if (section->role_of == NULL || strcmp(section->role_of, record->section->key) != 0)
            continue;
        bool any = false;
        if (section->keyed)
            page_heading(page, section->title);
        for (guint k = 0; record->roles != NULL && k < record->roles->len; k++) {
            const Record *role = g_ptr_array_index(record->roles, k);
            if (role->section != section)
                continue;
            any = true;
            role_part(page, role);
        }
        g_autofree char *path = g_strdup_printf("%s.%s", record->path, section->key);
        if (section->keyed)
            page_add_record(page, path, section);
        else if (!any)
            page_add_part(page, path, section);
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
    page->still = true;
    const char *path = params_get(page->query, "path");
    const Field *field = NULL;
    const Record *record = path != NULL ? boat_at(page->boat, path, &field) : NULL;
    const Section *single = path != NULL ? section_find(path) : NULL;
    if (record == NULL && single != NULL && !single->keyed)
        record = boat_single(page->boat, single);
    if (record == NULL) {
        page_title(page, "This is not in her");
        page_text(page, "p", "empty",
                  "The file, with the plan chosen above, has no such entry: it was taken out, or "
                  "another plan has it.");
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
    page_kinds(page, record->section);
    page_fields(page, record);
    parts(page, record);
    page_where(page, record->path);
    page_pictures_of(page, record);
    remove_form(page, record);
}
