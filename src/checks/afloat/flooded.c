/* Where she lies with one space open to the sea, and what is next to go under. Invariant: an opening of the flooded space
 * itself never counts as next. */
#include "checks/afloat/flooded.h"

#include <math.h>

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

const Case *
flooded_case(const Afloat *afloat)
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
    side_lines(afloat->hull, at, &lies.side);
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

/* The water plane that is left is smaller: the same doubt of weight moves her more. */
static void
doubt_height(const Afloat *afloat, const Case *c, Result *result, Flooded *out)
{
    const Inlet *next = out->next;
    bool placed = next != NULL && !next->edge;
    double x = placed ? next->x_m : afloat->hull->x_m[0] + afloat->length_m / 2.0;
    Linear a = linear_height(afloat, c, x, placed ? next->y_m : 0.0);
    a.own = next != NULL ? next->spread_m : 0.0;
    out->settle = spread_of(afloat, c, &a, result);
    out->spread_m = out->settle.spread * fmax(1.0, c->rest.waterplane_m2 / out->rest.waterplane_m2);
}

bool
flooded_space(const Afloat *afloat, const Case *c, const Record *space, Result *result,
              Flooded *out)
{
    *out = (Flooded){.validity = REFUSED, .height_m = NAN, .spread_m = NAN};
    Compartment open;
    if (!compartment_of(afloat, space->data, &open) || above_deck(afloat, &open))
        return false;
    out->open = open;
    out->validity =
        flooded_rest(&afloat->body, &c->load, 1, &open, afloat->density_kg_per_m3, &out->rest);
    if (out->validity == REFUSED)
        return true;
    out->height_m = lowest_m(afloat, &out->rest.at, &out->open, &out->next);
    doubt_height(afloat, c, result, out);
    return true;
}
