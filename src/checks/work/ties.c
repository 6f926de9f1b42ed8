/* Ties of the plan: what the rules of order make of layers, zones and tags, and what the owner says himself.
 *
 * Invariant: only open tasks are tied, and a tie that the owner overrules stands in the plan with his reason but binds nobody. */
#include <math.h>
#include <string.h>

#include "checks/work/zones.h"

typedef struct {
    Work *work;
    WorkPlan *plan;
    size_t n, *task; /* open tasks: their places in the plan */
    size_t *at;      /* [n_tasks] place among the open ones, or NO_TASK */
    OrderTask *order;
    GPtrArray *blocks;
    GHashTable *opening; /* id to number + 1 */
    GPtrArray *opening_id;
    GHashTable *by_id; /* id of a task to place in the plan + 1 */
    GArray *ties;      /* WorkTie */
    const Choice *layers;
    const char **zone_words; /* of each zone that was told of */
} Maker;

static const WorkSection *
typed_of(const WorkTask *task)
{
    return task->record != NULL ? task->record->data : NULL;
}

/* --- stated ties ------------------------------------------------------------------------------------------------------ */

static void
state(Maker *m, size_t from, size_t to, WorkRule rule, const char *why)
{
    size_t a = m->at[from], b = m->at[to];
    if (a == NO_TASK || b == NO_TASK)
        return;
    if (m->work->stated->len >= ORDER_MOST_ARCS) {
        m->work->cut_short = true;
        return;
    }
    Tie tie = {a, b, TIE_FINISH_START, 0.0};
    WorkReason reason = {rule, why};
    g_array_append_val(m->work->stated, tie);
    g_array_append_val(m->work->reason, reason);
}

static size_t
find_task(const Maker *m, const char *id)
{
    size_t place = GPOINTER_TO_SIZE(g_hash_table_lookup(m->by_id, id));
    return place > 0 ? place - 1 : NO_TASK;
}

static void
state_after(Maker *m, size_t i)
{
    const WorkSection *typed = typed_of(&m->plan->task[i]);
    for (size_t k = 0; k < typed->after.n; k++) {
        size_t from = find_task(m, typed->after.id[k]);
        if (from != NO_TASK)
            state(m, from, i, RULE_STATED,
                  work_plan_text(m->plan, "you wrote that \"%s\" comes after \"%s\"",
                                 m->plan->task[i].name, m->plan->task[from].name));
    }
}

/* What works on a thing, or opens it, comes before what covers it; what opens it comes before what works on it. */
static void
state_cover(Maker *m, size_t i, const char *thing, bool covers)
{
    const GArray *tasks = work_on(m->work, thing);
    for (guint k = 0; tasks != NULL && k < tasks->len && !m->work->cut_short; k++) {
        size_t other = g_array_index(tasks, size_t, k);
        const WorkTask *task = &m->plan->task[other];
        const char *name = work_thing_name(m->work, thing);
        if (other == i)
            continue;
        if (covers)
            state(m, other, i, (task->tags & TAG_TEST) != 0 ? RULE_TEST : RULE_COVER,
                  work_plan_text(m->plan, "\"%s\" covers the %s, on which \"%s\" still works",
                                 m->plan->task[i].name, name, task->name));
        else
            state(m, i, other, RULE_COVER,
                  work_plan_text(m->plan, "\"%s\" has to lay the %s open for \"%s\"",
                                 m->plan->task[i].name, name, task->name));
    }
}

static void
state_all(Maker *m)
{
    for (size_t k = 0; k < m->n; k++) {
        size_t i = m->task[k];
        const WorkTask *task = &m->plan->task[i];
        if (typed_of(task) == NULL)
            continue;
        state_after(m, i);
        for (size_t c = 0; c < task->covers->n; c++)
            state_cover(m, i, task->covers->id[c], true);
        for (size_t c = 0; c < task->opens->n; c++)
            state_cover(m, i, task->opens->id[c], false);
    }
}

