/* The small pieces that all pages share.
 * Invariant: every text reaches the page through Markup; an id stands only in an address. */
#include "app/page/page.h"

#include <math.h>
#include <stdarg.h>
#include <string.h>

#include "draw/draw.h"
#include "report/check_text.h"
#include "report/why_html.h"
#include "report/fine.h"
#include "report/words.h"

void
said_clear(Said *said)
{
    g_clear_pointer(&said->path, g_free);
    g_clear_pointer(&said->typed, g_free);
    g_clear_pointer(&said->message, g_free);
    g_clear_pointer(&said->now, g_free);
}

static void
add_pair(GString *address, const char *name, const char *value)
{
    g_autofree char *escaped = g_uri_escape_string(value, NULL, FALSE);
    g_string_append_printf(address, "%c%s=%s", strchr(address->str, '?') != NULL ? '&' : '?', name,
                           escaped);
}

char *
page_link(const Page *page, const char *path, ...)
{
    GString *address = g_string_new(page->base);
    g_string_append(address, path);
    va_list pairs;
    va_start(pairs, path);
    for (const char *name; (name = va_arg(pairs, const char *)) != NULL;) {
        const char *value = va_arg(pairs, const char *);
        if (value != NULL)
            add_pair(address, name, value);
    }
    va_end(pairs);
    if (page->shown != NULL && page->shown->look->query[0] != '\0')
        g_string_append_printf(address, "%c%s", strchr(address->str, '?') != NULL ? '&' : '?',
                               page->shown->look->query);
    return g_string_free(address, FALSE);
}

char *
page_record_link(const Page *page, const char *path)
{
    const Field *field = NULL;
    const Record *record = boat_at(page->boat, path, &field);
    if (record == NULL)
        return NULL;
    g_autofree char *address = page_link(page, "/record", "path", record->path, NULL);
    return field == NULL ? g_steal_pointer(&address) : g_strdup_printf("%s#f-%s", address, path);
}

char *
page_part_link(const void *context, const char *path, const char *field)
{
    g_autofree char *whole =
        field != NULL && *field != '\0' ? g_strdup_printf("%s.%s", path, field) : NULL;
    char *link = whole != NULL ? page_record_link(context, whole) : NULL;
    return link != NULL ? link : page_record_link(context, path);
}

char *
page_field_link(const void *context, const char *path)
{
    return page_record_link(context, path);
}

char *
page_why_link(const void *context, const char *name)
{
    return page_link(context, "/why", "name", name, NULL);
}

void
page_text(Page *page, const char *element, const char *classes, const char *text)
{
    markup_element(page->out, element, text, "class", classes, NULL);
}

void
page_title(Page *page, const char *format, ...)
{
    va_list words;
    va_start(words, format);
    g_free(page->title);
    page->title = g_strdup_vprintf(format, words);
    va_end(words);
    markup_element(page->out, "h1", page->title, NULL);
}

void
page_heading(Page *page, const char *text)
{
    markup_element(page->out, "h2", text, NULL);
}

void
page_anchor(Page *page, char *href, const char *classes, const char *text)
{
    markup_element(page->out, href != NULL ? "a" : "span", text, "href", href, "class", classes,
                   NULL);
    g_free(href);
}

void
page_hidden(Page *page, const char *name, const char *value)
{
    markup_empty(page->out, "input", "type", "hidden", "name", name, "value", value, NULL);
}

void
page_form(Page *page, const char *action, const char *classes, const char *id)
{
    g_autofree char *to = page_link(page, action, NULL);
    markup_open(page->out, "form", "class", classes, "id", id, "method", "post", "action", to,
                "hx-post", to, "hx-target", "#main", "hx-swap", "outerMorph", "hx-sync",
                "this:queue last", NULL);
    page_hidden(page, "token", page->visit->token);
    page_hidden(page, "back", page->here);
}

void
page_form_close(Page *page)
{
    markup_close(page->out);
}

