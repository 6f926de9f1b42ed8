/* The closed body: stations as typed become a loft; weathertight houses and appendages are added.
 * Invariant: afloat->hull is NULL or a loft that physics accepts; body points into arrays that afloat owns. */
#include <math.h>
#include <string.h>

#include "checks/afloat/afloat.h"
#include "physics/afloat/station.h"
#include "physics/shape/form.h"
#include "physics/shape/tape.h"

#define USUAL_WITHIN_M 0.02

static int
by_place(gconstpointer a, gconstpointer b)
{
    double left = ((const Station *) a)->x_m, right = ((const Station *) b)->x_m;
    return left < right ? -1 : left > right;
}

static Station
station_of(const Record *record)
{
    const StationSection *typed = record->data;
    StationPoint *points = g_new0(StationPoint, MAX(typed->points.n, 1));
    for (size_t i = 0; i < typed->points.n; i++) {
        const Row *row = &typed->points.row[i];
        points[i] = (StationPoint){row->across_m, row->height_m, row->knuckle, row->name};
    }
    return (Station){typed->along_m, typed->points.n, points};
}

static Loft *
join_stations(const Boat *boat)
{
    size_t n;
    const Record *const *records = boat_records(boat, &section_stations, &n);
    g_autoptr(GArray) stations = g_array_new(FALSE, FALSE, sizeof(Station));
    for (size_t i = 0; i < n; i++) {
        Station station = station_of(records[i]);
        g_array_append_val(stations, station);
    }
    g_array_sort(stations, by_place);
    Loft *loft = loft_join(stations->len, (const Station *) (void *) stations->data);
    for (guint i = 0; i < stations->len; i++)
        g_free((gpointer) g_array_index(stations, Station, i).point);
    if (loft != NULL && loft_fault(loft) != NULL) {
        loft_free(loft);
        return NULL;
    }
    return loft;
}

static FormGiven
given_form(const FormSection *typed)
{
    FormGiven given = form_unknown((FormType) typed->type);
    const double beam[FORM_PLACES] = {typed->beam_aft_m, typed->beam_quarter_m, typed->beam_mid_m,
                                      typed->beam_three_quarter_m, typed->beam_fore_m};
    const double depth[FORM_PLACES] = {typed->depth_aft_m, typed->depth_quarter_m,
                                       typed->depth_mid_m, typed->depth_three_quarter_m,
                                       typed->depth_fore_m};
    memcpy(given.beam_m, beam, sizeof beam);
    memcpy(given.depth_m, depth, sizeof depth);
    given.ends = (FormEnds) MAX(typed->ends, 0);
    given.stern = (FormStern) MAX(typed->stern, 0);
    given.length_m = typed->length_m;
    given.sheer_aft_m = typed->sheer_aft_m;
    given.sheer_fore_m = typed->sheer_fore_m;
    given.stern_rake_m = typed->stern_rake_m;
    given.stem_rake_m = typed->stem_rake_m;
    given.bottom_aft_m = typed->bottom_aft_m;
    given.bottom_fore_m = typed->bottom_fore_m;
    given.forefoot_m = typed->forefoot_m;
    given.run_m = typed->run_m;
    given.keel_m = typed->keel_m;
    given.deadrise_rad = typed->deadrise_rad;
    given.bilge_m = typed->bilge_m;
    given.within_m = typed->within_m;
    return given;
}

/* The hull of hull.form, where there are no stations. */
static Loft *
draw_form(Afloat *afloat)
{
    size_t n;
    const Record *const *records = boat_records(afloat->boat, &section_form, &n);
    if (n == 0)
        return NULL;
    FormGiven given = given_form(records[0]->data);
    Form form;
    Loft *loft = NULL;
    if (form_solve(&given, &form) != REFUSED) {
        loft = loft_join(form.shape->n, form.shape->station);
        afloat->from_form = true;
        afloat->within_m = form.half_breadth_m;
        afloat->volume_frac = form.volume_frac;
    }
    afloat->form_fault = form.fault;
    form_free(&form);
    return loft;
}

/* ---- string and plumb line ---- */

static double
zero_if_unread(double value)
{
    return isnan(value) ? 0.0 : value;
}

