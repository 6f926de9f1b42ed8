/* Puts the wiring together: places, cables, what flows.
 * Invariant: made from a boat without errors; what is not known leaves its part NAN, never guessed. */
#include "checks/wiring/mains.h"

#include <math.h>
#include <string.h>

#include "base/number.h"
#include "checks/derive/masses.h"
#include "physics/wiring/size.h"

void
flow_free(Flow *flow)
{
    g_free(flow->voltage_V);
    g_free(flow->cable_A);
    g_free(flow->metal_K);
    g_free(flow->running);
    g_free(flow->collapsed);
    g_free(flow->inverts_W);
    g_free(flow->lasting_A);
    g_free(flow);
}

Wiring *
wiring_new(const Boat *boat, const Catalog *catalog, Stage stage, const char *situation)
{
    Wiring *wiring = g_new0(Wiring, 1);
    wiring->boat = boat;
    wiring->catalog = catalog;
    wiring->stage = stage;
    wiring->only_situation = situation;
    wiring->units = ((const Vessel *) boat_single(boat, &section_boat)->data)->units;
    wiring->places = g_array_new(FALSE, TRUE, sizeof(Place));
    wiring->place_at = g_hash_table_new(g_str_hash, g_str_equal);
    wiring->cables = g_array_new(FALSE, TRUE, sizeof(Cable));
    wiring->mains = g_array_new(FALSE, TRUE, sizeof(Cable));
    wiring->mains_flows = g_ptr_array_new_with_free_func(mains_flow_free);
    wiring->links = g_array_new(FALSE, TRUE, sizeof(Cable));
    wiring->flows = g_ptr_array_new_with_free_func((GDestroyNotify) flow_free);
    wiring->starts = g_ptr_array_new_with_free_func((GDestroyNotify) flow_free);
    wiring_find_places(wiring);
    wiring_find_cables(wiring);
    mains_flow_all(wiring);
    wiring_flow_all(wiring);
    return wiring;
}

void
wiring_free(Wiring *wiring)
{
    if (wiring == NULL)
        return;
    g_array_unref(wiring->places);
    g_hash_table_unref(wiring->place_at);
    g_array_unref(wiring->cables);
    g_array_unref(wiring->mains);
    g_ptr_array_unref(wiring->mains_flows);
    g_array_unref(wiring->links);
    g_ptr_array_unref(wiring->flows);
    g_ptr_array_unref(wiring->starts);
    g_free(wiring->fault_A);
    g_free(wiring->weak_fault_A);
    g_free(wiring);
}

/* ---- places ---- */

static bool
gives_mains(const SourceSection *source)
{
    return source->kind == SOURCE_SHORE || source->kind == SOURCE_GENERATOR ||
           source->kind == SOURCE_INVERTER || source->kind == SOURCE_INVERTER_CHARGER;
}

size_t
wiring_place_find(const Wiring *wiring, const char *id)
{
    gpointer found = id != NULL ? g_hash_table_lookup(wiring->place_at, id) : NULL;
    return found != NULL ? GPOINTER_TO_SIZE(found) - 1 : NO_PLACE;
}

/* A source that is an item and gives direct current stands where the item stands. */
static size_t
place_of(const Wiring *wiring, const char *id)
{
    size_t found = wiring_place_find(wiring, id);
    const Record *source = id != NULL ? boat_find(wiring->boat, &section_sources, id) : NULL;
    if (found != NO_PLACE || source == NULL)
        return found;
    return wiring_place_find(wiring, ((const SourceSection *) source->data)->of.id);
}

static void
add_place(Wiring *wiring, const Record *record)
{
    Place place = {.id = record->id, .record = record, .fed_by = NO_PLACE, .nominal_V = NAN};
    if (record->section == &section_items) {
        place.load = record_role(record, &section_load);
        place.heater = record_role(record, &section_heater);
        place.battery = record_role(record, &section_battery);
    }
    if (wiring_place_find(wiring, place.id) != NO_PLACE)
        return;
    g_array_append_val(wiring->places, place);
    g_hash_table_insert(wiring->place_at, (gpointer) place.id,
                        GSIZE_TO_POINTER(wiring->places->len));
}

