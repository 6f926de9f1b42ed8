/* What stands in the way: the whole list, and one finding with all that is behind it. */
#include <string.h>

#include "app/page/pages.h"
#include "report/plan_remedy.h"
#include "report/remedies_text.h"
#include "report/words.h"

static const struct {
    const char *word, *title;
    FrontLine line;
} groups[] = {{"sink", "Can she sink?", LINE_SINK},
              {"burn", "Can she burn or gas you?", LINE_BURN},
              {"insurable", "Is she insurable?", LINE_INSURABLE},
              {"done", "Will I be done in time?", LINE_DONE}};

static const struct {
    Level level;
    const char *title;
} levels[] = {
    {LEVEL_DANGER, "Danger: can hurt someone or lose the boat"},
    {LEVEL_FAULT, "Fault: will not work, or breaks a rule"},
    {LEVEL_DOUBT, "Doubt: cannot be shown with what is known"},
    {LEVEL_FINE, "Shown to hold"},
};

static bool
in_group(const Finding *f, int group)
{
    return group < 0 || f->check->line == groups[group].line;
}

static bool
any_of(const Page *page, Level level, int group)
{
    for (size_t i = 0; i < result_findings(page->result); i++) {
        const Finding *f = result_finding(page->result, i);
        if (f->level == level && in_group(f, group) && page_stands_alone(page, f))
            return true;
    }
    return false;
}

static void
card(Page *page, const Finding *f)
{
    g_autofree char *sentence = finding_sentence(page->result, f, page->units);
    g_autofree char *classes = g_strdup_printf("finding %s", level_word(f->level));
    g_autofree char *id = g_strdup_printf("finding-%s", f->id);
    markup_open(page->out, "article", "class", classes, "id", id, NULL);
    markup_open(page->out, "h3", NULL);
    page_text(page, "span", "level", level_word(f->level));
    markup_text(page->out, " ");
    page_anchor(page, page_link(page, "/finding", "name", f->id, NULL), NULL, sentence);
    markup_close(page->out);
    page_finding_facts(page, f);
    page_anchor(page, page_link(page, "/finding", "name", f->id, NULL), "more",
                f->level <= LEVEL_FAULT ? "Where it is, its working, what would clear it"
                                        : "Where it is, its working");
    markup_close(page->out);
}

static void
fold(Page *page, const Finding *nearest)
{
    page_fold_open(page, nearest);
    for (size_t i = 0; i < result_findings(page->result); i++) {
        const Finding *f = result_finding(page->result, i);
        if (f->check == nearest->check && f->level == LEVEL_FINE && page_stands_alone(page, f))
            card(page, f);
    }
    page_fold_close(page);
}

static void
cards(Page *page, Level level, int group)
{
    for (size_t i = 0; i < result_findings(page->result); i++) {
        const Finding *f = result_finding(page->result, i);
        if (f->level != level || !in_group(f, group) || !page_stands_alone(page, f))
            continue;
        const Finding *nearest = page_folded(page, f);
        if (nearest == NULL)
            card(page, f);
        else if (f == nearest)
            fold(page, f);
    }
}

void
page_findings(Page *page)
{
    page->still = true;
    int group = -1;
    const char *asked = params_get(page->query, "line");
    for (size_t i = 0; i < G_N_ELEMENTS(groups); i++)
        if (g_strcmp0(asked, groups[i].word) == 0)
            group = (int) i;
    page_title(page, "%s", group < 0 ? "What stands in the way" : groups[group].title);
    if (group >= 0)
        page_anchor(page, page_link(page, "/findings", NULL), "more", "All findings");
    page_anchor(page, page_link(page, "/table/findings.csv", NULL), "file", "CSV");
    bool any = false;
    for (size_t k = 0; k < G_N_ELEMENTS(levels); k++) {
        if (!any_of(page, levels[k].level, group))
            continue;
        any = true;
        page_heading(page, levels[k].title);
        cards(page, levels[k].level, group);
    }
    if (!any)
        page_text(
            page, "p", "empty",
            "Nothing is looked at here yet: the checks of this question are not built, or the "
            "boat file does not say enough for them.");
    page_cautions(page, NULL);
}