static TapeStation
plumb_station(const Record *record, GPtrArray *readings)
{
    const PlumbSection *typed = record->data;
    TapeReading *reading = g_new0(TapeReading, MAX(typed->readings.n, 1));
    g_ptr_array_add(readings, reading);
    for (size_t i = 0; i < typed->readings.n; i++) {
        const Row *row = &typed->readings.row[i];
        const char *knuckle = row->knuckle ? (row->name != NULL ? row->name : "knuckle") : NULL;
        reading[i] =
            (TapeReading){row->height_m, row->across_m, zero_if_unread(row->along_m), knuckle};
    }
    return (TapeStation){.side = typed->side == PLUMB_STARBOARD ? TAPE_STARBOARD : TAPE_PORT,
                         .along_m = typed->along_m,
                         .rail_m = typed->rail_m,
                         .from_string = typed->from == INWARD_FROM_STRING,
                         .rail_inward_m = zero_if_unread(typed->rail_inward_m),
                         .beam_m = typed->beam_m,
                         .keel_m = typed->keel_m,
                         .keel_forward_m = zero_if_unread(typed->keel_forward_m),
                         .n = typed->readings.n,
                         .reading = reading};
}

static void
fill_strings(const Boat *boat, TapeSurvey *survey)
{
    size_t n;
    const Record *const *records = boat_records(boat, &section_strings, &n);
    for (size_t i = 0; i < n; i++) {
        const StringSection *typed = records[i]->data;
        survey->string[strcmp(records[i]->id, "starboard") == 0 ? TAPE_STARBOARD : TAPE_PORT] =
            (TapeString){.length_m = typed->length_m,
                         .aft_m = typed->aft_height_m,
                         .fore_m = typed->fore_height_m,
                         .stern_m = typed->stern_along_m,
                         .out_aft_m = typed->out_aft_m,
                         .out_fore_m = typed->out_fore_m};
    }
}

/* Stations are counted in the order of the file, as the survey has them. */
static size_t
place_of(const Record *const *places, size_t n, const char *id)
{
    size_t i = 0;
    while (i < n && strcmp(places[i]->id, id) != 0)
        i++;
    return i;
}

static TapeDiagonal *
tape_diagonals(const Boat *boat, const Record *const *places, size_t stations, size_t *n)
{
    size_t typed, kept = 0;
    const Record *const *records = boat_records(boat, &section_diagonals, &typed);
    TapeDiagonal *diagonal = g_new0(TapeDiagonal, MAX(typed, 1));
    for (size_t i = 0; i < typed; i++) {
        const DiagonalSection *d = records[i]->data;
        if (d->from.id != NULL && d->to.id != NULL && d->length_m > 0.0)
            diagonal[kept++] = (TapeDiagonal){
                place_of(places, stations, d->from.id), place_of(places, stations, d->to.id),
                d->side == PLUMB_STARBOARD ? TAPE_STARBOARD : TAPE_PORT, d->length_m};
    }
    *n = kept;
    return diagonal;
}

/* The hull of hull.tape, hull.strings, hull.plumb and hull.diagonals. */
static Loft *
read_tape(Afloat *afloat)
{
    size_t n, once;
    const Record *const *places = boat_records(afloat->boat, &section_plumb, &n);
    const Record *const *tape = boat_records(afloat->boat, &section_tape, &once);
    if (n == 0 || once == 0)
        return NULL;
    const TapeSection *typed = tape[0]->data;
    g_autoptr(GPtrArray) readings = g_ptr_array_new_with_free_func(g_free);
    g_autofree TapeStation *station = g_new0(TapeStation, n);
    for (size_t i = 0; i < n; i++)
        station[i] = plumb_station(places[i], readings);
    TapeSurvey survey = {.stern_height_m = typed->stern_height_m,
                         .list_rad = typed->list_rad,
                         .base_x_m = {typed->base_aft_along_m, typed->base_fore_along_m},
                         .base_height_m = {typed->base_aft_height_m, typed->base_fore_height_m},
                         .within_m = typed->within_m,
                         .n = n,
                         .station = station};
    fill_strings(afloat->boat, &survey);
    g_autofree TapeDiagonal *diagonal = tape_diagonals(afloat->boat, places, n, &survey.diagonals);
    survey.diagonal = diagonal;
    afloat->tape = g_new0(Tape, 1);
    Loft *loft = NULL;
    if (tape_solve(&survey, afloat->tape) != REFUSED) {
        loft = loft_join(afloat->tape->shape->n, afloat->tape->shape->station);
        afloat->within_m = afloat->tape->half_breadth_m;
        afloat->volume_frac = afloat->tape->spread_m3 / afloat->tape->volume_m3;
    }
    afloat->form_fault = afloat->tape->fault;
    return loft;
}

