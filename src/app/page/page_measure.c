/* Measure next: what settles most, and how sure each answer is when every unsettled number has been moved. */
#include <math.h>

#include "app/page/pages.h"
#include "report/words.h"

enum { MOST_NEXT = 12, MOST_SHARES = 3 };

static void
settles(Page *page, const MeasureNext *next)
{
    if (next->n == 0)
        return;
    page_text(page, "p", "quiet", "It settles, or helps to:");
    markup_open(page->out, "ul", "class", "list", NULL);
    for (size_t i = 0; i < next->n && i < 4; i++) {
        const Finding *f = result_finding_find(page->result, next->settles[i]);
        if (f != NULL)
            page_finding_line(page, f);
    }
    markup_close(page->out);
}

static void
next_item(Page *page, const MeasureNext *next)
{
    markup_open(page->out, "li", NULL);
    markup_open(page->out, "h3", NULL);
    page_anchor(page, page_record_link(page, next->path), NULL, next->what);
    markup_close(page->out);
    g_autofree char *how = isfinite(next->minutes)
                               ? g_strdup_printf("With %s: %s. About %.0f minutes.",
                                                 next->instrument, next->how, next->minutes)
                               : g_strdup_printf("With %s: %s.", next->instrument, next->how);
    page_text(page, "p", NULL, how);
    settles(page, next);
    markup_close(page->out);
}

static void
shares(Page *page, const DoubtAnswer *answer)
{
    g_autoptr(GString) words = g_string_new(NULL);
    for (size_t i = 0; i < answer->n && i < MOST_SHARES; i++) {
        g_autofree char *name = path_words(page->result, answer->share[i].path);
        g_string_append_printf(words, "%s%s %.0f %%", i > 0 ? "; " : "", name,
                               100.0 * answer->share[i].share);
    }
    markup_element(page->out, "td", words->str, NULL);
}

static void
spread_row(Page *page, const DoubtAnswer *doubt)
{
    const Answer *answer = result_answer_find(page->result, doubt->name);
    if (answer == NULL || !answer_governs(answer))
        return;
    g_autofree char *value =
        value_spread_words(doubt->value, doubt->spread, doubt->kind, page->units);
    g_autofree char *label = answer_label(page->result, answer);
    markup_open(page->out, "tr", NULL);
    markup_open(page->out, "th", "scope", "row", NULL);
    page_anchor(page, page_why_link(page, doubt->name), NULL, label);
    markup_close(page->out);
    markup_element(page->out, "td", value, "class", "number", NULL);
    shares(page, doubt);
    markup_close(page->out);
}

static void
spreads(Page *page, const Doubt *doubt)
{
    page_heading(page, "How sure the answers are, and what brings their doubt");
    markup_open(page->out, "div", "class", "wide", "tabindex", "0", "role", "region", "aria-label",
                "Spreads", NULL);
    markup_open(page->out, "table", NULL);
    for (size_t i = 0; i < doubt->n_answers; i++)
        spread_row(page, &doubt->answer[i]);
    markup_close(page->out);
    markup_close(page->out);
}

void
page_measure(Page *page)
{
    page_title(page, "Measure next");
    g_auto(StudyView) view = {0};
    if (!page_study(page, STUDY_DOUBT, NULL, &view))
        return;
    const Doubt *doubt = view.doubt;
    g_autofree char *done = g_strdup_printf(
        "%zu numbers are not settled; she was solved %zu times with each of them moved within its "
        "spread. Ranked by what the measurement would settle.",
        doubt->n_inputs, doubt->n_solves);
    page_text(page, "p", NULL, done);
    if (doubt->n_next == 0)
        page_text(page, "p", "empty", "No single measurement would settle a verdict.");
    markup_open(page->out, "ol", "class", "next", NULL);
    for (size_t i = 0; i < doubt->n_next && i < MOST_NEXT; i++)
        next_item(page, &doubt->next[i]);
    markup_close(page->out);
    spreads(page, doubt);
    page_cautions(page, NULL);
}
