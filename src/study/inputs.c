/* Finds what is unsettled by walking the section tables, and moves it on a copy of the boat.
 * Invariant: what input_move did is undone by moving the same input by 0; nothing else of the copy changes. */
#include "study/inputs.h"

#include <math.h>
#include <string.h>

#include "boat/model.h"
#include "boat/work.h"
#include "checks/afloat/afloat.h"
#include "checks/afloat/calibrate.h"
#include "checks/afloat/quay_trial.h"

#define LEAST_GAP_M 0.01 /* two stations never stand in one place, a range is never empty */
#define PERSON_SPREAD_FRAC (10.0 / 85.0)

/* ---- what is never moved ---- */

/* Marks pass their doubt on to what is measured from them; readings, limits and papers are facts, not guesses. What a hull is
 * drawn from has its doubt in the shape as a whole (add_stray). What corrosion needs is a range of rules, far wider than any
 * input. */
static bool
section_is_still(const Section *section)
{
    bool corrosion =
        section == &section_coating || section == &section_anode || section == &section_metal;
    return corrosion || section == &section_marks || section == &section_measured ||
           section == &section_limits || section == &section_options || section == &section_berth ||
           section == &section_form || section == &section_tape || section == &section_strings ||
           section == &section_plumb || section == &section_measured_drop ||
           section_is_work(section);
}

/* Which discipline reads it; no other answer moves with it. */
static const char *
discipline_of(const Section *section)
{
    bool wiring = section == &section_battery || section == &section_heater ||
                  section == &section_load || section == &section_sources ||
                  section == &section_source_protect || section == &section_busbars ||
                  section == &section_busbar_protect || section == &section_circuits ||
                  section == &section_circuit_protect;
    return wiring ? "wiring" : "afloat";
}

static bool
field_is_still(const Section *section, const Field *field)
{
    bool people = (section == &section_boat || section == &section_person_place) &&
                  strcmp(field->key, "people") == 0;
    bool apart = (section == &section_items && strcmp(field->key, "mass") == 0) ||
                 (section == &section_boat && strcmp(field->key, "growth") == 0) ||
                 section == &section_hull || section == &section_stations;
    bool electrical = section == &section_situations && strcmp(field->key, "running") == 0;
    return people || apart || electrical || field->type == FIELD_MONEY;
}

static bool
in_list(const GArray *list, const Record *item)
{
    for (guint i = 0; i < list->len; i++)
        if (g_array_index(list, Mass, i).item == item)
            return true;
    return false;
}

/* Aboard when the water weighed her, or when something was tried on the quay. */
static bool
was_aboard(const Afloat *afloat, const Record *item)
{
    bool found = afloat->survey != NULL && in_list(afloat->survey->then, item);
    for (guint i = 0; i < afloat->trials->len && !found; i++)
        found = in_list(((const QuayTrial *) afloat->trials->pdata[i])->then, item);
    return found;
}

/* Aboard at the stage, or on a day of measuring: what has gone since is taken off what was weighed. */
static bool
record_counts(const Record *record, const Afloat *afloat)
{
    const Record *item = record->section == &section_items ? record : record->parent;
    if (item == NULL || item->section != &section_items || item_aboard(item->data, afloat->stage))
        return true;
    return was_aboard(afloat, item);
}

/* A tank whose volume is stated does not grow when it lies elsewhere. */
static bool
keeps_its_size(const Record *record)
{
    return record->section == &section_tank &&
           isfinite(((const TankRole *) record->data)->volume_m3);
}

/* ---- adding ---- */

static const char *
keep(Inputs *inputs, const char *text)
{
    return text == NULL ? NULL : g_string_chunk_insert_const(inputs->texts, text);
}

static void
add(Inputs *inputs, Input input)
{
    if (!isfinite(input.value) || !isfinite(input.spread) || !(input.spread > 0.0))
        return;
    input.path = keep(inputs, input.path);
    input.measure = keep(inputs, input.measure);
    g_array_append_val(inputs->input, input);
}

static Input
input_of(const Record *record, const Field *field, const char *path)
{
    bool bounded = field->min != 0.0 || field->max != 0.0;
    return (Input){.path = path,
                   .measure = path,
                   .record = record,
                   .field = field,
                   .discipline = discipline_of(record->section),
                   .low = bounded ? field->min : -INFINITY,
                   .high = bounded ? field->max : INFINITY};
}

