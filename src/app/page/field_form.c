/* Forms from the section tables: one form a field, which sends what was typed and what was seen.
 * Invariant: the id of the form of a path is "f-" and the path; the input shows the text as the owner wrote it, so that no
 * number changes its digits while it is being edited. */
#include <math.h>
#include <string.h>

#include "app/page/page.h"
#include "app/page/typical.h"
#include "base/number.h"
#include "boat/edit.h"
#include "boat/scalar_text.h"
#include "boat/written.h"
#include "report/words.h"

static char *
path_of(const Record *record, const Field *field)
{
    return g_strdup_printf("%s.%s", record->path, field->key);
}

/* A list in one line, as an edit takes it. */
static char *
list_in_line(const Node *list)
{
    g_autoptr(GString) out = g_string_new("[");
    for (size_t i = 0; i < node_n_children(list); i++) {
        const Node *one = node_nth(list, i);
        g_autofree char *text =
            one->type == NODE_SCALAR ? scalar_text(one->text, true, NULL) : NULL;
        g_string_append_printf(out, "%s%s", i > 0 ? ", " : "", text != NULL ? text : "");
    }
    g_string_append_c(out, ']');
    return g_string_free(g_steal_pointer(&out), FALSE);
}

static const FieldState *
state_of(const Record *record, const Field *field)
{
    return &record->state[field - record->section->fields];
}

char *
page_written(const Page *page, const Record *record, const Field *field)
{
    const Node *node = state_of(record, field)->node;
    if (node != NULL && node->type == NODE_LIST)
        return list_in_line(node);
    char *text = field_written(page->boat, record, field);
    return text != NULL ? text : g_strdup("");
}

/* How a number is taken: "95 kg ± 38 kg, by-eye"; NULL where that says no more than the text. */
static char *
reads_as(const Page *page, const Record *record, const Field *field)
{
    const FieldState *state = state_of(record, field);
    double value = field_is_number(field) ? record_number(record, field->key) : NAN;
    if (isnan(value) || state->origin == ORIGIN_MISSING)
        return page_typical_words(page, record, field);
    bool across = field->type == FIELD_ACROSS;
    g_autofree char *number =
        value_spread_words(across ? fabs(value) : value, state->spread, field->kind, page->units);
    g_autofree char *words =
        !across        ? g_strdup(number)
        : value == 0.0 ? g_strdup_printf("on the centreline, %s", number)
                       : g_strdup_printf("%s to %s", number, value > 0.0 ? "port" : "starboard");
    const char *how = state->origin == ORIGIN_TYPED ? basis_word(state->basis)
                                                    : "assumed: nothing stands in the file";
    return g_strdup_printf("%s, %s", words, how);
}

static bool
is_long(const Field *field)
{
    return field->type == FIELD_ROWS || field->type == FIELD_LIST || field->type == FIELD_WORDS;
}

static void
choice_input(Page *page, const Field *field, const char *id, const char *text, const char *label,
             const char *described)
{
    markup_open(page->out, "select", "id", id, "name", "value", "aria-label", label,
                "aria-describedby", described, "disabled", page->fixed ? "" : NULL, NULL);
    g_autofree char *none = field->standard_word != NULL
                                ? g_strdup_printf("left out: %s", field->standard_word)
                                : g_strdup("left out");
    markup_element(page->out, "option", none, "value", "", "selected", text[0] == '\0' ? "" : NULL,
                   NULL);
    bool known = text[0] == '\0';
    for (const Choice *choice = field->choices; choice->word != NULL; choice++) {
        g_autofree char *words = g_strdup_printf("%s: %s", choice->word, choice->meaning);
        bool here = strcmp(text, choice->word) == 0;
        known |= here;
        markup_element(page->out, "option", label != NULL ? choice->word : words, "value",
                       choice->word, "selected", here ? "" : NULL, NULL);
    }
    if (!known)
        markup_element(page->out, "option", text, "value", text, "selected", "", NULL);
    markup_close(page->out);
}

