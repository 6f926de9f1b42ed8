/* The one-lift list. Invariant: every open task that needs her out of the water stands on it. */
#include "report/work/work_paper.h"

#include <math.h>

#include "report/words.h"

#define TABLE_START_MM 24.0

/* Whether it is done in that time ashore; with one time all is. */
static bool
is_of_stay(const WorkPlan *plan, const WorkTask *task, int stay)
{
    return work_task_of_lift(task) && (plan->n_stays <= 1 || task->stay == stay);
}

static int
stays_of(const WorkPlan *plan)
{
    return MAX((int) plan->n_stays, 1);
}

/* ---- when ---- */

static double
sum_h(const WorkLines *lines, double *high_h, guint *unknown)
{
    double sum = 0.0;
    *high_h = 0.0;
    *unknown = 0;
    for (size_t i = 0; i < lines->n; i++) {
        const WorkTask *task = lines->line[i].task;
        if (!work_task_of_lift(task))
            continue;
        if (isfinite(task->left_h.likely)) {
            sum += task->left_h.likely;
            *high_h += task->left_h.high;
        } else
            (*unknown)++;
    }
    return sum;
}

static void
say_hours(WorkSheet *s)
{
    double high_h;
    guint unknown;
    double sum = sum_h(s->lines, &high_h, &unknown);
    g_autoptr(GString) out = g_string_new(NULL);
    g_string_append_printf(out,
                           "%.0f h of work ashore by the usual hours, %.0f h if all goes badly; "
                           "curing comes on top.",
                           sum, high_h);
    if (unknown > 0)
        g_string_append_printf(out, " Of %u more the hours are not known.", unknown);
    flow_paragraph(&s->flow, FONT_TEXT, out->str);
}

/* From the first task that starts to the last that ends, by the plan. */
static void
say_days(WorkSheet *s, int stay)
{
    const WorkPlan *plan = s->lines->plan;
    double first = INFINITY, last = -INFINITY;
    for (size_t i = 0; i < s->lines->n; i++) {
        const WorkLine *line = &s->lines->line[i];
        if (line->when == NULL || !is_of_stay(plan, line->task, stay) ||
            !isfinite(line->when->start_day) || !isfinite(line->when->finish_day))
            continue;
        first = fmin(first, line->when->start_day);
        last = fmax(last, line->when->finish_day);
    }
    if (!(last >= first))
        return;
    g_autofree char *from = day_words(first), *to = day_words(last);
    g_autofree char *time = plan->n_stays > 1
                                ? g_strdup_printf(", time %d of %zu,", stay + 1, plan->n_stays)
                                : g_strdup("");
    g_autofree char *words =
        g_strdup_printf("By the plan the work ashore%s goes from %s to %s: %.0f days.", time, from,
                        to, floor(last) - floor(first) + 1.0);
    flow_paragraph(&s->flow, FONT_TEXT, words);
}

static void
slots(WorkSheet *s)
{
    static const Column column[] = {{"Slot", 62, FALSE},
                                    {"From", 34, FALSE},
                                    {"Until", 34, FALSE},
                                    {"Price", 26, TRUE},
                                    {"  Booked", 26, FALSE}};
    const WorkPlan *plan = s->lines->plan;
    g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func(g_free);
    for (size_t i = 0; i < plan->n_slots; i++) {
        const WorkSlot *slot = &plan->slot[i];
        g_ptr_array_add(cells, text_clean(slot->name));
        g_ptr_array_add(cells,
                        slot->from_day > 0 ? day_words(slot->from_day) : g_strdup("not said"));
        g_ptr_array_add(cells,
                        slot->until_day > 0 ? day_words(slot->until_day) : g_strdup("not said"));
        g_ptr_array_add(cells, work_money_words(plan, slot->price_money));
        g_ptr_array_add(cells, g_strdup(slot->booked ? "  yes" : "  NO"));
    }
    flow_heading(&s->flow, "Slots of the yard", TABLE_START_MM);
    if (cells->len == 0)
        flow_paragraph(&s->flow, FONT_TEXT, "None is written in the boat file (berth.slots).");
    work_paper_table(s, G_N_ELEMENTS(column), column, cells);
}

/* ---- parts ---- */

static bool
is_for_lift(const WorkPlan *plan, const WorkPurchase *purchase)
{
    for (size_t k = 0; k < purchase->tasks.n; k++) {
        const WorkTask *task = &plan->task[purchase->tasks.at[k]];
        if (work_task_is_open(task) && work_task_of_lift(task))
            return true;
    }
    return false;
}

