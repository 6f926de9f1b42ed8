/* A remedy tried on the whole boat: what it clears, what else it changes, how she would lie; one press more applies it. */
#include "app/page/pages.h"
#include "boat/edit.h"
#include "report/plan_remedy.h"
#include "report/remedies_text.h"
#include "report/words.h"

static void
edits_of(Page *page, const Remedy *remedy)
{
    for (size_t i = 0; i < remedy->n_edits; i++) {
        page_hidden(page, "path", remedy->edit[i].path);
        page_hidden(page, "value", remedy->edit[i].value);
    }
}

static void
ids_list(Page *page, const char *title, const Result *with, size_t n, const char *const id[])
{
    if (n == 0)
        return;
    markup_element(page->out, "h3", title, NULL);
    markup_open(page->out, "ul", "class", "list", NULL);
    for (size_t i = 0; i < n; i++) {
        const Finding *f = result_finding_find(with, id[i]);
        g_autofree char *text =
            f != NULL ? finding_sentence(with, f, page->units) : page_id_words(page, id[i]);
        markup_open(page->out, "li", "class", "finding", NULL);
        page_text(page, "span", "level", f != NULL ? level_word(f->level) : "");
        markup_text(page->out, " ");
        markup_text(page->out, text);
        markup_close(page->out);
    }
    markup_close(page->out);
}

static void
moved_answers(Page *page, const Remedy *remedy)
{
    if (remedy->n_moves == 0)
        return;
    markup_element(page->out, "h3", "Numbers that move", NULL);
    markup_open(page->out, "table", NULL);
    markup_open(page->out, "tr", NULL);
    markup_element(page->out, "th", "", NULL);
    markup_element(page->out, "th", "before", "class", "number", NULL);
    markup_element(page->out, "th", "after", "class", "number", NULL);
    markup_close(page->out);
    for (size_t i = 0; i < remedy->n_moves; i++) {
        const RemedyMove *move = &remedy->move[i];
        const Answer *answer = result_answer_find(page->result, move->answer);
        if (answer == NULL)
            continue;
        g_autofree char *label = answer_label(page->result, answer);
        g_autofree char *before =
            value_words(move->before, answer->spread, answer->kind->kind, page->units);
        g_autofree char *after =
            value_words(move->after, answer->spread, answer->kind->kind, page->units);
        markup_open(page->out, "tr", NULL);
        markup_element(page->out, "td", label, NULL);
        markup_element(page->out, "td", before, "class", "number", NULL);
        markup_element(page->out, "td", after, "class", "number", NULL);
        markup_close(page->out);
    }
    markup_close(page->out);
}

static void
apply_form(Page *page, const char *finding, const Remedy *remedy, const char *words)
{
    if (page->fixed)
        return;
    page_form(page, "/apply", "press", NULL);
    g_autofree char *to = page_link(page, "/finding", "name", finding, "done", "yes", NULL);
    page_hidden(page, "to", to);
    page_hidden(page, "why", words);
    edits_of(page, remedy);
    page_button(page, NULL, "Apply it to the boat file");
    page_form_close(page);
    page_text(page, "p", "quiet", "Undo is at the foot of every page.");
}

/* The whole boat with the remedy in place; NULL when the text has moved on under it. */
static Shown *
try_it(const Page *page, const Remedy *remedy)
{
    g_autofree Edit *edits = g_new0(Edit, remedy->n_edits);
    for (size_t i = 0; i < remedy->n_edits; i++)
        edits[i] = (Edit){.path = remedy->edit[i].path, .value = remedy->edit[i].value};
    const Edition *edition = page->shown->edition;
    g_autoptr(Document) document =
        edition->document != NULL ? edit_document(edition->document, remedy->n_edits, edits, NULL)
                                  : NULL;
    if (document == NULL)
        return NULL;
    g_autoptr(Edition) tried = edition_of(document, 0);
    g_autoptr(Shown) shown = shown_new(site_catalog(page->site), tried, page->shown->look);
    return shown->result != NULL ? g_steal_pointer(&shown) : NULL;
}

void
page_remedy(Page *page)
{
    const Finding *f = page_asked_finding(page);
    if (f == NULL)
        return;
    g_auto(StudyView) view = {0};
    if (!page_study(page, STUDY_REMEDIES, f->id, &view))
        return;
    const char *number = params_get(page->query, "n");
    size_t n = number != NULL ? (size_t) g_ascii_strtoull(number, NULL, 10) : 0;
    const RemediesOf *of = remedies_for(view.remedies, f->id);
    if (of == NULL || n >= of->n_remedies) {
        page_title(page, "This remedy is no longer offered");
        page_anchor(page, page_link(page, "/finding", "name", f->id, NULL), "more",
                    "Back to the finding");
        return;
    }
    const Remedy *remedy = &of->remedy[n];
    g_autofree char *words = remedy_words(page->result, remedy, page->units);
    g_autofree char *sentence = finding_sentence(page->result, f, page->units);
    page_title(page, "Tried: %s", words);
    g_autofree char *against = g_strdup_printf("Against: %s", sentence);
    page_text(page, "p", NULL, against);
    g_autofree char *takes = remedy_takes_words(page->result, remedy);
    if (takes != NULL)
        page_text(page, "p", NULL, takes);
    g_autofree char *chance = plan_chance_words(remedy);
    if (chance != NULL)
        page_text(page, "p", NULL, chance);
    apply_form(page, f->id, remedy, words);
    ids_list(page, "Better with it", page->result, remedy->n_lost, remedy->lost);
    g_autoptr(Shown) tried = try_it(page, remedy);
    if (tried != NULL) {
        ids_list(page, "Worse with it", tried->result, remedy->n_gained, remedy->gained);
        moved_answers(page, remedy);
        page_heading(page, "How she would lie");
        Page then = *page;
        then.shown = tried;
        then.fixed = true;
        page_figure(&then, "arrangement", f->about);
    }
    page_anchor(page, page_link(page, "/finding", "name", f->id, NULL), "more",
                "Back to the finding");
    page_cautions(page, f->check->discipline);
}
