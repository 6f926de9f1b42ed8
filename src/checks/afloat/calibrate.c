/* Surveys from freeboards and draught marks.
 * Invariant: without a used survey the masses are those of the list, to the last bit. */
#include "checks/afloat/calibrate.h"

#include <math.h>
#include <string.h>

/* -1, 0, 1; a missing date (year 0) is earlier than any. */
static int
date_order(const Date *a, const Date *b)
{
    int left = a->year * 10000 + a->month * 100 + a->day,
        right = b->year * 10000 + b->month * 100 + b->day;
    return left < right ? -1 : left > right;
}

static bool
aboard_then(const Item *item, const Date *day)
{
    bool dated = item->since.year != 0 && day->year != 0;
    switch (item->state) {
    case ITEM_ABOARD:
        return !dated || date_order(&item->since, day) <= 0;
    case ITEM_TO_REMOVE:
        return true;
    case ITEM_GONE:
        return dated && date_order(&item->since, day) > 0; /* since: when it went */
    default:
        return false;
    }
}

static bool
weighed_then(const Survey *survey, const Record *item)
{
    return item != NULL &&
           aboard_then(item->data, &((const Measurement *) survey->record->data)->date);
}

/* ---- the readings ---- */

static bool
point_of(const Afloat *afloat, const Row *row, bool draught, FreeboardReading *out)
{
    const Loft *hull = afloat->hull;
    size_t n = hull->points;
    g_autofree double *half = g_new(double, 2 * n);
    if (!loft_points(hull, row->along_m, half, half + n))
        return false;
    *out = (FreeboardReading){row->along_m, row->side * half[n - 1], half[2 * n - 1],
                              row->value.value};
    if (draught)
        *out = (FreeboardReading){row->along_m, 0.0, 0.0, -row->value.value};
    return true;
}

static double
reading_spread(const Measurement *typed)
{
    double spread = 0.0;
    for (size_t i = 0; i < typed->readings.n; i++)
        spread = fmax(spread, typed->readings.row[i].value.spread);
    return spread > 0.0 ? spread : NAN;
}

static void
take_readings(const Afloat *afloat, Survey *survey)
{
    const Measurement *typed = survey->record->data;
    survey->reading = g_new0(FreeboardReading, MAX(typed->readings.n, 1));
    survey->fit_of = g_new0(ReadingFit, MAX(typed->readings.n, 1));
    for (size_t i = 0; i < typed->readings.n; i++)
        if (point_of(afloat, &typed->readings.row[i], typed->kind == MEASURED_DRAUGHTS,
                     &survey->reading[survey->n]))
            survey->n++;
    survey->left_out = survey->n;
}

/* One reading that stands out, and that no other can explain, is left out; a second one is not. */
static void
fit_readings(Survey *survey)
{
    double spread = reading_spread(survey->record->data);
    survey->validity =
        survey_fit(survey->n, survey->reading, spread, false, &survey->fit, survey->fit_of);
    if (survey->validity == REFUSED || survey->fit.suspect >= survey->n || survey->fit.rivals > 0 ||
        survey->n < 5)
        return;
    g_autofree FreeboardReading *rest = g_new(FreeboardReading, survey->n);
    size_t n = 0;
    for (size_t i = 0; i < survey->n; i++)
        if (i != survey->fit.suspect)
            rest[n++] = survey->reading[i];
    SurveyFit fit;
    if (survey_fit(n, rest, spread, false, &fit, NULL) == REFUSED)
        return;
    survey->left_out = survey->fit.suspect;
    survey->fit = fit;
}

/* ---- the day's list ---- */

