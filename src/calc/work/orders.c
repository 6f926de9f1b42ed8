/* Calculators of the order of work on a boat: what must come first, what a plan breaks, what undoing costs. */
#include <math.h>
#include <string.h>

#include "calc/work/tasks.h"
#include "physics/work/order.h"
#include "physics/work/plan_check.h"
#include "physics/work/undo.h"

/* --- zones and tags as words ----------------------------------------------------------------------------------------- */

typedef struct {
    Tasks tasks;
    OrderFacts facts;
    OrderTask *task;
    ZonePair *pair;
    GHashTable *zones, *openings; /* folded name to number + 1 */
    GPtrArray *blocks;
} Order;

static void
order_clear(Order *order)
{
    tasks_clear(&order->tasks);
    g_free(order->task);
    g_free(order->pair);
    g_clear_pointer(&order->zones, g_hash_table_unref);
    g_clear_pointer(&order->openings, g_hash_table_unref);
    g_clear_pointer(&order->blocks, g_ptr_array_unref);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Order, order_clear)

static size_t
number_of(GHashTable *names, const char *word)
{
    g_autofree char *folded = g_ascii_strdown(word, -1);
    size_t number = GPOINTER_TO_SIZE(g_hash_table_lookup(names, folded));
    if (number > 0)
        return number - 1;
    number = g_hash_table_size(names);
    g_hash_table_insert(names, g_steal_pointer(&folded), GSIZE_TO_POINTER(number + 1));
    return number;
}

static bool
holds(const size_t list[], size_t n, size_t value)
{
    for (size_t k = 0; k < n; k++)
        if (list[k] == value)
            return true;
    return false;
}

static void
zones_read(Order *order, const char *text, OrderTask *task)
{
    g_auto(GStrv) words = g_strsplit_set(text, " \t", -1);
    size_t *zone = g_new0(size_t, g_strv_length(words) + 1);
    g_ptr_array_add(order->blocks, zone);
    task->zone = zone;
    for (size_t k = 0; words[k] != NULL; k++) {
        size_t number = words[k][0] == '\0' ? 0 : number_of(order->zones, words[k]);
        if (words[k][0] != '\0' && !holds(zone, task->zones, number))
            zone[task->zones++] = number;
    }
}

static bool
part_read(Order *order, const char *word, OrderPart *part)
{
    static const struct {
        const char *prefix;
        OrderRole role;
    } roles[] = {{"support:", ROLE_SUPPORT},
                 {"cut:", ROLE_CUT},
                 {"close:", ROLE_CLOSE},
                 {"unsupport:", ROLE_UNSUPPORT},
                 {"large:", ROLE_LARGE}};
    for (size_t k = 0; k < G_N_ELEMENTS(roles); k++) {
        size_t length = strlen(roles[k].prefix);
        if (g_ascii_strncasecmp(word, roles[k].prefix, length) != 0 || word[length] == '\0')
            continue;
        *part = (OrderPart){roles[k].role, number_of(order->openings, word + length)};
        return true;
    }
    return false;
}

static unsigned
tag_of(const char *word)
{
    static const struct {
        const char *word;
        unsigned tag;
    } tags[] = {{"hot", ORDER_HOT},   {"dusty", ORDER_DUSTY},   {"wet", ORDER_WET},
                {"test", ORDER_TEST}, {"haul", ORDER_HAUL},     {"launch", ORDER_LAUNCH},
                {"move", ORDER_MOVE}, {"ashore", ORDER_ASHORE}, {"afloat", ORDER_AFLOAT}};
    for (size_t k = 0; k < G_N_ELEMENTS(tags); k++)
        if (g_ascii_strcasecmp(tags[k].word, word) == 0)
            return tags[k].tag;
    return 0;
}

static bool
tags_read(Order *order, const char *text, OrderTask *task, CalcResults *out)
{
    g_auto(GStrv) words = g_strsplit_set(text, " \t", -1);
    OrderPart *part = g_new0(OrderPart, g_strv_length(words) + 1);
    g_ptr_array_add(order->blocks, part);
    task->part = part;
    for (size_t k = 0; words[k] != NULL; k++) {
        if (words[k][0] == '\0')
            continue;
        unsigned tag = tag_of(words[k]);
        task->tags |= tag;
        if (tag == 0 && part_read(order, words[k], &part[task->parts])) {
            task->parts++;
        } else if (tag == 0) {
            g_autofree char *what = g_strdup_printf("tasks: \"%s\" is no tag", words[k]);
            results_error(out, what);
            return false;
        }
    }
    return true;
}