static bool
boxed(const House *house)
{
    return isfinite(house->along.low) && isfinite(house->across.low) && isfinite(house->height.low);
}

static void
add_house(Afloat *afloat, const House *house)
{
    if (!boxed(house))
        return;
    SideRectangle side = {house->along.low, house->along.high, house->height.low,
                          house->height.high};
    g_array_append_val(afloat->rectangles, side);
    if (house->weathertight != FLAG_YES_SHOWN && house->weathertight != FLAG_YES_BARE)
        return;
    Loft *loft = loft_house(afloat->hull, house->along.low, house->along.high, house->across.low,
                            house->across.high, house->height.low, house->height.high);
    if (loft == NULL)
        return;
    g_ptr_array_add(afloat->lofts, loft);
    g_array_append_val(afloat->body_lofts, *loft);
}

static void
add_appendage(Afloat *afloat, const Appendage *part)
{
    if (!isfinite(part->along_m) || !isfinite(part->height_m))
        return;
    if (part->volume_m3 > 0.0) {
        Ball ball = {part->along_m, part->across_m, part->height_m, part->volume_m3};
        g_array_append_val(afloat->balls, ball);
    }
    if (part->area_m2 > 0.0) {
        double half = sqrt(part->area_m2) / 2.0;
        SideRectangle side = {part->along_m - half, part->along_m + half, part->height_m - half,
                              part->height_m + half};
        g_array_append_val(afloat->rectangles, side);
    }
}

static double
greatest_beam_m(const Loft *hull)
{
    double half = 0.0;
    for (size_t i = 0; i < hull->stations * hull->points; i++)
        half = fmax(half, hull->y_m[i]);
    return 2.0 * half;
}

/* Broader and higher than she was drawn: only a study of her doubt does so. */
static void
let_stray(Loft *hull, const HullSection *typed)
{
    double *half = (double *) hull->y_m,
           *height = (double *) hull->z_m; /* a loft just made is ours */
    if (typed->stray_frac == 0.0 && typed->stray_m == 0.0)
        return;
    for (size_t i = 0; i < hull->stations * hull->points; i++) {
        half[i] *= 1.0 + typed->stray_frac;
        height[i] += typed->stray_m;
    }
}

void
afloat_build_hull(Afloat *afloat)
{
    const HullSection *typed = boat_single(afloat->boat, &section_hull)->data;
    afloat->within_m = isfinite(typed->within_m) ? typed->within_m : USUAL_WITHIN_M;
    size_t stations;
    boat_records(afloat->boat, &section_stations, &stations);
    if (stations > 0)
        afloat->hull = join_stations(afloat->boat);
    else if ((afloat->hull = read_tape(afloat)) == NULL && afloat->form_fault == NULL)
        afloat->hull = draw_form(afloat);
    if (afloat->hull == NULL)
        return;
    let_stray(afloat->hull, typed);
    const Loft *hull = afloat->hull;
    afloat->length_m = hull->x_m[hull->stations - 1] - hull->x_m[0];
    afloat->beam_m = greatest_beam_m(hull);
    g_array_append_val(afloat->body_lofts, *hull);
    size_t n;
    const Record *const *records = boat_records(afloat->boat, &section_houses, &n);
    for (size_t i = 0; i < n; i++)
        add_house(afloat, records[i]->data);
    records = boat_records(afloat->boat, &section_appendages, &n);
    for (size_t i = 0; i < n; i++)
        add_appendage(afloat, records[i]->data);
    afloat->body = (Body){afloat->body_lofts->len, afloat->balls->len,
                          (const Loft *) (void *) afloat->body_lofts->data,
                          (const Ball *) (void *) afloat->balls->data};
    afloat->body.whole_m3 = body_volume_m3(&afloat->body);
}