static void
parts(WorkSheet *s)
{
    static const Column column[] = {
        {"[   ]", 12, FALSE}, {"What", 70, FALSE}, {"State", 56, FALSE}, {"From", 44, FALSE}};
    const WorkPlan *plan = s->lines->plan;
    g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func(g_free);
    guint missing = 0, all = 0;
    for (size_t i = 0; i < plan->n_purchases; i++) {
        const WorkPurchase *purchase = &plan->purchase[i];
        if (!is_for_lift(plan, purchase))
            continue;
        all++;
        missing += purchase->state != PURCHASE_IN_HAND;
        g_ptr_array_add(cells, g_strdup(purchase->state == PURCHASE_IN_HAND ? "[ x ]" : "[   ]"));
        g_ptr_array_add(cells, text_clean(purchase->name));
        g_ptr_array_add(cells, work_purchase_state(purchase));
        g_ptr_array_add(cells, text_clean(purchase->seller != NULL ? purchase->seller : ""));
    }
    flow_heading(&s->flow, "Parts: all of them in hand before the crane is booked", TABLE_START_MM);
    g_autofree char *words =
        all == 0
            ? g_strdup("No purchase is written down for these tasks. Go through them one by one: "
                       "a part that lacks ashore costs days at the yard's rate.")
            : g_strdup_printf("%u of %u not in hand.", missing, all);
    flow_paragraph(&s->flow, missing > 0 ? FONT_BOLD : FONT_TEXT, words);
    work_paper_table(s, G_N_ELEMENTS(column), column, cells);
}

/* ---- tasks ---- */

static void
add_task(WorkSheet *s, const WorkLine *line, guint number, GPtrArray *cells)
{
    g_autofree char *name = work_task_name(line->task);
    g_autofree char *needs = work_needs_words(line->task);
    g_ptr_array_add(cells, g_strdup_printf("[   ] %u", number));
    g_ptr_array_add(cells, g_strdup_printf("%s%s%s", name, needs[0] != '\0' ? "\n" : "", needs));
    g_ptr_array_add(cells, work_where_words(s->lines->plan, line->task));
    g_ptr_array_add(cells, work_hours_words(line->task->left_h));
    g_ptr_array_add(cells,
                    work_paper_day(s->lines, line->when != NULL ? line->when->start_day : NAN));
    g_ptr_array_add(cells, text_clean(line->task->parts != NULL ? line->task->parts : ""));
}

static void
tasks_of_stay(WorkSheet *s, int stay, guint *number)
{
    static const Column column[] = {{"", 14, FALSE},       {"Task, in this order", 62, FALSE},
                                    {"Where", 32, FALSE},  {"Hours", 26, FALSE},
                                    {"Begins", 22, FALSE}, {"Parts", 26, FALSE}};
    g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func(g_free);
    const WorkPlan *plan = s->lines->plan;
    for (size_t i = 0; i < s->lines->n; i++)
        if (is_of_stay(plan, s->lines->line[i].task, stay))
            add_task(s, &s->lines->line[i], ++*number, cells);
    g_autofree char *heading =
        plan->n_stays > 1
            ? g_strdup_printf("What is done ashore, time %d of %zu", stay + 1, plan->n_stays)
            : g_strdup("What is done ashore");
    flow_heading(&s->flow, heading, TABLE_START_MM);
    if (cells->len == 0)
        flow_paragraph(
            &s->flow, FONT_TEXT,
            "No open task needs her out of the water. Before you believe it, go round the "
            "hull once more: fittings and gauge readings below the waterline, shaft, "
            "rudder, anodes, coating.");
    work_paper_table(s, G_N_ELEMENTS(column), column, cells);
}

static void
tasks(WorkSheet *s)
{
    guint number = 0;
    for (int stay = 0; stay < stays_of(s->lines->plan); stay++)
        tasks_of_stay(s, stay, &number);
    flow_paragraph(
        &s->flow, FONT_SMALL,
        "While she is out, whatever else needs her dry belongs on this list: skin fittings "
        "and their valves, shaft and bearings, rudder, anodes, thickness readings, the shape "
        "of the hull if it was never measured, the name and the draught marks.");
}

static bool
any_task(const WorkLines *lines)
{
    for (size_t i = 0; i < lines->n; i++)
        if (work_task_of_lift(lines->line[i].task))
            return true;
    return false;
}

static void
body(WorkSheet *s)
{
    bool any = any_task(s->lines);
    work_paper_dates(s);
    if (any) {
        for (int stay = 0; stay < stays_of(s->lines->plan); stay++)
            say_days(s, stay);
        say_hours(s);
    }
    tasks(s);
    if (any)
        parts(s);
    slots(s);
    flow_space(&s->flow, 2.0);
    if (!any)
        return;
    work_paper_caution(s, "AF6");
    work_paper_caution(s, "ST4");
    work_paper_caution(s, "SA2");
}

GBytes *
write_lift_list(const WorkSource *source, GError **error)
{
    static const WorkPaper paper = {
        "One lift",
        "careen " CAREEN_VERSION
        "; from the boat file, not from the boat; local rules and the yard go first",
        body};
    return work_paper_write(&paper, source, error);
}
