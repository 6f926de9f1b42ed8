/* At a glance: five lines, the boat herself, what stands in the way. */
#include <string.h>

#include "app/page/pages.h"
#include "report/front_lines.h"
#include "report/words.h"

static const struct {
    FrontLine line;
    const char *word;
} front_words[] = {
    {LINE_SINK, "sink"}, {LINE_BURN, "burn"}, {LINE_INSURABLE, "insurable"}, {LINE_DONE, "done"}};

/* "Can she sink? 2 dangers..." in its question and what is known; the question leads to its list. */
static void
line_item(Page *page, char *href, const char *text)
{
    const char *mark = strchr(text, '?');
    g_autofree char *question = g_strndup(text, mark != NULL ? (gsize) (mark + 1 - text) : 0);
    markup_open(page->out, "li", NULL);
    page_anchor(page, href, "question", question);
    markup_text(page->out, " ");
    page_text(page, "span", NULL, mark != NULL ? mark + strspn(mark, "? ") : text);
    markup_close(page->out);
}

static void
five_lines(Page *page)
{
    /* The chance where it was reckoned already: nobody waits for it here. */
    g_auto(StudyView) view =
        studies_get(site_studies(page->site), page->desk, page->shown, STUDY_FORECAST, NULL, false);
    Asked asked_of = page->shown->loaded->asked;
    asked_of.forecast = view.forecast;
    markup_open(page->out, "ol", "class", "five", NULL);
    for (size_t i = 0; i < G_N_ELEMENTS(front_words); i++) {
        g_autofree char *text =
            front_line(page->result, &asked_of, front_words[i].line, page->units);
        line_item(page, page_link(page, "/findings", "line", front_words[i].word, NULL), text);
    }
    g_autofree char *next = next_line(page->result, false);
    line_item(page, page_link(page, "/measure", NULL), next);
    markup_close(page->out);
    size_t answered, asked;
    result_questions(page->result, &answered, &asked);
    g_autofree char *count =
        g_strdup_printf("In all %zu of %zu questions answered.", answered, asked);
    page_text(page, "p", "quiet", count);
}

static void
moves(Page *page)
{
    if (page->fixed)
        return;
    page_form(page, "/move", NULL, "move");
    for (const char *const *name = (const char *const[]){"path", "x", "y", "z", "was", NULL};
         *name != NULL; name++)
        page_hidden(page, *name, "");
    page_form_close(page);
    page_text(
        page, "p", "quiet more",
        "Touch a thing to see and change it; drag it, or hold it with Tab and move it with the "
        "arrow keys, and all that follows is reckoned again.");
}

static void
facts(Page *page)
{
    static const char *const names[] = {"afloat.displacement", "afloat.trim",
                                        "afloat.list",         "afloat.gm",
                                        "afloat.freeboard",    "afloat.air-draught"};
    if (result_answer_find(page->result, names[0]) == NULL)
        return;
    markup_open(page->out, "dl", "class", "facts few", NULL);
    for (size_t i = 0; i < G_N_ELEMENTS(names); i++) {
        const Answer *answer = result_answer_find(page->result, names[i]);
        if (answer == NULL)
            continue;
        g_autofree char *label = answer_words(page->result, answer);
        page_fact(page, label, answer);
    }
    markup_close(page->out);
}

static size_t
lines_of(Page *page, Level from, Level to)
{
    size_t n = 0;
    for (size_t i = 0; i < result_findings(page->result); i++) {
        const Finding *f = result_finding(page->result, i);
        if (f->level < from || f->level > to || !page_stands_alone(page, f))
            continue;
        n++;
        page_finding_line(page, f);
    }
    return n;
}

/* Reds are few: one cause, one finding. Where there is none, what is in doubt comes instead. */
static void
in_the_way(Page *page)
{
    size_t count[LEVEL_FINE + 1] = {0};
    for (size_t i = 0; i < result_findings(page->result); i++)
        count[result_finding(page->result, i)->level]++;
    page_heading(page, "What stands in the way, worst first");
    markup_open(page->out, "ul", "class", "list", NULL);
    bool bad = lines_of(page, LEVEL_DANGER, LEVEL_FAULT) > 0;
    if (!bad)
        lines_of(page, LEVEL_DOUBT, LEVEL_DOUBT);
    markup_close(page->out);
    if (!bad)
        page_text(
            page, "p", "empty",
            "No danger and no fault found. Nothing listed is not nothing wrong: settle what is "
            "in doubt, and put more of the boat into the file.");
    g_autofree char *rest =
        g_strdup_printf("%zu in doubt, %zu shown to hold", count[LEVEL_DOUBT], count[LEVEL_FINE]);
    page_anchor(page, page_link(page, "/findings", NULL), "more", rest);
}

void
page_front(Page *page)
{
    page->still = true;
    page_title(page, "%s, %s", boat_name(page->result), stage_sentence(result_stage(page->result)));
    five_lines(page);
    markup_open(page->out, "div", "class", "glance", NULL);
    markup_open(page->out, "div", NULL);
    facts(page);
    if (page_figure(page, "arrangement", NULL))
        moves(page);
    markup_close(page->out);
    markup_open(page->out, "div", NULL);
    in_the_way(page);
    markup_close(page->out);
    markup_close(page->out);
}
