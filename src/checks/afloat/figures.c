/* Pictures of the afloat discipline as plain data: how she lies, what weighs where, the heeled section.
 * Invariant: what is not known is NAN or left out, never zero. */
#include "checks/afloat/figures.h"

#include <math.h>

#include "result/picture/arrangement.h"
#include "result/picture/heeled_section.h"
#include "result/picture/weight_plan.h"

const char *
figure_case_words(FigureStore *store, const Case *c)
{
    const char *words = figure_situation(store, store->afloat->boat, c->situation);
    return c->variant != NULL ? figure_text(store, "%s, %s", words, c->variant) : words;
}

const char *
figure_caption(FigureStore *store, const Case *c)
{
    return figure_text(store, "%s, %s: %s", store->afloat->vessel->name, store->stage,
                       figure_case_words(store, c));
}

const Case *
figure_case(const Afloat *afloat)
{
    return afloat->stern_case != NULL ? afloat->stern_case : afloat->governing;
}

Lie
figure_lie(const Case *c)
{
    return (Lie){c->rest.at.origin_depth_m, c->rest.at.heel_rad, c->rest.at.trim_rad};
}

static Spot
metacentre(const Case *c)
{
    /* Straight above B along the true vertical. */
    double up = c->rest.bm_m, sh = sin(c->rest.at.heel_rad), ch = cos(c->rest.at.heel_rad);
    double st = sin(c->rest.at.trim_rad), ct = cos(c->rest.at.trim_rad);
    return (Spot){c->rest.lcb_m - up * st, c->rest.tcb_m + up * sh * ct,
                  c->rest.vcb_m + up * ch * ct};
}

HalfSection
figure_section(FigureStore *store, double x_m)
{
    const Loft *hull = store->afloat->hull;
    double *y = figure_block(store, hull->points * sizeof *y),
           *z = figure_block(store, hull->points * sizeof *z);
    loft_points(hull, x_m, y, z);
    return (HalfSection){x_m, hull->points, y, z};
}

/* ---- arrangement ---- */

static HullLine
hull_line(FigureStore *store, size_t point)
{
    const Loft *hull = store->afloat->hull;
    double *x = figure_block(store, hull->stations * sizeof *x),
           *y = figure_block(store, hull->stations * sizeof *y);
    double *z = figure_block(store, hull->stations * sizeof *z);
    for (size_t s = 0; s < hull->stations; s++) {
        x[s] = hull->x_m[s];
        y[s] = hull->y_m[s * hull->points + point];
        z[s] = hull->z_m[s * hull->points + point];
    }
    HullLine line = {.n = hull->stations, .x_m = x, .y_m = y, .z_m = z};
    line.kind = point == 0                  ? HULL_BOTTOM
                : point + 1 == hull->points ? HULL_DECK_EDGE
                                            : HULL_KNUCKLE;
    line.name = point == 0 ? "bottom" : point + 1 == hull->points ? "deck edge" : "knuckle";
    return line;
}

/* Bottom, deck edge, and the point where most stations turn most between them: the chine that the eye looks for. */
static size_t
chine_point(const Loft *hull)
{
    size_t best = 0;
    double most = 0.0;
    for (size_t j = 1; j + 1 < hull->points; j++) {
        double turn = 0.0;
        for (size_t s = 0; s < hull->stations; s++) {
            const double *y = hull->y_m + s * hull->points, *z = hull->z_m + s * hull->points;
            double a = atan2(z[j] - z[j - 1], y[j] - y[j - 1]),
                   b = atan2(z[j + 1] - z[j], y[j + 1] - y[j]);
            turn += fabs(b - a);
        }
        if (turn > most) {
            most = turn;
            best = j;
        }
    }
    return best;
}

static void
fill_hull(FigureStore *store, ArrangementPicture *fig)
{
    const Loft *hull = store->afloat->hull;
    size_t chine = chine_point(hull);
    HullLine *lines = figure_block(store, 3 * sizeof *lines);
    fig->line = lines;
    lines[fig->lines++] = hull_line(store, 0);
    if (chine > 0)
        lines[fig->lines++] = hull_line(store, chine);
    lines[fig->lines++] = hull_line(store, hull->points - 1);
    HalfSection *sections = figure_block(store, hull->stations * sizeof *sections);
    for (size_t s = 0; s < hull->stations; s++)
        sections[s] = (HalfSection){hull->x_m[s], hull->points, hull->y_m + s * hull->points,
                                    hull->z_m + s * hull->points};
    fig->section = sections;
    fig->sections = hull->stations;
    fig->midship = figure_section(store, hull->x_m[0] + store->afloat->length_m / 2.0);
}

Block
figure_box(const char *path, const char *name, const Range *along, const Range *across,
           const Range *height)
{
    return (Block){path,        name,         along->low,  along->high,
                   across->low, across->high, height->low, height->high};
}