static void
add_range(Inputs *inputs, Input input, const Range *range, double spread)
{
    double low = input.low, high = input.high;
    input.spread = spread;
    if (keeps_its_size(input.record)) {
        input.part = PART_SHIFT;
        input.value = (range->low + range->high) / 2.0;
        add(inputs, input);
        return;
    }
    input.part = PART_LOW;
    input.value = range->low;
    input.high = range->high - LEAST_GAP_M;
    add(inputs, input);
    input.part = PART_HIGH;
    input.value = range->high;
    input.low = fmax(low, range->low + LEAST_GAP_M);
    input.high = high;
    add(inputs, input);
}

static void
add_entries(Inputs *inputs, const Record *record, const Field *field, const Map *map)
{
    for (size_t i = 0; i < map->n; i++) {
        const MapEntry *entry = &map->entry[i];
        g_autofree char *path = g_strdup_printf("%s.%s.%s", record->path, field->key, entry->key);
        Input input = input_of(record, field, path);
        input.part = PART_ENTRY;
        input.entry = i;
        input.value = entry->value.value;
        input.spread = entry->value.spread;
        if (strcmp(field->key, "people") == 0) { /* heavier people, not more of them */
            input.spread = PERSON_SPREAD_FRAC * input.value;
            input.measure = NULL;
        }
        add(inputs, input);
    }
}

static void *
member_of(const Record *record, const Field *field)
{
    return (char *) record->data + field->offset;
}

static void
add_field(Inputs *inputs, const Record *record, const Field *field, const FieldState *state)
{
    if (field->type == FIELD_MAP) {
        add_entries(inputs, record, field, member_of(record, field));
        return;
    }
    g_autofree char *path = g_strdup_printf("%s.%s", record->path, field->key);
    Input input = input_of(record, field, path);
    switch (field->type) {
    case FIELD_RANGE:
    case FIELD_ALONG_RANGE:
    case FIELD_ACROSS_RANGE:
    case FIELD_HEIGHT_RANGE:
        add_range(inputs, input, member_of(record, field), state->spread);
        break;
    default:
        if (!field_is_number(field))
            break;
        input.value = *(const double *) member_of(record, field);
        input.spread = state->spread;
        add(inputs, input);
    }
}

/* Of an item that is nothing but a weight, what its place does is as large as its moment. */
static double
place_weight(const Afloat *afloat, const Record *record, const Field *field, double spread)
{
    if (record->section != &section_items || !field_is_place(field) ||
        record_role(record, &section_tank) != NULL ||
        record_role(record, &section_person_place) != NULL)
        return 0.0;
    for (guint i = 0; i < afloat->ship->len; i++) {
        const Mass *mass = &g_array_index(afloat->ship, Mass, i);
        if (mass->item == record)
            return mass->ledger.mass_kg * spread;
    }
    return 0.0;
}

/* Of a battery by its own voltage; of a circuit by that of the load at its end. What is not known counts as mains. */
static bool
is_low_voltage(const Boat *boat, const Record *record)
{
    const Record *load =
        record->section == &section_circuits
            ? boat_find(boat, &section_load, ((const Circuit *) record->data)->to.id)
        : record->section == &section_battery ? record
                                              : NULL;
    return load != NULL && record_number(load, "voltage") < 60.0;
}

/* The wiring asks for things that weigh nothing of their own, such as a lamp: where they hang moves nothing. */
static bool
moves_nothing(const Record *record, const Field *field)
{
    return record->section == &section_items && field_is_place(field) &&
           ((const Item *) record->data)->mass_kg == 0.0 &&
           record_role(record, &section_tank) == NULL &&
           record_role(record, &section_person_place) == NULL;
}

static void
add_places(Inputs *inputs, const Afloat *afloat, const Record *record, const Field *field)
{
    guint before = inputs->input->len;
    const FieldState *state = &record->state[field - record->section->fields];
    add_field(inputs, record, field, state);
    for (guint i = before; i < inputs->input->len; i++) {
        Input *input = &g_array_index(inputs->input, Input, i);
        input->weight = place_weight(afloat, record, field, input->spread);
        input->low_voltage = is_low_voltage(afloat->boat, record);
    }
}

static void
add_records(Inputs *inputs, const Afloat *afloat, const Section *section)
{
    size_t n;
    const Record *const *records = boat_records(afloat->boat, section, &n);
    for (size_t i = 0; i < n; i++) {
        if (!record_counts(records[i], afloat))
            continue;
        for (size_t k = 0; k < section->n_fields; k++)
            if (!field_is_still(section, &section->fields[k]) &&
                !moves_nothing(records[i], &section->fields[k]))
                add_places(inputs, afloat, records[i], &section->fields[k]);
    }
}

/* ---- masses, as the ledger takes them ---- */

