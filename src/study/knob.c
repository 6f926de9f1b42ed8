/* Levers as things that can be turned.
 * Invariant: what knob_set puts on a copy is what the text of knob_edits reads back as. */
#include "study/knob.h"

#include <math.h>
#include <string.h>

#include "base/unit.h"
#include "boat/model.h"

#define BUILT_WITHIN_M 0.02  /* a builder works to a mark */
#define SHORTEST_SPACE_M 0.6 /* somebody must get in to weld */
#define FARTHEST_M 2.0       /* a pipe is not led higher */
#define WARMEST_K 15.0       /* an electric heater or two do not do more */
#define MOST_TIMES 20.0 /* of what is set by the dozen or cut with a saw: anodes, ways for air */
#define MOST_SIZES 6.0  /* a cable six times as thick is another installation */
#define BRICK_SPREAD_FRAC 0.02 /* bricks are weighed, ten at a time */

static bool
is_length(const Field *field)
{
    return field->kind == Q_LENGTH || field->kind == Q_SMALL_LENGTH;
}

/* How far a builder goes with it, and in which steps: things that are counted come whole, and many of them. */
static double
most_of(const Field *field, double from)
{
    bool many = field->type == FIELD_COUNT || field->kind == Q_OPENING_AREA;
    return is_length(field)               ? FARTHEST_M
           : field->kind == Q_TEMPERATURE ? WARMEST_K
           : many                         ? MOST_TIMES * fabs(from)
                                          : fabs(from);
}

static double
step_of(const Field *field, double from)
{
    bool whole =
        field->type == FIELD_COUNT || field->kind == Q_TEMPERATURE || field->kind == Q_DURATION;
    return is_length(field) ? 0.01 : whole ? 1.0 : fabs(from) / 100.0;
}

bool
knob_of_number(const Boat *boat, const Lever *lever, bool more, Knob *knob)
{
    const Field *field;
    const Record *record = boat_at(boat, lever->path, &field);
    if (record == NULL || field == NULL || record_double((Record *) record, field) == NULL)
        return false;
    double from = *record_double((Record *) record, field);
    bool bounded = field->min != 0.0 || field->max != 0.0;
    double low = isfinite(lever->low) ? lever->low : bounded ? field->min : -INFINITY;
    double high = isfinite(lever->high) ? lever->high : bounded ? field->max : INFINITY;
    double room = more ? high - from : from - low;
    *knob = (Knob){.kind = REMEDY_NUMBER,
                   .path = lever->path,
                   .sign = more ? 1.0 : -1.0,
                   .most = fmin(room, most_of(field, from)),
                   .step = step_of(field, from),
                   .field = field,
                   .from = from};
    return isfinite(from) && knob->most > knob->step && knob->step > 0.0;
}

bool
knob_of_size(const Boat *boat, const Catalog *catalog, const Lever *lever, Knob *knob)
{
    const TradeTable *table = catalog_table(catalog, TABLE_CONDUCTORS);
    if (!knob_of_number(boat, lever, true, knob))
        return false;
    knob->sizes = table->figure[0];
    knob->n_sizes = table->n;
    knob->most = fmin(table->figure[0][table->n - 1], MOST_SIZES * knob->from) - knob->from;
    return knob->field->type == FIELD_WIRE && knob->most > knob->step;
}

bool
knob_of_anode(const Boat *boat, const Catalog *catalog, const Lever *lever, Knob *knob)
{
    const TradeTable *table = catalog_table(catalog, TABLE_USUAL_ANODES);
    const Field *field;
    const Record *record = boat_at(boat, lever->path, &field);
    const AnodeRole *anode =
        record != NULL && record->section == &section_anode ? record->data : NULL;
    const Field *metal = section_field(&section_anode, "metal");
    size_t first;
    if (anode == NULL || anode->metal < 0 || !knob_of_number(boat, lever, true, knob))
        return false;
    knob->kind = REMEDY_ANODE;
    knob->n_sizes = trade_table_rows(table, metal->choices[anode->metal].word, &first);
    knob->sizes = table->figure[0] + first;
    knob->most = knob->n_sizes > 0 ? knob->sizes[knob->n_sizes - 1] - knob->from : 0.0;
    return knob->most > knob->step;
}

static char *
cut_off_id(const Record *space, double sign)
{
    return g_strdup_printf("%s-%s", space->id, sign > 0.0 ? "fore" : "aft");
}

bool
knob_of_bulkhead(const Boat *boat, const Lever *lever, bool fore, Knob *knob)
{
    const Field *field;
    const Record *record = boat_at(boat, lever->path, &field);
    if (record == NULL || record->section != &section_spaces || field == NULL ||
        field->type != FIELD_ALONG_RANGE)
        return false;
    const Space *space = record->data;
    bool whole = !isfinite(space->across.low) && !isfinite(space->height.low);
    g_autofree char *id = cut_off_id(record, fore ? 1.0 : -1.0);
    *knob = (Knob){.kind = REMEDY_BULKHEAD,
                   .path = lever->path,
                   .sign = fore ? 1.0 : -1.0,
                   .most = space->along.high - space->along.low - SHORTEST_SPACE_M,
                   .step = 0.1,
                   .field = field,
                   .from = fore ? space->along.high : space->along.low};
    return whole && space->along.low >= 0.0 && knob->most > knob->step &&
           boat_find(boat, &section_spaces, id) == NULL;
}

