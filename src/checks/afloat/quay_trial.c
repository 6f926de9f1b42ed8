/* Trials on the quay, reckoned.
 * Invariant: a trial that lacks something has no readings; every reading of another has a reckoned value and both spreads. */
#include "checks/afloat/quay_trial.h"

#include <math.h>

#include "checks/afloat/calibrate.h"

#define READ_WITHIN_M 0.005 /* a mark read three times in still water; common practice, no source */
#define SWING_WITHIN_M 0.003 /* a plumb line damped in a bucket; likewise */
#define PLACE_WITHIN_M 0.05  /* feet on a chalk mark; likewise */

Attitude
trial_rest(const Afloat *afloat, const Case *c, const TrialLoad *with, double density_kg_per_m3,
           Rest *rest)
{
    double mass = c->load.mass_kg + with->mass_kg;
    Load load = c->load;
    load.lcg_m = (c->load.mass_kg * c->load.lcg_m + with->mass_kg * with->x_m) / mass;
    load.tcg_m = (c->load.mass_kg * c->load.tcg_m + with->mass_kg * with->y_m) / mass;
    load.vcg_m = (c->load.mass_kg * c->load.vcg_m + with->mass_kg * with->z_m) / mass;
    load.mass_kg = mass;
    rest_find(&afloat->body, &load, density_kg_per_m3, rest);
    return rest->at;
}

double
trial_point_m(const TrialPoint *point, const Attitude *before, const Attitude *after)
{
    double was = attitude_height_m(before, point->x_m, point->y_m, point->z_m);
    double now = attitude_height_m(after, point->x_m, point->y_m, point->z_m);
    switch (point->read) {
    case READ_FREEBOARD:
        return was;
    case READ_SINKS:
        return was - now;
    case READ_RISES:
        return now - was;
    case READ_PLUMB: /* heel to starboard is positive, y to port */
        return -copysign(point->length_m, point->y_m) *
               (tan(after->heel_rad) - tan(before->heel_rad));
    }
    return NAN;
}

/* ---- as typed ---- */

static double
typed_spread(const QuayTrial *trial, const char *key, double usual)
{
    const FieldState *state = record_state(trial->record, key);
    return state->spread_typed ? state->spread : usual;
}

/* Which key a trial lacks; NULL when it can be reckoned. */
static const char *
lacks(const Afloat *afloat, const QuayTrial *trial)
{
    const Measurement *typed = trial->record->data;
    if (!isfinite(typed->weight_kg))
        return "weight";
    if (!isfinite(trial->after.z_m))
        return "to-along";
    if (isfinite(typed->from_along_m) && !isfinite(trial->before.z_m))
        return "from-along";
    if (isfinite(typed->swing_m) && !isfinite(typed->pendulum_m))
        return "pendulum";
    if (typed->readings.n == 0 && !isfinite(typed->swing_m))
        return "readings";
    for (size_t i = 0; i < typed->readings.n; i++)
        if (!isfinite(loft_deck_m(afloat->hull, typed->readings.row[i].along_m)))
            return "readings";
    return NULL;
}

static TrialLoad
load_at(const Afloat *afloat, const Measurement *typed, double x_m, double y_m)
{
    double z = isfinite(typed->weight_height_m) ? typed->weight_height_m
               : isfinite(x_m)                  ? afloat_standing_m(afloat, x_m)
                                                : NAN;
    return (TrialLoad){typed->weight_kg, x_m, y_m, isfinite(x_m) ? z : NAN};
}

static TrialPoint
point_of(const Afloat *afloat, const Row *row)
{
    size_t n = afloat->hull->points;
    g_autofree double *half = g_new(double, 2 * n);
    loft_points(afloat->hull, row->along_m, half, half + n);
    return (TrialPoint){.read = READ_SINKS,
                        .label = row->side > 0   ? "port"
                                 : row->side < 0 ? "starboard"
                                                 : "centreline",
                        .x_m = row->along_m,
                        .y_m = row->side * half[n - 1],
                        .z_m = half[2 * n - 1]};
}

/* ---- spreads ---- */

/* A reading is  sink + across * heel + along * trim: heel goes with 1 / (M GM), trim with 1 / (M GML), sink with 1 / area. Breadth
 * enters the water plane's inertias with its cube. */
static Linear
linear_reading(const Afloat *afloat, const QuayTrial *trial, const QuayReading *reading)
{
    const Case *day = trial->day;
    const Rest *rest = &trial->second;
    double heel = tan(trial->second.at.heel_rad) - tan(trial->first.at.heel_rad);
    double trim = tan(trial->second.at.trim_rad) - tan(trial->first.at.trim_rad);
    const TrialPoint *p = &reading->point;
    bool plumb = p->read == READ_PLUMB;
    double by_heel = plumb ? reading->reckoned_m : -(p->y_m - rest->tcf_m) * heel;
    double by_trim = plumb ? 0.0 : (p->x_m - rest->lcf_m) * trim;
    double sink = reading->reckoned_m - by_heel - (plumb ? 0.0 : by_trim);
    Linear gm = linear_gm(afloat, day);
    double stiff = day->sum.mass_kg * day->rest.gm_m, mass = day->sum.mass_kg;
    double breadths = afloat->within_m / (day->side.beam_m / 2.0) /
                      (afloat->from_form ? 1.0 : sqrt((double) afloat->hull->stations));
    return (Linear){.mass = -by_heel * (day->rest.gm_m + mass * gm.mass) / stiff,
                    .z = -by_heel * mass * gm.z / stiff,
                    .density = -by_heel * mass * gm.density / stiff,
                    .other = hypot(by_heel * mass * gm.other / stiff,
                                   breadths * hypot(3.0 * by_trim, plumb ? 0.0 : sink))};
}