/* A lamp is connected when it is there: its circuit first laid, then the lamp. Only of tasks that nobody wrote. */
static void
state_proposed(Maker *m)
{
    for (size_t k = 0; k < m->n; k++) {
        const WorkTask *task = &m->plan->task[m->task[k]];
        if (task->stated || !g_str_has_prefix(task->path, "circuits."))
            continue;
        const Circuit *circuit =
            boat_find(m->work->boat, &section_circuits, task->path + strlen("circuits."))->data;
        if (circuit->to.id == NULL)
            continue;
        g_autofree char *id = g_strconcat("fit-", circuit->to.id, NULL);
        size_t fit = find_task(m, id);
        if (fit != NO_TASK && !m->plan->task[fit].stated)
            state(m, m->task[k], fit, RULE_STATED,
                  work_plan_text(m->plan, "a thing is connected once its cable is laid"));
    }
}

/* --- facts for the rules ---------------------------------------------------------------------------------------------- */

static size_t
opening_number(Maker *m, const char *id)
{
    size_t number = GPOINTER_TO_SIZE(g_hash_table_lookup(m->opening, id));
    if (number > 0)
        return number - 1;
    g_ptr_array_add(m->opening_id, (gpointer) id);
    g_hash_table_insert(m->opening, (gpointer) id, GSIZE_TO_POINTER(m->opening_id->len));
    return m->opening_id->len - 1;
}

static void
fill_parts(Maker *m, const WorkSection *typed, OrderTask *task)
{
    const struct {
        const List *list;
        OrderRole role;
    } roles[] = {{&typed->supports, ROLE_SUPPORT},
                 {&typed->cuts, ROLE_CUT},
                 {&typed->closes, ROLE_CLOSE},
                 {&typed->unsupports, ROLE_UNSUPPORT},
                 {&typed->passes, ROLE_LARGE}};
    size_t n = 0;
    for (size_t i = 0; i < G_N_ELEMENTS(roles); i++)
        n += roles[i].list->n;
    OrderPart *part = g_new0(OrderPart, n + 1);
    g_ptr_array_add(m->blocks, part);
    task->part = part;
    for (size_t i = 0; i < G_N_ELEMENTS(roles); i++)
        for (size_t k = 0; k < roles[i].list->n; k++)
            part[task->parts++] =
                (OrderPart){roles[i].role, opening_number(m, roles[i].list->id[k])};
}

static unsigned
order_tags(const WorkTask *task)
{
    static const struct {
        unsigned tag, order;
    } tags[] = {{TAG_HOT, ORDER_HOT},   {TAG_DUSTY, ORDER_DUSTY}, {TAG_WET, ORDER_WET},
                {TAG_TEST, ORDER_TEST}, {TAG_HAUL, ORDER_HAUL},   {TAG_LAUNCH, ORDER_LAUNCH},
                {TAG_MOVE, ORDER_MOVE}};
    unsigned order = 0;
    for (size_t i = 0; i < G_N_ELEMENTS(tags); i++)
        order |= (task->tags & tags[i].tag) != 0 ? tags[i].order : 0u;
    order |= (task->needs & NEED_ASHORE) != 0 ? ORDER_ASHORE : 0u;
    return order | ((task->needs & NEED_AFLOAT) != 0 ? ORDER_AFLOAT : 0u);
}

/* A test that names no layer tests what lies in the layer of cables and pipes. */
static int
layer_of(const WorkTask *task)
{
    return task->layer < 0 && (task->tags & TAG_TEST) != 0 && task->side == SIDE_INSIDE
               ? LAYER_SERVICES
               : task->layer;
}

