/* From the records of the boat file to the plan. Invariant: a number that nobody stated stays NAN, a day 0. */
#include <math.h>
#include <string.h>

#include "catalog/trade_table.h"
#include "checks/work/work.h"

static int
day_of(Date date)
{
    double day = date_day(date);
    return isnan(day) ? 0 : (int) day;
}

static const char *
named(WorkPlan *plan, const char *what, const char *id)
{
    if (what != NULL && what[0] != '\0')
        return what;
    g_autofree char *words = g_strdelimit(g_strdup(id), "-", ' ');
    return work_plan_text(plan, "%s", words);
}

/* Places of the ids of a list among the records of a section; others are left out. */
static WorkIndices
places_of(const Work *work, const List *list, const Section *section)
{
    g_autoptr(GArray) at = g_array_new(FALSE, FALSE, sizeof(size_t));
    size_t n;
    const Record *const *records = list->n > 0 ? boat_records(work->boat, section, &n) : NULL;
    for (size_t i = 0; i < list->n; i++)
        for (size_t k = 0; k < n; k++)
            if (strcmp(records[k]->id, list->id[i]) == 0)
                g_array_append_val(at, k);
    return work_plan_indices(work->plan, at);
}

/* --- tasks ----------------------------------------------------------------------------------------------------------- */

static bool
is_for_a_trade(const Boat *boat, const List *who)
{
    bool trade = false;
    for (size_t i = 0; i < who->n && !trade; i++) {
        const Record *hand = boat_find(boat, &section_hands, who->id[i]);
        trade = hand != NULL && ((const Hand *) hand->data)->kind == HAND_TRADE;
    }
    return trade;
}

static const char *const *
cautions_of(Work *work, const WorkSection *typed, size_t *n)
{
    static const struct {
        unsigned tag;
        const char *id;
    } by_kind[] = {{TAG_HOT, "ST1"},    {TAG_HOT, "ST7"},  {TAG_DUSTY, "ST8"}, {TAG_WET, "SA3"},
                   {TAG_LAUNCH, "SA2"}, {TAG_LIFT, "AF6"}, {TAG_HAUL, "AF6"}};
    g_autoptr(GPtrArray) ids = g_ptr_array_new();
    for (size_t i = 0; i < G_N_ELEMENTS(by_kind); i++)
        if ((typed->kind & by_kind[i].tag) != 0)
            g_ptr_array_add(ids, (gpointer) by_kind[i].id);
    if (typed->cuts.n > 0)
        g_ptr_array_add(ids, (gpointer) "ST4");
    if (typed->layer == LAYER_LINING)
        g_ptr_array_add(ids, (gpointer) "WM4");
    if (is_for_a_trade(work->boat, &typed->who))
        g_ptr_array_add(ids, (gpointer) "WO3");
    g_auto(GStrv) own = g_strsplit(typed->cautions == NULL ? "" : typed->cautions, ",", -1);
    for (size_t i = 0; own[i] != NULL; i++)
        if (*g_strstrip(own[i]) != '\0' &&
            !g_ptr_array_find_with_equal_func(ids, own[i], g_str_equal, NULL))
            g_ptr_array_add(ids, (gpointer) work_plan_text(work->plan, "%s", own[i]));
    const char **kept = work_plan_block(work->plan, ids->len, sizeof *kept);
    if (ids->len > 0)
        memcpy(kept, ids->pdata, ids->len * sizeof *kept);
    *n = ids->len;
    return kept;
}

/* May-finds by the task they belong to, gone through once. */
static void
fill_finds(Work *work)
{
    size_t n;
    boat_records(work->boat, &section_may_find, &n);
    WorkFind *find = work_plan_block(work->plan, n, sizeof *find);
    size_t used = 0;
    for (size_t i = 0; i < work->plan->n_tasks && used < n; i++) {
        WorkTask *task = &work->plan->task[i];
        const GPtrArray *roles = task->record != NULL ? task->record->roles : NULL;
        task->find = find + used;
        for (guint k = 0; roles != NULL && k < roles->len; k++) {
            const Record *record = g_ptr_array_index(roles, k);
            const MayFind *typed = record->data;
            find[used++] = (WorkFind){record->path, named(work->plan, typed->what, record->id),
                                      typed->chance_frac, typed->takes_h, typed->cost_money};
            task->n_finds++;
        }
    }
}

