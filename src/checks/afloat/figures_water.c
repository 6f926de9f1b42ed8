/* Pictures of hull and water: stations as taken, readings of the water, slings and blocks, an open space.
 * Invariant: the numbers are those the checks give, from the same functions. */
#include <math.h>
#include <string.h>

#include "checks/afloat/ashore.h"
#include "checks/afloat/calibrate.h"
#include "checks/afloat/figures.h"
#include "checks/afloat/flooded.h"
#include "result/picture/flooded_profile.h"
#include "result/picture/readings.h"
#include "result/picture/slings.h"
#include "result/picture/stations.h"

static const char no_hull[] = "her shape is not known: no stations, no readings that give them";

/* ---- stations ---- */

static int
by_place(gconstpointer a, gconstpointer b)
{
    double left = ((const TakenStation *) a)->joined.x_m,
           right = ((const TakenStation *) b)->joined.x_m;
    return left < right ? -1 : left > right;
}

static void
fill_typed(FigureStore *store, StationsPicture *fig)
{
    size_t n;
    const Record *const *records = boat_records(store->afloat->boat, &section_stations, &n);
    TakenStation *stations = figure_block(store, n * sizeof *stations);
    for (size_t i = 0; i < n; i++) {
        const StationSection *typed = records[i]->data;
        TakenPoint *point = figure_block(store, typed->points.n * sizeof *point);
        for (size_t k = 0; k < typed->points.n; k++) {
            const Row *row = &typed->points.row[k];
            point[k] = (TakenPoint){row->across_m, row->height_m, row->knuckle, row->name};
        }
        stations[i] = (TakenStation){records[i]->path, figure_words(store, records[i], NULL),
                                     typed->points.n, point, figure_section(store, typed->along_m)};
    }
    qsort(stations, n, sizeof *stations, by_place);
    fig->from = STATIONS_TAKEN;
    fig->station = stations;
    fig->stations = n;
}

static const SuspectPoint *
suspects_of(FigureStore *store, size_t *n)
{
    const Tape *tape = store->afloat->tape;
    size_t places;
    const Record *const *records = boat_records(store->afloat->boat, &section_plumb, &places);
    SuspectPoint *suspect = figure_block(store, tape->steps * sizeof *suspect);
    *n = 0;
    for (size_t i = 0; i < tape->steps; i++) {
        const TapeStep *step = &tape->step[i];
        if (!step->suspect || step->station >= places)
            continue;
        const Record *record = records[step->station];
        const char *words = figure_words(store, record, NULL);
        suspect[(*n)++] =
            (SuspectPoint){record->path,
                           step->reading == TAPE_RAIL ? figure_text(store, "%s, rail", words)
                           : step->reading == TAPE_KEEL
                               ? figure_text(store, "%s, keel", words)
                               : figure_text(store, "%s, reading %d", words, step->reading + 1),
                           step->x_m,
                           fabs(step->y_m),
                           step->z_m,
                           step->out_m};
    }
    return suspect;
}

static void
fill_taped(FigureStore *store, StationsPicture *fig)
{
    const Shape *shape = store->afloat->tape->shape;
    TakenStation *stations = figure_block(store, shape->n * sizeof *stations);
    for (size_t i = 0; i < shape->n; i++) {
        const Station *from = &shape->station[i];
        TakenPoint *point = figure_block(store, from->points * sizeof *point);
        for (size_t k = 0; k < from->points; k++)
            point[k] = (TakenPoint){from->point[k].y_m, from->point[k].z_m, from->point[k].knuckle,
                                    from->point[k].name};
        stations[i] = (TakenStation){NULL, figure_text(store, "station %zu", i + 1), from->points,
                                     point, figure_section(store, from->x_m)};
    }
    fig->from = STATIONS_TAPED;
    fig->station = stations;
    fig->stations = shape->n;
    fig->suspect = suspects_of(store, &fig->suspects);
}

static void
fill_formed(FigureStore *store, StationsPicture *fig)
{
    const Loft *hull = store->afloat->hull;
    TakenStation *stations = figure_block(store, hull->stations * sizeof *stations);
    for (size_t i = 0; i < hull->stations; i++)
        stations[i] = (TakenStation){NULL, figure_text(store, "section %zu", i + 1), 0, NULL,
                                     figure_section(store, hull->x_m[i])};
    fig->from = STATIONS_FROM_FORM;
    fig->station = stations;
    fig->stations = hull->stations;
}

