/* Wells of a boat, and how she lies with water in one of them. Invariant: an opening inside a well is threatened by the
 * water in it, one outside by the sea; none by both. */
#include "checks/afloat/wells.h"

#include <math.h>

#include "checks/afloat/limits.h"
#include "checks/afloat/workings.h"
#include "physics/afloat/station.h"

#define ON_DECK_M 0.1 /* a floor within a hand of the deck is the deck */

static void
well_free(gpointer data)
{
    Well *well = data;
    loft_free(well->loft);
    g_free(well);
}

static double
or_else(double typed, double otherwise)
{
    return isfinite(typed) ? typed : otherwise;
}

/* A deck between bulwarks has no floor but itself. */
static bool
on_deck(const Afloat *afloat, const Space *space)
{
    const Loft *hull = afloat->hull;
    double middle = (space->along.low + space->along.high) / 2.0;
    double deck =
        loft_deck_m(hull, fmin(fmax(middle, hull->x_m[0]), hull->x_m[hull->stations - 1]));
    return space->bulwark_m > 0.0 &&
           (!isfinite(space->height.low) || space->height.low >= deck - ON_DECK_M);
}

/* What is not let into the deck with sides of its own takes the hull's. */
static void
clip_hull(const Afloat *afloat, const Space *space, Well *well)
{
    const double far = 1e3;
    well->loft = loft_raised(afloat->hull, or_else(space->bulwark_m, 0.0));
    well->basin = basin_of_loft(well->loft);
    well->basin.box = (Compartment){space->along.low,
                                    space->along.high,
                                    or_else(space->across.low, -far),
                                    or_else(space->across.high, far),
                                    or_else(space->height.low, -far),
                                    or_else(space->height.high, far),
                                    1.0};
}

/* Empty it holds the most: a share that nobody stated is no comfort. */
static void
make_room(const Record *record, const Space *space, Well *well)
{
    if (record_state(record, "permeability")->origin == ORIGIN_TYPED)
        well->basin.box.permeability_frac = space->permeability_frac;
    well->basin.whole_m3 = basin_volume_m3(&well->basin);
}

static Well *
well_new(const Afloat *afloat, const Record *record)
{
    const Space *space = record->data;
    double floor = space->height.low, bulwark = or_else(space->bulwark_m, 0.0);
    Well *well = g_new0(Well, 1);
    well->record = record;
    well->path = record->path;
    well->name = space->what != NULL ? space->what : record->id;
    well->cover = (Cover) space->cover;
    well->scuppers_m2 = space->scuppers_m2;
    well->floor_spread = record_state(record, "height")->spread;
    well->floored = isfinite(floor) || on_deck(afloat, space);
    if (on_deck(afloat, space))
        well->loft =
            loft_bulwarked(afloat->hull, space->along.low, space->along.high, space->bulwark_m);
    else if (well->floored && isfinite(space->across.low))
        well->loft = loft_well(afloat->hull, space->along.low, space->along.high, space->across.low,
                               space->across.high, floor, space->height.high, bulwark);
    else
        clip_hull(afloat, space, well);
    if (well->loft != NULL && well->basin.loft == NULL) {
        well->basin = basin_of_loft(well->loft);
        well->basin.box.y_stbd_m = or_else(space->across.low, well->basin.box.y_stbd_m);
        well->basin.box.y_port_m = or_else(space->across.high, well->basin.box.y_port_m);
    }
    return well;
}

static void
add_whole_boat(const Afloat *afloat, GPtrArray *wells)
{
    Well *well = g_new0(Well, 1);
    well->path = "hull";
    well->name = "the boat";
    well->loft = loft_raised(afloat->hull, 0.0);
    well->basin = basin_of_loft(well->loft);
    well->opening_m2 = basin_opening_m2(&well->basin);
    well->scuppers_m2 = NAN;
    well->cover = COVER_NONE;
    g_ptr_array_add(wells, well);
}

GPtrArray *
wells_of(const Afloat *afloat)
{
    GPtrArray *wells = g_ptr_array_new_with_free_func(well_free);
    size_t n;
    const Record *const *records = boat_records(afloat->boat, &section_spaces, &n);
    for (size_t i = 0; i < n && afloat->hull != NULL; i++) {
        const Space *space = records[i]->data;
        if ((space->cover != COVER_NONE && space->cover != COVER_CLOTH) ||
            !isfinite(space->along.low))
            continue;
        Well *well = well_new(afloat, records[i]);
        g_ptr_array_add(wells, well);
        if (well->loft != NULL) {
            make_room(records[i], space, well);
            well->opening_m2 = basin_opening_m2(&well->basin);
        }
        if (!(well->opening_m2 > 0.0) || !(well->basin.whole_m3 > 0.0))
            g_ptr_array_remove_index(wells, wells->len - 1);
    }
    if (wells->len == 0 && afloat->hull != NULL && afloat->vessel->deck == VESSEL_OPEN)
        add_whole_boat(afloat, wells);
    return wells;
}

bool
well_drains(const Well *well)
{
    return well->floored && well->scuppers_m2 > 0.0;
}