static void
fill_facts(Maker *m)
{
    for (size_t k = 0; k < m->n; k++) {
        const WorkTask *task = &m->plan->task[m->task[k]];
        OrderTask *order = &m->order[k];
        size_t zones;
        size_t *zone = zones_of_task(m->plan, task, &zones);
        g_ptr_array_add(m->blocks, zone);
        *order = (OrderTask){.zones = zones,
                             .zone = zone,
                             .layer = layer_of(task),
                             .tags = order_tags(task),
                             .wait_h = task->wait_h,
                             .watch_h = task->watch_h,
                             .launch_h = task->launch_wait_h,
                             .airing_h = task->airing_h};
        if (typed_of(task) == NULL)
            continue;
        order->whole = typed_of(task)->overrules.n > 0;
        fill_parts(m, typed_of(task), order);
    }
}

/* --- from arcs to ties ------------------------------------------------------------------------------------------------ */

static WorkRule
work_rule(const Work *work, const OrderArc *arc)
{
    static const WorkRule rules[] = {
        [ORDER_COVER] = RULE_COVER,        [ORDER_HEAT] = RULE_HEAT,
        [ORDER_TESTED] = RULE_TEST,        [ORDER_SUPPORT] = RULE_SUPPORT,
        [ORDER_LIES] = RULE_ASHORE,        [ORDER_PASSAGE] = RULE_PASSAGE,
        [ORDER_IMMERSION] = RULE_IMMERSION};
    return arc->rule == ORDER_STATED ? g_array_index(work->reason, WorkReason, arc->what).rule
                                     : rules[arc->rule];
}

static const char *
overruled_by(const WorkTask *task, WorkRule rule, const char *other)
{
    const WorkSection *typed = typed_of(task);
    for (size_t k = 0; typed != NULL && k < typed->overrules.n; k++) {
        const MapEntry *entry = &typed->overrules.entry[k];
        if (strcmp(entry->key, other) == 0 || work_rule_number(entry->key) == (int) rule)
            return entry->text;
    }
    return NULL;
}

const char *
work_overruled(const WorkTask *from, const WorkTask *to, WorkRule rule)
{
    const char *said = rule == RULE_STATED ? NULL : overruled_by(to, rule, from->id);
    return said != NULL || rule == RULE_STATED ? said : overruled_by(from, rule, to->id);
}

static const char *
layer_word(const Maker *m, int layer)
{
    return layer < 0 ? "a test" : m->layers[layer].word;
}

static const char *
words_of_zone(const Maker *m, size_t zone)
{
    if (m->zone_words[zone] == NULL)
        m->zone_words[zone] = zone_words(m->plan, zone);
    return m->zone_words[zone];
}

static const char *
why_of(Maker *m, const OrderArc *arc)
{
    const WorkTask *from = &m->plan->task[m->task[arc->from]],
                   *to = &m->plan->task[m->task[arc->to]];
    WorkPlan *plan = m->plan;
    const char *opening =
        arc->rule == ORDER_SUPPORT || arc->rule == ORDER_PASSAGE
            ? work_thing_name(m->work, g_ptr_array_index(m->opening_id, arc->what))
            : "";
    switch (arc->rule) {
    case ORDER_COVER:
    case ORDER_TESTED:
        return work_plan_joined(plan, "in ", words_of_zone(m, arc->what), " \"", from->name, "\" (",
                                layer_word(m, layer_of(from)), ") lies behind \"", to->name, "\" (",
                                layer_word(m, to->layer), ")", NULL);
    case ORDER_HEAT:
        return work_plan_joined(plan, "the heat of \"", from->name, "\" in ",
                                words_of_zone(m, arc->what), " would reach \"", to->name, "\" (",
                                layer_word(m, to->layer), ")", NULL);
    case ORDER_SUPPORT:
        return work_plan_text(
            plan, "the hole for the %s is held, cut, closed and let go in this order", opening);
    case ORDER_LIES:
        return work_plan_text(plan,
                              (to->tags & TAG_LAUNCH) != 0
                                  ? "\"%s\" needs her ashore, and \"%s\" puts her into the water"
                                  : "after \"%s\" she lies as \"%s\" needs her",
                              from->name, to->name);
    case ORDER_IMMERSION:
        return work_plan_text(plan, "\"%s\" must have cured before \"%s\"", from->name, to->name);
    case ORDER_PASSAGE:
        return work_plan_text(plan, "\"%s\" goes through the %s before \"%s\" shuts it", from->name,
                              opening, to->name);
    default:
        return g_array_index(m->work->reason, WorkReason, arc->what).why;
    }
}