static ThreePoint
times(ThreePoint points, double share)
{
    return (ThreePoint){points.low * share, points.likely * share, points.high * share};
}

static double
or_nothing(double value)
{
    return isnan(value) ? 0.0 : value;
}

/* How far it is, from what the owner says or else from the hours that went into it. */
static void
fill_progress(WorkTask *task, const WorkSection *typed, double logged_h)
{
    task->spent_h = isnan(typed->took_h) ? logged_h : typed->took_h;
    bool over = typed->state == WORK_DONE || typed->state == WORK_DROPPED;
    double asked_h = three_mean(task->takes_h) * task->people;
    double guessed = asked_h > 0.0 ? fmin(task->spent_h / asked_h, 0.9) : 0.0;
    task->done_frac = typed->state == WORK_DONE    ? 1.0
                      : typed->state != WORK_DOING ? 0.0
                      : !isnan(typed->done_frac)   ? typed->done_frac
                                                   : guessed;
    task->left_h = over ? (ThreePoint){0.0, 0.0, 0.0} : times(task->takes_h, 1.0 - task->done_frac);
}

static void
fill_times(WorkTask *task, const WorkSection *typed)
{
    task->wait_h = or_nothing(typed->wait_h);
    task->wait_at_K = typed->wait_at_K;
    task->wait_least_K = typed->wait_least_K;
    task->wait_most_h = typed->wait_most_h;
    task->launch_wait_h = or_nothing(typed->launch_wait_h);
    task->airing_h = (typed->kind & TAG_WET) != 0 ? or_nothing(typed->airing_h) : 0.0;
    task->watch_h = (typed->kind & TAG_HOT) != 0 ? or_nothing(typed->watch_h) : 0.0;
    task->unbroken = typed->split == SPLIT_NOT;
    task->not_before_day = day_of(typed->not_before);
    task->due_day = day_of(typed->due);
    task->start_day = day_of(typed->start);
    task->began_day = day_of(typed->began);
    task->finished_day = day_of(typed->finished);
}

static const char *
about_of(const Work *work, const List *things)
{
    static const Section *const sections[] = {&section_items, &section_circuits, &section_openings,
                                              &section_sources, &section_busbars};
    for (size_t i = 0; things->n > 0 && i < G_N_ELEMENTS(sections); i++) {
        const Record *record = boat_find(work->boat, sections[i], things->id[0]);
        if (record != NULL)
            return record->path;
    }
    return NULL;
}

static void
fill_task(Work *work, const Record *record, double logged_h, WorkTask *task)
{
    const WorkSection *typed = record->data;
    *task = (WorkTask){.id = record->id,
                       .path = record->path,
                       .name = named(work->plan, typed->what, record->id),
                       .record = record,
                       .stated = true,
                       .about = about_of(work, &typed->works_on),
                       .state = typed->state < 0 ? WORK_TO_DO : typed->state,
                       .takes_h = typed->takes_h,
                       .basis = isnan(typed->takes_h.likely) ? BASIS_ASSUMED : BASIS_STATED,
                       .people = typed->people,
                       .needs = typed->needs,
                       .tags = typed->kind,
                       .skill = typed->skill,
                       .hire = typed->hire,
                       .layer = typed->layer,
                       .side = typed->side < 0 ? SIDE_INSIDE : typed->side,
                       .x_m = NAN,
                       .y_m = NAN,
                       .z_m = NAN,
                       .cost_money = typed->cost_money,
                       .spent_money = or_nothing(typed->spent_money),
                       .tools = typed->tools,
                       .parts = typed->parts,
                       .covers = &typed->covers,
                       .opens = &typed->opens};
    task->who = places_of(work, &typed->who, &section_hands);
    task->needed_for = places_of(work, &typed->needed_for, &section_milestones);
    task->caution = cautions_of(work, typed, &task->n_cautions);
    fill_times(task, typed);
    fill_progress(task, typed, logged_h);
}

/* Hours of the log by task. */
static GHashTable *
logged(const Boat *boat)
{
    GHashTable *sums = g_hash_table_new_full(g_str_hash, g_str_equal, NULL, g_free);
    size_t n;
    const Record *const *records = boat_records(boat, &section_log, &n);
    for (size_t i = 0; i < n; i++) {
        const LogEntry *entry = records[i]->data;
        if (entry->task.id == NULL || isnan(entry->hours_h))
            continue;
        double *sum = g_hash_table_lookup(sums, entry->task.id);
        if (sum == NULL)
            g_hash_table_insert(sums, (gpointer) entry->task.id, sum = g_new0(double, 1));
        *sum += entry->hours_h;
    }
    return sums;
}

