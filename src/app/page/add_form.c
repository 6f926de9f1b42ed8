/* Forms that add to the boat file: a record of a section, a part of a record.
 * Invariant: what they send is a name and the value of one field, so that what is added is never an empty entry. */
#include "app/page/page.h"
#include "base/number.h"
#include "boat/model.h"

static void
text_box(Page *page, const char *name, const char *label, const char *value, const char *example)
{
    markup_open(page->out, "label", NULL);
    page_text(page, "span", NULL, label);
    markup_empty(page->out, "input", "name", name, "value", value, "required", "", "maxlength",
                 "200", "placeholder", example, NULL);
    markup_close(page->out);
}

/* The first value of what is added: chosen where the file takes only certain words. */
static void
value_box(Page *page, const Field *field, const char *label, const char *value)
{
    if (field->type != FIELD_CHOICE) {
        text_box(page, "value", label, value, field->unit);
        return;
    }
    markup_open(page->out, "label", NULL);
    page_text(page, "span", NULL, label);
    markup_open(page->out, "select", "name", "value", NULL);
    for (const Choice *choice = field->choices; choice->word != NULL; choice++) {
        g_autofree char *words = g_strdup_printf("%s: %s", choice->word, choice->meaning);
        markup_element(page->out, "option", words, "value", choice->word, "selected",
                       g_strcmp0(choice->word, value) == 0 ? "" : NULL, NULL);
    }
    markup_close(page->out);
    markup_close(page->out);
}

void
page_add_record(Page *page, const char *path, const Section *section)
{
    if (page->fixed)
        return;
    page_form(page, "/add", "add", NULL);
    page_hidden(page, "path", path);
    text_box(page, "what", "Add one; what is it?", NULL, NULL);
    if (section_field(section, "what") == NULL)
        value_box(page, &section->fields[0], section->fields[0].label,
                  section->fields[0].standard_word);
    page_button(page, "always", "Add");
    page_form_close(page);
}

/* What the first field is when nothing is said: the part can be begun with it. */
static char *
usual_value(const Field *field)
{
    if (field->standard_word != NULL)
        return g_strdup(field->standard_word);
    return field->has_standard && field->type == FIELD_COUNT ? number_exact(field->standard) : NULL;
}

void
page_add_part(Page *page, const char *path, const Section *section)
{
    if (page->fixed)
        return;
    const Field *first = &section->fields[0];
    g_autofree char *where = g_strdup_printf("%s.%s", path, first->key);
    g_autofree char *usual = usual_value(first);
    page_form(page, "/edit", "add", NULL);
    page_hidden(page, "path", where);
    g_autofree char *label =
        g_strdup_printf("%s: %s %s", section->title, section->what, first->label);
    value_box(page, first, label, usual);
    page_button(page, "always", "Begin");
    page_form_close(page);
}