static void
add_tie(Maker *m, const OrderArc *arc, const char *said)
{
    WorkTie tie = {.from = m->task[arc->from],
                   .to = m->task[arc->to],
                   .kind = WORK_TIE_AFTER,
                   .lag_h = arc->lag_h,
                   .cures = arc->lag_rule == ORDER_CURE || arc->lag_rule == ORDER_IMMERSION,
                   .rule = work_rule(m->work, arc),
                   .why = why_of(m, arc),
                   .overruled = said};
    g_array_append_val(m->ties, tie);
}

/* The waits that the owner overrules. */
static void
shorten(const Maker *m, OrderArc *arc)
{
    static const struct {
        OrderRule lag;
        WorkRule rule;
    } waits[] = {
        {ORDER_CURE, RULE_CURE}, {ORDER_IMMERSION, RULE_IMMERSION}, {ORDER_WATCH, RULE_FIRE_WATCH}};
    const WorkTask *from = &m->plan->task[m->task[arc->from]],
                   *to = &m->plan->task[m->task[arc->to]];
    for (size_t i = 0; i < G_N_ELEMENTS(waits); i++)
        if (arc->lag_rule == waits[i].lag && work_overruled(from, to, waits[i].rule) != NULL)
            arc->lag_h = 0.0;
}

/* Takes the overruled arcs out, in place; they become ties that bind nobody. */
static size_t
take_overruled(Maker *m, OrderArc arc[], size_t arcs)
{
    size_t kept = 0;
    for (size_t k = 0; k < arcs; k++) {
        const WorkTask *from = &m->plan->task[m->task[arc[k].from]],
                       *to = &m->plan->task[m->task[arc[k].to]];
        const char *said = work_overruled(from, to, work_rule(m->work, &arc[k]));
        if (said != NULL) {
            add_tie(m, &arc[k], said);
        } else {
            shorten(m, &arc[k]);
            arc[kept++] = arc[k];
        }
    }
    return kept;
}

static void
note_loop(Maker *m, size_t arcs, const OrderArc arc[])
{
    WorkPlan *plan = m->plan;
    g_autofree size_t *task = g_new(size_t, m->n + 1), *which = g_new(size_t, m->n + 1);
    size_t n = order_loop(m->n, arcs, arc, task, which);
    size_t *cycle = work_plan_block(plan, n, sizeof *cycle),
           *tie = work_plan_block(plan, n, sizeof *tie);
    for (size_t k = 0; k < n; k++) {
        cycle[k] = m->task[task[k]];
        tie[k] = m->ties->len;
        add_tie(m, &arc[which[k]], NULL);
    }
    plan->n_cycle = n;
    plan->cycle = cycle;
    plan->cycle_tie = tie;
}

/* The next coat must come in time: of what follows directly, wet work in the same place. */
static void
add_overcoats(Maker *m)
{
    guint n = m->ties->len;
    for (guint k = 0; k < n; k++) {
        WorkTie tie = g_array_index(m->ties, WorkTie, k);
        const WorkTask *from = &m->plan->task[tie.from], *to = &m->plan->task[tie.to];
        if (isnan(from->wait_most_h) || tie.overruled != NULL || (to->tags & TAG_WET) == 0)
            continue;
        tie.kind = WORK_TIE_NO_LATER;
        tie.lag_h = from->wait_most_h;
        tie.cures = false;
        tie.rule = RULE_CURE;
        tie.why =
            work_plan_text(m->plan, "\"%s\" must be overcoated before it is too hard", from->name);
        g_array_append_val(m->ties, tie);
    }
}