static void
add_liquid_then(Survey *survey, const Record *item, const Situation *typed)
{
    const Quantity *level = NULL;
    for (size_t i = 0; typed != NULL && i < typed->tanks.n; i++)
        if (strcmp(typed->tanks.entry[i].key, item->id) == 0)
            level = &typed->tanks.entry[i].value;
    /* Nobody noted the level: half full, give or take nearly half. */
    double fill = level != NULL ? level->value : 0.5, give = level != NULL ? 0.0 : 0.48;
    Tank tank;
    bool assumed;
    if (!tank_of_item(item, fill, &tank, &assumed))
        return;
    Mass mass = {.item = item,
                 .name = item->id,
                 .liquid = true,
                 .basis = level != NULL ? BASIS_STATED : BASIS_ASSUMED};
    mass.ledger.mass_kg = tank_liquid_kg(&tank);
    mass.ledger.mass_spread_kg = fill > 0.0 ? mass.ledger.mass_kg / fill * give : 0.0;
    tank_centroid(&tank, 0.0, 0.0, &mass.ledger.x_m, &mass.ledger.y_m, &mass.ledger.z_m);
    g_array_append_val(survey->then, mass);
}

static void
list_the_day(const Afloat *afloat, Survey *survey)
{
    const Measurement *measured = survey->record->data;
    const Record *situation =
        measured->situation.id != NULL
            ? boat_find(afloat->boat, &section_situations, measured->situation.id)
            : NULL;
    const Situation *typed = situation != NULL ? situation->data : NULL;
    survey->situation = situation != NULL ? situation->id : measured->situation.id;
    size_t n;
    const Record *const *items = boat_records(afloat->boat, &section_items, &n);
    for (size_t i = 0; i < n; i++) {
        Mass mass;
        if (!weighed_then(survey, items[i]))
            continue;
        if (mass_of_item(items[i], afloat->catalog, afloat->plated_m2, afloat->plate_m, &mass))
            g_array_append_val(survey->then, mass);
        if (record_role(items[i], &section_tank) != NULL)
            add_liquid_then(survey, items[i], typed);
    }
    if (typed != NULL)
        afloat_add_people(afloat, &typed->people, survey->then);
    g_autofree LedgerItem *ledger = g_new(LedgerItem, MAX(survey->then->len, 1));
    for (guint i = 0; i < survey->then->len; i++)
        ledger[i] = g_array_index(survey->then, Mass, i).ledger;
    if (ledger_sum(survey->then->len, ledger, &survey->list, NULL, NULL, NULL) != VALID)
        survey->validity = REFUSED;
}

/* ---- weighing ---- */

static void
weigh_by_water(const Afloat *afloat, Survey *survey)
{
    const Measurement *typed = survey->record->data;
    const FieldState *density = record_state(survey->record, "density");
    bool stated = isfinite(typed->density_kg_per_m3);
    survey->density_kg_per_m3 = stated ? typed->density_kg_per_m3 : afloat->density_kg_per_m3;
    SurveyTerms terms = {survey->density_kg_per_m3,
                         stated ? density->spread : afloat->density_spread, survey->list.vcg_m,
                         survey->list.vcg_spread_m, afloat->within_m};
    survey->validity = floating_survey(&afloat->body, &survey->fit, &terms, &survey->water);
    if (survey->validity == REFUSED)
        return;
    FloatingSurvey *water = &survey->water;
    if (afloat->from_form)
        water->mass_spread_kg = hypot(water->mass_spread_kg, afloat->volume_frac * water->mass_kg);
    survey->unexplained_kg = water->mass_kg - survey->list.mass_kg;
    survey->unexplained_spread_kg = hypot(water->mass_spread_kg, survey->list.mass_spread_kg);
    survey->unexplained_x_m =
        (water->mass_kg * water->lcg_m - survey->list.mass_kg * survey->list.lcg_m) /
        survey->unexplained_kg;
    survey->unexplained_y_m =
        (water->mass_kg * water->tcg_m - survey->list.mass_kg * survey->list.tcg_m) /
        survey->unexplained_kg;
}

