/* Levers as things that can be turned.
 * Invariant: what knob_set puts on a copy is what the text of knob_edits reads back as. */
#include "study/knob.h"

#include <math.h>
#include <string.h>

#include "base/number.h"
#include "boat/model.h"

#define BUILT_WITHIN_M 0.02    /* a builder works to a mark */
#define FARTHEST_M 2.0         /* a pipe is not led higher */
#define BRICK_SPREAD_FRAC 0.02 /* bricks are weighed, ten at a time */

static bool
is_length(const Field *field)
{
    return field->kind == Q_LENGTH || field->kind == Q_SMALL_LENGTH;
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
                   .most = fmin(room, is_length(field) ? FARTHEST_M : fabs(from)),
                   .step = is_length(field) ? 0.01 : fabs(from) / 100.0,
                   .field = field,
                   .from = from};
    return isfinite(from) && knob->most > knob->step && knob->step > 0.0;
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

double
knob_round(const Knob *knob, double amount)
{
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

/* A number as the file takes it: with its unit, and the side where a place has one. */
static char *
number_words(const Knob *knob, const Record *record, double value)
{
    const Field *field = knob->field;
    const FieldState *state = state_of(record, field);
    double magnitude = field_is_place(field) ? fabs(value) : value;
    if (!is_length(field)) {
        g_autofree char *digits = number_exact(magnitude);
        return g_strdup_printf("%s %s", digits, kind_si(field->kind));
    }
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
        part.to_value = knob->from + knob->sign * amount;
        part.quantity = knob->field->kind;
    }
    return part;
}
