/* One space open to the sea: where she then lies, which opening is next, or whether she is lost. */
#include <math.h>

#include "checks/afloat/limits.h"
#include "checks/afloat/workings.h"
#include "physics/afloat/flooding.h"

static const char *const cautions[] = {"AF1", NULL};

static void run(const Afloat *afloat, Result *result);
const Check check_flooded = {{"afloat", "flooded",
                              "Does she stay afloat with one space open to the sea?", LINE_SINK,
                              cautions},
                             run};

const AnswerKind answer_flooded_height = {
    .discipline = "afloat",
    .name = "flooded-height",
    .label = "Lowest opening with this space flooded",
    .kind = Q_LENGTH,
    .worse = WORSE_LESS,
    .help = "height above the water once the space stands full to the sea's level"};

static double
either(double typed, double otherwise)
{
    return isfinite(typed) ? typed : otherwise;
}

/* A space reaches from shell to shell and up to the deck unless its ranges say less. */
static bool
compartment_of(const Afloat *afloat, const Space *space, Compartment *out)
{
    double wide = afloat->beam_m + 1.0, high = 50.0;
    *out = (Compartment){space->along.low,
                         space->along.high,
                         either(space->across.low, -wide),
                         either(space->across.high, wide),
                         either(space->height.low, -high),
                         either(space->height.high, high),
                         either(space->permeability_frac, 0.95)};
    return isfinite(space->along.low) && compartment_fault(out) == NULL;
}

/* A deck or a wheelhouse takes no buoyancy away. */
static bool
above_deck(const Afloat *afloat, const Compartment *space)
{
    const Loft *hull = afloat->hull;
    for (size_t s = 0; s < hull->stations; s++)
        if (hull->x_m[s] >= space->x_aft_m && hull->x_m[s] <= space->x_fwd_m &&
            space->z_bottom_m < hull->z_m[(s + 1) * hull->points - 1])
            return false;
    double middle = (space->x_aft_m + space->x_fwd_m) / 2.0;
    return !(space->z_bottom_m <
             loft_deck_m(hull, fmin(fmax(middle, hull->x_m[0]), hull->x_m[hull->stations - 1])));
}

/* The heaviest situation in which nobody crowds and no opening is under before anything happens. */
static const Case *
usual_case(const Afloat *afloat)
{
    const Case *heaviest = NULL;
    for (guint i = 0; i < afloat->cases->len; i++) {
        const Case *c = g_ptr_array_index(afloat->cases, i);
        bool dry = case_floats(c) && !c->crowded;
        for (guint k = 0; dry && k < afloat->inlets->len; k++) {
            const Inlet *inlet = &g_array_index(afloat->inlets, Inlet, k);
            dry = !inlet_floods(inlet) || inlet_height_m(inlet, c) > 0.0;
        }
        if (dry && (heaviest == NULL || c->sum.mass_kg > heaviest->sum.mass_kg))
            heaviest = c;
    }
    return heaviest;
}

/* The lowest inlet that floods, in the flooded position. An inlet of the space itself no longer matters. */
static double
lowest_m(const Afloat *afloat, const Attitude *at, const Compartment *open, const Inlet **which)
{
    Case lies = {.rest.at = *at};
    double lowest = INFINITY;
    side_view(afloat->hull, at, 0, NULL, &lies.side);
    for (guint i = 0; i < afloat->inlets->len; i++) {
        const Inlet *inlet = &g_array_index(afloat->inlets, Inlet, i);
        bool inside = inlet->x_m >= open->x_aft_m && inlet->x_m <= open->x_fwd_m;
        double height = inlet_height_m(inlet, &lies);
        if (inlet_floods(inlet) && !inside && height < lowest) {
            lowest = height;
            *which = inlet;
        }
    }
    if (lies.side.least_freeboard_m < lowest) {
        lowest = lies.side.least_freeboard_m;
        *which = NULL; /* the deck edge */
    }
    return lowest;
}

