/* A place per discipline: its findings, its pictures, its papers, its answers, its records, its cautions. */
#include <string.h>

#include "app/page/pages.h"
#include "boat/model.h"
#include "draw/draw.h"
#include "report/check_text.h"
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

/* One of the list, or with others of its check; false where it stands in none. */
static bool
finding_item(Page *page, const Finding *f, const char *discipline)
{
    if (strcmp(f->check->discipline, discipline) != 0 || !page_stands_alone(page, f))
        return false;
    const Finding *nearest = page_folded(page, f);
    if (nearest == NULL)
        page_finding_line(page, f);
    else if (f == nearest)
        fold(page, f);
    return true;
}

static void
findings(Page *page, const char *discipline)
{
    size_t told = 0;
    page_heading(page, "Findings, worst first");
    markup_open(page->out, "ul", "class", "list", NULL);
    for (size_t i = 0; i < result_findings(page->result); i++)
        told += finding_item(page, result_finding(page->result, i), discipline);
    markup_close(page->out);
    if (told > 0)
        return;
    g_autofree char *nothing = g_strdup_printf("Nothing found. %s", check_not_listed);
    page_text(page, "p", "empty", nothing);
}

/* What a discipline's pictures are all drawn from, and how to begin with it. */
static const struct {
    const char *discipline;
    const Section *section;
    const char *begin, *link;
} beginnings[] = {{"wiring", &section_circuits,
                   "Nothing is drawn yet: no circuit is written down. Begin with the cable from a "
                   "battery to its busbar: from, to, how long, how thick, which fuse.",
                   "Write her first circuit"}};

/* Said once, not below every picture. */
static bool
nothing_to_draw(Page *page, const char *discipline)
{
    for (size_t i = 0; i < G_N_ELEMENTS(beginnings); i++) {
        size_t n;
        boat_records(result_boat(page->result), beginnings[i].section, &n);
        if (strcmp(beginnings[i].discipline, discipline) != 0 || n > 0)
            continue;
        markup_open(page->out, "p", "class", "empty", NULL);
        markup_text(page->out, beginnings[i].begin);
        markup_text(page->out, " ");
        page_anchor(page, page_link(page, "/records", "section", beginnings[i].section->key, NULL),
                    NULL, beginnings[i].link);
        markup_close(page->out);
        return true;
    }
    return false;
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
            if (nothing_to_draw(page, discipline))
                return;
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
    page_papers_of(page, discipline);
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
