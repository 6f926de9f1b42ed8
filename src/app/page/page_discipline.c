/* A place per discipline: its pictures, its answers, its findings, its records, its cautions. */
#include <string.h>

#include "app/page/pages.h"
#include "draw/draw.h"
#include "report/words.h"

static bool
spread_stated(const Answer *answer)
{
    return answer->value == answer->value;
}

static void
answer_row(Page *page, const Answer *answer)
{
    g_autofree char *value =
        value_spread_words(answer->value, answer->spread, answer->kind->kind, page->units);
    g_autofree char *label = answer_label(page->result, answer);
    g_autofree char *situation =
        answer->situation != NULL ? situation_words(page->result, answer->situation) : NULL;
    markup_open(page->out, "tr", NULL);
    markup_open(page->out, "th", "scope", "row", NULL);
    page_anchor(page, page_why_link(page, answer->name), NULL, label);
    if (situation != NULL)
        page_text(page, "span", "quiet in", situation);
    markup_close(page->out);
    markup_element(page->out, "td", value, "class", "number", NULL);
    markup_element(page->out, "td", spread_stated(answer) ? basis_word(answer->basis) : "", NULL);
    markup_close(page->out);
}

static void
answers(Page *page, const char *discipline)
{
    page_heading(page, "Answers, the worst of all situations");
    page_anchor(page, page_link(page, "/table/answers.csv", NULL), "file", "CSV");
    markup_open(page->out, "div", "class", "wide", "tabindex", "0", "role", "region", "aria-label",
                "Answers", NULL);
    markup_open(page->out, "table", NULL);
    markup_open(page->out, "tbody", NULL);
    for (size_t i = 0; i < result_answers(page->result); i++) {
        const Answer *answer = result_answer(page->result, i);
        if (strcmp(answer->kind->discipline, discipline) == 0 && answer_governs(answer))
            answer_row(page, answer);
    }
    markup_close(page->out);
    markup_close(page->out);
    markup_close(page->out);
}

static void
fold(Page *page, const Finding *nearest)
{
    markup_open(page->out, "li", NULL);
    page_fold_open(page, nearest);
    markup_open(page->out, "ul", "class", "list", NULL);
    for (size_t i = 0; i < result_findings(page->result); i++) {
        const Finding *f = result_finding(page->result, i);
        if (f->check == nearest->check && f->level == LEVEL_FINE && page_stands_alone(page, f))
            page_finding_line(page, f);
    }
    markup_close(page->out);
    page_fold_close(page);
    markup_close(page->out);
}

static void
findings(Page *page, const char *discipline)
{
    page_heading(page, "Findings, worst first");
    markup_open(page->out, "ul", "class", "list", NULL);
    for (size_t i = 0; i < result_findings(page->result); i++) {
        const Finding *f = result_finding(page->result, i);
        if (strcmp(f->check->discipline, discipline) != 0 || !page_stands_alone(page, f))
            continue;
        const Finding *nearest = page_folded(page, f);
        if (nearest == NULL)
            page_finding_line(page, f);
        else if (f == nearest)
            fold(page, f);
    }
    markup_close(page->out);
}

/* Nothing where no picture belongs to the discipline. */
static void
pictures(Page *page, const char *discipline)
{
    bool opened = false;
    for (size_t i = 0; i < picture_count(); i++) {
        const PictureInfo *info = picture_info(i);
        if (strcmp(info->discipline, discipline) != 0)
            continue;
        if (!opened) {
            page_heading(page, "Pictures");
            markup_open(page->out, "div", "class", "pictures", NULL);
            opened = true;
        }
        page_figure(page, info->name, NULL);
    }
    if (opened)
        markup_close(page->out);
}

void
page_discipline_rest(Page *page, const char *discipline)
{
    findings(page, discipline);
    pictures(page, discipline);
    answers(page, discipline);
    page_heading(page, "Records");
    page_sections_menu(page, NULL);
    page_cautions(page, discipline);
}

void
page_discipline(Page *page)
{
    page->still = true;
    page_title(page, "%s", page->info->menu);
    page_discipline_rest(page, page->info->path + 1);
}