static void
add_mass(Inputs *inputs, const Mass *mass)
{
    const Field *field = section_field(&section_items, "mass");
    g_autofree char *path = g_strdup_printf("%s.mass", mass->item->path);
    Input input = input_of(mass->item, field, path);
    input.part = isfinite(((const Item *) mass->item->data)->mass_kg) ? PART_NUMBER : PART_TYPICAL;
    input.value = mass->ledger.mass_kg;
    input.spread = mass->ledger.mass_spread_kg;
    input.group = mass->ledger.group == GROUP_BY_EYE      ? INPUT_BY_EYE
                  : mass->ledger.group == GROUP_CATALOGUE ? INPUT_CATALOGUE
                                                          : INPUT_ALONE;
    add(inputs, input);
}

/* An item whose weight is in the ship and nowhere else, as heavy as there is: it can carry a moment. */
static const Mass *
carrier(const Afloat *afloat)
{
    const Mass *best = NULL;
    for (guint i = 0; i < afloat->ship->len; i++) {
        const Mass *mass = &g_array_index(afloat->ship, Mass, i);
        if (mass->item == NULL || record_role(mass->item, &section_tank) != NULL ||
            record_role(mass->item, &section_person_place) != NULL ||
            record_role(mass->item, &section_ballast) != NULL ||
            (afloat->survey != NULL && in_list(afloat->survey->then, mass->item)))
            continue;
        /* What is still to be fitted is not there in between, like the growth itself. */
        bool planned = ((const Item *) mass->item->data)->state == ITEM_TO_FIT;
        bool was = best != NULL && ((const Item *) best->item->data)->state == ITEM_TO_FIT;
        if (best == NULL || (planned && !was) ||
            (planned == was && mass->ledger.mass_kg > best->ledger.mass_kg))
            best = mass;
    }
    return best;
}

/* What is set aside for growth may be none or twice as much, and lie elsewhere (checks/afloat/weigh). */
static void
add_growth(Inputs *inputs, const Afloat *afloat, const Mass *growth)
{
    const Record *boat = boat_single(afloat->boat, &section_boat);
    Input input = input_of(boat, section_field(&section_boat, "growth"), "boat.growth");
    input.measure = NULL;
    input.value = input.spread = afloat->vessel->growth_frac;
    add(inputs, input);
    const Mass *on = carrier(afloat);
    if (on == NULL || !(on->ledger.mass_kg > 0.0))
        return;
    static const char *const keys[] = {"along", "across", "height"};
    const LedgerItem *g = &growth->ledger;
    const double spread[] = {g->x_spread_m / (1.0 + afloat->vessel->growth_frac), g->y_spread_m,
                             g->z_spread_m};
    for (size_t k = 0; k < G_N_ELEMENTS(keys); k++) {
        input.record = on->item;
        input.field = section_field(&section_items, keys[k]);
        input.part = PART_MOMENT;
        input.value = record_number(on->item, keys[k]);
        input.spread = spread[k] * g->mass_kg / on->ledger.mass_kg;
        input.low = -INFINITY;
        input.high = INFINITY;
        add(inputs, input);
    }
}

/* Items of a day that are no part of her at this stage; each once. */
static void
add_former(Inputs *inputs, const Afloat *afloat, const GArray *then, GHashTable *seen)
{
    for (guint i = 0; then != NULL && i < then->len; i++) {
        const Mass *mass = &g_array_index(then, Mass, i);
        if (mass->item != NULL && !mass->liquid && !mass->person &&
            !in_list(afloat->ship, mass->item) && g_hash_table_add(seen, (gpointer) mass->item))
            add_mass(inputs, mass);
    }
}

static void
add_masses(Inputs *inputs, const Afloat *afloat)
{
    g_autoptr(GHashTable) seen = g_hash_table_new(NULL, NULL);
    for (guint i = 0; i < afloat->ship->len; i++) {
        const Mass *mass = &g_array_index(afloat->ship, Mass, i);
        if (mass->item != NULL)
            add_mass(inputs, mass);
    }
    add_former(inputs, afloat, afloat->survey != NULL ? afloat->survey->then : NULL, seen);
    for (guint i = 0; i < afloat->trials->len; i++)
        add_former(inputs, afloat, ((const QuayTrial *) afloat->trials->pdata[i])->then, seen);
}

/* ---- readings of the water ---- */

/* What one reading stays within: typed, else what the misfits of all of them say. */
static double
reading_spread(const Survey *survey, const Row *row)
{
    if (row->value.spread > 0.0)
        return row->value.spread;
    const SurveyFit *fit = &survey->fit;
    size_t n = fit->freedom + (fit->hogged ? FIT_TERMS : FIT_TERMS - 1);
    return fit->freedom > 0 ? fit->factor * fit->rms_m * sqrt((double) n / (double) fit->freedom)
                            : NAN;
}

