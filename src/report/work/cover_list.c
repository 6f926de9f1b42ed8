/* The list of covers. Invariant: every open task that closes something up stands on it once for each space. */
#include "report/work/work_paper.h"

#include <math.h>

#include "report/words.h"

#define TABLE_START_MM 30.0

/* What stands between the plate and this task, in the same space: done or not. */
static bool
lies_behind(const WorkTask *task, const WorkTask *cover, size_t space)
{
    if (task == cover || task->state == WORK_DROPPED || task->layer < 0 ||
        task->layer >= cover->layer || (task->tags & TAG_TEST) != 0)
        return false;
    for (size_t k = 0; k < task->spaces.n; k++)
        if (task->spaces.at[k] == space)
            return true;
    return false;
}

static char *
behind_words(const WorkSheet *s, const WorkTask *cover, size_t space)
{
    const WorkPlan *plan = s->lines->plan;
    g_autoptr(GString) out = g_string_new(NULL);
    for (size_t i = 0; cover->covers != NULL && i < cover->covers->n; i++) {
        g_autofree char *name = path_words(s->result, cover->covers->id[i]);
        g_autofree char *clean = text_clean(name);
        g_string_append_printf(out, "%s%s", out->len > 0 ? "; " : "", clean);
    }
    for (size_t i = 0; i < plan->n_tasks; i++)
        if (cover->layer > 0 && lies_behind(&plan->task[i], cover, space)) {
            g_autofree char *name = work_task_name(&plan->task[i]);
            g_string_append_printf(out, "%s%s%s", out->len > 0 ? "; " : "", name,
                                   plan->task[i].state == WORK_DONE ? " (done)" : "");
        }
    return g_string_free(g_steal_pointer(&out), FALSE);
}

static char *
tests_words(const WorkPlan *plan, size_t cover)
{
    g_autoptr(GString) out = g_string_new(NULL);
    for (size_t i = 0; i < plan->n_ties; i++) {
        const WorkTie *tie = &plan->tie[i];
        const WorkTask *from = &plan->task[tie->from];
        if (tie->to != cover || (from->tags & TAG_TEST) == 0 || from->state == WORK_DROPPED)
            continue;
        g_autofree char *name = work_task_name(from);
        g_autofree char *reason = text_clean(tie->overruled != NULL ? tie->overruled : "");
        g_string_append_printf(out, "%s%s%s%s", out->len > 0 ? "; " : "", name,
                               tie->overruled != NULL     ? " NOT BEFORE IT: "
                               : from->state == WORK_DONE ? " (done)"
                                                          : "",
                               reason);
    }
    return g_string_free(g_steal_pointer(&out), FALSE);
}

static void
add_cover(WorkSheet *s, const WorkLine *line, size_t space, GPtrArray *cells)
{
    const WorkPlan *plan = s->lines->plan;
    g_autofree char *tests = tests_words(plan, line->at);
    g_ptr_array_add(cells, line->when != NULL ? day_words(line->when->start_day) : g_strdup(""));
    g_ptr_array_add(cells, text_clean(plan->space[space].name));
    g_ptr_array_add(cells, work_task_name(line->task));
    g_ptr_array_add(cells, behind_words(s, line->task, space));
    g_ptr_array_add(cells, tests[0] != '\0' ? g_steal_pointer(&tests) : g_strdup("none named"));
    g_ptr_array_add(cells, g_strdup(""));
}

static bool
closes(const WorkSpace *space, size_t task)
{
    for (size_t k = 0; k < space->closing.n; k++)
        if (space->closing.at[k] == task)
            return true;
    return false;
}

static void
body(WorkSheet *s)
{
    static const Column column[] = {{"Covered on", 26, FALSE},
                                    {"Where", 26, FALSE},
                                    {"By", 34, FALSE},
                                    {"What is then hidden", 42, FALSE},
                                    {"Tested before", 32, FALSE},
                                    {"Seen, date, mark", 22, FALSE}};
    g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func(g_free);
    for (size_t i = 0; i < s->lines->n; i++)
        for (size_t k = 0; k < s->lines->plan->n_spaces; k++)
            if (closes(&s->lines->plan->space[k], s->lines->line[i].at))
                add_cover(s, &s->lines->line[i], k, cells);
    work_paper_dates(s);
    flow_paragraph(
        &s->flow, FONT_TEXT,
        "Whoever has to see what lies behind comes before the day in the first column. Each "
        "cover goes on after its test, a photograph with a rule in it, and a line in the log.");
    flow_heading(&s->flow, "What will be covered, and when", TABLE_START_MM);
    if (cells->len == 0)
        flow_paragraph(&s->flow, FONT_TEXT, "No open task covers anything.");
    work_paper_table(s, G_N_ELEMENTS(column), column, cells);
    work_paper_caution(s, "WO2");
    work_paper_caution(s, "WM4");
    work_paper_caution(s, "WO3");
}

GBytes *
write_cover_list(const WorkSource *source, GError **error)
{
    static const WorkPaper paper = {
        "What will be covered",
        "careen " CAREEN_VERSION "; from the boat file, not from the boat; no survey", body};
    return work_paper_write(&paper, source, error);
}