static Working *
working_of(const Afloat *afloat, const Case *c, const Compartment *open, const Rest *rest,
           Result *result)
{
    Linear mass = linear_mass();
    Working *w = result_working(result, "With the space open to the sea (lost buoyancy)");
    working_given(w, "rho", "density of the water", afloat->density_kg_per_m3, Q_DENSITY,
                  afloat->density_spread, afloat->density_basis, NULL);
    working_path_is(w, "boat.density");
    working_given(w, "M", "displacement, unchanged", c->sum.mass_kg, Q_MASS,
                  spread_of(afloat, c, &mass, NULL).spread, masses_basis(c), &source_ledger);
    working_followed_is(w, true);
    Immersed whole;
    body_immersed(&afloat->body, &rest->at, &whole);
    working_given(w, "V_whole", "volume under water, the space counted", whole.volume_m3, Q_VOLUME,
                  0.0, BASIS_MEASURED, &source_stations);
    working_given(w, "mu", "share of the space that water fills", open->permeability_frac,
                  Q_FRACTION, 0.0, BASIS_STATED, NULL);
    working_given(w, "V_lost", "of that, filled by the sea", whole.volume_m3 - rest->volume_m3,
                  Q_VOLUME, 0.0, BASIS_MEASURED, &compartment_lost_method.source);
    working_given(w, "heel", "heel then, starboard down +", rest->at.heel_rad, Q_ANGLE, 0.0,
                  BASIS_MEASURED, &flooded_heel_method.source);
    working_given(w, "trim", "trim then, bow down +", rest->at.trim_rad, Q_ANGLE, 0.0,
                  BASIS_MEASURED, &flooded_trim_method.source);
    working_found(w, "depth", "depth of the base line's aft end below the water",
                  "rho * (V_whole - V_lost) = M", rest->at.origin_depth_m, Q_LENGTH, 0.0,
                  &flooded_volume_method.source, VALID);
    return w;
}

static void
say_lost(const Record *record, const Case *c, Result *result)
{
    Finding *f =
        result_say(result, &check_flooded.info, record->id, record->path, LEVEL_FAULT, NULL);
    finding_text(
        result, f,
        "With {about} open to the sea she is lost: she finds no position to float in ({situation})",
        NULL);
    finding_situation(result, f, case_title(result, c));
}

static void
judge(const Afloat *afloat, const Case *c, const Record *record, Result *result)
{
    static const Source dry = {"she floats on while no opening and no deck edge is under",
                               STANDING_DERIVED};
    Compartment open;
    Rest rest;
    const Inlet *next = NULL;
    if (!compartment_of(afloat, record->data, &open) || above_deck(afloat, &open))
        return;
    if (flooded_rest(&afloat->body, &c->load, 1, &open, afloat->density_kg_per_m3, &rest) ==
        REFUSED) {
        say_lost(record, c, result);
        return;
    }
    double height = lowest_m(afloat, &rest.at, &open, &next);
    Working *w = working_of(afloat, c, &open, &rest, result);
    double x =
        next != NULL && !next->edge ? next->x_m : afloat->hull->x_m[0] + afloat->length_m / 2.0;
    double y = next != NULL && !next->edge ? next->y_m : 0.0;
    Linear a = linear_height(afloat, c, x, y);
    a.own = next != NULL ? next->spread_m : 0.0;
    Spread s = spread_of(afloat, c, &a, result);
    /* The water plane that is left is smaller: the same doubt of weight moves her more. */
    double spread = s.spread * fmax(1.0, c->rest.waterplane_m2 / rest.waterplane_m2);
    working_given(w, "h", "lowest opening or deck edge above the water then", height, Q_LENGTH,
                  spread, BASIS_STATED, &source_rest);
    working_followed_is(w, true);
    working_settles(w, s.path, s.text);
    result_give(result, &answer_flooded_height, record->id, record->path, NULL, height, spread,
                working_basis(w), w);
    Finding *f = result_judge(result, &check_flooded.info, record->id, record->path, LEVEL_FAULT, w,
                              height, spread, AT_LEAST, 0.0, Q_SMALL_LENGTH, &dry);
    finding_text(
        result, f,
        height < 0.0
            ? "With {about} open to the sea {0} goes under next, and she is lost ({situation})"
            : "With {about} open to the sea she floats on: {0} still stands {value} above the "
              "water ({situation})",
        next != NULL ? inlet_words(result, next) : "the deck edge", NULL);
    finding_situation(result, f, case_title(result, c));
}

static void
run(const Afloat *afloat, Result *result)
{
    size_t n;
    const Record *const *records = boat_records(afloat->boat, &section_spaces, &n);
    const Case *c = usual_case(afloat);
    if (c == NULL || n == 0)
        return;
    result_applies(result, &check_flooded.info);
    for (size_t i = 0; i < n; i++)
        judge(afloat, c, records[i], result);
}