static void
add_survey(Inputs *inputs, const Survey *survey)
{
    const Record *record = survey->record;
    const Measurement *typed = record->data;
    g_autofree char *path = g_strdup_printf("%s.readings", record->path);
    Input input = input_of(record, section_field(&section_measured, "readings"), path);
    input.part = PART_READING;
    input.low = -INFINITY;
    input.high = INFINITY;
    for (size_t i = 0; i < typed->readings.n; i++) {
        input.entry = i;
        input.value = typed->readings.row[i].value.value;
        input.spread = reading_spread(survey, &typed->readings.row[i]);
        add(inputs, input);
    }
    const Field *density = section_field(&section_measured, "density");
    add_field(inputs, record, density, record_state(record, "density"));
}

static void
add_surveys(Inputs *inputs, const Afloat *afloat)
{
    for (guint i = 0; i < afloat->surveys->len; i++) {
        const Survey *survey = g_ptr_array_index(afloat->surveys, i);
        if (survey->validity != REFUSED)
            add_survey(inputs, survey);
    }
}

/* Last of all, because it is carried by an item that moves too. */
static void
add_growths(Inputs *inputs, const Afloat *afloat)
{
    for (guint i = 0; i < afloat->ship->len; i++) {
        const Mass *mass = &g_array_index(afloat->ship, Mass, i);
        if (mass->item == NULL)
            add_growth(inputs, afloat, mass);
    }
}

/* ---- the hull: every station errs by itself ---- */

static int
by_along(gconstpointer a, gconstpointer b)
{
    double left = ((const StationSection *) (*(const Record *const *) a)->data)->along_m;
    double right = ((const StationSection *) (*(const Record *const *) b)->data)->along_m;
    return left < right ? -1 : left > right;
}

static void
add_station(Inputs *inputs, const Record *station, double within_m, double from_m, double to_m)
{
    const Field *points = section_field(&section_stations, "points");
    const Field *along = section_field(&section_stations, "along");
    g_autofree char *path = g_strdup_printf("%s.points", station->path);
    Input input = input_of(station, points, path);
    input.measure = "hull.within";
    input.value = 0.0;
    input.spread = within_m;
    input.low = -INFINITY;
    input.high = INFINITY;
    input.part = PART_BREADTHS;
    add(inputs, input);
    input.part = PART_HEIGHTS;
    add(inputs, input);
    /* Where a station was taken is taped like its breadths, unless its own spread is typed. */
    const FieldState *state = record_state(station, "along");
    g_autofree char *place = g_strdup_printf("%s.along", station->path);
    Input where = input_of(station, along, place);
    where.measure = "hull.within";
    where.value = ((const StationSection *) station->data)->along_m;
    where.spread = state->spread_typed ? state->spread : fmin(state->spread, within_m);
    where.low = from_m + LEAST_GAP_M;
    where.high = to_m - LEAST_GAP_M;
    add(inputs, where);
}

/* A drawn hull errs as a whole: broader than it was drawn by what its volume is known to, higher by what its points are. */
static void
add_stray(Inputs *inputs, const Afloat *afloat)
{
    const Record *hull = boat_single(afloat->boat, &section_hull);
    Input input = input_of(hull, section_field(&section_hull, "within"),
                           afloat->from_form ? "hull.form" : "hull.plumb");
    input.measure = afloat->from_form ? "hull.stations" : "hull.plumb";
    input.part = PART_STRAY;
    input.value = 0.0;
    input.spread = afloat->volume_frac;
    input.low = -0.9;
    input.high = INFINITY;
    if (afloat->hull == NULL)
        return;
    add(inputs, input);
    input.part = PART_RISE;
    input.spread = afloat->within_m;
    add(inputs, input);
}

static void
add_hull(Inputs *inputs, const Afloat *afloat)
{
    size_t n;
    const Record *const *records = boat_records(afloat->boat, &section_stations, &n);
    g_autoptr(GPtrArray) sorted = g_ptr_array_new();
    for (size_t i = 0; i < n; i++)
        g_ptr_array_add(sorted, (gpointer) records[i]);
    g_ptr_array_sort(sorted, by_along);
    for (guint i = 0; i < sorted->len; i++) {
        const StationSection *before = i > 0 ? ((const Record *) sorted->pdata[i - 1])->data : NULL;
        const StationSection *behind =
            i + 1 < sorted->len ? ((const Record *) sorted->pdata[i + 1])->data : NULL;
        add_station(inputs, sorted->pdata[i], afloat->within_m,
                    before != NULL ? before->along_m : -INFINITY,
                    behind != NULL ? behind->along_m : INFINITY);
    }
    if (sorted->len == 0)
        add_stray(inputs, afloat);
    const Record *hull = boat_single(afloat->boat, &section_hull);
    Input input = input_of(hull, section_field(&section_hull, "plate"), "hull.plate");
    input.value = record_number(hull, "plate");
    input.spread = record_state(hull, "plate")->spread;
    add(inputs, input);
}

