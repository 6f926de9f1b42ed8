/* Lines of the papers of the work. Invariant: a line never stands before one whose task it waits for, unless the plan itself goes in a
 * circle. */
#include "report/work/work_lines.h"

#include <math.h>
#include <stdint.h>

#include "boat/model.h"
#include "report/words.h"

/* ---- ties by task ---- */

static bool
tie_holds(const WorkTie *tie)
{
    return tie->kind == WORK_TIE_AFTER && tie->overruled == NULL;
}

static TieIndex
tie_index(const WorkPlan *plan, bool into)
{
    TieIndex index = {g_new0(size_t, plan->n_tasks + 2), g_new(size_t, plan->n_ties + 1)};
    size_t *end = index.first + 1; /* while it fills: the end of what each has so far */
    for (size_t i = 0; i < plan->n_ties; i++)
        if (tie_holds(&plan->tie[i]))
            end[1 + (into ? plan->tie[i].to : plan->tie[i].from)]++;
    for (size_t i = 1; i <= plan->n_tasks; i++)
        end[i] += end[i - 1];
    for (size_t i = 0; i < plan->n_ties; i++)
        if (tie_holds(&plan->tie[i]))
            index.tie[end[into ? plan->tie[i].to : plan->tie[i].from]++] = i;
    return index;
}

static void
tie_index_clear(TieIndex *index)
{
    g_free(index->first);
    g_free(index->tie);
}

/* ---- what a line says ---- */

/* Whether the wait behind a finished task is over; what cures is taken at the temperature of its own wait. */
static bool
wait_is_over(const WorkTask *from, const WorkTie *tie, double day)
{
    if (!(tie->lag_h > 0.0) || from->state == WORK_DROPPED || from->finished_day == 0)
        return true;
    return day >= from->finished_day + tie->lag_h / 24.0;
}

static void
look_at_ties(const WorkLines *lines, WorkLine *line)
{
    const WorkPlan *plan = lines->plan;
    for (size_t k = lines->from.first[line->at]; k < lines->from.first[line->at + 1]; k++) {
        const WorkTie *tie = &plan->tie[lines->from.tie[k]];
        if (!work_task_is_open(&plan->task[tie->to]))
            continue;
        line->followers++;
        line->behind = line->behind == NULL ? tie : line->behind;
    }
    for (size_t k = lines->into.first[line->at]; k < lines->into.first[line->at + 1]; k++) {
        const WorkTie *tie = &plan->tie[lines->into.tie[k]];
        const WorkTask *from = &plan->task[tie->from];
        if (line->before == NULL &&
            (work_task_is_open(from) || !wait_is_over(from, tie, lines->day)))
            line->before = tie;
    }
}

static bool
indices_hold(const WorkIndices *indices, size_t at)
{
    for (size_t i = 0; i < indices->n; i++)
        if (indices->at[i] == at)
            return true;
    return false;
}

static void
look_at_purchases(const WorkPlan *plan, WorkLine *line)
{
    for (size_t i = 0; i < plan->n_purchases && line->lacks == NULL; i++)
        if (plan->purchase[i].state != PURCHASE_IN_HAND &&
            indices_hold(&plan->purchase[i].tasks, line->at))
            line->lacks = &plan->purchase[i];
}

static bool
lies_wrong(const WorkPlan *plan, const WorkTask *task)
{
    bool wants_water = (task->needs & NEED_AFLOAT) != 0 || (task->tags & TAG_HAUL) != 0;
    bool wants_land = (task->needs & NEED_ASHORE) != 0 || (task->tags & TAG_LAUNCH) != 0;
    bool dried = (task->needs & NEED_DRIED_OUT) != 0;
    if (plan->lies == LIES_ASHORE)
        return wants_water;
    return wants_land || (dried && plan->lies != LIES_DRIES_OUT);
}

static void
line_fill(const WorkLines *lines, WorkLine *line)
{
    look_at_ties(lines, line);
    look_at_purchases(lines->plan, line);
    line->waits_for_day = lines->day < line->task->not_before_day ||
                          lines->day < line->task->start_day || lies_wrong(lines->plan, line->task);
}

bool
work_line_can_begin(const WorkLine *line)
{
    return line->before == NULL && line->lacks == NULL && !line->waits_for_day;
}