Knob
knob_of_ballast(const BallastPlace *place, const char *item_path)
{
    return (Knob){.kind = REMEDY_BALLAST,
                  .path = item_path,
                  .sign = 1.0,
                  .most = place->most_kg,
                  .step = 10.0 * BRICK_KG,
                  .field = section_field(&section_items, "mass"),
                  .place = place};
}

/* Up to the next size that is sold, or the largest within the most. */
static double
size_round(const Knob *knob, double amount)
{
    double found = 0.0;
    for (size_t i = 0; i < knob->n_sizes; i++) {
        double more = knob->sizes[i] - knob->from;
        if (more <= 1e-9 * knob->from || more > knob->most * (1.0 + 1e-9))
            continue;
        found = more;
        if (more >= amount * (1.0 - 1e-9))
            break;
    }
    return found;
}

double
knob_round(const Knob *knob, double amount)
{
    if (knob->sizes != NULL)
        return size_round(knob, amount);
    double steps = ceil(amount / knob->step - 1e-9);
    return fmin(steps, floor(knob->most / knob->step + 1e-9)) * knob->step;
}

static FieldState *
state_of(const Record *record, const Field *field)
{
    return (FieldState *) &record->state[field - record->section->fields];
}

static void
set_ballast(const Knob *knob, Boat *copy, double mass_kg)
{
    const Field *none;
    const Record *record = boat_at(copy, knob->path, &none);
    g_return_if_fail(record != NULL);
    Item *item = record->data;
    item->mass_kg = mass_kg;
    item->height_m = round(ballast_height_m(knob->place, mass_kg) * 100.0) / 100.0;
    state_of(record, knob->field)->spread = BRICK_SPREAD_FRAC * mass_kg;
}

/* Where the space ends then. */
static double
bulkhead_at(const Knob *knob, double amount)
{
    return round((knob->from - knob->sign * amount) * 100.0) / 100.0;
}

static void
set_bulkhead(const Knob *knob, const Record *space, double amount)
{
    Range *along = &((Space *) space->data)->along;
    FieldState *state = state_of(space, knob->field);
    *(knob->sign > 0.0 ? &along->high : &along->low) = bulkhead_at(knob, amount);
    state->spread = fmin(state->spread, BUILT_WITHIN_M);
}

static const char *const anode_sides[] = {"length", "width", "thickness"};

/* A side that is typed, of an anode so much heavier and of the same proportions, to the millimetre; NAN: not typed. */
static double
side_of_heavier(const Knob *knob, const Record *anode, const char *side, double amount)
{
    const Field *field = section_field(&section_anode, side);
    double typed = *record_double((Record *) anode, field);
    return round(typed * cbrt((knob->from + amount) / knob->from) * 1000.0) / 1000.0;
}

static void
set_anode(const Knob *knob, Record *anode, double amount)
{
    for (size_t i = 0; i < G_N_ELEMENTS(anode_sides); i++)
        *record_double(anode, section_field(&section_anode, anode_sides[i])) =
            side_of_heavier(knob, anode, anode_sides[i], amount);
    ((AnodeRole *) anode->data)->mass_kg = knob->from + amount;
}

void
knob_set(const Knob *knob, Boat *copy, double amount)
{
    const Field *field;
    if (knob->kind == REMEDY_BALLAST) {
        set_ballast(knob, copy, amount);
        return;
    }
    const Record *record = boat_at(copy, knob->path, &field);
    g_return_if_fail(record != NULL && field != NULL);
    if (knob->kind == REMEDY_BULKHEAD) {
        set_bulkhead(knob, record, amount);
        return;
    }
    if (knob->kind == REMEDY_ANODE) {
        set_anode(knob, (Record *) record, amount);
        return;
    }
    *record_double((Record *) record, field) = knob->from + knob->sign * amount;
    FieldState *state = state_of(record, field);
    if (is_length(field)) {
        state->spread = fmin(state->spread, BUILT_WITHIN_M);
        state->basis = BASIS_STATED;
    }
}

static void
add(GArray *edits, GStringChunk *texts, const char *path, const char *key, const char *value)
{
    g_autofree char *whole = key != NULL ? g_strdup_printf("%s.%s", path, key) : g_strdup(path);
    Edit edit = {g_string_chunk_insert(texts, whole), g_string_chunk_insert(texts, value)};
    g_array_append_val(edits, edit);
}

static char *
side_words(double y_m)
{
    return y_m == 0.0
               ? g_strdup("0 m ± 50 mm")
               : g_strdup_printf("%.2f m %s ± 50 mm", fabs(y_m), y_m > 0.0 ? "port" : "starboard");
}