void
page_button(Page *page, const char *classes, const char *text)
{
    markup_element(page->out, "button", text, "class", classes, NULL);
}

void
page_post_button(Page *page, const char *action, const char *text, ...)
{
    page_form(page, action, "press", NULL);
    va_list pairs;
    va_start(pairs, text);
    for (const char *name; (name = va_arg(pairs, const char *)) != NULL;) {
        const char *value = va_arg(pairs, const char *);
        if (value != NULL)
            page_hidden(page, name, value);
    }
    va_end(pairs);
    page_button(page, NULL, text);
    page_form_close(page);
}

bool
page_stands_alone(const Page *page, const Finding *f)
{
    return f->cause == NULL || strcmp(f->cause, f->id) == 0 ||
           result_finding_find(page->result, f->cause) == NULL;
}

const Finding *
page_folded(const Page *page, const Finding *f)
{
    size_t n;
    const Finding *nearest =
        f->level == LEVEL_FINE ? fine_nearest(page->result, f->check, &n) : NULL;
    return nearest != NULL && n > FINE_TOLD_SINGLY ? nearest : NULL;
}

void
page_fold_open(Page *page, const Finding *nearest)
{
    size_t n;
    fine_nearest(page->result, nearest->check, &n);
    g_autofree char *sentence = finding_sentence(page->result, nearest, page->units);
    g_autofree char *head =
        g_strdup_printf("%s %zu are in order; %s: %s", nearest->check->question, n,
                        nearest->measured ? "with least to spare" : "the first", sentence);
    markup_open(page->out, "details", "class", "finding fine fold", NULL);
    page_text(page, "summary", NULL, head);
}

void
page_fold_close(Page *page)
{
    markup_close(page->out);
}

void
page_finding_line(Page *page, const Finding *f)
{
    g_autofree char *sentence = finding_sentence(page->result, f, page->units);
    g_autofree char *classes = g_strdup_printf("finding %s", level_word(f->level));
    markup_open(page->out, "li", "class", classes, NULL);
    page_text(page, "span", "level", level_word(f->level));
    markup_text(page->out, " ");
    page_anchor(page, page_link(page, "/finding", "name", f->id, NULL), NULL, sentence);
    markup_close(page->out);
}

char *
page_id_words(const Page *page, const char *id)
{
    const Asked *asked = &page->shown->loaded->asked;
    for (size_t i = 0; i < asked->n_checks; i++) {
        g_autofree char *name =
            g_strdup_printf("%s.%s", asked->check[i]->discipline, asked->check[i]->id);
        size_t length = strlen(name);
        if (strncmp(id, name, length) == 0 && (id[length] == '.' || id[length] == '\0'))
            return g_strdup(asked->check[i]->question);
    }
    const char *last = strrchr(id, '.');
    return name_words(last != NULL ? last + 1 : id);
}

void
page_working(Page *page, const char *name, int rank)
{
    HtmlHow how = {.units = page->units,
                   .field_link = page_field_link,
                   .why_link = page_why_link,
                   .context = page,
                   .parts_rank = rank};
    write_why_html(page->result, name, &how, page->out);
}

void
page_fact(Page *page, const char *label, const Answer *answer)
{
    g_autofree char *value =
        value_spread_words(answer->value, answer->spread, answer->kind->kind, page->units);
    markup_open(page->out, "div", NULL);
    markup_element(page->out, "dt", label, NULL);
    markup_open(page->out, "dd", NULL);
    page_anchor(page, page_why_link(page, answer->name), NULL, value);
    markup_close(page->out);
    markup_close(page->out);
}

static void
term(Page *page, const char *name, const char *text)
{
    if (text == NULL || *text == '\0')
        return;
    markup_element(page->out, "dt", name, NULL);
    markup_element(page->out, "dd", text, NULL);
}

