/* The plan on paper: every open task in its order. */
#include <math.h>

#include "report/forecast_words.h"
#include "report/words.h"
#include "report/work/work_paper.h"

#define TABLE_START_MM 24.0

static int
by_size(gconstpointer a, gconstpointer b)
{
    size_t x = *(const size_t *) a, y = *(const size_t *) b;
    return (x > y) - (x < y);
}

static char *
after_numbers(const WorkLines *lines, const WorkLine *line)
{
    g_autoptr(GArray) ranks = g_array_new(FALSE, FALSE, sizeof(size_t));
    for (size_t k = lines->into.first[line->at]; k < lines->into.first[line->at + 1]; k++) {
        size_t rank = lines->rank[lines->plan->tie[lines->into.tie[k]].from];
        if (rank < lines->n)
            g_array_append_val(ranks, rank);
    }
    g_array_sort(ranks, by_size);
    g_autoptr(GString) out = g_string_new(NULL);
    for (guint k = 0; k < ranks->len; k++)
        if (k == 0 || g_array_index(ranks, size_t, k) != g_array_index(ranks, size_t, k - 1))
            g_string_append_printf(out, "%s%zu", out->len > 0 ? ", " : "",
                                   g_array_index(ranks, size_t, k) + 1);
    return g_string_free(g_steal_pointer(&out), FALSE);
}

static void
row(WorkSheet *s, size_t i, GPtrArray *cells)
{
    const WorkLine *line = &s->lines->line[i];
    g_autofree char *name = work_task_name(line->task), *needs = work_needs_words(line->task);
    g_ptr_array_add(cells, g_strdup_printf("%zu%s", i + 1,
                                           line->when != NULL && line->when->drives ? " *" : ""));
    g_ptr_array_add(cells, g_strdup_printf("%s%s%s", name, needs[0] != '\0' ? "\n" : "", needs));
    g_ptr_array_add(cells, work_where_words(s->lines->plan, line->task));
    g_ptr_array_add(cells, after_numbers(s->lines, line));
    g_ptr_array_add(cells, work_hours_words(line->task->left_h));
    g_ptr_array_add(cells,
                    work_paper_day(s->lines, line->when != NULL ? line->when->start_day : NAN));
    g_ptr_array_add(cells,
                    work_paper_day(s->lines, line->when != NULL ? line->when->finish_day : NAN));
    g_ptr_array_add(
        cells, work_paper_day(s->lines, line->when != NULL ? line->when->finish_high_day : NAN));
}

static void
body(WorkSheet *s)
{
    static const Column column[] = {{"No.", 11, FALSE},        {"Task", 52, FALSE},
                                    {"Where", 25, FALSE},      {"After", 15, FALSE},
                                    {"Hours left", 25, FALSE}, {"Begins", 18, FALSE},
                                    {"Ends", 18, FALSE},       {"Or late", 18, FALSE}};
    g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func(g_free);
    for (size_t i = 0; i < s->lines->n; i++)
        row(s, i, cells);
    work_paper_dates(s);
    flow_paragraph(&s->flow, FONT_SMALL,
                   "In the order of the work; After: the numbers it waits for.  * the finish hangs "
                   "on it.  Late: "
                   "one time in ten it ends after that day.");
    flow_heading(&s->flow, "Open tasks", TABLE_START_MM);
    if (cells->len == 0)
        flow_paragraph(&s->flow, FONT_TEXT,
                       "Nothing is open, or no work is written in the boat file yet (work).");
    work_paper_table(s, G_N_ELEMENTS(column), column, cells);
}

GBytes *
write_plan_sheet(const WorkSource *source, GError **error)
{
    static const WorkPaper paper = {
        "Plan of the work", "careen " CAREEN_VERSION "; from the boat file, not from the boat",
        body};
    return work_paper_write(&paper, source, error);
}
