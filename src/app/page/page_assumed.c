/* What is assumed: every default and every value by eye in use, to be settled one by one. */
#include <math.h>

#include "app/page/pages.h"
#include "app/page/typical.h"
#include "report/words.h"

enum { MOST_SHOWN = 120 };

static bool
is_unsettled(const Page *page, const Record *record, size_t f)
{
    const FieldState *state = &record->state[f];
    const Field *field = &record->section->fields[f];
    if (!field_is_number(field) || isnan(record_number(record, field->key)))
        return state->origin == ORIGIN_UNKNOWN || page_is_typical(page, record, field);
    return state->origin == ORIGIN_DEFAULT ||
           (state->origin == ORIGIN_TYPED && state->basis >= BASIS_BY_EYE);
}

static void
one(Page *page, const Record *record, const Field *field)
{
    g_autofree char *words = path_words(page->result, record->path);
    markup_open(page->out, "div", "class", "assumed", NULL);
    page_anchor(page, page_link(page, "/record", "path", record->path, NULL), "of", words);
    page_field(page, record, field);
    markup_close(page->out);
}

static size_t
of_section(Page *page, const Section *section, size_t shown)
{
    size_t n, found = 0;
    const Record *const *records = boat_records(page->boat, section, &n);
    for (size_t i = 0; i < n; i++)
        for (size_t f = 0; f < section->n_fields; f++) {
            if (!is_unsettled(page, records[i], f))
                continue;
            if (found++ == 0 && shown < MOST_SHOWN)
                page_heading(page, section->title);
            if (shown + found <= MOST_SHOWN)
                one(page, records[i], &section->fields[f]);
        }
    return found;
}

void
page_assumed(Page *page)
{
    page->still = true;
    page_title(page, "What is assumed");
    page_text(page, "p", NULL,
              "Defaults nobody stated, masses taken from what is typical of a kind, and values by "
              "eye. Each stays a doubt until it is weighed, measured or read off a plate.");
    page_anchor(page, page_link(page, "/measure", NULL), "more", "Which of them matters most?");
    size_t found = 0;
    for (size_t i = 0; boat_sections[i] != NULL; i++)
        found += of_section(page, boat_sections[i], found);
    g_autofree char *count =
        found == 0 ? g_strdup("Nothing: every value in use was stated.")
        : found <= MOST_SHOWN
            ? g_strdup_printf("%zu values in all.", found)
            : g_strdup_printf("%zu values in all; the first %d are shown.", found, MOST_SHOWN);
    page_text(page, "p", "quiet", count);
}