void *
figure_stations(FigureStore *store)
{
    const Afloat *afloat = store->afloat;
    if (afloat->hull == NULL) {
        store->why_not = no_hull;
        return NULL;
    }
    const Case *c = figure_case(afloat);
    StationsPicture *fig = figure_block(store, sizeof *fig);
    fig->caption = c != NULL ? figure_caption(store, c)
                             : figure_text(store, "%s, %s", afloat->vessel->name, store->stage);
    fig->lie = c != NULL ? figure_lie(c) : (Lie){NAN, NAN, NAN};
    fig->within_m = afloat->within_m;
    fig->middle_m = afloat->hull->x_m[0] + afloat->length_m / 2.0;
    size_t typed;
    boat_records(afloat->boat, &section_stations, &typed);
    if (typed > 0)
        fill_typed(store, fig);
    else if (afloat->from_form)
        fill_formed(store, fig);
    else
        fill_taped(store, fig);
    return fig;
}

/* ---- readings ---- */

/* The latest that fixed how she lay. */
static const Survey *
latest_survey(const Afloat *afloat)
{
    const Survey *latest = NULL;
    long day = 0;
    for (guint i = 0; i < afloat->surveys->len; i++) {
        const Survey *survey = g_ptr_array_index(afloat->surveys, i);
        const Date *date = &((const Measurement *) survey->record->data)->date;
        long here = date->year * 10000L + date->month * 100L + date->day;
        if (survey->validity == REFUSED || (latest != NULL && here < day))
            continue;
        latest = survey;
        day = here;
    }
    return latest;
}

void *
figure_readings(FigureStore *store)
{
    const Afloat *afloat = store->afloat;
    const Survey *survey = latest_survey(afloat);
    if (survey == NULL) {
        store->why_not = afloat->hull == NULL ? no_hull
                         : afloat->surveys->len == 0
                             ? "no freeboards or draughts were read: see `measured`"
                             : "the readings do not fix how she lay: see the findings of "
                               "`careen check`";
        return NULL;
    }
    const Measurement *typed = survey->record->data;
    ReadingsPicture *fig = figure_block(store, sizeof *fig);
    ReadingMark *reading = figure_block(store, survey->n * sizeof *reading);
    double squares = 0.0;
    size_t counted = 0;
    for (size_t i = 0; i < survey->n; i++) {
        const FreeboardReading *r = &survey->reading[i];
        bool draught = typed->kind == MEASURED_DRAUGHTS;
        double misfit = r->freeboard_m - attitude_height_m(&survey->fit.at, r->x_m, r->y_m, r->z_m);
        reading[i] = (ReadingMark){{r->x_m, r->y_m, r->z_m},
                                   draught ? -r->freeboard_m : r->freeboard_m,
                                   misfit,
                                   i == survey->left_out};
        squares += reading[i].left_out ? 0.0 : misfit * misfit;
        counted += !reading[i].left_out;
    }
    for (size_t i = 0; i < typed->readings.n; i++) {
        double spread = typed->readings.row[i].value.spread;
        fig->spread_m = fmax(fig->spread_m, isfinite(spread) ? spread : 0.0);
    }
    if (!(fig->spread_m > 0.0))
        fig->spread_m = NAN;
    fig->rms_m = counted > 0 ? sqrt(squares / (double) counted) : NAN;
    fig->caption =
        figure_text(store, "%s: the water as it was read (%04d-%02d-%02d)", afloat->vessel->name,
                    typed->date.year, typed->date.month, typed->date.day);
    if (typed->date.year == 0)
        fig->caption = figure_text(store, "%s: the water as it was read", afloat->vessel->name);
    fig->path = survey->record->path;
    fig->name = figure_words(store, survey->record, NULL);
    fig->draughts = typed->kind == MEASURED_DRAUGHTS;
    fig->hull = figure_outline(store);
    const Attitude *at = &survey->fit.at;
    fig->lie = (Lie){at->origin_depth_m, at->heel_rad, at->trim_rad};
    fig->reading = reading;
    fig->readings = survey->n;
    return fig;
}

/* ---- slings ---- */

void *
figure_slings(FigureStore *store)
{
    const Afloat *afloat = store->afloat;
    const Case *c = ashore_case(afloat);
    if (c == NULL)
        return NULL;
    AshoreSlings hung = ashore_slings(afloat, c);
    AshoreBlock on;
    bool lands = ashore_block(afloat, c, &on);
    SlingsPicture *fig = figure_block(store, sizeof *fig);
    *fig = (SlingsPicture){.caption = figure_caption(store, c),
                           .hull = figure_outline(store),
                           .g = {c->sum.lcg_m, c->sum.tcg_m, c->sum.vcg_m},
                           .lcg_spread_m = hung.boat.lcg_spread_m,
                           .mass_kg = hung.boat.mass_kg,
                           .mass_spread_kg = hung.boat.mass_spread_kg,
                           .crane_kg = hung.crane_kg,
                           .slings_assumed = hung.assumed,
                           .hold = hung.validity == REFUSED        ? SLINGS_TIP
                                   : hung.validity == EXTRAPOLATED ? SLINGS_MAY_SLACKEN
                                                                   : SLINGS_HOLD,
                           .block_x_m = lands ? on.block.x_m : NAN,
                           .block_z_m = lands ? on.block.z_m : NAN,
                           .block_assumed = on.assumed,
                           .block_kg = lands ? on.landing.reaction_kg : NAN,
                           .block_spread_kg = on.reaction_spread_kg,
                           .left_m = on.left_m};
    for (int k = 0; k < 2; k++)
        fig->sling[k] = (SlingMark){hung.sling[k].x_m, hung.load_kg[k], hung.load_spread_kg[k]};
    fig->house = figure_houses(store, &fig->houses);
    return fig;
}