const char *
figure_words(FigureStore *store, const Record *record, const char *what)
{
    if (what != NULL)
        return what;
    char *words = g_strdelimit(g_strdup(record->id), "-", ' ');
    g_ptr_array_add(store->blocks, words);
    return words;
}

const Block *
figure_houses(FigureStore *store, size_t *n)
{
    const Record *const *records = boat_records(store->afloat->boat, &section_houses, n);
    Block *houses = figure_block(store, *n * sizeof *houses);
    for (size_t i = 0; i < *n; i++) {
        const House *house = records[i]->data;
        houses[i] = figure_box(records[i]->path, figure_words(store, records[i], NULL),
                               &house->along, &house->across, &house->height);
    }
    return houses;
}

static void
fill_rooms(FigureStore *store, ArrangementPicture *fig)
{
    size_t n;
    fig->house = figure_houses(store, &fig->houses);
    const Record *const *records = boat_records(store->afloat->boat, &section_spaces, &n);
    Block *spaces = figure_block(store, n * sizeof *spaces);
    for (size_t i = 0; i < n; i++) {
        const Space *space = records[i]->data;
        spaces[i] = figure_box(records[i]->path, figure_words(store, records[i], space->what),
                               &space->along, &space->across, &space->height);
    }
    fig->space = spaces;
    fig->spaces = n;
}

static void
fill_tanks(FigureStore *store, const Case *c, ArrangementPicture *fig)
{
    size_t n;
    const Record *const *roles = boat_records(store->afloat->boat, &section_tank, &n);
    TankBlock *tanks = figure_block(store, n * sizeof *tanks);
    for (size_t i = 0; i < n; i++) {
        const Record *item = roles[i]->parent;
        Tank box;
        bool assumed;
        if (!item_aboard(item->data, store->afloat->stage) ||
            !tank_of_item(item, 1.0, &box, &assumed))
            continue;
        double full = tank_liquid_kg(&box), here = 0.0;
        for (guint k = 0; k < c->masses->len; k++) {
            const Mass *mass = &g_array_index(c->masses, Mass, k);
            if (mass->liquid && mass->item == item)
                here = mass->ledger.mass_kg;
        }
        tanks[fig->tanks].block =
            (Block){item->path,     figure_words(store, item, ((const Item *) item->data)->what),
                    box.x_aft_m,    box.x_fwd_m,
                    box.y_stbd_m,   box.y_port_m,
                    box.z_bottom_m, box.z_top_m};
        tanks[fig->tanks].fill_frac = full > 0.0 ? here / full : NAN;
        fig->tanks++;
    }
    fig->tank = tanks;
}

static MassMark
mark_of(const Mass *mass)
{
    const Item *item = mass->item != NULL ? mass->item->data : NULL;
    MassMark mark = {.path = mass->item != NULL ? mass->item->path : NULL,
                     .name = mass->name,
                     .at = {mass->ledger.x_m, mass->ledger.y_m, mass->ledger.z_m},
                     .mass_kg = mass->ledger.mass_kg,
                     .spread_kg = mass->ledger.mass_spread_kg,
                     .basis = mass->basis,
                     .movable = item != NULL && !mass->liquid && !mass->person};
    if (item != NULL && !mass->liquid)
        mark.change = item->state == ITEM_TO_FIT      ? CHANGE_FITTED
                      : item->state == ITEM_TO_REMOVE ? CHANGE_REMOVED
                                                      : CHANGE_NONE;
    return mark;
}

static const MassMark *
marks_of(FigureStore *store, const GArray *masses, size_t *n)
{
    MassMark *marks = figure_block(store, masses->len * sizeof *marks);
    for (guint i = 0; i < masses->len; i++)
        marks[i] = mark_of(&g_array_index(masses, Mass, i));
    *n = masses->len;
    return marks;
}

const OpeningMark *
figure_openings(FigureStore *store, const Case *c, size_t *n)
{
    const Afloat *afloat = store->afloat;
    OpeningMark *marks = figure_block(store, afloat->inlets->len * sizeof *marks);
    size_t worst = 0;
    *n = 0;
    for (guint i = 0; i < afloat->inlets->len; i++) {
        const Inlet *inlet = &g_array_index(afloat->inlets, Inlet, i);
        if (inlet->edge)
            continue;
        Linear a = linear_height(afloat, c, inlet->x_m, inlet->y_m);
        a.own = inlet->spread_m;
        marks[*n] = (OpeningMark){.path = inlet->path,
                                  .name = inlet->name,
                                  .at = {inlet->x_m, inlet->y_m, inlet->z_m},
                                  .size_m = ((const Opening *) inlet->record->data)->size_m,
                                  .above_m = inlet_height_m(inlet, c),
                                  .spread_m = spread_of(afloat, c, &a, NULL).spread,
                                  .tight = !inlet_floods(inlet)};
        if (!marks[*n].tight && (marks[worst].tight || marks[*n].above_m < marks[worst].above_m))
            worst = *n;
        (*n)++;
    }
    if (*n > 0)
        marks[worst].worst = !marks[worst].tight;
    return marks;
}

