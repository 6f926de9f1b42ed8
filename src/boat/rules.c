/* Defaults that follow from other fields, and slips that only whole records show.
 *
 * Invariant: a default never touches a field that somebody wrote, not even as unknown. */
#include "boat/read_internal.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static FieldState *
state_of(const Record *record, const char *key)
{
    return (FieldState *) record_state(record, key);
}

static void
assume(const Record *record, const char *key, Quantity quantity)
{
    FieldState *state = state_of(record, key);
    if (state->origin != ORIGIN_MISSING)
        return;
    *record_double(record, section_field(record->section, key)) = quantity.value;
    state->origin = ORIGIN_DEFAULT;
    state->basis = BASIS_ASSUMED;
    state->spread = quantity.spread;
}

static void
assume_water(const Record *boat)
{
    const Vessel *vessel = boat->data;
    const char *word = vessel->waters == WATERS_CANAL || vessel->waters == WATERS_RIVER ? "fresh"
                       : vessel->waters == WATERS_SHELTERED                             ? "brackish"
                                                                                        : "salt";
    Quantity density;
    if (words_density(word, &density, NULL))
        assume(boat, "density", density);
}

static void
assume_deck(const Record *boat)
{
    Vessel *vessel = boat->data;
    if (state_of(boat, "deck")->origin == ORIGIN_DEFAULT && vessel->kind == KIND_OPEN_BOAT)
        vessel->deck = VESSEL_OPEN;
}

static void
assume_liquids(const Boat *boat)
{
    static const Quantity liquids[] = {[HOLDS_WATER] = {.value = 1000.0, .spread = 0.0},
                                       [HOLDS_FUEL] = {.value = 840.0, .spread = 20.0},
                                       [HOLDS_SEWAGE] = {.value = 1000.0, .spread = 20.0},
                                       /* 720 to 775 kg/m3: EN 228 as recalled */
                                       [HOLDS_PETROL] = {.value = 748.0, .spread = 28.0}};
    size_t n;
    const Record *const *tanks = boat_records(boat, &section_tank, &n);
    for (size_t i = 0; i < n; i++) {
        const TankRole *tank = tanks[i]->data;
        if (tank->holds >= 0 && tank->holds != HOLDS_OTHER)
            assume(tanks[i], "density", liquids[tank->holds]);
    }
}

/* 0.35 ohm: usual of a TN supply ashore, recalled (docs/methods/wires.md 5.3). */
static void
assume_shore_loop(const Boat *boat)
{
    size_t n;
    const Record *const *sources = boat_records(boat, &section_sources, &n);
    for (size_t i = 0; i < n; i++) {
        const SourceSection *source = sources[i]->data;
        if (source->kind == SOURCE_SHORE && source->shore_earth != EARTH_TRANSFORMER)
            assume(sources[i], "loop-impedance", (Quantity){.value = 0.35, .spread = 0.25});
    }
}

/* --- stations --------------------------------------------------------------------------------- */

static int
by_along(const void *a, const void *b)
{
    double first = ((const StationSection *) (*(const Record *const *) a)->data)->along_m;
    double second = ((const StationSection *) (*(const Record *const *) b)->data)->along_m;
    return (first > second) - (first < second);
}

static void
judge_station(Reader *r, const Record *record)
{
    const StationSection *station = record->data;
    FieldState *points = state_of(record, "points");
    if (points->origin == ORIGIN_TYPED && station->points.n < 2)
        reader_error(r, points->node,
                     "a station needs at least two points, from the keel to the deck edge");
    const HullSection *hull = boat_single(r->boat, &section_hull)->data;
    points->spread = hull->within_m;
}

static void
judge_stations(Reader *r)
{
    size_t n, m = 0;
    const Record *const *stations = boat_records(r->boat, &section_stations, &n);
    g_autofree const Record **sorted = g_new(const Record *, n + 1);
    for (size_t i = 0; i < n; i++) {
        judge_station(r, stations[i]);
        if (isfinite(((const StationSection *) stations[i]->data)->along_m))
            sorted[m++] = stations[i];
    }
    qsort(sorted, m, sizeof *sorted, by_along);
    for (size_t i = 1; i < m; i++) {
        double gap = ((const StationSection *) sorted[i]->data)->along_m -
                     ((const StationSection *) sorted[i - 1]->data)->along_m;
        const Record *later = sorted[i]->line > sorted[i - 1]->line ? sorted[i] : sorted[i - 1];
        if (gap < 1e-3)
            reader_error(r, state_of(later, "along")->node,
                         "the stations `%s` and `%s` stand at the same place along",
                         sorted[i - 1]->id, sorted[i]->id);
    }
}

