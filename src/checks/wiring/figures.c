/* The one-line diagram as plain data: every circuit of the file with its two ends, and what is answered of it.
 * Invariant: currents and drops are taken from the answers and findings, so that whatever discipline finds them, they are drawn. */
#include "checks/wiring/figures.h"

#include <math.h>
#include <string.h>

#include "base/number.h"
#include "boat/circuits.h"
#include "boat/written.h"
#include "checks/derive/masses.h"
#include "result/picture/one_line.h"

#define MAINS_V 60.0 /* above it is mains */

typedef struct {
    FigureStore *store;
    const Boat *boat;
    GArray *node;      /* OneLineNode */
    GHashTable *index; /* id -> node + 1; sources too */
} Gather;

static const char *
words_of(const Record *record, const char *what)
{
    return what != NULL && *what != '\0' ? what : record->id;
}

const char *
record_words(const Record *record)
{
    const Section *section = record->section;
    return words_of(record, section == &section_busbars ? ((const Busbar *) record->data)->what
                            : section == &section_sources
                                ? ((const SourceSection *) record->data)->what
                            : section == &section_circuits ? ((const Circuit *) record->data)->what
                            : section == &section_items    ? ((const Item *) record->data)->what
                                                           : NULL);
}

Guard
guard_of(const Record *role)
{
    Guard guard = {.kind = GUARD_UNSAID, .rating_A = NAN};
    if (role == NULL)
        return guard;
    const Protection *typed = role->data;
    guard.kind = typed->kind == PROTECT_FUSE      ? GUARD_FUSE
                 : typed->kind == PROTECT_BREAKER ? GUARD_BREAKER
                 : typed->kind == PROTECT_NONE    ? GUARD_NONE
                                                  : GUARD_UNSAID;
    guard.rating_A = typed->rating_A;
    guard.curve = typed->curve >= 0 ? "BCD"[typed->curve] : '\0';
    return guard;
}

/* ---- ends ---- */

static NodeKind
kind_of_source(const SourceSection *source)
{
    switch (source->kind) {
    case SOURCE_SHORE:
        return NODE_SHORE;
    case SOURCE_BANK:
        return NODE_BATTERY;
    case SOURCE_ALTERNATOR:
        return NODE_ALTERNATOR;
    case SOURCE_CHARGER:
        return NODE_CHARGER;
    case SOURCE_CONVERTER:
        return NODE_CONVERTER;
    case SOURCE_SOLAR:
        return NODE_SOLAR;
    case SOURCE_GENERATOR:
        return NODE_GENERATOR;
    case SOURCE_INVERTER:
    case SOURCE_INVERTER_CHARGER:
        return NODE_INVERTER;
    default:
        return NODE_UNKNOWN;
    }
}

/* The symbol only: no number follows from a word. */
static bool
called(const Record *item, const char *const words[])
{
    const char *what = ((const Item *) item->data)->what;
    for (; *words != NULL; words++)
        if (strstr(item->id, *words) != NULL || (what != NULL && strstr(what, *words) != NULL))
            return true;
    return false;
}

static NodeKind
kind_of_item(const Record *item)
{
    static const char *const lamps[] = {"light", "lamp", NULL};
    static const char *const inverters[] = {"inverter", NULL};
    static const char *const chargers[] = {"charger", NULL};
    const Record *load = record_role(item, &section_load);
    if (record_role(item, &section_battery) != NULL)
        return NODE_BATTERY;
    if (record_role(item, &section_heater) != NULL)
        return NODE_HEATER;
    if (load != NULL && ((const LoadRole *) load->data)->use == LOAD_STARTER)
        return NODE_STARTER;
    if (load != NULL && ((const LoadRole *) load->data)->draws == DRAWS_MOTOR)
        return NODE_MOTOR;
    return called(item, inverters)  ? NODE_INVERTER
           : called(item, chargers) ? NODE_CHARGER
           : called(item, lamps)    ? NODE_LAMP
                                    : NODE_OTHER_LOAD;
}

static double
volts_of_item(const Record *item)
{
    const Record *battery = record_role(item, &section_battery),
                 *heater = record_role(item, &section_heater),
                 *load = record_role(item, &section_load);
    return battery != NULL  ? ((const BatteryRole *) battery->data)->voltage_V
           : heater != NULL ? ((const HeaterRole *) heater->data)->voltage_V
           : load != NULL   ? ((const LoadRole *) load->data)->voltage_V
                            : NAN;
}

static OneLineNode
node_of(const Gather *g, const Record *record)
{
    OneLineNode node = {.path = record->path,
                        .name = record_words(record),
                        .nominal_V = NAN,
                        .guard = guard_of(NULL)};
    if (record->section == &section_busbars) {
        node.guard = guard_of(record_role(record, &section_busbar_protect));
    } else if (record->section == &section_sources) {
        const SourceSection *source = record->data;
        node.kind = kind_of_source(source);
        node.nominal_V = source->voltage_V;
    } else {
        const Item *item = record->data;
        node.kind = kind_of_item(record);
        node.nominal_V = volts_of_item(record);
        node.missing = !item_aboard(item, g->store->wiring->stage);
        node.change = item->state == ITEM_TO_FIT      ? CHANGE_FITTED
                      : item->state == ITEM_TO_REMOVE ? CHANGE_REMOVED
                                                      : CHANGE_NONE;
    }
    return node;
}