/* false: they hold a loop. */
static bool
tie_arcs(Maker *m, OrderArc arc[], size_t arcs)
{
    arcs = take_overruled(m, arc, arcs);
    g_autofree bool *needless = g_new0(bool, arcs + 1);
    if (!order_reduce(m->n, arcs, arc, false, needless))
        return false;
    for (size_t k = 0; k < arcs; k++)
        if (!needless[k])
            add_tie(m, &arc[k], NULL);
    return true;
}

/* The shortest loop stands only among all arcs. */
static void
explain_loop(Maker *m, const OrderFacts *facts)
{
    OrderArc *arc;
    bool cut_short;
    size_t arcs = order_arcs(facts, &arc, &cut_short);
    g_array_set_size(m->ties, 0);
    note_loop(m, take_overruled(m, arc, arcs), arc);
    free(arc);
}

static void
tie_all(Maker *m, const OrderFacts *facts)
{
    OrderArc *arc;
    bool cut_short;
    size_t arcs = order_few_arcs(facts, &arc, &cut_short);
    m->work->cut_short |= cut_short;
    if (!tie_arcs(m, arc, arcs))
        explain_loop(m, facts);
    free(arc);
    add_overcoats(m);
    m->plan->n_ties = m->ties->len;
    m->plan->tie = work_plan_block(m->plan, m->ties->len, sizeof(WorkTie));
    if (m->ties->len > 0)
        memcpy(m->plan->tie, m->ties->data, m->ties->len * sizeof(WorkTie));
}

static void
fill_exclusion(const Maker *m, const OrderApart *apart, WorkExclusion *exclusion)
{
    static const WorkRule rules[] = {[APART_INTEGRITY] = RULE_INTEGRITY,
                                     [APART_AIRING] = RULE_AIRING,
                                     [APART_ASHORE] = RULE_ASHORE};
    static const WorkExclusionKind kinds[] = {[APART_INTEGRITY] = EXCLUDE_INTEGRITY,
                                              [APART_AIRING] = EXCLUDE_AIRING,
                                              [APART_ASHORE] = EXCLUDE_ASHORE};
    static const char *const why[][3] = {
        [APART_INTEGRITY] = {"between \"", "\" and its closing she has a hole: no time for \"",
                             "\""},
        [APART_AIRING] = {"until \"", "\" has aired, \"", "\" would light its vapour or spoil it"},
        [APART_ASHORE] = {"from \"", "\" on she is out of the water, and \"",
                          "\" needs her afloat"}};
    const char *const *words = why[apart->kind];
    const WorkTask *first = &m->plan->task[m->task[apart->first]],
                   *other = &m->plan->task[m->task[apart->other]];
    *exclusion = (WorkExclusion){.first = m->task[apart->first],
                                 .last = apart->last < m->n ? m->task[apart->last] : NO_TASK,
                                 .other = m->task[apart->other],
                                 .kind = kinds[apart->kind],
                                 .lag_h = apart->lag_h,
                                 .rule = rules[apart->kind],
                                 .why = work_plan_joined(m->plan, words[0], first->name, words[1],
                                                         other->name, words[2], NULL),
                                 .overruled = work_overruled(first, other, rules[apart->kind])};
}

static void
exclude(Maker *m, const OrderFacts *facts)
{
    OrderApart *apart;
    size_t n = order_aparts(facts, &apart);
    m->plan->n_exclusions = n;
    m->plan->exclusion = work_plan_block(m->plan, n, sizeof(WorkExclusion));
    for (size_t k = 0; k < n; k++)
        fill_exclusion(m, &apart[k], &m->plan->exclusion[k]);
    free(apart);
}

/* --- what cures still ------------------------------------------------------------------------------------------------- */

enum { MOST_LOOKS = 1000000 };

/* Whether the open task must wait until the finished one has cured. */
static bool
must_wait(const Maker *m, const WorkTask *done, const WorkTask *task)
{
    const WorkSection *typed = typed_of(task);
    for (size_t k = 0; typed != NULL && k < typed->after.n; k++)
        if (strcmp(typed->after.id[k], done->id) == 0)
            return true;
    return done->layer >= 0 && task->layer > done->layer && zones_meet(m->work, done, task) == 1;
}