/* What the weight and the places were known to belongs to the reading, not to the boat. */
static double
weight_frac(const QuayTrial *trial)
{
    const Measurement *typed = trial->record->data;
    double weight = record_state(trial->record, "weight")->spread / typed->weight_kg;
    double way = hypot(trial->after.x_m - trial->before.x_m, trial->after.y_m - trial->before.y_m);
    double place = hypot(typed_spread(trial, "to-across", PLACE_WITHIN_M),
                         typed_spread(trial, "from-across", PLACE_WITHIN_M));
    bool moved = isfinite(typed->from_along_m) && way > 0.0;
    return hypot(weight, moved ? fmin(place / way, 1.0) : 0.0);
}

static void
reckon(const Afloat *afloat, const QuayTrial *trial, QuayReading *reading, double typed_m,
       double usual_m)
{
    reading->within_m = typed_m > 0.0 ? typed_m : usual_m;
    reading->reckoned_m = trial_point_m(&reading->point, &trial->first.at, &trial->second.at);
    reading->by = linear_reading(afloat, trial, reading);
    reading->reckoned_spread_m = spread_of(afloat, trial->day, &reading->by, NULL).spread;
}

static void
take_readings(const Afloat *afloat, QuayTrial *trial)
{
    const Measurement *typed = trial->record->data;
    trial->weight_frac = weight_frac(trial);
    trial->reading = g_new0(QuayReading, typed->readings.n + 1);
    for (size_t i = 0; i < typed->readings.n; i++) {
        const Row *row = &typed->readings.row[i];
        QuayReading *reading = &trial->reading[trial->n++];
        reading->point = point_of(afloat, row);
        reading->read_m = row->way * row->value.value;
        reckon(afloat, trial, reading, row->value.spread, READ_WITHIN_M);
    }
    if (!isfinite(typed->swing_m))
        return;
    QuayReading *swing = &trial->reading[trial->n++];
    swing->point = (TrialPoint){.read = READ_PLUMB,
                                .label = "plumb line",
                                .x_m = trial->after.x_m,
                                .y_m = trial->after.y_m - trial->before.y_m,
                                .length_m = typed->pendulum_m};
    swing->read_m = typed->swing_m;
    reckon(afloat, trial, swing, typed_spread(trial, "swing", 0.0), SWING_WITHIN_M);
}

static QuayTrial *
quay_trial_new(const Afloat *afloat, const Record *record)
{
    const Measurement *typed = record->data;
    QuayTrial *trial = g_new0(QuayTrial, 1);
    trial->record = record;
    trial->then = list_of_day(afloat, record, false);
    trial->day = case_of_day(afloat, record);
    trial->before = load_at(afloat, typed, typed->from_along_m, typed->from_across_m);
    trial->after = load_at(afloat, typed, typed->to_along_m, typed->to_across_m);
    trial->lacks = case_floats(trial->day) ? lacks(afloat, trial) : "situation";
    if (trial->lacks != NULL)
        return trial;
    double density =
        isfinite(typed->density_kg_per_m3) ? typed->density_kg_per_m3 : afloat->density_kg_per_m3;
    if (!isfinite(typed->from_along_m))
        trial->before = (TrialLoad){0.0, typed->to_along_m, 0.0, 0.0};
    trial_rest(afloat, trial->day, &trial->before, density, &trial->first);
    trial_rest(afloat, trial->day, &trial->after, density, &trial->second);
    if (trial->first.outcome == REST_FOUND && trial->second.outcome == REST_FOUND)
        take_readings(afloat, trial);
    else
        trial->lacks = "situation";
    return trial;
}

void
quay_trial_free(QuayTrial *trial)
{
    g_array_unref(trial->then);
    case_free(trial->day);
    g_free(trial->reading);
    g_free(trial);
}

void
afloat_quay_trials(Afloat *afloat)
{
    size_t n;
    const Record *const *records = boat_records(afloat->boat, &section_measured, &n);
    if (afloat->hull == NULL)
        return;
    for (size_t i = 0; i < n; i++)
        if (((const Measurement *) records[i]->data)->kind == MEASURED_TRIAL)
            g_ptr_array_add(afloat->trials, quay_trial_new(afloat, records[i]));
}

double
quay_reading_allowed_m(const QuayTrial *trial, const QuayReading *reading)
{
    return hypot(hypot(reading->within_m, trial->weight_frac * reading->reckoned_m),
                 reading->reckoned_spread_m);
}

double
quay_reading_off(const QuayTrial *trial, const QuayReading *reading)
{
    return fabs(reading->read_m - reading->reckoned_m) / quay_reading_allowed_m(trial, reading);
}