/* --- ranges ----------------------------------------------------------------------------------- */

static void
judge_range(Reader *r, const Field *field, Range *range, const Node *node)
{
    if (!isfinite(range->low) || !isfinite(range->high))
        return;
    if (field->type == FIELD_ACROSS_RANGE && range->low > range->high) {
        double port = range->low; /* either side may be named first */
        range->low = range->high;
        range->high = port;
    }
    if (range->low >= range->high)
        reader_error(
            r, node,
            "the range is reversed or empty; expected the smaller number first, found `%s`",
            node->text);
    else if (within_bounds(r, field, node, range->low))
        within_bounds(r, field, node, range->high);
}

static void
judge_ranges(Reader *r)
{
    for (size_t i = 0; i < r->boat->records->len; i++) {
        const Record *record = r->boat->records->pdata[i];
        for (size_t j = 0; j < record->section->n_fields; j++) {
            const Field *field = &record->section->fields[j];
            bool range = field->type == FIELD_ALONG_RANGE || field->type == FIELD_ACROSS_RANGE ||
                         field->type == FIELD_HEIGHT_RANGE || field->type == FIELD_RANGE;
            if (range && record->state[j].origin == ORIGIN_TYPED)
                judge_range(r, field, field_member(field, record->data), record->state[j].node);
        }
    }
}

/* --- trials ----------------------------------------------------------------------------------- */

/* A freeboard has no way, and what a trial did has one. */
static void
judge_ways(Reader *r)
{
    size_t n;
    const Record *const *records = boat_records(r->boat, &section_measured, &n);
    for (size_t i = 0; i < n; i++) {
        const Measurement *typed = records[i]->data;
        for (size_t k = 0; k < typed->readings.n; k++) {
            bool way = typed->readings.row[k].way != 0, trial = typed->kind == MEASURED_TRIAL;
            if (way == trial)
                continue;
            reader_error(r, state_of(records[i], "readings")->node,
                         trial ? "reading %zu of a trial says `up` or `down`: 7 m port down 38 mm"
                               : "reading %zu says `up` or `down`, which only `kind: trial` has",
                         k + 1);
        }
    }
}

/* --- wiring ----------------------------------------------------------------------------------- */

static void
judge_ends(Reader *r, const Record *record, const char *key, const char *one, const char *other)
{
    if (one != NULL && other != NULL && strcmp(one, other) == 0)
        reader_error(r, state_of(record, key)->node,
                     "it leads from `%s` to itself; expected two different places", one);
}

static void
judge_wiring(Reader *r)
{
    size_t n;
    const Record *const *records = boat_records(r->boat, &section_circuits, &n);
    for (size_t i = 0; i < n; i++) {
        const Circuit *circuit = records[i]->data;
        judge_ends(r, records[i], "to", circuit->from.id, circuit->to.id);
    }
    records = boat_records(r->boat, &section_busbars, &n);
    for (size_t i = 0; i < n; i++)
        judge_ends(r, records[i], "fed-by", ((const Busbar *) records[i]->data)->fed_by.id,
                   records[i]->id);
    records = boat_records(r->boat, &section_sources, &n);
    for (size_t i = 0; i < n; i++) {
        const SourceSection *source = records[i]->data;
        bool item = source->of.id != NULL && boat_find(r->boat, &section_items, source->of.id);
        if (source->kind == SOURCE_BANK && item &&
            boat_find(r->boat, &section_battery, source->of.id) == NULL)
            reader_error(r, state_of(records[i], "of")->node,
                         "`%s` is no battery; expected an item with `battery:` below it",
                         source->of.id);
    }
}

void
rules_apply(Reader *r)
{
    const Record *boat = boat_single(r->boat, &section_boat);
    assume_water(boat);
    assume_deck(boat);
    assume_liquids(r->boat);
    assume_shore_loop(r->boat);
    judge_ranges(r);
    judge_stations(r);
    judge_ways(r);
    judge_wiring(r);
    rules_of_work(r);
}
