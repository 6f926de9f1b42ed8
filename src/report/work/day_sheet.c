/* The day sheet. Invariant: a task stands under "Next" only when it can be begun, or the plan begins it today. */
#include "report/work/work_paper.h"

#include <math.h>
#include <string.h>

#include "report/forecast_words.h"
#include "report/words.h"

#define TABLE_START_MM 24.0
#define TASK_MM 40.0 /* of a task that should not be torn from its heading */
enum { MOST_NEXT = 5, MOST_WAITING = 8, BLANK_LINES = 6, MOST_NAMED = 5 };

/* ---- what is printed for a task ---- */

/* Papers that a task takes along, by what it works on. */
static char *
papers_for(const WorkTask *task)
{
    g_autoptr(GString) out = g_string_new(NULL);
    if (task->about != NULL && g_str_has_prefix(task->about, "circuits."))
        g_string_append(out, "conductor schedule, labels");
    if (task->about != NULL && g_str_has_prefix(task->about, "busbars."))
        g_string_append(out, "fuse list");
    if ((task->tags & (TAG_HAUL | TAG_LAUNCH | TAG_LIFT)) != 0)
        g_string_append_printf(out, "%scrane sheet, one-lift list", out->len > 0 ? ", " : "");
    return g_string_free(g_steal_pointer(&out), FALSE);
}

static char *
owner_text(const char *text)
{
    return text_clean(text != NULL ? text : "");
}

static char *
why_next(const WorkLines *lines, const WorkLine *line)
{
    g_autoptr(GString) out = g_string_new(NULL);
    if (line->task->state == WORK_DOING)
        g_string_append_printf(out, "Begun, %.0f %% done. ",
                               100.0 * fmax(0.0, line->task->done_frac));
    if (line->when != NULL && line->when->drives)
        g_string_append(out, "The finish hangs on it: each day lost here is a day lost in all. ");
    if (line->behind != NULL) {
        g_autofree char *next = work_task_name(&lines->plan->task[line->behind->to]);
        g_autofree char *reason = owner_text(work_tie_reason(line->behind));
        g_string_append_printf(out, "%zu %s, first \"%s\"%s%s", line->followers,
                               line->followers == 1 ? "task waits for it" : "tasks wait for it",
                               next, reason[0] != '\0' ? ": " : ".", reason);
    }
    if (out->len == 0)
        g_string_append(out, "Nothing stands before it, and nothing waits for it.");
    return g_string_free(g_steal_pointer(&out), FALSE);
}

static char *
parts_words(const WorkPlan *plan, const WorkLine *line)
{
    g_autoptr(GString) out = g_string_new(NULL);
    if (line->task->parts != NULL) {
        g_autofree char *parts = text_clean(line->task->parts);
        g_string_append(out, parts);
    }
    for (size_t i = 0; i < plan->n_purchases; i++) {
        const WorkPurchase *purchase = &plan->purchase[i];
        for (size_t k = 0; k < purchase->tasks.n; k++)
            if (purchase->tasks.at[k] == line->at) {
                g_autofree char *name = text_clean(purchase->name);
                g_autofree char *state = work_purchase_state(purchase);
                g_string_append_printf(out, "%s%s (%s)", out->len > 0 ? "; " : "", name, state);
            }
    }
    return g_string_free(g_steal_pointer(&out), FALSE);
}

static char *
hours_words(double hours)
{
    return work_hours_words((ThreePoint){hours, hours, hours});
}

/* What must not begin before its wait is over. */
static char *
wait_words(const WorkTask *task)
{
    if (!(task->wait_h > 0.0) && !(task->watch_h > 0.0) && !(task->airing_h > 0.0))
        return g_strdup("");
    g_autoptr(GString) out = g_string_new(NULL);
    if (task->wait_h > 0.0) {
        g_autofree char *wait = hours_words(task->wait_h);
        g_autofree char *at = value_words(task->wait_at_K, NAN, Q_TEMPERATURE, UNITS_METRIC);
        g_string_append_printf(out, "leave it %s", wait);
        if (isfinite(task->wait_at_K))
            g_string_append_printf(out, " at %s, twice as long 10 degrees colder", at);
    }
    if (task->watch_h > 0.0) {
        g_autofree char *watch = hours_words(task->watch_h);
        g_string_append_printf(out, "%sstay and watch for fire %s", out->len > 0 ? "; " : "",
                               watch);
    }
    if (task->airing_h > 0.0) {
        g_autofree char *airing = hours_words(task->airing_h);
        g_string_append_printf(out, "%sno spark or dust near it for %s", out->len > 0 ? "; " : "",
                               airing);
    }
    return g_string_free(g_steal_pointer(&out), FALSE);
}