/* The boat of the day without her liquids and people. Her height of weight is not what the water tells: it stays the list's. */
static void
strip(Survey *survey)
{
    const FloatingSurvey *water = &survey->water;
    double mass = water->mass_kg, mx = mass * water->lcg_m, my = mass * water->tcg_m,
           variance = pow(water->mass_spread_kg, 2);
    double solid = 0.0, mz = 0.0;
    for (guint i = 0; i < survey->then->len; i++) {
        const Mass *part = &g_array_index(survey->then, Mass, i);
        const LedgerItem *item = &part->ledger;
        if (part->liquid || part->person) {
            mass -= item->mass_kg;
            mx -= item->mass_kg * item->x_m;
            my -= item->mass_kg * item->y_m;
            variance += pow(item->mass_spread_kg, 2);
        } else {
            solid += item->mass_kg;
            mz += item->mass_kg * item->z_m;
        }
    }
    survey->weighed = (Mass){.item = NULL,
                             .name = "the boat as the water weighed her",
                             .basis = BASIS_MEASURED,
                             .ledger = {.mass_kg = mass,
                                        .mass_spread_kg = sqrt(variance),
                                        .x_m = mx / mass,
                                        .y_m = my / mass,
                                        .z_m = mz / solid,
                                        .x_spread_m = water->lcg_spread_m * water->mass_kg / mass,
                                        .y_spread_m = water->tcg_spread_m * water->mass_kg / mass,
                                        .z_spread_m = survey->list.vcg_spread_m}};
}

Survey *
survey_new(const Afloat *afloat, const Record *record)
{
    Survey *survey = g_new0(Survey, 1);
    survey->record = record;
    survey->then = g_array_new(FALSE, FALSE, sizeof(Mass));
    take_readings(afloat, survey);
    fit_readings(survey);
    if (survey->validity == REFUSED)
        return survey;
    list_the_day(afloat, survey);
    if (survey->validity != REFUSED)
        weigh_by_water(afloat, survey);
    if (survey->validity == REFUSED)
        return survey;
    strip(survey);
    double spread = survey->weighed.ledger.mass_spread_kg;
    survey->used = survey->weighed.ledger.mass_kg > 0.0 && isfinite(spread) &&
                   isfinite(survey->water.lcg_spread_m) && spread < survey->list.mass_spread_kg;
    return survey;
}

void
survey_free(Survey *survey)
{
    g_array_unref(survey->then);
    g_free(survey->reading);
    g_free(survey->fit_of);
    g_free(survey);
}

void
afloat_survey(Afloat *afloat)
{
    size_t n;
    const Record *const *records = boat_records(afloat->boat, &section_measured, &n);
    if (afloat->hull == NULL)
        return;
    for (size_t i = 0; i < n; i++) {
        const Measurement *typed = records[i]->data;
        if (typed->kind > MEASURED_DRAUGHTS)
            continue;
        Survey *survey = survey_new(afloat, records[i]);
        g_ptr_array_add(afloat->surveys, survey);
        const Measurement *best = afloat->survey != NULL ? afloat->survey->record->data : NULL;
        if (survey->used && (best == NULL || date_order(&typed->date, &best->date) >= 0))
            afloat->survey = survey;
    }
}

static bool
in_list(const GArray *list, const Record *item)
{
    for (guint i = 0; i < list->len; i++)
        if (g_array_index(list, Mass, i).item == item)
            return true;
    return false;
}

GArray *
calibrated(const Afloat *afloat, const GArray *list)
{
    const Survey *survey = afloat->survey;
    GArray *masses = g_array_sized_new(FALSE, FALSE, sizeof(Mass), list->len + 16);
    if (survey == NULL) {
        g_array_append_vals(masses, list->data, list->len);
        return masses;
    }
    g_array_append_val(masses, survey->weighed);
    for (guint i = 0; i < survey->then->len; i++) {
        Mass gone = g_array_index(survey->then, Mass, i);
        if (gone.liquid || gone.person || in_list(list, gone.item))
            continue;
        gone.ledger.mass_kg = -gone.ledger.mass_kg;
        g_array_append_val(masses, gone);
    }
    for (guint i = 0; i < list->len; i++) {
        const Mass *mass = &g_array_index(list, Mass, i);
        if (!weighed_then(survey, mass->item))
            g_array_append_val(masses, *mass);
    }
    return masses;
}