static void
fill_marks(FigureStore *store, const Case *c, ArrangementPicture *fig)
{
    const Afloat *afloat = store->afloat;
    const Loft *hull = afloat->hull;
    double ends[] = {hull->x_m[0], hull->x_m[hull->stations - 1]};
    static const char *const where[] = {"aft", "fore"};
    DraughtMark *draughts = figure_block(store, 2 * sizeof *draughts);
    for (size_t i = 0; i < 2; i++) {
        Linear a = linear_height(afloat, c, ends[i], 0.0);
        draughts[i] = (DraughtMark){where[i], ends[i], attitude_draught_m(&c->rest.at, ends[i]),
                                    spread_of(afloat, c, &a, NULL).spread};
    }
    fig->draught = draughts;
    fig->draughts = 2;
    FreeboardMark *freeboard = figure_block(store, sizeof *freeboard);
    double x = c->side.least_freeboard_x_m;
    HalfSection cut = figure_section(store, x);
    double across = cut.y_m[cut.n - 1] * (c->side.least_freeboard_side > 0 ? -1.0 : 1.0);
    Linear a = linear_height(afloat, c, x, across);
    *freeboard = (FreeboardMark){"least freeboard",
                                 {x, across, cut.z_m[cut.n - 1]},
                                 c->side.least_freeboard_m,
                                 spread_of(afloat, c, &a, NULL).spread};
    fig->freeboard = freeboard;
    fig->freeboards = 1;
    fig->g = (Spot){c->g_x_m, c->g_y_m, c->g_z_m};
    fig->b = (Spot){c->rest.lcb_m, c->rest.tcb_m, c->rest.vcb_m};
    fig->m = metacentre(c);
}

static void
fill_appendages(FigureStore *store, ArrangementPicture *fig)
{
    size_t n;
    const Record *const *parts = boat_records(store->afloat->boat, &section_appendages, &n);
    MassMark *balls = figure_block(store, n * sizeof *balls);
    for (size_t i = 0; i < n; i++) {
        const Appendage *part = parts[i]->data;
        balls[i] = (MassMark){.path = parts[i]->path,
                              .name = figure_words(store, parts[i], part->what),
                              .at = {part->along_m, part->across_m, part->height_m},
                              .mass_kg = NAN,
                              .spread_kg = NAN};
    }
    fig->ball = balls;
    fig->balls = n;
}

static void
add_stations(FigureStore *store, const Section *section, ArrangementPicture *fig)
{
    size_t n;
    const Record *const *records = boat_records(store->afloat->boat, section, &n);
    StationMark *marks = figure_block(store, (fig->stations + n) * sizeof *marks);
    for (size_t i = 0; i < fig->stations; i++)
        marks[i] = fig->station[i];
    for (size_t i = 0; i < n; i++)
        marks[fig->stations++] =
            (StationMark){records[i]->path,
                          figure_text(store, "station %s", figure_words(store, records[i], NULL)),
                          record_number(records[i], "along")};
    fig->station = marks;
}

void *
figure_arrangement(FigureStore *store)
{
    const Case *c = figure_case(store->afloat);
    if (c == NULL)
        return NULL;
    ArrangementPicture *fig = figure_block(store, sizeof *fig);
    fig->caption = figure_caption(store, c);
    fig->situation = figure_case_words(store, c);
    fig->lie = figure_lie(c);
    fill_hull(store, fig);
    fill_rooms(store, fig);
    fill_tanks(store, c, fig);
    fig->item = marks_of(store, store->afloat->ship, &fig->items);
    fig->opening = figure_openings(store, c, &fig->openings);
    fill_marks(store, c, fig);
    fill_appendages(store, fig);
    add_stations(store, &section_stations, fig);
    add_stations(store, &section_plumb, fig);
    return fig;
}

SideOutline
figure_outline(FigureStore *store)
{
    const Loft *hull = store->afloat->hull;
    HullLine deck = hull_line(store, hull->points - 1);
    double *bottom = figure_block(store, hull->stations * sizeof *bottom);
    for (size_t s = 0; s < hull->stations; s++) {
        bottom[s] = hull->z_m[s * hull->points];
        for (size_t j = 1; j < hull->points; j++)
            bottom[s] = fmin(bottom[s], hull->z_m[s * hull->points + j]);
    }
    return (SideOutline){hull->stations, deck.x_m, deck.z_m, bottom};
}