static void
add_source(Wiring *wiring, const Record *record)
{
    const SourceSection *source = record->data;
    bool apart = source->kind == SOURCE_CHARGER || source->kind == SOURCE_CONVERTER;
    size_t item =
        gives_mains(source) || apart ? NO_PLACE : wiring_place_find(wiring, source->of.id);
    if (item == NO_PLACE) {
        add_place(wiring, record);
        item = wiring_place_find(wiring, record->id);
    }
    Place *place = &g_array_index(wiring->places, Place, item);
    if (gives_mains(source)) {
        place->mains = true;
        place->mains_source = record;
    } else if (place->source == NULL)
        place->source = record;
}

static void
mark_charger(Wiring *wiring, const char *item, const Record *source)
{
    size_t i = wiring_place_find(wiring, item);
    if (i != NO_PLACE)
        g_array_index(wiring->places, Place, i).charger = source;
}

static void
name_ends(const Boat *boat, GHashTable *named)
{
    size_t n;
    const Record *const *records = boat_records(boat, &section_circuits, &n);
    for (size_t i = 0; i < n; i++) {
        const Circuit *circuit = records[i]->data;
        g_hash_table_add(named, (gpointer) (circuit->from.id != NULL ? circuit->from.id : ""));
        g_hash_table_add(named, (gpointer) (circuit->to.id != NULL ? circuit->to.id : ""));
    }
    records = boat_records(boat, &section_busbars, &n);
    for (size_t i = 0; i < n; i++) {
        const char *feeds = ((const Busbar *) records[i]->data)->fed_by.id;
        g_hash_table_add(named, (gpointer) (feeds != NULL ? feeds : ""));
    }
    records = boat_records(boat, &section_sources, &n);
    for (size_t i = 0; i < n; i++) {
        const char *of = ((const SourceSection *) records[i]->data)->of.id;
        g_hash_table_add(named, (gpointer) (of != NULL ? of : ""));
    }
}

static bool
is_electrical(const Record *item, GHashTable *named)
{
    return record_role(item, &section_load) != NULL || record_role(item, &section_heater) != NULL ||
           record_role(item, &section_battery) != NULL || g_hash_table_contains(named, item->id);
}

void
wiring_find_places(Wiring *wiring)
{
    g_autoptr(GHashTable) named = g_hash_table_new(g_str_hash, g_str_equal);
    name_ends(wiring->boat, named);
    size_t n;
    const Record *const *records = boat_records(wiring->boat, &section_busbars, &n);
    for (size_t i = 0; i < n; i++)
        add_place(wiring, records[i]);
    records = boat_records(wiring->boat, &section_items, &n);
    for (size_t i = 0; i < n; i++)
        if (item_aboard(records[i]->data, wiring->stage) && is_electrical(records[i], named))
            add_place(wiring, records[i]);
    records = boat_records(wiring->boat, &section_sources, &n);
    for (size_t i = 0; i < n; i++) {
        const char *of = ((const SourceSection *) records[i]->data)->of.id;
        if (of == NULL || wiring_place_find(wiring, of) != NO_PLACE)
            add_source(wiring, records[i]);
        if (of != NULL && ((const SourceSection *) records[i]->data)->kind == SOURCE_CHARGER)
            mark_charger(wiring, of, records[i]);
    }
    for (guint i = 0; i < wiring->places->len; i++) {
        Place *place = &g_array_index(wiring->places, Place, i);
        if (place->record->section == &section_busbars)
            place->fed_by = place_of(wiring, ((const Busbar *) place->record->data)->fed_by.id);
        place->direct = place->source != NULL || place->battery != NULL;
        if (place->battery != NULL)
            place->nominal_V = ((const BatteryRole *) place->battery->data)->voltage_V;
        else if (place->source != NULL)
            place->nominal_V = ((const SourceSection *) place->source->data)->voltage_V;
    }
}

/* ---- cables ---- */

static bool
pass_on(const Place *from, Place *to)
{
    if ((!from->mains && !from->direct) || to->mains || to->direct)
        return false;
    to->mains = from->mains;
    to->direct = from->direct;
    to->nominal_V = from->nominal_V;
    return true;
}