bool
work_line_is_next(const WorkLines *lines, const WorkLine *line, double day)
{
    if (line->task->state == WORK_DOING)
        return true;
    if (lines->forecast == NULL)
        return work_line_can_begin(line);
    return line->when != NULL && line->when->start_day < day + 1.0;
}

/* ---- their order ---- */

static void
add_line(WorkLines *lines, size_t task, const ForecastTask *when)
{
    lines->line[lines->n++] =
        (WorkLine){.task = &lines->plan->task[task], .at = task, .when = when};
}

static gint
by_key(gconstpointer a, gconstpointer b, gpointer data G_GNUC_UNUSED)
{
    gsize x = GPOINTER_TO_SIZE(a), y = GPOINTER_TO_SIZE(b);
    return (x > y) - (x < y);
}

/* How many open tasks each waits for. */
static size_t *
open_before(const WorkLines *lines)
{
    const WorkPlan *plan = lines->plan;
    size_t *count = g_new0(size_t, plan->n_tasks + 1);
    for (size_t i = 0; i < plan->n_ties; i++)
        if (tie_holds(&plan->tie[i]) && work_task_is_open(&plan->task[plan->tie[i].from]))
            count[plan->tie[i].to]++;
    return count;
}

/* In the order of the file, read again and again: each time what waits for nothing that is not yet listed. What goes in a circle comes
 * last. A key of the queue is (reading, task). */
static void
in_order_of_ties(WorkLines *lines)
{
    const WorkPlan *plan = lines->plan;
    size_t n = plan->n_tasks;
    g_autofree size_t *waits = open_before(lines);
    GSequence *queue = g_sequence_new(NULL);
    for (size_t i = 0; i < n; i++)
        if (work_task_is_open(&plan->task[i]) && waits[i] == 0)
            g_sequence_append(queue, GSIZE_TO_POINTER(i));
    for (GSequenceIter *first; !g_sequence_is_empty(queue);) {
        first = g_sequence_get_begin_iter(queue);
        gsize key = GPOINTER_TO_SIZE(g_sequence_get(first)), at = key % n;
        g_sequence_remove(first);
        waits[at] = SIZE_MAX; /* listed */
        add_line(lines, at, NULL);
        for (size_t k = lines->from.first[at]; k < lines->from.first[at + 1]; k++) {
            size_t to = plan->tie[lines->from.tie[k]].to;
            if (work_task_is_open(&plan->task[to]) && waits[to] != SIZE_MAX && --waits[to] == 0)
                g_sequence_insert_sorted(
                    queue, GSIZE_TO_POINTER((key / n + (to > at ? 0 : 1)) * n + to), by_key, NULL);
        }
    }
    g_sequence_free(queue);
    for (size_t i = 0; i < n; i++)
        if (work_task_is_open(&plan->task[i]) && waits[i] != SIZE_MAX)
            add_line(lines, i, NULL);
}

WorkLines *
work_lines_new(const WorkPlan *plan, const WorkForecast *forecast, Date day)
{
    WorkLines *lines = g_new0(WorkLines, 1);
    bool dated = forecast != NULL && forecast->fault == NULL;
    lines->plan = plan;
    lines->forecast = dated ? forecast : NULL;
    lines->fault = forecast != NULL ? forecast->fault : NULL;
    lines->day = date_day(day);
    lines->line = g_new0(WorkLine, plan->n_tasks + 1);
    lines->into = tie_index(plan, true);
    lines->from = tie_index(plan, false);
    for (size_t i = 0; dated && i < forecast->n_tasks; i++)
        add_line(lines, forecast->task[i].task, &forecast->task[i]);
    if (!dated)
        in_order_of_ties(lines);
    lines->rank = g_new(size_t, plan->n_tasks + 1);
    for (size_t i = 0; i < plan->n_tasks; i++)
        lines->rank[i] = lines->n;
    for (size_t i = 0; i < lines->n; i++) {
        lines->rank[lines->line[i].at] = i;
        line_fill(lines, &lines->line[i]);
    }
    return lines;
}

