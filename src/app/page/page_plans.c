/* Plans side by side: all answers that differ, the findings gained and lost, kilos and holes, and how each would lie. */
#include <math.h>
#include <string.h>

#include "app/page/pages.h"
#include "draw/draw.h"
#include "report/words.h"

static char *
plan_words(const Page *page, const Plan *plan)
{
    if (plan->option == NULL)
        return g_strdup("base plan");
    g_autofree char *path = g_strdup_printf("options.%s", plan->option);
    return path_words(page->result, path);
}

static void
cell(Page *page, const char *classes, const char *text)
{
    markup_element(page->out, "td", text, "class", classes, NULL);
}

static void
row_head(Page *page, const char *text)
{
    markup_open(page->out, "tr", NULL);
    markup_element(page->out, "th", text, "scope", "row", NULL);
}

/* Every plan of one stage, a column each. */
typedef struct {
    Page *page;
    size_t n;
    const Plan *const *plan;
} Columns;

static void
heads(const Columns *c)
{
    markup_open(c->page->out, "tr", NULL);
    markup_element(c->page->out, "th", "", "scope", "col", NULL);
    for (size_t i = 0; i < c->n; i++) {
        g_autofree char *words = plan_words(c->page, c->plan[i]);
        markup_open(c->page->out, "th", "scope", "col", "class", "number", NULL);
        if (c->plan[i]->option == NULL)
            markup_text(c->page->out, words);
        else {
            g_autofree char *href =
                g_strdup_printf("%s/?option=%s", c->page->base, c->plan[i]->option);
            markup_element(c->page->out, "a", words, "href", href, NULL);
        }
        markup_close(c->page->out);
    }
    markup_close(c->page->out);
}

static void
count_row(const Columns *c, Level level)
{
    g_autofree char *name = g_strdup_printf("findings: %s", level_word(level));
    row_head(c->page, name);
    for (size_t i = 0; i < c->n; i++) {
        g_autofree char *text = g_strdup_printf("%zu", c->plan[i]->level[level]);
        cell(c->page, "number", text);
    }
    markup_close(c->page->out);
}

static char *
kilos_words(double kilos, UnitsChoice units)
{
    if (fabs(kilos) < 0.5)
        return g_strdup("the same");
    g_autofree char *words = value_words(fabs(kilos), 5.0, Q_MASS, units);
    return g_strdup_printf("%s %s", words, kilos > 0.0 ? "more" : "less");
}

static void
kilos_row(const Columns *c)
{
    row_head(c->page, "weight against the base plan");
    for (size_t i = 0; i < c->n; i++) {
        g_autofree char *text = c->plan[i]->option == NULL
                                    ? g_strdup("")
                                    : kilos_words(c->plan[i]->kilos, c->page->units);
        cell(c->page, "number", text);
    }
    markup_close(c->page->out);
}

static void
holes_row(const Columns *c)
{
    row_head(c->page, "openings below water, nobody aboard");
    for (size_t i = 0; i < c->n; i++) {
        g_autofree char *text = g_strdup_printf("%zu", c->plan[i]->holes_below);
        cell(c->page, "number", text);
    }
    markup_close(c->page->out);
}

static void
money_row(const Columns *c, const char *currency)
{
    row_head(c->page, "costs of what is to be fitted");
    for (size_t i = 0; i < c->n; i++) {
        const Plan *plan = c->plan[i];
        g_autofree char *text =
            isnan(plan->money) ? g_strdup("not known")
            : plan->n_unpriced > 0
                ? g_strdup_printf("%.0f %s, %zu without a price", plan->money,
                                  currency != NULL ? currency : "", plan->n_unpriced)
                : g_strdup_printf("%.0f %s", plan->money, currency != NULL ? currency : "");
        cell(c->page, "number", text);
    }
    markup_close(c->page->out);
}

static const PlanAnswer *
answer_of(const Plan *plan, const char *name)
{
    for (size_t i = 0; i < plan->n_answers; i++)
        if (strcmp(plan->answer[i].name, name) == 0)
            return &plan->answer[i];
    return NULL;
}

static bool
differs(const Columns *c, const char *name)
{
    for (size_t i = 0; i < c->n; i++) {
        const PlanAnswer *answer = answer_of(c->plan[i], name);
        if (answer != NULL && answer->differs)
            return true;
    }
    return false;
}