static bool
spread_over(Place *a, Place *b)
{
    return pass_on(a, b) || pass_on(b, a);
}

static void
reach(Wiring *wiring)
{
    for (bool changed = true; changed;) {
        changed = false;
        for (guint i = 0; i < wiring->cables->len; i++) {
            const Cable *cable = wiring_cable(wiring, i);
            changed |= spread_over(&g_array_index(wiring->places, Place, cable->from),
                                   &g_array_index(wiring->places, Place, cable->to));
        }
        for (guint i = 0; i < wiring->places->len; i++) {
            Place *place = &g_array_index(wiring->places, Place, i);
            if (place->fed_by != NO_PLACE)
                changed |= spread_over(&g_array_index(wiring->places, Place, place->fed_by), place);
        }
    }
}

/* The battery cable of an inverter leads to a place that gives mains voltage, and carries direct current. */
static bool
carries_mains(const Place *from, const Place *to)
{
    bool battery_cable = place_inverts(to) && from->direct && !from->mains;
    return !battery_cable && (from->mains || to->mains);
}

static void
part_mains(Wiring *wiring)
{
    g_autoptr(GArray) all = wiring->cables;
    wiring->cables = g_array_new(FALSE, TRUE, sizeof(Cable));
    for (guint i = 0; i < all->len; i++) {
        const Cable *cable = &g_array_index(all, Cable, i);
        bool mains =
            carries_mains(wiring_place(wiring, cable->from), wiring_place(wiring, cable->to));
        g_array_append_val(mains ? wiring->mains : wiring->cables, *cable);
    }
}

/* Marks what conductors of one kind join to the places that feed. */
static void
join(const Wiring *wiring, CircuitWires other, bool *joined)
{
    for (guint i = 0; i < wiring->places->len; i++)
        joined[i] = wiring_place(wiring, i)->source != NULL;
    for (bool changed = true; changed;) {
        changed = false;
        for (guint i = 0; i < wiring->cables->len; i++) {
            const Cable *cable = wiring_cable(wiring, i);
            if (joined[cable->from] == joined[cable->to] || cable->typed->wires == (int) other ||
                !isfinite(cable_ohm(cable, COLD_METAL_K)))
                continue;
            joined[cable->from] = joined[cable->to] = changed = true;
        }
        for (guint i = 0; i < wiring->places->len; i++) {
            size_t feeds = wiring_place(wiring, i)->fed_by;
            if (feeds == NO_PLACE || joined[feeds] == joined[i])
                continue;
            joined[feeds] = joined[i] = changed = true;
        }
    }
}

static void
find_joined(Wiring *wiring)
{
    g_autofree bool *out = g_new0(bool, wiring->places->len + 1),
                    *back = g_new0(bool, wiring->places->len + 1);
    join(wiring, WIRES_NEGATIVE, out);
    join(wiring, WIRES_POSITIVE, back);
    for (guint i = 0; i < wiring->places->len; i++)
        g_array_index(wiring->places, Place, i).joined = out[i] && back[i];
}

static size_t
conductor_column(const Circuit *typed)
{
    if (typed->strands == STRANDS_FLEXIBLE || typed->strands < 0)
        return typed->copper == COPPER_PLAIN ? CONDUCTOR_CLASS_5_PLAIN : CONDUCTOR_CLASS_5_TINNED;
    return typed->copper == COPPER_PLAIN ? CONDUCTOR_CLASS_2_PLAIN : CONDUCTOR_CLASS_2_TINNED;
}

double
circuit_ohm_per_m(const Wiring *wiring, const Circuit *typed, double area_m2, Validity *validity)
{
    const TradeTable *table = catalog_table(wiring->catalog, TABLE_CONDUCTORS);
    double ohm_per_m;
    *validity = size_figure(table->n, table->figure[0], table->figure[1 + conductor_column(typed)],
                            area_m2, &ohm_per_m);
    return ohm_per_m;
}

static void
find_resistance(const Wiring *wiring, Cable *cable)
{
    cable->resistance_source = catalog_table(wiring->catalog, TABLE_CONDUCTORS)->source[0];
    cable->ohm_per_m =
        circuit_ohm_per_m(wiring, cable->typed, cable->typed->area_m2, &cable->resistance_validity);
}