static void
ballast_edits(const Knob *knob, Stage stage, double mass_kg, GStringChunk *texts, GArray *edits)
{
    g_autofree char *mass = g_strdup_printf("%.0f x 3.15 kg ± 2 %%", round(mass_kg / BRICK_KG));
    g_autofree char *along = g_strdup_printf("%.1f m ± 0.1 m", knob->place->x_m);
    g_autofree char *across = side_words(knob->place->y_m);
    g_autofree char *height =
        g_strdup_printf("%.2f m ± 20 mm", ballast_height_m(knob->place, mass_kg));
    add(edits, texts, knob->path, "what", "added ballast of dense brick");
    add(edits, texts, knob->path, "mass", mass);
    add(edits, texts, knob->path, "along", along);
    add(edits, texts, knob->path, "across", across);
    add(edits, texts, knob->path, "height", height);
    add(edits, texts, knob->path, "state", stage == STAGE_DONE ? "to-fit" : "aboard");
    add(edits, texts, knob->path, "ballast.held", "fixed");
}

/* In the unit in which the table asks for it: 90 cm2, not 0.009 m2. */
static char *
in_unit_of(const Field *field, double value)
{
    Unit unit;
    g_autofree char *problem = NULL;
    const char *name = field->unit != NULL ? field->unit : kind_si(field->kind);
    if (!unit_parse(name, field->kind, &unit, &problem))
        g_return_val_if_reached(NULL);
    return g_strdup_printf("%.6g %s", unit_number(&unit, value), name);
}

/* A number as the file takes it: with its unit, and the side where a place has one. */
static char *
number_words(const Knob *knob, const Record *record, double value)
{
    const Field *field = knob->field;
    const FieldState *state = state_of(record, field);
    double magnitude = field_is_place(field) ? fabs(value) : value;
    if (!is_length(field))
        return in_unit_of(field, magnitude);
    double spread = fmin(isfinite(state->spread) ? state->spread : BUILT_WITHIN_M, BUILT_WITHIN_M);
    const char *side = "";
    if (field->type == FIELD_ACROSS && value != 0.0)
        side = value > 0.0 ? " port" : " starboard";
    else if (field->type == FIELD_ALONG && value < 0.0)
        side = " aft of stern";
    else if (field->type == FIELD_HEIGHT && value < 0.0)
        side = " below base";
    return g_strdup_printf("%.3f m%s ± %.0f mm", magnitude, side, spread * 1000.0);
}

static void
add_range(GArray *edits, GStringChunk *texts, const char *path, const char *key, double low,
          double high)
{
    g_autofree char *value = g_strdup_printf("%.2f m to %.2f m ± 20 mm", low, high);
    add(edits, texts, path, key, value);
}

/* What is cut off can flood too: it becomes a space of its own, so that it is looked at. */
static void
bulkhead_edits(const Knob *knob, const Record *space, double amount, GStringChunk *texts,
               GArray *edits)
{
    const Range *along = &((const Space *) space->data)->along;
    double at = bulkhead_at(knob, amount);
    bool fore = knob->sign > 0.0;
    g_autofree char *id = cut_off_id(space, knob->sign);
    g_autofree char *path = g_strdup_printf("spaces.%s", id);
    add_range(edits, texts, knob->path, NULL, fore ? along->low : at, fore ? at : along->high);
    add_range(edits, texts, path, "along", fore ? at : along->low, fore ? along->high : at);
}

static void
anode_edits(const Knob *knob, const Record *anode, double amount, GStringChunk *texts,
            GArray *edits)
{
    for (size_t i = 0; i < G_N_ELEMENTS(anode_sides); i++) {
        double side_m = side_of_heavier(knob, anode, anode_sides[i], amount);
        g_autofree char *value = g_strdup_printf("%.0f mm", side_m * 1000.0);
        if (isfinite(side_m))
            add(edits, texts, anode->path, anode_sides[i], value);
    }
}

void
knob_edits(const Knob *knob, const Boat *boat, Stage stage, double amount, GStringChunk *texts,
           GArray *edits)
{
    if (knob->kind == REMEDY_BALLAST) {
        ballast_edits(knob, stage, amount, texts, edits);
        return;
    }
    const Field *field;
    const Record *record = boat_at(boat, knob->path, &field);
    if (knob->kind == REMEDY_BULKHEAD) {
        bulkhead_edits(knob, record, amount, texts, edits);
        return;
    }
    if (knob->kind == REMEDY_ANODE)
        anode_edits(knob, record, amount, texts, edits);
    g_autofree char *value = number_words(knob, record, knob->from + knob->sign * amount);
    add(edits, texts, knob->path, NULL, value);
}

RemedyPart
knob_part(const Knob *knob, double amount)
{
    RemedyPart part = {.kind = knob->kind, .path = knob->path};
    if (knob->kind == REMEDY_BALLAST) {
        part.mass_kg = amount;
        part.bricks = (size_t) round(amount / BRICK_KG);
        part.x_m = knob->place->x_m;
        part.y_m = knob->place->y_m;
        part.z_m = ballast_height_m(knob->place, amount);
    } else {
        part.from_value = knob->from;
        part.to_value = knob->kind == REMEDY_BULKHEAD ? bulkhead_at(knob, amount)
                                                      : knob->from + knob->sign * amount;
        part.quantity = knob->field->kind;
    }
    return part;
}