/* ---- all of them ---- */

/* People of the situations that always exist are counted by boat.people. */
static void
add_crowd(Inputs *inputs, const Boat *boat)
{
    const Record *record = boat_single(boat, &section_boat);
    Input input = input_of(record, section_field(&section_boat, "people"), "boat.people");
    input.measure = NULL;
    input.value = ((const Vessel *) record->data)->people;
    input.spread = PERSON_SPREAD_FRAC * input.value;
    add(inputs, input);
}

Inputs *
inputs_of(const SolveInput *solve)
{
    Inputs *inputs = g_new0(Inputs, 1);
    inputs->input = g_array_new(FALSE, FALSE, sizeof(Input));
    inputs->texts = g_string_chunk_new(4096);
    g_autoptr(Afloat) afloat =
        afloat_new(solve->boat, solve->catalog, solve->stage, solve->situation, false);
    add_masses(inputs, afloat);
    add_hull(inputs, afloat);
    for (size_t i = 0; boat_sections[i] != NULL; i++)
        if (!section_is_still(boat_sections[i]))
            add_records(inputs, afloat, boat_sections[i]);
    add_crowd(inputs, solve->boat);
    add_surveys(inputs, afloat);
    add_growths(inputs, afloat);
    return inputs;
}

void
inputs_free(Inputs *inputs)
{
    if (inputs == NULL)
        return;
    g_array_unref(inputs->input);
    g_string_chunk_free(inputs->texts);
    g_free(inputs);
}

/* ---- moving ---- */

static void
move_points(const Input *input, const Record *record, double delta)
{
    const StationSection *from = input->record->data;
    StationSection *to = record->data;
    for (size_t i = 0; i < to->points.n; i++) {
        const Row *was = &from->points.row[i];
        Row *row = (Row *) &to->points.row[i]; /* a copy's rows are its own */
        if (input->part == PART_HEIGHTS)
            row->height_m = was->height_m + delta;
        else if (was->across_m > 0.0) /* the centreline is where it is */
            row->across_m = fmax(0.0, was->across_m + delta);
    }
}

static void
move_typical(const Input *input, const Record *record, double delta)
{
    Item *item = record->data;
    FieldState *state = (FieldState *) record_state(record, "mass");
    item->mass_kg = delta == 0.0 ? NAN : fmax(input->low, input->value + delta);
    state->spread = delta == 0.0 ? NAN : input->spread;
}

void
input_move(const Input *input, Boat *copy, double delta)
{
    const Field *field;
    const Record *record = boat_at(copy, input->record->path, &field);
    g_return_if_fail(record != NULL);
    double value = CLAMP(input->value + delta, fmin(input->low, input->value),
                         fmax(input->high, input->value));
    switch (input->part) {
    case PART_BREADTHS:
    case PART_HEIGHTS:
        move_points(input, record, delta);
        return;
    case PART_STRAY:
        ((HullSection *) record->data)->stray_frac = value;
        return;
    case PART_RISE:
        ((HullSection *) record->data)->stray_m = value;
        return;
    case PART_TYPICAL:
        move_typical(input, record, delta);
        return;
    case PART_LOW:
        ((Range *) member_of(record, input->field))->low = value;
        return;
    case PART_HIGH:
        ((Range *) member_of(record, input->field))->high = value;
        return;
    case PART_SHIFT: {
        const Range *from = member_of(input->record, input->field);
        Range *to = member_of(record, input->field);
        to->low = from->low + value - input->value;
        to->high = from->high + value - input->value;
        return;
    }
    case PART_ENTRY: {
        Map *map = member_of(record, input->field);
        ((MapEntry *) &map->entry[input->entry])->value.value = value;
        return;
    }
    case PART_READING: {
        Rows *rows = member_of(record, input->field);
        ((Row *) &rows->row[input->entry])->value.value = value;
        return;
    }
    case PART_MOMENT: /* on top of where the item itself was moved to */
        if (delta != 0.0) {
            *(double *) member_of(record, input->field) += delta;
            return;
        }
        break;
    case PART_NUMBER:
        break;
    }
    *(double *) member_of(record, input->field) = value;
}