static void
answer_row(const Columns *c, const PlanAnswer *like)
{
    row_head(c->page, like->label);
    for (size_t i = 0; i < c->n; i++) {
        const PlanAnswer *answer = answer_of(c->plan[i], like->name);
        g_autofree char *text = answer == NULL ? g_strdup("")
                                               : value_spread_words(answer->value, answer->spread,
                                                                    answer->kind, c->page->units);
        cell(c->page, answer != NULL && answer->differs ? "number differs" : "number", text);
    }
    markup_close(c->page->out);
}

static void
ids(Page *page, const char *title, size_t n, const char *const id[])
{
    if (n == 0)
        return;
    page_text(page, "p", "quiet", title);
    markup_open(page->out, "ul", NULL);
    for (size_t i = 0; i < n; i++) {
        const Finding *f = result_finding_find(page->result, id[i]);
        g_autofree char *about = f != NULL ? text_clean(f->about_name) : NULL;
        g_autofree char *question = page_id_words(page, id[i]);
        g_autofree char *line =
            about != NULL ? g_strdup_printf("%s %s", question, about) : g_steal_pointer(&question);
        markup_element(page->out, "li", line, NULL);
    }
    markup_close(page->out);
}

static void
plan_part(Page *page, const Plan *plan)
{
    if (plan->option == NULL)
        return;
    g_autofree char *words = plan_words(page, plan);
    markup_element(page->out, "h3", words, NULL);
    if (plan->why != NULL)
        page_text(page, "p", NULL, plan->why);
    if (plan->fault != NULL) {
        page_text(page, "p", "error", plan->fault);
        return;
    }
    ids(page, "Worse than in the base plan:", plan->n_gained, plan->gained);
    ids(page, "Better than in the base plan:", plan->n_lost, plan->lost);
    if (plan->n_gained + plan->n_lost == 0)
        page_text(page, "p", "quiet", "No finding changes.");
}

static void
stage_part(Page *page, const Comparison *comparison, Stage stage)
{
    g_autofree const Plan **plans = g_new0(const Plan *, comparison->n);
    size_t n = 0;
    for (size_t i = 0; i < comparison->n; i++)
        if (comparison->plan[i].stage == stage)
            plans[n++] = &comparison->plan[i];
    Columns c = {.page = page, .n = n, .plan = plans};
    g_autofree char *sentence = g_strdup(stage_sentence(stage));
    sentence[0] = g_ascii_toupper(sentence[0]);
    page_heading(page, sentence);
    markup_open(page->out, "div", "class", "wide", "tabindex", "0", "role", "region", "aria-label",
                sentence, NULL);
    markup_open(page->out, "table", "class", "plans", NULL);
    heads(&c);
    for (int level = LEVEL_DANGER; level <= LEVEL_DOUBT; level++)
        count_row(&c, (Level) level);
    kilos_row(&c);
    holes_row(&c);
    if (stage == STAGE_DONE)
        money_row(&c, comparison->currency);
    for (size_t i = 0; n > 0 && i < plans[0]->n_answers; i++)
        if (differs(&c, plans[0]->answer[i].name))
            answer_row(&c, &plans[0]->answer[i]);
    markup_close(page->out);
    markup_close(page->out);
    for (size_t i = 0; i < n; i++)
        plan_part(page, plans[i]);
}

/* Where the work is reckoned through already; it takes longer than the rest, so nobody waits for it here. */
static void
chances(Page *page)
{
    g_auto(StudyView) view =
        studies_get(site_studies(page->site), page->desk, page->shown, STUDY_FORECAST, NULL, false);
    if (view.forecast != NULL && view.forecast->fault == NULL)
        page_last_days(page, view.forecast);
    else
        page_anchor(page, page_link(page, "/work", NULL), "more",
                    "Which plan is done in time, and the last day to begin it");
}

void
page_plans(Page *page)
{
    page_title(page, "Plans side by side");
    const char *const *ids_there;
    if (boat_options(page->boat, &ids_there) == 0) {
        page_text(
            page, "p", "empty",
            "The file has one plan only. Another one is a named set of changes under options: "
            "what else she would get, and what would go.");
        return;
    }
    if (picture_find("plans", NULL) != NULL)
        page_figure(page, "plans", NULL);
    g_auto(StudyView) view = {0};
    if (!page_study(page, STUDY_COMPARE, NULL, &view))
        return;
    page_text(page, "p", NULL,
              "Every answer that differs beyond the doubt of the difference, marked where it does; "
              "then what each plan makes worse and better.");
    stage_part(page, view.comparison, STAGE_DONE);
    stage_part(page, view.comparison, STAGE_NOW);
    chances(page);
    page_cautions(page, NULL);
}