static void
number_terms(Page *page, const Finding *f)
{
    if (!f->measured || isnan(f->value))
        return;
    g_autofree char *value = value_spread_words(f->value, f->spread, f->kind, page->units);
    g_autofree char *limit = limit_words(f, page->units);
    g_autofree char *gap = gap_words(f, page->units);
    g_autofree char *asked =
        gap != NULL ? g_strdup_printf("%s; %s", limit, gap) : g_strdup("not known");
    term(page, "Found", value);
    term(page, "Asked", asked);
}

static void
about_term(Page *page, const Finding *f)
{
    g_autofree char *about = path_words(page->result, f->about);
    g_autofree char *situation =
        f->situation != NULL ? situation_words(page->result, f->situation) : NULL;
    markup_element(page->out, "dt", "About", NULL);
    markup_open(page->out, "dd", NULL);
    page_anchor(page, f->about[0] != '\0' ? page_record_link(page, f->about) : NULL, NULL, about);
    if (situation != NULL) {
        markup_text(page->out, "; ");
        markup_text(page->out, situation);
    }
    markup_close(page->out);
}

static void
settle_term(Page *page, const Finding *f)
{
    g_autofree char *text = f->settle_text != NULL ? text_clean(f->settle_text) : NULL;
    if (text == NULL)
        return;
    markup_element(page->out, "dt", "Settled by", NULL);
    markup_open(page->out, "dd", NULL);
    page_anchor(page, f->settle_path != NULL ? page_record_link(page, f->settle_path) : NULL, NULL,
                text);
    markup_close(page->out);
}

static void
explains(Page *page, const Finding *cause)
{
    bool any = false;
    for (size_t i = 0; i < result_findings(page->result); i++) {
        const Finding *f = result_finding(page->result, i);
        if (f->cause == NULL || f == cause || strcmp(f->cause, cause->id) != 0)
            continue;
        if (!any) {
            page_text(page, "p", "quiet", "This one cause also explains:");
            markup_open(page->out, "ul", "class", "list", NULL);
        }
        any = true;
        page_finding_line(page, f);
    }
    if (any)
        markup_close(page->out);
}

void
page_finding_facts(Page *page, const Finding *f)
{
    markup_open(page->out, "dl", "class", "facts", NULL);
    number_terms(page, f);
    about_term(page, f);
    g_autofree char *sure = sure_words(page->result, f, false);
    term(page, "How sure", sure);
    g_autofree char *source = source_words(&f->source);
    term(page, "Limit from", source);
    term(page, "Note", f->source_note);
    settle_term(page, f);
    markup_close(page->out);
    explains(page, f);
}

static void
caution(Page *page, const char *text, const char *ask)
{
    g_autofree char *line = ask != NULL ? g_strdup_printf("%s Ask %s.", text, ask) : g_strdup(text);
    markup_element(page->out, "li", line, NULL);
}

void
page_cautions(Page *page, const char *discipline)
{
    const Asked *asked = &page->shown->loaded->asked;
    g_autoptr(GHashTable) told = g_hash_table_new(g_str_hash, g_str_equal);
    markup_open(page->out, "section", "class", "cautions", NULL);
    page_heading(page, "Before you rely on this");
    markup_open(page->out, "ul", NULL);
    for (size_t i = 0; i < result_check_count(page->result); i++) {
        const CheckInfo *check = result_check(page->result, i);
        const char *const *ids = check->cautions;
        if (discipline != NULL && strcmp(check->discipline, discipline) != 0)
            continue;
        for (CautionText text; ids != NULL && *ids != NULL; ids++)
            if (g_hash_table_add(told, (gpointer) *ids) &&
                asked->caution(asked->context, *ids, &text))
                caution(page, text.text, text.ask);
    }
    caution(page, g_strcmp0(discipline, "wiring") == 0 ? check_no_approval : check_no_survey, NULL);
    caution(page, check_not_listed, NULL);
    markup_close(page->out);
    markup_close(page->out);
}
