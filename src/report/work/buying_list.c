/* The buying list. Invariant: nothing in hand stands on it. */
#include "report/work/buying_list.h"

#include <math.h>
#include <string.h>

#include "report/words.h"
#include "report/work/work_paper.h"

#define TABLE_START_MM 24.0

/* ---- what is to be bought ---- */

static ToBuy
to_buy(const WorkLines *lines, const WorkPurchase *purchase)
{
    ToBuy buy = {purchase, NAN, NAN, NO_TASK, lines->n};
    for (size_t k = 0; k < purchase->tasks.n; k++) {
        size_t rank = lines->rank[purchase->tasks.at[k]];
        if (rank >= lines->n)
            continue;
        const ForecastTask *when = lines->line[rank].when;
        if (rank < buy.rank) {
            buy.rank = rank;
            buy.first_task = lines->line[rank].at;
        }
        if (when != NULL && isfinite(when->start_day))
            buy.needed_day =
                fmin(isnan(buy.needed_day) ? INFINITY : buy.needed_day, floor(when->start_day));
    }
    double delivery_h = isfinite(purchase->delivery_h.high) ? purchase->delivery_h.high
                                                            : purchase->delivery_h.likely;
    if (isfinite(buy.needed_day))
        buy.order_day = buy.needed_day - (isfinite(delivery_h) ? ceil(delivery_h / 24.0) : 0.0);
    return buy;
}

static int
by_order_day(gconstpointer a, gconstpointer b)
{
    const ToBuy *x = a, *y = b;
    double day_x = isnan(x->order_day) ? INFINITY : x->order_day,
           day_y = isnan(y->order_day) ? INFINITY : y->order_day;
    if (day_x != day_y)
        return day_x < day_y ? -1 : 1;
    if (x->rank != y->rank)
        return x->rank < y->rank ? -1 : 1;
    return x->purchase < y->purchase ? -1 : x->purchase > y->purchase;
}

GArray *
buying_list(const WorkLines *lines)
{
    GArray *list = g_array_new(FALSE, FALSE, sizeof(ToBuy));
    for (size_t i = 0; i < lines->plan->n_purchases; i++) {
        const WorkPurchase *purchase = &lines->plan->purchase[i];
        if (purchase->state == PURCHASE_IN_HAND)
            continue;
        ToBuy buy = to_buy(lines, purchase);
        g_array_append_val(list, buy);
    }
    g_array_sort(list, by_order_day);
    return list;
}

/* ---- on paper ---- */

static char *
days_words(ThreePoint delivery_h)
{
    double low = delivery_h.low / 24.0, high = delivery_h.high / 24.0;
    if (!isfinite(delivery_h.likely))
        return g_strdup("not known");
    if (!(high > low))
        return g_strdup_printf("%.0f days", ceil(delivery_h.likely / 24.0));
    return g_strdup_printf("%.0f to %.0f days", floor(low), ceil(high));
}

static char *
order_words(const WorkSheet *s, const ToBuy *buy)
{
    if (buy->purchase->state == PURCHASE_ORDERED)
        return work_purchase_state(buy->purchase);
    if (isnan(buy->order_day))
        return g_strdup("");
    if (buy->order_day <= s->lines->day)
        return g_strdup("NOW");
    return day_words(buy->order_day);
}

static void
wanted(WorkSheet *s, const GArray *list)
{
    static const Column column[] = {
        {"", 12, FALSE},    {"Order by", 30, FALSE}, {"What, from whom", 54, FALSE},
        {"For", 36, FALSE}, {"Delivery", 26, FALSE}, {"Price", 24, TRUE}};
    const WorkPlan *plan = s->lines->plan;
    g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func(g_free);
    for (guint i = 0; i < list->len; i++) {
        const ToBuy *buy = &g_array_index(list, ToBuy, i);
        g_autofree char *name = text_clean(buy->purchase->name);
        g_autofree char *seller =
            text_clean(buy->purchase->seller != NULL ? buy->purchase->seller : "");
        g_ptr_array_add(cells, g_strdup("[   ]"));
        g_ptr_array_add(cells, order_words(s, buy));
        g_ptr_array_add(cells,
                        g_strdup_printf("%s%s%s", name, seller[0] != '\0' ? ", " : "", seller));
        g_ptr_array_add(cells, buy->first_task == NO_TASK
                                   ? g_strdup("no task")
                                   : work_task_name(&plan->task[buy->first_task]));
        g_ptr_array_add(cells, days_words(buy->purchase->delivery_h));
        g_ptr_array_add(cells, work_money_words(plan, buy->purchase->price_money.likely));
    }
    flow_heading(&s->flow, "To buy", TABLE_START_MM);
    if (cells->len == 0)
        flow_paragraph(&s->flow, FONT_TEXT,
                       plan->n_purchases == 0
                           ? "No purchase is written in the boat file yet (purchases)."
                           : "Everything that is written down is in hand.");
    work_paper_table(s, G_N_ELEMENTS(column), column, cells);
}