static void
add_row(GPtrArray *cells, const char *label, char *text)
{
    if (text[0] == '\0') {
        g_free(text);
        return;
    }
    g_ptr_array_add(cells, g_strdup(label));
    g_ptr_array_add(cells, text);
}

static char *
finds_words(const WorkTask *task)
{
    g_autoptr(GString) out = g_string_new(NULL);
    for (size_t i = 0; i < task->n_finds; i++) {
        g_autofree char *name = text_clean(task->find[i].name);
        g_string_append_printf(out, "%s%s (chance %.0f %%)", i > 0 ? "; " : "", name,
                               100.0 * task->find[i].chance_frac);
    }
    return g_string_free(g_steal_pointer(&out), FALSE);
}

static char *
place_words(const WorkPlan *plan, const WorkTask *task)
{
    g_autofree char *where = work_where_words(plan, task), *needs = work_needs_words(task);
    return g_strdup_printf("%s%s%s", where, needs[0] != '\0' ? "; needs " : "", needs);
}

static char *
hours_left(const WorkTask *task)
{
    g_autofree char *words = work_hours_words(task->left_h);
    return g_strdup_printf("%s%s", words, task->stated ? "" : " (usual ones, not yours)");
}

static char *
who_words(const WorkLines *lines, const WorkLine *line)
{
    g_autofree char *words = line->when != NULL ? hands_words(lines->forecast, line->when) : NULL;
    return owner_text(words);
}

static void
say_task(WorkSheet *s, const WorkLine *line, guint number)
{
    static const Column column[] = {{NULL, 26, FALSE}, {NULL, 156, FALSE}};
    const WorkTask *task = line->task;
    g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func(g_free);
    g_autofree char *name = work_task_name(task);
    g_autofree char *heading = g_strdup_printf("[   ]  %u  %s", number, name);
    add_row(cells, "Why", why_next(s->lines, line));
    add_row(cells, "Who", who_words(s->lines, line));
    add_row(cells, "Where", place_words(s->lines->plan, task));
    add_row(cells, "Hours left", hours_left(task));
    add_row(cells, "Tools", owner_text(task->tools));
    add_row(cells, "To hire", owner_text(task->hire));
    add_row(cells, "Parts", parts_words(s->lines->plan, line));
    add_row(cells, "Print", papers_for(task));
    add_row(cells, "May turn up", finds_words(task));
    add_row(cells, "Afterwards", wait_words(task));
    flow_heading(&s->flow, heading, TASK_MM);
    work_paper_table(s, G_N_ELEMENTS(column), column, cells);
    for (size_t i = 0; i < task->n_cautions; i++)
        work_paper_caution(s, task->caution[i]);
    if ((task->tags & TAG_HOT) != 0)
        work_paper_caution(s, "ST1");
}

/* Those that can be begun, what most tasks wait for first. */
static int
by_followers(gconstpointer a, gconstpointer b)
{
    const WorkLine *x = *(const WorkLine *const *) a, *y = *(const WorkLine *const *) b;
    bool x_doing = x->task->state == WORK_DOING, y_doing = y->task->state == WORK_DOING;
    if (x_doing != y_doing)
        return x_doing ? -1 : 1;
    if (x->followers != y->followers)
        return x->followers > y->followers ? -1 : 1;
    return x < y ? -1 : x > y;
}

/* Today, or the first day on which the plan has any work. */
static double
day_of_sheet(const WorkLines *lines)
{
    double first = INFINITY;
    for (size_t i = 0; i < lines->n; i++)
        if (lines->line[i].when != NULL && isfinite(lines->line[i].when->start_day))
            first = fmin(first, floor(lines->line[i].when->start_day));
    return isfinite(first) ? fmax(first, lines->day) : lines->day;
}

static GPtrArray *
next_lines(const WorkLines *lines)
{
    GPtrArray *next = g_ptr_array_new();
    double day = day_of_sheet(lines);
    for (size_t i = 0; i < lines->n; i++)
        if (work_line_is_next(lines, &lines->line[i], day))
            g_ptr_array_add(next, &lines->line[i]);
    if (lines->forecast == NULL)
        g_ptr_array_sort(next, by_followers);
    return next;
}

static void
next_tasks(WorkSheet *s)
{
    g_autoptr(GPtrArray) next = next_lines(s->lines);
    for (guint i = 0; i < next->len && i < MOST_NEXT; i++)
        say_task(s, g_ptr_array_index(next, i), i + 1);
    if (next->len == 0)
        flow_paragraph(&s->flow, FONT_TEXT,
                       s->lines->n == 0 ? "Nothing is open: all tasks are done or dropped."
                                        : "Nothing can be begun today; what each task waits for "
                                          "stands below.");
    if (next->len > MOST_NEXT) {
        g_autofree char *more =
            g_strdup_printf("%u more could be begun; they wait for these.", next->len - MOST_NEXT);
        flow_paragraph(&s->flow, FONT_SMALL, more);
    }
}