static void
list_under(GHashTable *lists, const char *id, size_t task)
{
    GArray *tasks = g_hash_table_lookup(lists, id);
    if (tasks == NULL)
        g_hash_table_insert(lists, (gpointer) id,
                            tasks = g_array_new(FALSE, FALSE, sizeof(size_t)));
    g_array_append_val(tasks, task);
}

static void
fill_tasks(Work *work)
{
    g_autoptr(GHashTable) hours = logged(work->boat);
    g_autoptr(GArray) tasks = g_array_new(FALSE, TRUE, sizeof(WorkTask));
    size_t n;
    const Record *const *records = boat_records(work->boat, &section_work, &n);
    g_array_set_size(tasks, (guint) n);
    for (size_t i = 0; i < n; i++) {
        const double *sum = g_hash_table_lookup(hours, records[i]->id);
        const WorkSection *typed = records[i]->data;
        fill_task(work, records[i], sum != NULL ? *sum : 0.0, &g_array_index(tasks, WorkTask, i));
        for (size_t k = 0; k < typed->works_on.n; k++)
            list_under(work->things, typed->works_on.id[k], i);
    }
    work_propose(work, tasks);
    work->plan->n_tasks = tasks->len;
    work->plan->task = work_plan_block(work->plan, tasks->len, sizeof(WorkTask));
    if (tasks->len > 0)
        memcpy(work->plan->task, tasks->data, tasks->len * sizeof(WorkTask));
    fill_finds(work);
}

/* --- calendars ------------------------------------------------------------------------------------------------------- */

static void
fill_week(const Map *week, size_t n_spans[7], WorkHours span[7][MAX_WORK_HOURS])
{
    for (size_t i = 0; i < week->n; i++) {
        int day = work_weekday(week->entry[i].key);
        if (day >= 0)
            n_spans[day] = work_hours_parse(week->entry[i].text, span[day], NULL);
    }
}

static const int (*fill_days(WorkPlan *plan, const Map *days, size_t *n))[2]
{
    int(*spans)[2] = work_plan_block(plan, days->n, sizeof *spans);
    *n = 0;
    for (size_t i = 0; i < days->n; i++) {
        Date first, last;
        if (!work_days_parse(days->entry[i].text, &first, &last, NULL))
            continue;
        spans[*n][0] = day_of(first);
        spans[(*n)++][1] = day_of(last);
    }
    return (const int(*)[2]) spans;
}

static void
fill_hands(Work *work)
{
    WorkPlan *plan = work->plan;
    const Record *const *records = boat_records(work->boat, &section_hands, &plan->n_hands);
    plan->hand = work_plan_block(plan, plan->n_hands, sizeof *plan->hand);
    for (size_t i = 0; i < plan->n_hands; i++) {
        const Hand *typed = records[i]->data;
        WorkHand *hand = &plan->hand[i];
        *hand = (WorkHand){.id = records[i]->id,
                           .path = records[i]->path,
                           .name = named(plan, typed->who, records[i]->id),
                           .kind = typed->kind,
                           .hours_h = typed->hours_h,
                           .from_day = day_of(typed->from),
                           .until_day = day_of(typed->until),
                           .skills = typed->skills,
                           .people = typed->people,
                           .cost_money_per_h = typed->cost_money_per_h};
        fill_week(&typed->week, hand->n_spans, hand->span);
        hand->away = fill_days(plan, &typed->away, &hand->n_away);
    }
}

static void
fill_air(WorkPlan *plan, const Berth *berth)
{
    g_autoptr(TradeTable) usual = trade_table_load(TABLE_AIR);
    for (size_t i = 0; i < usual->n; i++) {
        int month = work_month(usual->text[0][i]);
        if (month >= 0)
            plan->air_K[month] = usual->figure[0][i];
    }
    plan->air_stated = berth->temperatures.n > 0;
    for (size_t i = 0; i < berth->temperatures.n; i++) {
        int month = work_month(berth->temperatures.entry[i].key);
        if (month >= 0 && isfinite(berth->temperatures.entry[i].value.value))
            plan->air_K[month] = berth->temperatures.entry[i].value.value;
    }
}