static void
sums(WorkSheet *s, const GArray *list)
{
    double low = 0.0, likely = 0.0, high = 0.0, paid = 0.0;
    guint unpriced = 0;
    for (guint i = 0; i < list->len; i++) {
        const WorkPurchase *purchase = g_array_index(list, ToBuy, i).purchase;
        unpriced += !isfinite(purchase->price_money.likely);
        if (!isfinite(purchase->price_money.likely))
            continue;
        low += purchase->price_money.low;
        likely += purchase->price_money.likely;
        high += purchase->price_money.high;
        paid += purchase->paid_money;
    }
    if (list->len == 0)
        return;
    g_autofree char *sum = work_money_words(s->lines->plan, likely);
    g_autofree char *range =
        high > low ? g_strdup_printf(", between %.0f and %.0f", low, high) : g_strdup("");
    g_autofree char *part = paid > 0.0 ? g_strdup_printf("; %.0f of it paid", paid) : g_strdup("");
    g_autofree char *rest = unpriced > 0
                                ? g_strdup_printf(" %u without a price are not in it.", unpriced)
                                : g_strdup("");
    g_autofree char *words = g_strdup_printf("Together %s%s%s.%s", sum, range, part, rest);
    flow_paragraph(&s->flow, FONT_BOLD, words);
}

static void
hired(WorkSheet *s)
{
    static const Column column[] = {
        {"", 12, FALSE}, {"Hire or borrow", 66, FALSE}, {"For", 76, FALSE}, {"From", 28, FALSE}};
    g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func(g_free);
    for (size_t i = 0; i < s->lines->n; i++) {
        const WorkLine *line = &s->lines->line[i];
        if (line->task->hire == NULL || line->task->hire[0] == '\0')
            continue;
        g_ptr_array_add(cells, g_strdup("[   ]"));
        g_ptr_array_add(cells, text_clean(line->task->hire));
        g_ptr_array_add(cells, work_task_name(line->task));
        g_ptr_array_add(cells,
                        work_paper_day(s->lines, line->when != NULL ? line->when->start_day : NAN));
    }
    if (cells->len == 0)
        return;
    flow_heading(&s->flow, "To hire or borrow", TABLE_START_MM);
    work_paper_table(s, G_N_ELEMENTS(column), column, cells);
}

static bool
has_purchase(const WorkPlan *plan, size_t task)
{
    for (size_t i = 0; i < plan->n_purchases; i++)
        for (size_t k = 0; k < plan->purchase[i].tasks.n; k++)
            if (plan->purchase[i].tasks.at[k] == task)
                return true;
    return false;
}

static void
unlisted(WorkSheet *s)
{
    static const Column column[] = {{"", 12, FALSE}, {"Parts", 94, FALSE}, {"For", 76, FALSE}};
    g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func(g_free);
    for (size_t i = 0; i < s->lines->n; i++) {
        const WorkLine *line = &s->lines->line[i];
        if (line->task->parts == NULL || line->task->parts[0] == '\0' ||
            has_purchase(s->lines->plan, line->at))
            continue;
        g_ptr_array_add(cells, g_strdup("[   ]"));
        g_ptr_array_add(cells, text_clean(line->task->parts));
        g_ptr_array_add(cells, work_task_name(line->task));
    }
    if (cells->len == 0)
        return;
    flow_heading(&s->flow, "Named by a task, in no purchase: look whether they are in hand",
                 TABLE_START_MM);
    work_paper_table(s, G_N_ELEMENTS(column), column, cells);
}

static void
body(WorkSheet *s)
{
    g_autoptr(GArray) list = buying_list(s->lines);
    work_paper_dates(s);
    flow_paragraph(&s->flow, FONT_SMALL,
                   "Order by: the day on which the plan begins what needs it, less the longest "
                   "delivery. Before the first order: the survey and the insurer's conditions in "
                   "writing.");
    wanted(s, list);
    sums(s, list);
    hired(s);
    unlisted(s);
}

GBytes *
write_buying_list(const WorkSource *source, GError **error)
{
    static const WorkPaper paper = {
        "Buying list", "careen " CAREEN_VERSION "; from the boat file, not from the boat", body};
    return work_paper_write(&paper, source, error);
}