/* ---- what stays open ---- */

static void
stays_open(WorkSheet *s)
{
    static const Column column[] = {{"Do not close", 46, FALSE},
                                    {"Still to be done there", 136, FALSE}};
    const WorkPlan *plan = s->lines->plan;
    g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func(g_free);
    for (size_t i = 0; i < plan->n_spaces; i++) {
        const WorkSpace *space = &plan->space[i];
        if (space->keeps_open.n == 0)
            continue;
        g_autoptr(GString) what = g_string_new(NULL);
        for (size_t k = 0; k < space->keeps_open.n && k < MOST_NAMED; k++) {
            g_autofree char *name = work_task_name(&plan->task[space->keeps_open.at[k]]);
            g_string_append_printf(what, "%s%s", k > 0 ? "; " : "", name);
        }
        if (space->keeps_open.n > MOST_NAMED)
            g_string_append_printf(what, "; and %zu more", space->keeps_open.n - MOST_NAMED);
        g_ptr_array_add(cells, text_clean(space->name));
        g_ptr_array_add(cells, g_string_free(g_steal_pointer(&what), FALSE));
    }
    if (cells->len == 0)
        return;
    flow_heading(&s->flow, "What must stay open", TABLE_START_MM);
    work_paper_table(s, G_N_ELEMENTS(column), column, cells);
    work_paper_caution(s, "WO2");
}

/* ---- what the others wait for ---- */

static char *
waits_for(const WorkLines *lines, const WorkLine *line)
{
    if (line->when != NULL && line->when->why != NULL)
        return text_clean(line->when->why);
    if (line->before != NULL) {
        const WorkTask *from = &lines->plan->task[line->before->from];
        g_autofree char *name = work_task_name(from);
        g_autofree char *reason = owner_text(work_tie_reason(line->before));
        return g_strdup_printf(
            "\"%s\"%s%s", name,
            work_task_is_open(from) ? " must be done: " : " must cure: ", reason);
    }
    if (line->lacks != NULL) {
        g_autofree char *name = text_clean(line->lacks->name);
        g_autofree char *state = work_purchase_state(line->lacks);
        return g_strdup_printf("%s, %s", name, state);
    }
    return g_strdup(line->waits_for_day ? "its day, or that she lies as it needs her" : "");
}

static void
waiting(WorkSheet *s)
{
    static const Column column[] = {
        {"Not yet", 62, FALSE}, {"Waits for", 98, FALSE}, {"Begins", 22, FALSE}};
    g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func(g_free);
    double day = day_of_sheet(s->lines);
    for (size_t i = 0, said = 0; i < s->lines->n && said < MOST_WAITING; i++) {
        const WorkLine *line = &s->lines->line[i];
        if (work_line_is_next(s->lines, line, day))
            continue;
        g_ptr_array_add(cells, work_task_name(line->task));
        g_ptr_array_add(cells, waits_for(s->lines, line));
        g_ptr_array_add(cells,
                        work_paper_day(s->lines, line->when != NULL ? line->when->start_day : NAN));
        said++;
    }
    if (cells->len == 0)
        return;
    flow_heading(&s->flow, "Not yet, and why", TABLE_START_MM);
    work_paper_table(s, G_N_ELEMENTS(column), column, cells);
}

/* ---- to write down ---- */

static void
blank_log(WorkSheet *s)
{
    static const Column column[] = {{"Task", 52, FALSE},
                                    {"Hours", 18, FALSE},
                                    {"Done %", 18, FALSE},
                                    {"Found, missing, changed", 66, FALSE},
                                    {"Photos", 28, FALSE}};
    g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func(g_free);
    for (size_t i = 0; i < BLANK_LINES * G_N_ELEMENTS(column); i++)
        g_ptr_array_add(cells, g_strdup(i % G_N_ELEMENTS(column) == 0 ? "\n" : ""));
    flow_heading(&s->flow, "Write down before you go home", 60.0);
    work_paper_table(s, G_N_ELEMENTS(column), column, cells);
}

static void
body(WorkSheet *s)
{
    work_paper_dates(s);
    next_tasks(s);
    stays_open(s);
    waiting(s);
    blank_log(s);
}

GBytes *
write_day_sheet(const WorkSource *source, GError **error)
{
    static const WorkPaper paper = {
        "Day sheet",
        "careen " CAREEN_VERSION
        "; from the boat file, not from the boat; local rules and the yard go first",
        body};
    return work_paper_write(&paper, source, error);
}