const Record *
end_record(const Boat *boat, const char *id)
{
    static const Section *const sections[] = {&section_busbars, &section_items, &section_sources};
    const Record *record = NULL;
    for (size_t i = 0; id != NULL && record == NULL && i < G_N_ELEMENTS(sections); i++)
        record = boat_find(boat, sections[i], id);
    if (record == NULL || record->section != &section_sources)
        return record;
    const char *of = ((const SourceSection *) record->data)->of.id;
    const Record *item = of != NULL ? boat_find(boat, &section_items, of) : NULL;
    return item != NULL ? item : record;
}

static size_t
append(Gather *g, OneLineNode node)
{
    g_array_append_val(g->node, node);
    return g->node->len - 1;
}

/* An end that is not written has a node of its own. */
static size_t
node_at(Gather *g, const char *id)
{
    const Record *record = end_record(g->boat, id);
    if (record == NULL)
        return append(g, (OneLineNode){.name = "an end that is not written down",
                                       .kind = NODE_UNKNOWN,
                                       .nominal_V = NAN,
                                       .guard = guard_of(NULL)});
    gpointer known = g_hash_table_lookup(g->index, record->path);
    if (known != NULL)
        return GPOINTER_TO_SIZE(known) - 1;
    size_t at = append(g, node_of(g, record));
    g_hash_table_insert(g->index, (gpointer) record->path, GSIZE_TO_POINTER(at + 1));
    return at;
}

/* What a source says of its item counts for the item. */
static void
mark_sources(Gather *g)
{
    size_t n;
    const Record *const *records = boat_records(g->boat, &section_sources, &n);
    for (size_t i = 0; i < n; i++) {
        const SourceSection *source = records[i]->data;
        const Record *item =
            source->of.id != NULL ? boat_find(g->boat, &section_items, source->of.id) : NULL;
        gpointer known =
            g_hash_table_lookup(g->index, item != NULL ? item->path : records[i]->path);
        if (known == NULL)
            continue;
        OneLineNode *node = &g_array_index(g->node, OneLineNode, GPOINTER_TO_SIZE(known) - 1);
        node->source = true;
        if (kind_of_source(source) != NODE_UNKNOWN)
            node->kind = kind_of_source(source);
        if (isnan(node->nominal_V) || node->kind == NODE_CONVERTER)
            node->nominal_V = source->voltage_V;
    }
    for (guint i = 0; i < g->node->len; i++) {
        OneLineNode *node = &g_array_index(g->node, OneLineNode, i);
        node->source |= node->kind == NODE_BATTERY;
    }
}

/* ---- circuits ---- */

static double
answered(const Result *result, const char *answer, const char *id)
{
    g_autofree char *name = g_strdup_printf("wiring.%s.%s", answer, id);
    const Answer *found = result_answer_find(result, name);
    return found != NULL ? found->value : NAN;
}

static const Finding *
judged(const Result *result, const char *check, const char *id)
{
    g_autofree char *name = g_strdup_printf("wiring.%s.%s", check, id);
    const Finding *found = result_finding_find(result, name);
    return found != NULL && found->measured && found->limit > 0.0 ? found : NULL;
}

/* Of a feeder, which no finding judges, the loss in itself counts against the stricter limit. */
static void
take_answers(const Gather *g, const Record *record, OneLineLink *link)
{
    const Result *result = g->store->answered;
    const Finding *loss = judged(result, "voltage-loss", record->id),
                  *heat = judged(result, "ampacity", record->id);
    if (loss == NULL)
        loss = judged(result, "mains-loss", record->id);
    link->current_A = answered(result, "current", record->id);
    link->drop_V = answered(result, "drop", record->id);
    link->load_frac = heat != NULL ? heat->value / heat->limit
                                   : link->current_A / answered(result, "may-carry", record->id);
    double volts = fmax(g_array_index(g->node, OneLineNode, link->from).nominal_V,
                        g_array_index(g->node, OneLineNode, link->to).nominal_V);
    const Limit *strict =
        catalog_limit(g->store->wiring->catalog, volts > MAINS_V ? "mains-drop" : "drop-critical");
    link->lost_frac =
        loss != NULL ? loss->value / loss->limit : link->drop_V / (strict->value * volts);
    const OneLineNode *end = &g_array_index(g->node, OneLineNode, link->to);
    if (end->kind == NODE_STARTER) { /* judged by the resistance of its loop */
        const Finding *lead = judged(result, "starter-lead", strchr(end->path, '.') + 1);
        link->lost_frac = lead != NULL ? lead->value / lead->limit : NAN;
        link->load_frac = NAN; /* for some seconds only */
    }
}

const char *
label_of(FigureStore *store, const Record *circuit)
{
    g_autofree char *label = circuit_label(store->wiring->boat, circuit);
    return figure_text(store, "%s", label);
}