static void
text_input(Page *page, const Field *field, const char *id, const char *text, const char *label,
           const char *described, const char *words, bool bad)
{
    if (is_long(field) || strchr(text, '\n') != NULL)
        markup_element(page->out, "textarea", text, "id", id, "name", "value", "rows", "3",
                       "aria-label", label, "aria-describedby", described, "aria-invalid",
                       bad ? "true" : NULL, "readonly", page->fixed ? "" : NULL, "spellcheck",
                       "false", NULL);
    else
        markup_empty(page->out, "input", "id", id, "name", "value", "value", text, "aria-label",
                     label, "aria-describedby", described, "aria-invalid", bad ? "true" : NULL,
                     "readonly", page->fixed ? "" : NULL, "autocomplete", "off", "spellcheck",
                     "false", "placeholder", field->unit, "list", words, NULL);
}

/* Where the typed number comes from: changing it rewrites the text. */
static void
basis_input(Page *page, const Record *record, const Field *field, const char *path)
{
    const FieldState *state = state_of(record, field);
    bool carries = field->type == FIELD_QUANTITY || field_is_place(field);
    if (!carries || state->origin != ORIGIN_TYPED || page->fixed)
        return;
    static const struct {
        Basis basis;
        const char *words;
    } all[] = {{BASIS_MEASURED, "measured"},      {BASIS_PLATE, "from its plate"},
               {BASIS_MAKER, "from the maker"},   {BASIS_STATED, "stated"},
               {BASIS_SELLER, "the seller says"}, {BASIS_BY_EYE, "about, by eye"}};
    g_autofree char *label = g_strdup_printf("How sure is %s", field->label);
    g_autofree char *id = g_strdup_printf("b-%s", path);
    page_hidden(page, "basis-was", basis_word(state->basis));
    markup_open(page->out, "select", "id", id, "name", "basis", "class", "basis", "aria-label",
                label, NULL);
    for (size_t i = 0; i < G_N_ELEMENTS(all); i++)
        markup_element(page->out, "option", all[i].words, "value", basis_word(all[i].basis),
                       "selected", all[i].basis == state->basis ? "" : NULL, NULL);
    markup_close(page->out);
}

/* Which text an edit of the field changes, where options are chosen. */
static void
goes_into(Page *page, const char *path)
{
    const Look *look = page->shown->look;
    const Edition *edition = page->shown->edition;
    if (look->options->len == 0 || edition->document == NULL)
        return;
    const char *option = NULL;
    g_autofree char *target = edit_target(edition->document, look->options->len,
                                          look->chosen.options, path, &option, NULL);
    if (target == NULL)
        return;
    const char *last = g_ptr_array_index(look->options, look->options->len - 1);
    g_autofree char *option_path = g_strdup_printf("options.%s", option != NULL ? option : last);
    g_autofree char *named = path_words(page->result, option_path);
    g_autofree char *into_option = g_strdup_printf("into the option %s", named);
    markup_open(page->out, "select", "name", "into", "class", "into", "aria-label",
                "Where the edit goes", NULL);
    markup_element(page->out, "option", into_option, "value", option != NULL ? option : last,
                   "selected", option != NULL ? "" : NULL, NULL);
    markup_element(page->out, "option", "into the base plan", "value", "base", "selected",
                   option == NULL ? "" : NULL, NULL);
    markup_close(page->out);
}

static Said *
said_of(Page *page, const char *path)
{
    Said *said = page->said;
    if (said == NULL || said->path == NULL || strcmp(said->path, path) != 0)
        return NULL;
    said->placed = true;
    return said;
}

/* Both values of a clash, and a way to each. */
static void
error_part(Page *page, const Said *said, const char *id)
{
    markup_open(page->out, "div", "class", "error", "id", id, "role", "alert", NULL);
    page_text(page, "p", NULL, said->message);
    if (said->now != NULL) {
        g_autofree char *mine = g_strdup_printf("Yours: %s", said->typed);
        g_autofree char *theirs =
            g_strdup_printf("In the file now: %s", said->now[0] != '\0' ? said->now : "nothing");
        page_text(page, "p", NULL, mine);
        page_text(page, "p", NULL, theirs);
        page_text(page, "p", NULL, "Set sends yours after all; Escape and reload keep theirs.");
    }
    markup_close(page->out);
}

static void
form_open(Page *page, const char *path, const char *classes, const char *was, bool keep)
{
    g_autofree char *id = g_strdup_printf("f-%s", path);
    g_autofree char *to = page_link(page, "/edit", NULL);
    markup_open(page->out, "form", "class", classes, "id", id, "method", "post", "action", to,
                "hx-post", to, "hx-trigger", "change, submit", "hx-target", "#main", "hx-swap",
                "outerMorph", "hx-sync", "this:queue last", "data-keep", keep ? "" : NULL, NULL);
    page_hidden(page, "token", page->visit->token);
    page_hidden(page, "back", page->here);
    page_hidden(page, "path", path);
    page_hidden(page, "was", was);
}