static int
cured_day(const WorkPlan *plan, const WorkTask *done, double wait_h)
{
    double warm_K = work_plan_temperature_K(plan, done, month_of(done->finished_day));
    double days = wait_h * work_wait_factor(done->wait_at_K, done->wait_least_K, warm_K) / 24.0;
    return days < 3660.0 ? done->finished_day + (int) ceil(days) : 0;
}

/* A coat that was finished yesterday holds up what follows it, and the launch. */
static void
wait_for_cures(Maker *m)
{
    WorkPlan *plan = m->plan;
    size_t looks = 0;
    for (size_t i = 0; i < plan->n_tasks; i++) {
        const WorkTask *done = &plan->task[i];
        bool cures = done->wait_h > 0.0 || done->launch_wait_h > 0.0;
        if (done->state != WORK_DONE || done->finished_day == 0 || !cures)
            continue;
        int next = cured_day(plan, done, done->wait_h);
        int launch = cured_day(plan, done, done->launch_wait_h);
        for (size_t k = 0; MAX(next, launch) > plan->today && k < m->n && looks++ < MOST_LOOKS;
             k++) {
            WorkTask *task = &plan->task[m->task[k]];
            bool launches = (task->tags & TAG_LAUNCH) != 0;
            int day = MAX(launches ? launch : 0, must_wait(m, done, task) ? next : 0);
            if (day > plan->today)
                task->not_before_day = MAX(task->not_before_day, day);
        }
    }
}

static void
take_open(Maker *m)
{
    m->task = g_new(size_t, m->plan->n_tasks + 1);
    m->at = g_new(size_t, m->plan->n_tasks + 1);
    for (size_t i = 0; i < m->plan->n_tasks; i++) {
        g_hash_table_insert(m->by_id, (gpointer) m->plan->task[i].id, GSIZE_TO_POINTER(i + 1));
        m->at[i] = NO_TASK;
        if (!work_task_is_open(&m->plan->task[i]))
            continue;
        m->at[i] = m->n;
        m->task[m->n++] = i;
    }
    m->order = g_new0(OrderTask, m->n + 1);
    m->zone_words = g_new0(const char *, SIDES * m->plan->n_spaces + 1);
    m->layers = section_field(&section_work, "layer")->choices;
}

static void
maker_clear(Maker *m)
{
    g_free(m->task);
    g_free(m->at);
    g_free(m->order);
    g_free(m->zone_words);
    g_ptr_array_unref(m->blocks);
    g_hash_table_unref(m->opening);
    g_ptr_array_unref(m->opening_id);
    g_hash_table_unref(m->by_id);
    g_array_unref(m->ties);
}

void
work_tie(Work *work)
{
    Maker m = {.work = work,
               .plan = work->plan,
               .blocks = g_ptr_array_new_with_free_func(g_free),
               .opening = g_hash_table_new(g_str_hash, g_str_equal),
               .opening_id = g_ptr_array_new(),
               .by_id = g_hash_table_new(g_str_hash, g_str_equal),
               .ties = g_array_new(FALSE, TRUE, sizeof(WorkTie))};
    zones_note(work);
    take_open(&m);
    wait_for_cures(&m);
    state_all(&m);
    state_proposed(&m);
    fill_facts(&m);
    OrderFacts facts = {.n = m.n,
                        .zones = SIDES * work->plan->n_spaces,
                        .openings = m.opening_id->len,
                        .pairs = work->pairs,
                        .ties = work->stated->len,
                        .task = m.order,
                        .pair = work->pair,
                        .tie = (const Tie *) (const void *) work->stated->data,
                        .lies_ashore = work->plan->lies == LIES_ASHORE};
    facts.stays = work->plan->n_stays = order_stays(&facts, m.order);
    for (size_t k = 0; k < m.n; k++)
        work->plan->task[m.task[k]].stay = m.order[k].stay;
    tie_all(&m, &facts);
    exclude(&m, &facts);
    maker_clear(&m);
}
