/* The frame of the papers of the work. Invariant: no paper shows a date that no plan gave. */
#include "report/work/work_paper.h"

#include <math.h>

#include "report/forecast_words.h"
#include "report/page_head.h"
#include "report/words.h"

static void
pass(const WorkPaper *which, WorkSheet *s, gboolean draw)
{
    g_hash_table_remove_all(s->said);
    flow_begin(&s->flow, draw);
    which->body(s);
    flow_end(&s->flow);
}

GBytes *
work_paper_write(const WorkPaper *which, const WorkSource *source, GError **error)
{
    g_autoptr(WorkLines) lines =
        work_lines_new(source->plan, source->forecast, source->asked->today);
    g_autofree char *head = page_head_of_work(which->title, source->result, source->asked);
    g_autoptr(GHashTable) said = g_hash_table_new(g_str_hash, g_str_equal);
    Paper paper;
    if (!page_open(&paper, head, source->asked->today, error))
        return NULL;
    WorkSheet s = {.result = source->result,
                   .lines = lines,
                   .asked = source->asked,
                   .units = source->units,
                   .said = said};
    flow_open(&s.flow, &paper, head, which->foot);
    pass(which, &s, FALSE);
    pass(which, &s, TRUE);
    flow_close(&s.flow);
    return paper_close(&paper, error);
}

char *
work_paper_day(const WorkLines *lines, double day)
{
    if (!isfinite(day))
        return g_strdup("");
    g_autofree char *words = day_short(day);
    int year = day_date(day).year;
    return year == day_date(lines->day).year ? g_steal_pointer(&words)
                                             : g_strdup_printf("%s %d", words, year);
}

/* A milestone that the plan does not reach, and the first task that stands in its way. */
static char *
never_words(const WorkForecast *forecast, const ForecastMilestone *reached)
{
    g_autofree char *name = milestone_words(forecast, reached->milestone);
    *name = g_ascii_toupper(*name);
    for (size_t i = 0; i < forecast->n_tasks; i++)
        if (forecast->task[i].awaits == AWAITS_FOREVER)
            return g_strdup_printf("%s: not by this plan. \"%s\": %s.", name,
                                   forecast->plan->task[forecast->task[i].task].name,
                                   forecast->task[i].why != NULL ? forecast->task[i].why
                                                                 : "it cannot be done");
    return g_strdup_printf("%s: not by this plan.", name);
}

/* "A" before "B", because ...; ... */
static void
say_circle(WorkSheet *s)
{
    const WorkPlan *plan = s->lines->plan;
    g_autoptr(GString) out =
        g_string_new("The order goes in a circle, and cannot be done as it is: ");
    for (size_t i = 0; i < plan->n_cycle; i++) {
        const WorkTie *tie = &plan->tie[plan->cycle_tie[i]];
        g_string_append_printf(out, "%s\"%s\" before \"%s\"%s%s", i > 0 ? "; " : "",
                               plan->task[tie->from].name, plan->task[tie->to].name,
                               tie->why != NULL ? ": " : "", tie->why != NULL ? tie->why : "");
    }
    g_string_append(out, ". One of these has to give.");
    g_autofree char *clean = text_clean(out->str);
    flow_paragraph(&s->flow, FONT_BOLD, clean);
}

static void
no_dates(WorkSheet *s)
{
    if (s->lines->plan->n_cycle > 0) {
        say_circle(s);
        return;
    }
    g_autofree char *fault =
        text_clean(s->lines->fault != NULL ? s->lines->fault : "the plan is not reckoned");
    g_autofree char *words = g_strdup_printf(
        "No dates: %s. What follows stands in an order in which nothing must be undone.", fault);
    flow_paragraph(&s->flow, FONT_TEXT, words);
}

void
work_paper_dates(WorkSheet *s)
{
    const WorkForecast *forecast = s->lines->forecast;
    if (forecast == NULL) {
        no_dates(s);
        return;
    }
    for (size_t i = 0; i < forecast->n_milestones && i < 2; i++) {
        const ForecastMilestone *reached = &forecast->milestone[i];
        g_autofree char *words = isfinite(reached->p50_day) ? reached_words(forecast, reached)
                                                            : never_words(forecast, reached);
        g_autofree char *clean = text_clean(words);
        flow_paragraph(&s->flow, isfinite(reached->p50_day) ? FONT_TEXT : FONT_BOLD, clean);
    }
}

void
work_paper_caution(WorkSheet *s, const char *id)
{
    CautionText caution;
    if (s->asked->caution == NULL || g_hash_table_contains(s->said, id) ||
        !s->asked->caution(s->asked->context, id, &caution))
        return;
    g_hash_table_add(s->said, (gpointer) id);
    g_autofree char *text = caution.ask != NULL && caution.ask[0] != '\0'
                                ? g_strdup_printf("%s Ask: %s.", caution.text, caution.ask)
                                : g_strdup(caution.text);
    flow_paragraph(&s->flow, FONT_BOLD, text);
}

void
work_paper_table(WorkSheet *s, size_t n_columns, const Column column[], GPtrArray *cells)
{
    flow_table(&s->flow, n_columns, column, cells->len / n_columns, (char *const *) cells->pdata);
}