static bool
layer_read(double layer, OrderTask *task, CalcResults *out)
{
    task->layer = isnan(layer) ? -1 : (int) layer;
    if (isnan(layer) || (layer >= 0.0 && layer <= 5.0 && layer == floor(layer)))
        return true;
    results_refuse(out, "a layer is a whole number from 0 (structure) to 5 (what stands in front)");
    return false;
}

static const char *const share_words[] = {"face", "air", NULL};
static const Column zone_columns[] = {
    {.name = "zone"}, {.name = "zone_2"}, {.name = "share", .words = share_words}};

static void
pairs_read(const CalcArguments *in, Order *order)
{
    size_t n = argument_rows(in, "zones");
    order->pair = g_new0(ZonePair, n + 1);
    for (size_t k = 0; k < n; k++) {
        bool face = argument_column_choice(in, "zones", "share")[k] == 0;
        order->pair[k] = (ZonePair){
            number_of(order->zones, argument_column_text(in, "zones", "zone")[k]),
            number_of(order->zones, argument_column_text(in, "zones", "zone_2")[k]), face, !face};
    }
    order->facts.pairs = n;
    order->facts.pair = order->pair;
}

static bool
links_are_plain(const Order *order, CalcResults *out)
{
    for (size_t k = 0; k < order->tasks.net.ties; k++) {
        const Tie *tie = &order->tasks.net.tie[k];
        if (tie->kind == TIE_FINISH_START && tie->lag_h >= 0.0)
            continue;
        results_error(out, "links: only finish-start with a lag that is not negative");
        return false;
    }
    return true;
}

static bool
order_read(const CalcArguments *in, CalcResults *out, double airing_h, Order *order)
{
    order->zones = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
    order->openings = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
    order->blocks = g_ptr_array_new_with_free_func(g_free);
    if (!tasks_read(in, out, &order->tasks) || !links_are_plain(order, out))
        return false;
    order->task = g_new0(OrderTask, order->tasks.n + 1);
    for (size_t i = 0; i < order->tasks.n; i++) {
        OrderTask *task = &order->task[i];
        task->airing_h = airing_h;
        zones_read(order, argument_column_text(in, "tasks", "zones")[i], task);
        if (!layer_read(argument_column(in, "tasks", "layer")[i], task, out) ||
            !tags_read(order, argument_column_text(in, "tasks", "tags")[i], task, out))
            return false;
    }
    pairs_read(in, order);
    order->facts.n = order->tasks.n;
    order->facts.task = order->task;
    order->facts.zones = g_hash_table_size(order->zones);
    order->facts.openings = g_hash_table_size(order->openings);
    order->facts.ties = order->tasks.net.ties;
    order->facts.tie = order->tasks.net.tie;
    return true;
}

#define ORDER_COLUMNS                                                                              \
    {.name = "zones", .optional = true},                                                           \
        {.name = "layer", .unit = "1", .optional = true, .absent = NAN},                           \
        {.name = "tags", .optional = true}, AFTER_COLUMN
#define IN_ZONES                                                                                   \
    {                                                                                              \
        .name = "zones", .kind = INPUT_TABLE, .columns = zone_columns,                             \
        .n_columns = COUNT(zone_columns), .otherwise = "none"                                      \
    }

/* --- work-order ------------------------------------------------------------------------------------------------------ */

static const char *const rule_words[] = {"cover",   "heat",   "test",  "support", "ashore",
                                         "passage", "stated", "chain", "none",    NULL};
static const char *const relation_words[] = {"before", "after", "free", NULL};
static const Column order_columns[] = {TASK_COLUMN, ORDER_COLUMNS};
static const Input order_inputs[] = {IN_TABLE("tasks", order_columns), IN_ZONES, IN_LINKS,
                                     IN_TEXT("first", .word_kind = "task", .otherwise = "none"),
                                     IN_TEXT("then", .word_kind = "task", .otherwise = "none")};
static const Output order_outputs[] = {OUT_WORD("possible", no_yes_words),
                                       OUT_NUMBER("arcs", "1"),
                                       OUT_NUMBER("reduced_arcs", "1"),
                                       OUT_NUMBER("orders", "1"),
                                       OUT_TEXTS("cycle", "task"),
                                       OUT_WORDS("cycle_rule", rule_words),
                                       OUT_WORD("relation", relation_words),
                                       OUT_WORD("rule", rule_words),
                                       OUT_NUMBER("lag", "h")};

static const OrderArc *
arc_find(size_t n, const OrderArc arc[], size_t from, size_t to)
{
    for (size_t k = 0; k < n; k++)
        if (arc[k].from == from && arc[k].to == to)
            return &arc[k];
    return NULL;
}

