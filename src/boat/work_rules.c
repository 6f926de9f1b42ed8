/* Slips in the sections about the work that only whole records show.
 *
 * Invariant: what passes here can be read again with work_hours_parse and work_days_parse without a problem. A circle
 * of tasks is no slip of the pen but a contradiction of the plan: the checks explain it. */
#include "boat/read_internal.h"
#include "boat/work.h"

static const Node *
node_of(const Record *record, const char *key)
{
    return record_state(record, key)->node;
}

static void
judge_dates(Reader *r, const Record *record, const char *first_key, Date first,
            const char *last_key, Date last)
{
    if (date_day(last) < date_day(first))
        reader_error(r, node_of(record, last_key), "`%s` lies before `%s`", last_key, first_key);
}

static const Node *
entry_node(const Record *record, const char *key, const char *entry)
{
    const Node *node = node_of(record, key), *child = node == NULL ? NULL : node_child(node, entry);
    return child == NULL ? node : child;
}

/* --- tasks ------------------------------------------------------------------------------------ */

static void
judge_overrules(Reader *r, const Record *record)
{
    const WorkSection *task = record->data;
    for (size_t i = 0; i < task->overrules.n; i++) {
        const char *key = task->overrules.entry[i].key;
        if (work_rule_number(key) > 0 || boat_find(r->boat, &section_work, key) != NULL)
            continue;
        g_autoptr(GPtrArray) words = g_ptr_array_new();
        for (int rule = 1; work_rule_number(work_rule_word(rule)) == rule; rule++)
            g_ptr_array_add(words, (gpointer) work_rule_word(rule));
        g_autofree char *near = reader_nearest(r, key, words);
        reader_error(r, entry_node(record, "overrules", key),
                     "`%s` is neither a rule of the order of work nor a task%s", key, near);
    }
}

static void
judge_task(Reader *r, const Record *record)
{
    const WorkSection *task = record->data;
    judge_dates(r, record, "began", task->began, "finished", task->finished);
    judge_dates(r, record, "not-before", task->not_before, "due", task->due);
    if (task->finished.year != 0 && task->state != WORK_DONE)
        reader_warn(r, node_of(record, "finished"),
                    "the day counts only when the task has `state: done`");
    if (record_state(record, "progress")->origin == ORIGIN_TYPED && task->state != WORK_DOING)
        reader_warn(r, node_of(record, "progress"),
                    "the share counts only when the task has `state: doing`");
    judge_overrules(r, record);
}

/* --- calendars -------------------------------------------------------------------------------- */

static void
judge_week(Reader *r, const Record *record, const char *key, const Map *week)
{
    for (size_t i = 0; i < week->n; i++) {
        WorkHours hours[MAX_WORK_HOURS];
        g_autofree char *problem = NULL;
        const Node *node = entry_node(record, key, week->entry[i].key);
        if (work_weekday(week->entry[i].key) < 0)
            reader_error(r, node, "expected mon, tue, wed, thu, fri, sat or sun; found `%s`",
                         week->entry[i].key);
        else if (work_hours_parse(week->entry[i].text, hours, &problem) == 0)
            reader_error(r, node, "%s", problem);
    }
}

static void
judge_days(Reader *r, const Record *record, const char *key, const Map *days)
{
    for (size_t i = 0; i < days->n; i++) {
        Date first, last;
        g_autofree char *problem = NULL;
        if (!work_days_parse(days->entry[i].text, &first, &last, &problem))
            reader_error(r, entry_node(record, key, days->entry[i].key), "%s", problem);
    }
}

static void
judge_hand(Reader *r, const Record *record)
{
    const Hand *hand = record->data;
    judge_week(r, record, "week", &hand->week);
    judge_days(r, record, "away", &hand->away);
    judge_dates(r, record, "from", hand->from, "until", hand->until);
}

static void
judge_berth(Reader *r, const Record *record)
{
    const Berth *berth = record->data;
    judge_week(r, record, "hours", &berth->hours);
    judge_days(r, record, "closed", &berth->closed);
    for (size_t i = 0; i < berth->temperatures.n; i++)
        if (work_month(berth->temperatures.entry[i].key) < 0)
            reader_error(r, entry_node(record, "temperatures", berth->temperatures.entry[i].key),
                         "expected a month as jan, feb, mar; found `%s`",
                         berth->temperatures.entry[i].key);
}

static void
judge_slot(Reader *r, const Record *record)
{
    const Slot *slot = record->data;
    judge_dates(r, record, "from", slot->from, "until", slot->until);
}

static void
judge_purchase(Reader *r, const Record *record)
{
    const Purchase *purchase = record->data;
    judge_dates(r, record, "ordered", purchase->ordered, "due", purchase->due);
}

static void
each(Reader *r, const Section *section, void (*judge)(Reader *, const Record *))
{
    size_t n;
    const Record *const *records = boat_records(r->boat, section, &n);
    for (size_t i = 0; i < n; i++)
        judge(r, records[i]);
}

void
rules_of_work(Reader *r)
{
    each(r, &section_work, judge_task);
    each(r, &section_hands, judge_hand);
    each(r, &section_berth, judge_berth);
    each(r, &section_slots, judge_slot);
    each(r, &section_purchases, judge_purchase);
}