/* NULL of a size in mm2: that is shown as a number. */
static const char *
gauge_of(FigureStore *store, const Record *circuit)
{
    g_autofree char *size = field_written_bare(circuit, "area");
    bool gauge = size != NULL && (strstr(size, "AWG") != NULL || strstr(size, "SAE") != NULL);
    return gauge ? figure_text(store, "%s", size) : NULL;
}

static OneLineLink
link_of(Gather *g, const Record *record)
{
    const Circuit *typed = record->data;
    OneLineLink link = {.path = record->path,
                        .name = record_words(record),
                        .label = label_of(g->store, record),
                        .size = gauge_of(g->store, record),
                        .from = node_at(g, typed->from.id),
                        .to = node_at(g, typed->to.id),
                        .guard = guard_of(record_role(record, &section_circuit_protect)),
                        .area_m2 = typed->area_m2,
                        .length_m = typed->one_way_m};
    link.conductors = typed->wires == WIRES_POSITIVE   ? CONDUCTORS_POSITIVE
                      : typed->wires == WIRES_NEGATIVE ? CONDUCTORS_NEGATIVE
                                                       : CONDUCTORS_PAIR;
    return link;
}

static void
add_bolted(Gather *g, GArray *links)
{
    size_t n;
    const Record *const *records = boat_records(g->boat, &section_busbars, &n);
    for (size_t i = 0; i < n; i++) {
        const char *fed_by = ((const Busbar *) records[i]->data)->fed_by.id;
        if (fed_by == NULL)
            continue;
        size_t from = node_at(g, fed_by), to = node_at(g, records[i]->id);
        const OneLineNode *board = &g_array_index(g->node, OneLineNode, to);
        OneLineLink link = {.path = records[i]->path,
                            .name = record_words(records[i]),
                            .from = from,
                            .to = to,
                            .bolted = true,
                            .guard = board->guard,
                            .area_m2 = NAN,
                            .length_m = NAN,
                            .current_A = NAN,
                            .drop_V = NAN,
                            .lost_frac = NAN,
                            .load_frac = NAN};
        g_array_index(g->node, OneLineNode, to).guard = guard_of(NULL); /* it is in the link */
        g_array_append_val(links, link);
    }
}

/* A board has the voltage of what reaches it. */
static void
spread_volts(GArray *nodes, const GArray *links)
{
    for (bool changed = true; changed;) {
        changed = false;
        for (guint i = 0; i < links->len; i++) {
            const OneLineLink *link = &g_array_index(links, OneLineLink, i);
            OneLineNode *from = &g_array_index(nodes, OneLineNode, link->from),
                        *to = &g_array_index(nodes, OneLineNode, link->to);
            OneLineNode *lacks = isnan(to->nominal_V) ? to : from;
            double volts = lacks == to ? from->nominal_V : to->nominal_V;
            if (isnan(lacks->nominal_V) && isfinite(volts)) {
                lacks->nominal_V = volts;
                changed = true;
            }
        }
    }
}

static const char *
caption(FigureStore *store)
{
    const Wiring *wiring = store->wiring;
    const Vessel *vessel = boat_single(wiring->boat, &section_boat)->data;
    const char *situation = wiring->only_situation != NULL
                                ? figure_situation(store, wiring->boat, wiring->only_situation)
                                : "each circuit in its worst situation";
    return figure_text(store, "%s, %s: %s", vessel->name, store->stage, situation);
}

void *
figure_one_line(FigureStore *store)
{
    const Boat *boat = store->wiring->boat;
    size_t n;
    const Record *const *records = boat_records(boat, &section_circuits, &n);
    if (n == 0) {
        store->why_not = "no circuit is written down: begin with the cable of a bank, from it to "
                         "its busbar (circuits.ID)";
        return NULL;
    }
    g_autoptr(GArray) nodes = g_array_new(FALSE, TRUE, sizeof(OneLineNode));
    g_autoptr(GArray) links = g_array_new(FALSE, TRUE, sizeof(OneLineLink));
    g_autoptr(GHashTable) index = g_hash_table_new(g_str_hash, g_str_equal);
    Gather g = {store, boat, nodes, index};
    for (size_t i = 0; i < n; i++) {
        OneLineLink link = link_of(&g, records[i]);
        g_array_append_val(links, link);
    }
    add_bolted(&g, links);
    mark_sources(&g);
    spread_volts(nodes, links);
    for (size_t i = 0; i < n; i++)
        take_answers(&g, records[i], &g_array_index(links, OneLineLink, i));
    OneLineNode *node = figure_block(store, nodes->len * sizeof *node);
    OneLineLink *link = figure_block(store, links->len * sizeof *link);
    memcpy(node, nodes->data, nodes->len * sizeof *node);
    memcpy(link, links->data, links->len * sizeof *link);
    OneLinePicture *fig = figure_block(store, sizeof *fig);
    *fig = (OneLinePicture){caption(store), nodes->len, links->len, node, link};
    return fig;
}