void
work_lines_free(WorkLines *lines)
{
    if (lines == NULL)
        return;
    tie_index_clear(&lines->into);
    tie_index_clear(&lines->from);
    g_free(lines->rank);
    g_free(lines->line);
    g_free(lines);
}

/* ---- words ---- */

bool
work_task_of_lift(const WorkTask *task)
{
    return (task->needs & (NEED_ASHORE | NEED_DRIED_OUT)) != 0 ||
           (task->tags & (TAG_HAUL | TAG_LAUNCH)) != 0;
}

char *
work_task_name(const WorkTask *task)
{
    return text_clean(task->name);
}

/* Nobody knows an hour to its minutes. */
static char *
hours_number(double hours)
{
    return g_strdup_printf(hours < 10.0 ? "%.2g" : "%.0f", hours);
}

char *
work_hours_words(ThreePoint hours_h)
{
    if (!isfinite(hours_h.likely))
        return g_strdup("hours not known");
    g_autofree char *likely = hours_number(hours_h.likely);
    g_autofree char *low = hours_number(hours_h.low), *high = hours_number(hours_h.high);
    if (!(hours_h.high > hours_h.low))
        return g_strdup_printf("%s h", likely);
    return g_strdup_printf("%s to %s h, usually %s h", low, high, likely);
}

char *
work_where_words(const WorkPlan *plan, const WorkTask *task)
{
    static const char *const sides[] = {"", " (outside)", " (on deck)"};
    g_autoptr(GString) out = g_string_new(NULL);
    for (size_t i = 0; i < task->spaces.n; i++) {
        g_autofree char *name = text_clean(plan->space[task->spaces.at[i]].name);
        g_string_append_printf(out, "%s%s", i > 0 ? ", " : "", name);
    }
    if (task->spaces.n == 0)
        g_string_append(out, "the boat");
    if (task->side > 0 && (size_t) task->side < G_N_ELEMENTS(sides))
        g_string_append(out, sides[task->side]);
    return g_string_free(g_steal_pointer(&out), FALSE);
}

static void
append_need(GString *out, bool needed, const char *what)
{
    if (needed)
        g_string_append_printf(out, "%s%s", out->len > 0 ? ", " : "", what);
}

char *
work_needs_words(const WorkTask *task)
{
    g_autoptr(GString) out = g_string_new(NULL);
    append_need(out, (task->needs & NEED_AFLOAT) != 0, "afloat");
    append_need(out, (task->needs & NEED_ASHORE) != 0, "ashore");
    append_need(out, (task->needs & NEED_DRIED_OUT) != 0, "dried out");
    append_need(out, (task->needs & NEED_DRY) != 0, "dry weather");
    append_need(out, (task->needs & NEED_WARM) != 0, "warm enough");
    append_need(out, (task->needs & NEED_DAYLIGHT) != 0, "daylight");
    append_need(out, (task->needs & NEED_POWER) != 0, "power");
    append_need(out, task->unbroken, "without a break");
    if (task->people > 1.0) {
        g_autofree char *people = g_strdup_printf("%.0f people at once", task->people);
        append_need(out, true, people);
    }
    if (task->skill != NULL) {
        g_autofree char *skill = text_clean(task->skill);
        g_autofree char *words = name_words(skill);
        g_autofree char *asked = g_strdup_printf("skill: %s", words);
        append_need(out, true, asked);
    }
    return g_string_free(g_steal_pointer(&out), FALSE);
}

char *
work_money_words(const WorkPlan *plan, double money)
{
    if (!isfinite(money))
        return g_strdup("not known");
    const Vessel *vessel = boat_single(plan->boat, &section_boat)->data;
    g_autofree char *currency = text_clean(vessel->currency != NULL ? vessel->currency : "");
    return g_strdup_printf("%.0f%s%s", money, currency[0] != '\0' ? " " : "", currency);
}

char *
work_purchase_state(const WorkPurchase *purchase)
{
    if (purchase->state == PURCHASE_IN_HAND)
        return g_strdup("in hand");
    if (purchase->state == PURCHASE_WANTED)
        return g_strdup("not ordered");
    if (purchase->due_day == 0)
        return g_strdup("ordered");
    g_autofree char *due = day_words(purchase->due_day);
    return g_strdup_printf("ordered, due %s", due);
}
