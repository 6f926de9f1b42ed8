/* The list of covers. Invariant: every open task that closes something up stands on it once for each space. */
#include "report/work/work_paper.h"

#include <math.h>

#include "boat/model.h"
#include "report/words.h"

static bool
is_in(const WorkTask *task, size_t space)
{
    for (size_t k = 0; k < task->spaces.n; k++)
        if (task->spaces.at[k] == space)
            return true;
    return false;
}

/* What stands between the plate and this task, in the same space: done or not. */
static bool
lies_behind(const WorkTask *task, const WorkTask *cover, size_t space)
{
    if (task == cover || task->state == WORK_DROPPED || task->layer < 0 ||
        task->layer >= cover->layer || (task->tags & TAG_TEST) != 0)
        return false;
    return is_in(task, space);
}

/* What a reference to an item, a circuit or an opening means. */
static char *
thing_words(const Result *result, const char *id)
{
    static const Section *const sections[] = {&section_items, &section_circuits, &section_openings};
    for (size_t i = 0; i < G_N_ELEMENTS(sections); i++) {
        const Record *record = boat_find(result_boat(result), sections[i], id);
        if (record != NULL)
            return path_words(result, record->path);
    }
    return name_words(id);
}

static char *
behind_words(const WorkSheet *s, const WorkTask *cover, size_t space)
{
    const WorkPlan *plan = s->lines->plan;
    g_autoptr(GString) out = g_string_new(NULL);
    for (size_t i = 0; cover->covers != NULL && i < cover->covers->n; i++) {
        g_autofree char *name = thing_words(s->result, cover->covers->id[i]);
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

/* Tasks from which ties lead to this one, over whatever stands between them. g_free. */
static bool *
all_before(const WorkLines *lines, size_t task)
{
    bool *before = g_new0(bool, lines->plan->n_tasks + 1);
    g_autoptr(GArray) open = g_array_new(FALSE, FALSE, sizeof(size_t));
    g_array_append_val(open, task);
    while (open->len > 0) {
        size_t at = g_array_index(open, size_t, open->len - 1);
        g_array_set_size(open, open->len - 1);
        for (size_t k = lines->into.first[at]; k < lines->into.first[at + 1]; k++) {
            size_t from = lines->plan->tie[lines->into.tie[k]].from;
            if (!before[from])
                g_array_append_val(open, from);
            before[from] = true;
        }
    }
    return before;
}

/* Tests in the space, each with how it stands to the cover. */
static char *
tests_words(const WorkLines *lines, const WorkLine *cover, size_t space)
{
    const WorkPlan *plan = lines->plan;
    g_autofree bool *before = all_before(lines, cover->at);
    g_autoptr(GString) out = g_string_new(NULL);
    for (size_t i = 0; i < plan->n_tasks; i++) {
        const WorkTask *test = &plan->task[i];
        if ((test->tags & TAG_TEST) == 0 || test->state == WORK_DROPPED || !is_in(test, space) ||
            test->layer >= cover->task->layer)
            continue;
        g_autofree char *name = work_task_name(test);
        g_string_append_printf(out, "%s%s%s", out->len > 0 ? "; " : "", name,
                               test->state == WORK_DONE ? " (done)"
                               : before[i]              ? ""
                                                        : " (NOT BEFORE IT)");
    }
    if (out->len == 0)
        g_string_append(out, "no test is named");
    return g_string_free(g_steal_pointer(&out), FALSE);
}

static void
add_row(GPtrArray *cells, const char *label, char *text)
{
    g_ptr_array_add(cells, g_strdup(label));
    g_ptr_array_add(cells, text);
}

static void
say_cover(WorkSheet *s, const WorkLine *line, size_t space, guint number)
{
    static const Column column[] = {{NULL, 34, FALSE}, {NULL, 148, FALSE}};
    const WorkPlan *plan = s->lines->plan;
    g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func(g_free);
    g_autofree char *name = work_task_name(line->task),
                    *where = text_clean(plan->space[space].name);
    g_autofree char *heading = g_strdup_printf("%u  %s: %s", number, where, name);
    g_autofree char *behind = behind_words(s, line->task, space);
    bool dated = line->when != NULL && isfinite(line->when->start_day);
    add_row(cells, "Covered from",
            dated ? day_words(line->when->start_day) : g_strdup("no date yet"));
    add_row(cells, "Then hidden",
            behind[0] != '\0' ? g_steal_pointer(&behind) : g_strdup("nothing named"));
    add_row(cells, "Tested before", tests_words(s->lines, line, space));
    add_row(cells, "Seen by, on", g_strdup("\n"));
    flow_heading(&s->flow, heading, 40.0);
    work_paper_table(s, G_N_ELEMENTS(column), column, cells);
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
    guint number = 0;
    work_paper_dates(s);
    flow_paragraph(
        &s->flow, FONT_TEXT,
        "Whoever has to see what lies behind a cover comes before its day. Each goes on after "
        "its tests, a photograph with a rule in it, and a line in the log.");
    for (size_t i = 0; i < s->lines->n; i++)
        for (size_t k = 0; k < s->lines->plan->n_spaces; k++)
            if (closes(&s->lines->plan->space[k], s->lines->line[i].at))
                say_cover(s, &s->lines->line[i], k, ++number);
    if (number == 0)
        flow_paragraph(&s->flow, FONT_TEXT, "No open task covers anything.");
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