static void
pair_set(const Order *order, size_t arcs, const OrderArc arc[], size_t first, size_t then,
         CalcResults *out)
{
    g_autofree bool *behind = g_new(bool, order->tasks.n + 1);
    g_autofree bool *before = g_new(bool, order->tasks.n + 1);
    order_reach(order->tasks.n, arcs, arc, first, behind);
    order_reach(order->tasks.n, arcs, arc, then, before);
    bool after = before[first] && !behind[then];
    const OrderArc *bound =
        after ? arc_find(arcs, arc, then, first) : arc_find(arcs, arc, first, then);
    results_word(out, "relation", behind[then] ? "before" : after ? "after" : "free");
    results_word(out, "rule",
                 bound != NULL           ? rule_words[bound->rule]
                 : behind[then] || after ? "chain"
                                         : "none");
    if (bound != NULL)
        results_set(out, "lag", bound->lag_h);
}

static void
loop_set(const Order *order, size_t arcs, const OrderArc arc[], CalcResults *out)
{
    size_t n = order->tasks.n;
    g_autofree size_t *task = g_new(size_t, n + 1), *which = g_new(size_t, n + 1);
    size_t length = order_loop(n, arcs, arc, task, which);
    for (size_t k = 0; k < length; k++) {
        results_word_at(out, "cycle", k, order->tasks.name[task[k]]);
        results_word_at(out, "cycle_rule", k, rule_words[arc[which[k]].rule]);
    }
}

static void
graph_set(const Order *order, size_t arcs, const OrderArc arc[], CalcResults *out)
{
    g_autofree bool *needless = g_new0(bool, arcs + 1);
    bool possible = order_reduce(order->tasks.n, arcs, arc, true, needless);
    results_word(out, "possible", no_yes_words[possible]);
    results_set(out, "arcs", (double) arcs);
    if (!possible) {
        loop_set(order, arcs, arc, out);
        return;
    }
    size_t kept = 0;
    for (size_t k = 0; k < arcs; k++)
        kept += !needless[k];
    results_set(out, "reduced_arcs", (double) kept);
    results_set(out, "orders", order_count(order->tasks.n, arcs, arc));
}

/* Number of the task named by the input; false with an error when there is none. */
static bool
task_named(const Order *order, const CalcArguments *in, const char *input, size_t *task,
           CalcResults *out)
{
    *task = tasks_find(&order->tasks, argument_text(in, input));
    if (*task < order->tasks.n)
        return true;
    g_autofree char *what =
        g_strdup_printf("%s: \"%s\" is no task of the table", input, argument_text(in, input));
    results_error(out, what);
    return false;
}

static void
run_order(const CalcArguments *in, CalcResults *out)
{
    g_auto(Order) order = {0};
    bool pair = argument_given(in, "first") && argument_given(in, "then"), cut_short;
    size_t first = 0, then = 0;
    if (argument_given(in, "first") != argument_given(in, "then")) {
        results_error(out, "first and then belong together");
        return;
    }
    if (!order_read(in, out, 0.0, &order))
        return;
    if (pair && (!task_named(&order, in, "first", &first, out) ||
                 !task_named(&order, in, "then", &then, out)))
        return;
    OrderArc *arc;
    size_t arcs = order_arcs(&order.facts, &arc, &cut_short);
    if (cut_short) {
        results_refuse(out, "too many tasks in one place");
    } else {
        graph_set(&order, arcs, arc, out);
        if (pair)
            pair_set(&order, arcs, arc, first, then, out);
    }
    free(arc);
}

const Calculator calculator_work_order = {
    .name = "work-order",
    .question = "which work must come first on a boat, and whether it can be done at all without "
                "undoing",
    .sheet = "work.md 3.1, 3.2, 3.3",
    CALCULATOR_BODY(order_inputs, order_outputs),
    .run = run_order,
};

/* --- plan-check ------------------------------------------------------------------------------------------------------ */

static const char *const broken_words[] = {"ashore",  "cover",  "heat",   "integrity",
                                           "passage", "people", "stated", "support",
                                           "test",    "vapour", NULL};
static const Column dated_columns[] = {
    TASK_COLUMN,
    {.name = "start", .unit = "h"},
    {.name = "duration", .unit = "h"},
    {.name = "need", .unit = "1", .optional = true, .absent = 1.0},
    ORDER_COLUMNS};
static const Input check_inputs[] = {IN_TABLE("tasks", dated_columns), IN_ZONES, IN_LINKS,
                                     IN_NUMBER("people", "1", .standard = "1"),
                                     IN_NUMBER("vent", "h", .standard = "24 h")};
static const Output check_outputs[] = {
    OUT_WORD("keeps", no_yes_words),        OUT_NUMBER("broken", "1"),
    OUT_TEXTS("broken_first", "task"),      OUT_TEXTS("broken_then", "task"),
    OUT_WORDS("broken_rule", broken_words), OUT_NUMBER("finish", "h")};

