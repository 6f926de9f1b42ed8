/* Surveys from freeboards and draught marks.
 * Invariant: without a used survey the masses are those of the list, to the last bit. */
#include "checks/afloat/calibrate.h"

#include <math.h>
#include <string.h>

#include "checks/afloat/sensitivity.h"

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
    survey->left_out = survey->too_high = survey->n;
    for (size_t i = 0; i < survey->n && typed->kind == MEASURED_FREEBOARDS; i++)
        if (survey->reading[i].freeboard_m > survey->reading[i].z_m)
            survey->too_high = i;
    if (survey->too_high < survey->n)
        survey->validity = REFUSED;
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
add_liquid_then(GArray *then, const Record *item, const Situation *typed)
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
    g_array_append_val(then, mass);
}

static const Situation *
situation_of(const Afloat *afloat, const Record *measured)
{
    const char *id = ((const Measurement *) measured->data)->situation.id;
    const Record *situation = id != NULL ? boat_find(afloat->boat, &section_situations, id) : NULL;
    return situation != NULL ? situation->data : NULL;
}

GArray *
list_of_day(const Afloat *afloat, const Record *measured, bool loaded)
{
    const Situation *typed = situation_of(afloat, measured);
    const Date *day = &((const Measurement *) measured->data)->date;
    GArray *then = g_array_new(FALSE, FALSE, sizeof(Mass));
    size_t n;
    const Record *const *items = boat_records(afloat->boat, &section_items, &n);
    for (size_t i = 0; i < n; i++) {
        Mass mass;
        if (!aboard_then(items[i]->data, day))
            continue;
        if (mass_of_item(items[i], afloat->catalog, &afloat->plating, &mass))
            g_array_append_val(then, mass);
        if (loaded && record_role(items[i], &section_tank) != NULL)
            add_liquid_then(then, items[i], typed);
    }
    if (loaded && typed != NULL)
        afloat_add_people(afloat, &typed->people, then);
    return then;
}

static void
list_the_day(const Afloat *afloat, Survey *survey)
{
    survey->situation = ((const Measurement *) survey->record->data)->situation.id;
    survey->then = list_of_day(afloat, survey->record, true);
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
    take_readings(afloat, survey);
    if (survey->validity != REFUSED)
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
    /* A list that the water contradicts by more than both are known to lacks something: however sure its entries are, the
     * water knows better. */
    bool contradicted =
        fabs(survey->unexplained_kg) > survey->unexplained_spread_kg && !survey->fit.misfit;
    survey->used = survey->weighed.ledger.mass_kg > 0.0 && isfinite(spread) &&
                   isfinite(survey->water.lcg_spread_m) &&
                   (spread < survey->list.mass_spread_kg || contradicted);
    return survey;
}

void
survey_free(Survey *survey)
{
    if (survey->then != NULL)
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

/* ---- heel tests ---- */

Case *
case_of_day(const Afloat *afloat, const Record *record)
{
    const Situation *typed = situation_of(afloat, record);
    g_autoptr(GArray) items = list_of_day(afloat, record, false);
    Case *c = g_new0(Case, 1);
    c->situation = record->id;
    c->masses = calibrated(afloat, items);
    c->tanks = g_array_new(FALSE, FALSE, sizeof(Tank));
    for (guint i = 0; i < items->len; i++) {
        const Record *item = g_array_index(items, Mass, i).item;
        if (record_role(item, &section_tank) != NULL)
            case_add_liquid_of(c, item, typed);
    }
    if (typed != NULL)
        afloat_add_people(afloat, &typed->people, c->masses);
    case_float(afloat, c);
    return c;
}

static void
read_moves(const Measurement *typed, HeelTest *test)
{
    double mass_share = 0.0;
    test->n = typed->moves.n;
    test->moment_kgm = g_new(double, MAX(test->n, 1));
    test->deflection_m = g_new(double, MAX(test->n, 1));
    for (size_t i = 0; i < test->n; i++) {
        const Row *row = &typed->moves.row[i];
        test->moment_kgm[i] = row->side * row->mass.value * row->distance.value;
        test->deflection_m[i] = row->side * row->value.value;
        double given = isnan(row->mass.spread)
                           ? quantity_usual_spread(Q_MASS, row->mass.basis, row->mass.value)
                           : row->mass.spread;
        if (row->mass.value > 0.0)
            mass_share = fmax(mass_share, given / row->mass.value);
    }
    test->moment_spread_frac = mass_share;
}

HeelTest *
heel_test_new(const Afloat *afloat, const Record *record)
{
    const Measurement *typed = record->data;
    HeelTest *test = g_new0(HeelTest, 1);
    test->record = record;
    read_moves(typed, test);
    test->day = case_of_day(afloat, record);
    test->validity = REFUSED;
    if (!case_floats(test->day) || !isfinite(typed->pendulum_m))
        return test;
    const Rest *rest = &test->day->rest;
    const FieldState *length = record_state(record, "pendulum");
    Pendulum pendulum[2] = {{typed->pendulum_m, length->spread, test->deflection_m},
                            {NAN, NAN, NULL}};
    Linear mass = linear_mass();
    InclineTerms terms = {.mass_kg = test->day->sum.mass_kg,
                          .mass_spread_kg = spread_of(afloat, test->day, &mass, NULL).spread,
                          .moment_spread_frac = test->moment_spread_frac,
                          .km_m = rest->km_m,
                          .km_spread_m = hull_km_spread(afloat, test->day),
                          .free_surface_kgm = rest->free_surface_m * test->day->sum.mass_kg};
    test->validity = inclining(test->n, test->moment_kgm, pendulum, &terms, &test->found, NULL);
    return test;
}

void
heel_test_free(HeelTest *test)
{
    case_free(test->day);
    g_free(test->moment_kgm);
    g_free(test->deflection_m);
    g_free(test);
}

/* A test tells how high her weight lies: it moves the weighed boat's height so that the whole agrees. */
static void
take_height(Afloat *afloat, HeelTest *test)
{
    Survey *survey = (Survey *) afloat->survey;
    Linear z = linear_centre(test->day, 2);
    double known = spread_of(afloat, test->day, &z, NULL).spread;
    if (survey == NULL || test->validity != VALID || !(test->found.vcg_spread_m < known))
        return;
    LedgerItem *weighed = &survey->weighed.ledger;
    double lever = test->day->sum.mass_kg / weighed->mass_kg;
    weighed->z_m += (test->found.vcg_solid_m - test->day->sum.vcg_m) * lever;
    weighed->z_spread_m = test->found.vcg_spread_m * lever;
    test->used = true;
}

void
afloat_heel_tests(Afloat *afloat)
{
    size_t n;
    const Record *const *records = boat_records(afloat->boat, &section_measured, &n);
    if (afloat->hull == NULL)
        return;
    for (size_t i = 0; i < n; i++) {
        if (((const Measurement *) records[i]->data)->kind != MEASURED_HEEL_TEST)
            continue;
        HeelTest *test = heel_test_new(afloat, records[i]);
        g_ptr_array_add(afloat->heel_tests, test);
        take_height(afloat, test);
    }
}