static void
fill_berth(Work *work)
{
    WorkPlan *plan = work->plan;
    const Berth *berth = boat_single(work->boat, &section_berth)->data;
    plan->lies = berth->lies < 0 ? LIES_AFLOAT : berth->lies;
    plan->until_day = day_of(berth->until);
    plan->cost_money_per_day = berth->cost_money_per_day;
    plan->overrun_money_per_day = berth->overrun_money_per_day;
    plan->chance_frac = berth->chance_frac;
    plan->indoors_K = berth->indoors_K;
    plan->zone = berth->zone;
    plan->latitude_rad = berth->place.latitude_rad;
    plan->longitude_rad = berth->place.longitude_rad;
    fill_week(&berth->hours, plan->n_yard_spans, plan->yard_span);
    plan->closed = fill_days(plan, &berth->closed, &plan->n_closed);
    fill_air(plan, berth);
    const Record *const *records = boat_records(work->boat, &section_slots, &plan->n_slots);
    plan->slot = work_plan_block(plan, plan->n_slots, sizeof *plan->slot);
    for (size_t i = 0; i < plan->n_slots; i++) {
        const Slot *typed = records[i]->data;
        int from = day_of(typed->from), until = day_of(typed->until);
        plan->slot[i] =
            (WorkSlot){records[i]->id,
                       records[i]->path,
                       named(plan, typed->what, records[i]->id),
                       typed->kind,
                       from,
                       until > 0 ? until : from,
                       typed->price_money,
                       typed->booked == FLAG_YES_SHOWN || typed->booked == FLAG_YES_BARE};
    }
}

/* Somebody of a trade is called for what asks for his skill; else your own hands do it, when there are any. */
static void
leave_trades_out(WorkPlan *plan, WorkTask *task)
{
    g_autoptr(GArray) own = g_array_new(FALSE, FALSE, sizeof(size_t));
    size_t trades = 0;
    for (size_t i = 0; i < plan->n_hands; i++) {
        trades += plan->hand[i].kind == HAND_TRADE;
        if (plan->hand[i].kind != HAND_TRADE && work_hand_has_skill(&plan->hand[i], task->skill))
            g_array_append_val(own, i);
    }
    if (trades > 0 && own->len > 0)
        task->who = work_plan_indices(plan, own);
}

static void
fill_who(WorkPlan *plan)
{
    for (size_t i = 0; i < plan->n_tasks; i++)
        if (plan->task[i].who.n == 0)
            leave_trades_out(plan, &plan->task[i]);
}

/* --- what is bought, what must be true by when ------------------------------------------------------------------------ */

/* Tasks by what they wait for: an id of `after` that is no task is something bought. */
static GHashTable *
waiting_for_things(const Work *work)
{
    GHashTable *waiting =
        g_hash_table_new_full(g_str_hash, g_str_equal, NULL, (GDestroyNotify) g_array_unref);
    for (size_t i = 0; i < work->plan->n_tasks; i++) {
        const Record *record = work->plan->task[i].record;
        const List *after =
            record != NULL ? &((const WorkSection *) record->data)->after : &(const List){0};
        for (size_t k = 0; k < after->n; k++)
            if (boat_find(work->boat, &section_work, after->id[k]) == NULL)
                list_under(waiting, after->id[k], i);
    }
    return waiting;
}

static GHashTable *
tasks_by_id(const WorkPlan *plan)
{
    GHashTable *by_id = g_hash_table_new(g_str_hash, g_str_equal);
    for (size_t i = 0; i < plan->n_tasks; i++)
        g_hash_table_insert(by_id, (gpointer) plan->task[i].id, GSIZE_TO_POINTER(i + 1));
    return by_id;
}

static int
by_number(gconstpointer a, gconstpointer b)
{
    size_t x = *(const size_t *) a, y = *(const size_t *) b;
    return (x > y) - (x < y);
}