/* The help of the tables marks what is typed by back quotes. */
static void
help_part(Page *page, const Field *field, const char *id)
{
    g_auto(GStrv) parts = g_strsplit(field->help, "`", -1);
    markup_open(page->out, "p", "class", "help", "id", id, NULL);
    for (size_t i = 0; parts[i] != NULL; i++)
        if (i % 2 == 1)
            markup_element(page->out, "code", parts[i], NULL);
        else
            markup_text(page->out, parts[i]);
    markup_close(page->out);
}

void
page_field(Page *page, const Record *record, const Field *field)
{
    g_autofree char *path = path_of(record, field);
    g_autofree char *written = page_written(page, record, field);
    g_autofree char *seen = field_written(page->boat, record, field);
    g_autofree char *input = g_strdup_printf("v-%s", path), *help = g_strdup_printf("h-%s", path);
    g_autofree char *error = g_strdup_printf("e-%s", path);
    Said *said = said_of(page, path);
    bool bad = said != NULL && !said->good;
    const char *text = bad && said->typed != NULL ? said->typed : written;
    g_autofree char *described = bad ? g_strdup_printf("%s %s", help, error) : g_strdup(help);
    form_open(page, path, bad ? "field bad" : "field",
              bad && said->now != NULL ? said->now
              : seen != NULL           ? seen
                                       : "",
              bad);
    markup_element(page->out, "label", field->label, "for", input, NULL);
    markup_open(page->out, "div", "class", "inputs", NULL);
    if (field->type == FIELD_CHOICE)
        choice_input(page, field, input, text, NULL, described);
    else
        text_input(page, field, input, text, NULL, described, page_kinds_of(record, field), bad);
    basis_input(page, record, field, path);
    goes_into(page, path);
    if (!page->fixed)
        page_button(page, NULL, "Set");
    markup_close(page->out);
    g_autofree char *reads = reads_as(page, record, field);
    if (reads != NULL)
        page_text(page, "p", "reads", reads);
    help_part(page, field, help);
    if (bad)
        error_part(page, said, error);
    page_form_close(page);
}

void
page_field_small(Page *page, const Record *record, const Field *field)
{
    g_autofree char *path = path_of(record, field);
    g_autofree char *written = page_written(page, record, field);
    g_autofree char *seen = field_written(page->boat, record, field);
    g_autofree char *what = path_words(page->result, path);
    g_autofree char *input = g_strdup_printf("v-%s", path), *error = g_strdup_printf("e-%s", path);
    Said *said = said_of(page, path);
    bool bad = said != NULL && !said->good;
    const char *text = bad && said->typed != NULL ? said->typed : written;
    form_open(page, path, bad ? "field small bad" : "field small",
              bad && said->now != NULL ? said->now
              : seen != NULL           ? seen
                                       : "",
              bad);
    if (field->type == FIELD_CHOICE)
        choice_input(page, field, input, text, what, bad ? error : NULL);
    else
        text_input(page, field, input, text, what, bad ? error : NULL, page_kinds_of(record, field),
                   bad);
    if (!page->fixed)
        page_button(page, NULL, "Set");
    if (bad)
        error_part(page, said, error);
    page_form_close(page);
}

void
page_value_form(Page *page, const char *path, const char *input, const char *label,
                const char *text)
{
    g_autofree char *error = g_strdup_printf("e-%s", path);
    Said *said = said_of(page, path);
    bool bad = said != NULL && !said->good;
    form_open(page, path, bad ? "field bad" : "field", bad && said->now != NULL ? said->now : text,
              bad);
    markup_element(page->out, "label", label, "for", input, NULL);
    markup_open(page->out, "div", "class", "inputs", NULL);
    markup_empty(page->out, "input", "id", input, "name", "value", "value",
                 bad && said->typed != NULL ? said->typed : text, "aria-describedby",
                 bad ? error : NULL, "aria-invalid", bad ? "true" : NULL, "readonly",
                 page->fixed ? "" : NULL, "autocomplete", "off", NULL);
    if (!page->fixed)
        page_button(page, NULL, "Set");
    markup_close(page->out);
    if (bad)
        error_part(page, said, error);
    page_form_close(page);
}