void
figure_deck(FigureStore *store, size_t *n, const double **x_m, const double **y_m)
{
    const Loft *hull = store->afloat->hull;
    if (hull == NULL)
        return;
    double *y = figure_block(store, hull->stations * sizeof *y);
    for (size_t s = 0; s < hull->stations; s++)
        y[s] = hull->y_m[s * hull->points + hull->points - 1];
    *n = hull->stations;
    *x_m = figure_outline(store).x_m;
    *y_m = y;
}

/* ---- weight plan ---- */

void *
figure_weight_plan(FigureStore *store)
{
    const Afloat *afloat = store->afloat;
    const Case *c = figure_case(afloat);
    if (c == NULL)
        return NULL;
    const Loft *hull = afloat->hull;
    WeightPlanPicture *fig = figure_block(store, sizeof *fig);
    fig->caption = figure_caption(store, c);
    fig->situation = figure_case_words(store, c);
    fig->item = marks_of(store, c->masses, &fig->items);
    HullLine deck = hull_line(store, hull->points - 1);
    SideOutline side = figure_outline(store);
    fig->deck_points = side.n;
    fig->deck_x_m = side.x_m;
    fig->deck_y_m = deck.y_m;
    fig->deck_z_m = side.deck_m;
    fig->bottom_z_m = side.bottom_m;
    Linear mass = linear_mass(), x = linear_centre(c, 0), y = linear_centre(c, 1),
           z = linear_centre(c, 2);
    fig->total_kg = c->sum.mass_kg;
    fig->total_spread_kg = spread_of(afloat, c, &mass, NULL).spread;
    fig->g = (Spot){c->sum.lcg_m, c->sum.tcg_m, c->sum.vcg_m};
    fig->g_spread =
        (Spot){spread_of(afloat, c, &x, NULL).spread, spread_of(afloat, c, &y, NULL).spread,
               spread_of(afloat, c, &z, NULL).spread};
    fig->lcb_m = c->rest.lcb_m;
    return fig;
}

/* ---- heeled section ---- */

static SectionLie
flooded_lie(const Afloat *afloat)
{
    SectionLie lie = {.lie = {NAN, NAN, NAN}, .gz_m = NAN};
    if (!isfinite(afloat->flooding_rad))
        return lie;
    double heel = (afloat->flooding_side < 0 ? -1.0 : 1.0) * afloat->flooding_rad;
    Attitude at = afloat->governing->rest.at;
    if (rest_at_heel(&afloat->body, &afloat->governing->load, afloat->density_kg_per_m3, heel, true,
                     &at, &lie.gz_m) == REFUSED)
        return lie;
    Immersed under;
    body_immersed(&afloat->body, &at, &under);
    lie.lie = (Lie){at.origin_depth_m, at.heel_rad, at.trim_rad};
    lie.b = (Spot){under.x_m4 / under.volume_m3, under.y_m4 / under.volume_m3,
                   under.z_m4 / under.volume_m3};
    return lie;
}

void *
figure_heeled_section(FigureStore *store)
{
    const Afloat *afloat = store->afloat;
    const Case *c = afloat->governing;
    if (c == NULL)
        return NULL;
    const Inlet *inlet = afloat->flooding_inlet;
    const Loft *hull = afloat->hull;
    double x = hull->x_m[0] + afloat->length_m / 2.0;
    if (inlet != NULL && !inlet->edge)
        x = fmin(fmax(inlet->x_m, hull->x_m[0]), hull->x_m[hull->stations - 1]);
    HeeledSectionPicture *fig = figure_block(store, sizeof *fig);
    fig->caption = figure_caption(store, c);
    fig->situation = figure_case_words(store, c);
    fig->section = figure_section(store, x);
    size_t n;
    const Record *const *records = boat_records(afloat->boat, &section_houses, &n);
    Block *houses = figure_block(store, n * sizeof *houses);
    for (size_t i = 0; i < n; i++) {
        const House *house = records[i]->data;
        if (house->along.low <= x && house->along.high >= x)
            houses[fig->houses++] =
                figure_box(records[i]->path, figure_words(store, records[i], NULL), &house->along,
                           &house->across, &house->height);
    }
    fig->house = houses;
    size_t all;
    const OpeningMark *openings = figure_openings(store, c, &all);
    OpeningMark *shown = figure_block(store, all * sizeof *shown);
    for (size_t i = 0; i < all; i++)
        if (inlet != NULL && openings[i].path == inlet->path)
            shown[fig->openings++] = openings[i];
    fig->opening = shown;
    fig->g = (Spot){c->g_x_m, c->g_y_m, c->g_z_m};
    fig->rest = (SectionLie){figure_lie(c), {c->rest.lcb_m, c->rest.tcb_m, c->rest.vcb_m}, NAN};
    fig->flooded = flooded_lie(afloat);
    return fig;
}