/* Inside the well and above its floor: a hole in the shell below the floor leads elsewhere. */
static bool
opens_into(const Well *well, const Inlet *inlet)
{
    const Loft *loft = well->loft;
    const Compartment *box = &well->basin.box;
    g_autofree double *y = g_new(double, 2 * loft->points);
    if (!well->floored || inlet->edge || inlet->x_m < box->x_aft_m || inlet->x_m > box->x_fwd_m ||
        !loft_points(loft, inlet->x_m, y, y + loft->points))
        return false;
    double half = y[loft->points - 1], floor = fmax(y[loft->points], box->z_bottom_m);
    return inlet->y_m >= fmax(box->y_stbd_m, loft->y_mid_m - half) &&
           inlet->y_m <= fmin(box->y_port_m, loft->y_mid_m + half) && inlet->z_m >= floor;
}

void
awash_look(const Afloat *afloat, const Well *well, Awash *out)
{
    Case lies = {.rest = out->water.wet}, within = lies;
    within.rest.at.origin_depth_m = out->water.depth_m;
    side_lines(afloat->hull, &lies.rest.at, &lies.side);
    out->height_m = lies.side.least_freeboard_m;
    out->next = NULL;
    out->inside = false;
    for (guint i = 0; i < afloat->inlets->len; i++) {
        const Inlet *inlet = &g_array_index(afloat->inlets, Inlet, i);
        bool inside = opens_into(well, inlet);
        double height = inlet_height_m(inlet, inside ? &within : &lies);
        if (inlet_floods(inlet) && (height < out->height_m || inlet->edge) &&
            height <= out->height_m) {
            out->height_m = height;
            out->next = inlet;
            out->inside = inside;
        }
    }
}

/* Sinkage by what is left of the water plane; how high the opening itself stands. The water in a well does not know how she
 * lies in the sea, so that an opening in it is only as doubtful as its own height and the floor's. */
Spread
awash_spread(const Afloat *afloat, const Case *c, const Awash *awash, Result *result)
{
    const Inlet *next = awash->next;
    bool placed = next != NULL && !next->edge;
    Case wet = *c;
    wet.rest = awash->water.wet;
    wet.sum.mass_kg += awash->water.water_kg;
    double x = placed ? next->x_m : afloat->hull->x_m[0] + afloat->length_m / 2.0;
    Linear a = linear_height(afloat, &wet, x, placed ? next->y_m : 0.0);
    if (awash->inside)
        a = (Linear){.other = afloat->within_m};
    if (placed) {
        a.own = next->spread_m;
        a.own_record = next->record;
    }
    return spread_of(afloat, c, &a, result);
}

const char *
awash_words(Result *result, const Awash *awash)
{
    return awash->next != NULL ? inlet_words(result, awash->next) : "the deck edge";
}

void
awash_working(Working *w, const Afloat *afloat, const Case *c, const Well *well, const Awash *awash,
              double water_kg_per_m3)
{
    const DeckWater *water = &awash->water;
    Linear mass = linear_mass();
    working_given(w, "rho", "density of the water she floats in", afloat->density_kg_per_m3,
                  Q_DENSITY, afloat->density_spread, afloat->density_basis, NULL);
    working_path_is(w, "boat.density");
    working_given(w, "m", "displacement without it", c->sum.mass_kg, Q_MASS,
                  spread_of(afloat, c, &mass, NULL).spread, masses_basis(c), &source_ledger);
    working_followed_is(w, true);
    if (well->basin.box.permeability_frac < 1.0) {
        working_from_boat(w, "mu", well->record, "permeability");
        working_followed_is(w, true);
    }
    working_given(w, "v", "water in it", water->water_m3, Q_VOLUME, 0.0, BASIS_MEASURED,
                  &deck_water_brim_method.source);
    working_given(w, "rho_w", "its density", water_kg_per_m3, Q_DENSITY, 0.0, BASIS_MEASURED, NULL);
    working_equals(w, "m1", "displacement with it", c->sum.mass_kg + water->water_kg, Q_MASS, 0.0,
                   &deck_water_mass_method);
    working_given(w, "FS", "what slack surfaces take from her stiffness", water->wet.free_surface_m,
                  Q_LENGTH, 0.0, BASIS_MEASURED, &free_surface_method.source);
    working_given(w, "GM", "metacentric height that is left", water->wet.gm_m, Q_LENGTH, 0.0,
                  BASIS_MEASURED, &gm_method.source);
    working_given(w, "heel", "heel then, starboard down +", water->wet.at.heel_rad, Q_ANGLE, 0.0,
                  BASIS_MEASURED, &rest_heel_method.source);
    working_given(w, "trim", "trim then, bow down +", water->wet.at.trim_rad, Q_ANGLE, 0.0,
                  BASIS_MEASURED, &rest_trim_method.source);
    working_given(w, "V", "volume under water then", water->wet.volume_m3, Q_VOLUME, 0.0,
                  BASIS_MEASURED, &source_stations);
    working_found(w, "depth", "depth of the base line's aft end below the water", "rho * V = m1",
                  water->wet.at.origin_depth_m, Q_LENGTH, 0.0, &source_rest, VALID);
}