/* ---- a space open to the sea ---- */

/* Lost is worse than any height. */
static bool
worse(const Flooded *a, const Flooded *b)
{
    if (a->validity == REFUSED || b->validity == REFUSED)
        return a->validity == REFUSED && b->validity != REFUSED;
    return a->height_m < b->height_m;
}

static const Record *
worst_space(const Afloat *afloat, const Case *c, Flooded *out)
{
    size_t n;
    const Record *const *records = boat_records(afloat->boat, &section_spaces, &n);
    const Record *worst = NULL;
    for (size_t i = 0; i < n; i++) {
        Flooded here;
        if (!flooded_space(afloat, c, records[i], NULL, &here) ||
            (worst != NULL && !worse(&here, out)))
            continue;
        worst = records[i];
        *out = here;
    }
    return worst;
}

static void
fill_next(const Afloat *afloat, const Flooded *flooded, FloodedProfilePicture *fig)
{
    const Inlet *next = flooded->next;
    fig->height_m = flooded->height_m;
    fig->spread_m = flooded->spread_m;
    if (next != NULL && !next->edge) {
        fig->next_name = next->name;
        fig->next = (Spot){next->x_m, next->y_m, next->z_m};
        return;
    }
    SideView side;
    side_view(afloat->hull, &flooded->rest.at, 0, NULL, &side);
    fig->next_name = next != NULL ? next->name : "the deck edge";
    fig->next =
        (Spot){side.least_freeboard_x_m, NAN, loft_deck_m(afloat->hull, side.least_freeboard_x_m)};
}

/* An opening of the space itself lets no more water in than stands there already. */
static void
fill_openings(FigureStore *store, const Case *c, const Flooded *flooded, FloodedProfilePicture *fig)
{
    size_t all;
    const OpeningMark *openings = figure_openings(store, c, &all);
    OpeningMark *shown = figure_block(store, all * sizeof *shown);
    for (size_t i = 0; i < all; i++) {
        if (openings[i].at.x_m >= flooded->open.x_aft_m &&
            openings[i].at.x_m <= flooded->open.x_fwd_m)
            continue;
        shown[fig->openings] = openings[i];
        shown[fig->openings++].worst = flooded->validity != REFUSED && flooded->next != NULL &&
                                       flooded->next->path == openings[i].path;
    }
    fig->opening = shown;
}

void *
figure_flooded_profile(FigureStore *store)
{
    const Afloat *afloat = store->afloat;
    const Case *c = flooded_case(afloat);
    size_t n;
    boat_records(afloat->boat, &section_spaces, &n);
    Flooded flooded;
    const Record *record = c != NULL ? worst_space(afloat, c, &flooded) : NULL;
    if (record == NULL) {
        store->why_not = n == 0      ? "no space of her is known: see `spaces`"
                         : c == NULL ? "an opening is under water before anything is flooded: the "
                                       "findings say why"
                                     : "no space below deck says where it lies: see `spaces`";
        return NULL;
    }
    const Space *space = record->data;
    FloodedProfilePicture *fig = figure_block(store, sizeof *fig);
    fig->caption = figure_caption(store, c);
    fig->hull = figure_outline(store);
    fig->house = figure_houses(store, &fig->houses);
    fig->space = figure_box(record->path, figure_words(store, record, space->what), &space->along,
                            &space->across, &space->height);
    fig->rest = figure_lie(c);
    fig->flooded = (Lie){NAN, NAN, NAN};
    fig->height_m = fig->spread_m = NAN;
    fig->next = (Spot){NAN, NAN, NAN};
    if (flooded.validity != REFUSED) {
        const Attitude *at = &flooded.rest.at;
        fig->flooded = (Lie){at->origin_depth_m, at->heel_rad, at->trim_rad};
        fill_next(afloat, &flooded, fig);
    }
    fill_openings(store, c, &flooded, fig);
    return fig;
}