/* In the order of the tasks, each once. */
static WorkIndices
tasks_waiting(const Work *work, const List *stated, GHashTable *by_id, const GArray *after)
{
    g_autoptr(GArray) tasks = g_array_new(FALSE, FALSE, sizeof(size_t)),
                      once = g_array_new(FALSE, FALSE, sizeof(size_t));
    for (size_t k = 0; k < stated->n; k++) {
        size_t place = GPOINTER_TO_SIZE(g_hash_table_lookup(by_id, stated->id[k]));
        if (place-- > 0)
            g_array_append_val(tasks, place);
    }
    if (after != NULL)
        g_array_append_vals(tasks, after->data, after->len);
    g_array_sort(tasks, by_number);
    for (guint k = 0; k < tasks->len; k++)
        if (k == 0 || g_array_index(tasks, size_t, k) != g_array_index(tasks, size_t, k - 1))
            g_array_append_val(once, g_array_index(tasks, size_t, k));
    return work_plan_indices(work->plan, once);
}

static void
fill_purchases(Work *work)
{
    WorkPlan *plan = work->plan;
    const Record *const *records = boat_records(work->boat, &section_purchases, &plan->n_purchases);
    plan->purchase = work_plan_block(plan, plan->n_purchases, sizeof *plan->purchase);
    g_autoptr(GHashTable) waiting = waiting_for_things(work), by_id = tasks_by_id(plan);
    for (size_t i = 0; i < plan->n_purchases; i++) {
        const Purchase *typed = records[i]->data;
        plan->purchase[i] =
            (WorkPurchase){.id = records[i]->id,
                           .path = records[i]->path,
                           .name = named(plan, typed->what, records[i]->id),
                           .seller = typed->seller,
                           .tasks = tasks_waiting(work, &typed->for_tasks, by_id,
                                                  g_hash_table_lookup(waiting, records[i]->id)),
                           .state = typed->state,
                           .price_money = typed->price_money,
                           .delivery_h = typed->delivery_h,
                           .ordered_day = day_of(typed->ordered),
                           .due_day = day_of(typed->due),
                           .paid_money = or_nothing(typed->paid_money)};
    }
}

static void
fill_milestones(Work *work)
{
    WorkPlan *plan = work->plan;
    const Record *const *records =
        boat_records(work->boat, &section_milestones, &plan->n_milestones);
    plan->milestone = work_plan_block(plan, plan->n_milestones, sizeof *plan->milestone);
    g_autoptr(GPtrArray) needed = g_ptr_array_new_with_free_func((GDestroyNotify) g_array_unref);
    for (size_t i = 0; i < plan->n_milestones; i++)
        g_ptr_array_add(needed, g_array_new(FALSE, FALSE, sizeof(size_t)));
    for (size_t k = 0; k < plan->n_tasks; k++)
        for (size_t m = 0; m < plan->task[k].needed_for.n; m++)
            g_array_append_val((GArray *) needed->pdata[plan->task[k].needed_for.at[m]], k);
    for (size_t i = 0; i < plan->n_milestones; i++) {
        const Milestone *typed = records[i]->data;
        plan->milestone[i] = (WorkMilestone){
            records[i]->id, records[i]->path,    named(plan, typed->what, records[i]->id),
            typed->kind,    day_of(typed->date), work_plan_indices(plan, needed->pdata[i])};
    }
}

/* --- pace and today -------------------------------------------------------------------------------------------------- */

static void
fill_pace(Work *work)
{
    WorkPlan *plan = work->plan;
    plan->pace = work_plan_block(plan, plan->n_tasks, sizeof *plan->pace);
    for (size_t i = 0; i < plan->n_tasks; i++) {
        const WorkTask *task = &plan->task[i];
        double estimate_h = three_mean(task->takes_h) * task->people;
        if (task->state == WORK_DONE && estimate_h > 0.0 && task->spent_h > 0.0)
            plan->pace[plan->n_paces++] =
                (WorkPace){i, estimate_h, task->spent_h, task->spent_h / estimate_h};
    }
}

static int
last_day_known(const Work *work)
{
    size_t n;
    const Record *const *records = boat_records(work->boat, &section_log, &n);
    int last = 0;
    for (size_t i = 0; i < n; i++)
        last = MAX(last, day_of(((const LogEntry *) records[i]->data)->date));
    for (size_t i = 0; i < work->plan->n_tasks; i++)
        last = MAX(last, work->plan->task[i].finished_day);
    return last;
}

void
work_gather(Work *work, Date today)
{
    fill_tasks(work);
    fill_hands(work);
    fill_who(work->plan);
    fill_berth(work);
    fill_purchases(work);
    fill_milestones(work);
    fill_pace(work);
    work->plan->today = today.year != 0 ? day_of(today) : last_day_known(work);
}