static bool
dates_are_sound(const DatedPlan *plan, size_t n, double vent_h, CalcResults *out)
{
    bool sound = vent_h >= 0.0 && plan->people >= 0.0 && plan->people == floor(plan->people);
    for (size_t i = 0; sound && i < n; i++)
        sound = isfinite(plan->start_h[i]) && plan->duration_h[i] >= 0.0 && plan->need[i] >= 0.0;
    if (!sound)
        results_refuse(out, "durations, needs and the airing are not negative, people are counted");
    return sound;
}

static void
run_check(const CalcArguments *in, CalcResults *out)
{
    g_auto(Order) order = {0};
    double vent_h = argument_number(in, "vent");
    DatedPlan plan = {.start_h = argument_column(in, "tasks", "start"),
                      .duration_h = argument_column(in, "tasks", "duration"),
                      .need = argument_column(in, "tasks", "need"),
                      .people = argument_number(in, "people")};
    if (!order_read(in, out, vent_h, &order) || !dates_are_sound(&plan, order.tasks.n, vent_h, out))
        return;
    Broken *broken;
    size_t n = plan_check(&order.facts, &plan, &broken);
    double finish_h = -INFINITY;
    for (size_t i = 0; i < order.tasks.n; i++)
        finish_h = fmax(finish_h, plan.start_h[i] + plan.duration_h[i]);
    results_word(out, "keeps", no_yes_words[n == 0]);
    results_set(out, "broken", (double) n);
    for (size_t k = 0; k < n; k++) {
        results_word_at(out, "broken_first", k, order.tasks.name[broken[k].first]);
        results_word_at(out, "broken_then", k, order.tasks.name[broken[k].then]);
        results_word_at(out, "broken_rule", k, broken_words[broken[k].rule]);
    }
    results_set(out, "finish", finish_h);
    free(broken);
}

const Calculator calculator_plan_check = {
    .name = "plan-check",
    .question = "which rules a plan with dates breaks",
    .sheet = "work.md 3.2",
    CALCULATOR_BODY(check_inputs, check_outputs),
    .run = run_check,
};

/* --- undo-cost ------------------------------------------------------------------------------------------------------- */

static const Column layer_columns[] = {
    {.name = "layer", .unit = "1"}, {.name = "remove", .unit = "h"}, {.name = "redo", .unit = "h"}};
static const Input undo_inputs[] = {IN_TABLE("present", layer_columns), IN_NUMBER("reach", "1"),
                                    IN_TABLE("face_present", layer_columns, .otherwise = "none"),
                                    IN_NUMBER("chance", "1", .standard = "1")};
static const Output undo_outputs[] = {OUT_NUMBER("undo", "h"), OUT_NUMBER("expected", "h")};
static const Method *const undo_methods[] = {&undo_cost_method, NULL};

/* NULL when a layer is no whole number. */
static PresentLayer *
layers_read(const CalcArguments *in, const char *table, size_t *n)
{
    *n = argument_rows(in, table);
    g_autofree PresentLayer *layers = g_new0(PresentLayer, *n + 1);
    for (size_t i = 0; i < *n; i++) {
        double layer = argument_column(in, table, "layer")[i];
        if (!(layer >= 0.0 && layer <= 5.0 && layer == floor(layer)))
            return NULL;
        layers[i] = (PresentLayer){(int) layer, argument_column(in, table, "remove")[i],
                                   argument_column(in, table, "redo")[i]};
    }
    return g_steal_pointer(&layers);
}

static void
run_undo(const CalcArguments *in, CalcResults *out)
{
    size_t n, faces;
    g_autofree PresentLayer *present = layers_read(in, "present", &n);
    g_autofree PresentLayer *face = layers_read(in, "face_present", &faces);
    double reach = argument_number(in, "reach"), chance = argument_number(in, "chance"), undo_h;
    bool whole = present != NULL && face != NULL && reach >= 0.0 && reach <= 5.0 &&
                 reach == floor(reach) && chance >= 0.0 && chance <= 1.0;
    if (!whole || undo_cost(n, present, (int) reach, faces, face, &undo_h) == REFUSED) {
        results_refuse(out,
                       "layers are whole numbers from 0 to 5, hours not negative, a chance from "
                       "0 to 1");
        return;
    }
    results_set(out, "undo", undo_h);
    results_set(out, "expected", chance * undo_h);
}

const Calculator calculator_undo_cost = {
    .name = "undo-cost",
    .question = "hours to take out and put back what hides a layer",
    .sheet = "work.md 3.4",
    CALCULATOR_BODY(undo_inputs, undo_outputs),
    .methods = undo_methods,
    .run = run_undo,
};