static void
remedy_item(Page *page, const char *finding, const Remedy *remedy, size_t i)
{
    g_autofree char *words = remedy_words(page->result, remedy, page->units);
    g_autofree char *number = g_strdup_printf("%zu", i);
    markup_open(page->out, "li", NULL);
    page_text(page, "p", NULL, words);
    g_autofree char *takes = remedy_takes_words(page->result, remedy);
    if (takes != NULL)
        page_text(page, "p", "quiet", takes);
    g_autofree char *chance = plan_chance_words(remedy);
    if (chance != NULL)
        page_text(page, "p", "quiet", chance);
    page_anchor(page, page_link(page, "/remedy", "name", finding, "n", number, NULL), "more",
                "Try it: what else does it change?");
    markup_close(page->out);
}

static void
rejected_item(Page *page, const Remedy *remedy)
{
    g_autofree char *words = remedy_words(page->result, remedy, page->units);
    const Finding *danger =
        remedy->because != NULL ? result_finding_find(page->result, remedy->because) : NULL;
    g_autofree char *because = danger != NULL ? finding_sentence(page->result, danger, page->units)
                               : remedy->because != NULL ? page_id_words(page, remedy->because)
                                                         : g_strdup("it brings a danger");
    g_autofree char *line = g_strdup_printf("%s. Rejected: %s", words, because);
    markup_element(page->out, "li", line, NULL);
}

static void
remedies(Page *page, const Finding *f)
{
    page_heading(page, "What would clear it");
    g_auto(StudyView) view = {0};
    if (!page_study(page, STUDY_REMEDIES, f->id, &view))
        return;
    const RemediesOf *of = remedies_for(view.remedies, f->id);
    if (of == NULL || of->n_remedies == 0) {
        g_autofree char *none = g_strdup_printf(
            "None found: %s.",
            of != NULL && of->nothing != NULL ? of->nothing : "this finding names no lever");
        page_text(page, "p", "empty", none);
    }
    markup_open(page->out, "ul", "class", "remedies", NULL);
    for (size_t i = 0; of != NULL && i < of->n_remedies; i++)
        remedy_item(page, f->id, &of->remedy[i], i);
    for (size_t i = 0; of != NULL && i < of->n_rejected; i++)
        rejected_item(page, &of->rejected[i]);
    markup_close(page->out);
}

/* What would help the date, whether it clears the finding or not. */
static void
against_the_date(Page *page)
{
    g_auto(StudyView) view = {0};
    if (page_study(page, STUDY_FORECAST, NULL, &view) && view.forecast->fault == NULL)
        page_helps(page, view.forecast);
}

const Finding *
page_asked_finding(Page *page)
{
    const char *name = params_get(page->query, "name");
    const Finding *f = name != NULL ? result_finding_find(page->result, name) : NULL;
    if (f != NULL)
        return f;
    bool done = params_get(page->query, "done") != NULL; /* a remedy was applied just now */
    page_title(page, done ? "Cleared" : "This is no longer found");
    page_text(page, "p", "empty",
              done ? "The change is made, and the boat no longer makes this finding. It stands in "
                     "the history, where it can be taken back."
                   : "The boat as she is now, in the plan and situation chosen above, does not "
                     "make this finding.");
    page_anchor(page, page_link(page, "/findings", NULL), "more", "All findings");
    return NULL;
}

static void
write_finding(Page *page, const Finding *f)
{
    g_autofree char *sentence = finding_sentence(page->result, f, page->units);
    g_autofree char *classes = g_strdup_printf("finding %s", level_word(f->level));
    page_title(page, "%s", sentence);
    markup_open(page->out, "article", "class", classes, NULL);
    page_text(page, "p", "level", level_word(f->level));
    page_finding_facts(page, f);
    markup_close(page->out);
    bool of_work = strcmp(f->check->discipline, "work") == 0;
    if (f->level <= LEVEL_FAULT && !page->fixed)
        remedies(page, f);
    if (f->level <= LEVEL_FAULT && of_work)
        against_the_date(page);
    page_where(page, f->about);
    page_heading(page, "Working");
    if (f->working != NULL)
        page_working(page, f->id, 3);
    else
        page_text(page, "p", "empty", "It rests on no number.");
    page_cautions(page, f->check->discipline);
}

void
page_finding(Page *page)
{
    const Finding *f = page_asked_finding(page);
    if (f != NULL)
        write_finding(page, f);
}