static void
put_links_apart(Wiring *wiring)
{
    for (guint i = 0; i < wiring->cables->len;) {
        const Cable *cable = wiring_cable(wiring, i);
        if (cable->typed->usually != USUALLY_APART) {
            i++;
            continue;
        }
        g_array_append_vals(wiring->links, cable, 1);
        g_array_remove_index(wiring->cables, i);
    }
}

void
wiring_find_cables(Wiring *wiring)
{
    size_t n;
    const Record *const *records = boat_records(wiring->boat, &section_circuits, &n);
    for (size_t i = 0; i < n; i++) {
        Cable cable = {.record = records[i],
                       .typed = records[i]->data,
                       .protect = record_role(records[i], &section_circuit_protect),
                       .measured = record_role(records[i], &section_measured_drop)};
        cable.from = place_of(wiring, cable.typed->from.id);
        cable.to = place_of(wiring, cable.typed->to.id);
        if (cable.from == NO_PLACE || cable.to == NO_PLACE || cable.from == cable.to)
            continue;
        cable.cranks = place_is_starter(wiring_place(wiring, cable.to)) ||
                       place_is_starter(wiring_place(wiring, cable.from));
        g_array_append_val(wiring->cables, cable);
    }
    reach(wiring);
    part_mains(wiring);
    for (guint i = 0; i < wiring->mains->len; i++) {
        Cable *cable = &g_array_index(wiring->mains, Cable, i);
        find_resistance(wiring, cable);
        cable_find_fixed_ampacity(wiring, cable);
    }
    for (guint i = 0; i < wiring->cables->len; i++) {
        Cable *cable = &g_array_index(wiring->cables, Cable, i);
        find_resistance(wiring, cable);
        const MeasuredDrop *drop = cable->measured != NULL ? cable->measured->data : NULL;
        bool printed =
            isfinite(cable->ohm_per_m * cable->typed->one_way_m * cable->typed->contacts_ohm);
        cable->by_reading = !printed && drop != NULL && isfinite(drop->drop_V / drop->current_A);
        cable_find_ampacity(wiring, cable);
    }
    put_links_apart(wiring);
    find_joined(wiring);
}

bool
wiring_spread(const Wiring *wiring, bool *reached)
{
    bool changed = false;
    for (guint i = 0; i < wiring->cables->len; i++) {
        const Cable *cable = wiring_cable(wiring, i);
        if (reached[cable->from] != reached[cable->to])
            reached[cable->from] = reached[cable->to] = changed = true;
    }
    for (guint i = 0; i < wiring->places->len; i++) {
        size_t fed_by = wiring_place(wiring, i)->fed_by;
        if (fed_by != NO_PLACE && reached[fed_by] != reached[i])
            reached[fed_by] = reached[i] = changed = true;
    }
    return changed;
}

/* ---- words ---- */

const char *
flow_words(Result *result, const Flow *flow)
{
    if (flow->only != NULL)
        return result_text(result, "nothing else running");
    g_autofree char *words = g_strdelimit(g_strdup(flow->situation), "-", ' ');
    return result_text(result, "%s", words);
}

const char *
wiring_shown(const Wiring *wiring, Result *result, double value, QuantityKind kind)
{
    UnitsChoice units = wiring->units == UNITS_IMPERIAL ? UNITS_IMPERIAL : UNITS_METRIC;
    g_autofree char *text = number_show(value, 0.05 * fabs(value), kind, units);
    return result_text(result, "%s", text);
}

const char *
named_records(Result *result, const GPtrArray *records, guint most)
{
    g_autoptr(GString) words = g_string_new(NULL);
    guint named = records->len <= most + 1 ? records->len : most;
    for (guint i = 0; i < named; i++) {
        const Record *record = g_ptr_array_index(records, i);
        bool last = i + 1 == records->len && i > 0;
        g_string_append_printf(words, "%s%s",
                               i == 0 ? ""
                               : last ? " and "
                                      : ", ",
                               result_name(result, record->path));
    }
    if (named < records->len)
        g_string_append_printf(words, " and %u more", records->len - named);
    return result_text(result, "%s", words->str);
}
