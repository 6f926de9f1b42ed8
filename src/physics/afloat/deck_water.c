/* Water on deck as one more slack tank. Invariant: the load handed in is not changed. */
#include "physics/afloat/deck_water.h"

#include <math.h>
#include <stdlib.h>

#include "physics/bracket.h"

#define MOST_HEEL_RAD (40.0 * M_PI / 180.0)
#define SHEET "docs/methods/float.md 10.4"
const Method deck_water_mass_method = {
    "Displacement with water on deck", "m1 = m + rho_w * v", {SHEET, STANDING_DERIVED}};
const Method deck_water_brim_method = {
    "As much water as stays in as she then lies", "v = holds", {SHEET, STANDING_DERIVED}};

static Validity
refuse(DeckWater *out, RestOutcome outcome)
{
    out->water_m3 = out->water_kg = out->holds_m3 = out->depth_m = NAN;
    out->wet.outcome = outcome;
    return REFUSED;
}

/* The load with the water, which lies upright first. */
static Load
load_with(const Load *load, const Tank *filled, Tank tanks[])
{
    double x, y, z, w = tank_liquid_kg(filled), m = load->mass_kg + w;
    for (size_t i = 0; i < load->tanks; i++)
        tanks[i] = load->tank[i];
    tanks[load->tanks] = *filled;
    tank_centroid(filled, 0.0, 0.0, &x, &y, &z);
    return (Load){m,
                  (load->mass_kg * load->lcg_m + w * x) / m,
                  (load->mass_kg * load->tcg_m + w * y) / m,
                  (load->mass_kg * load->vcg_m + w * z) / m,
                  load->tanks + 1,
                  tanks};
}

/* What lies below a level plane through the lowest point of the rim. */
static double
holds_m3(const Basin *basin, const Attitude *at)
{
    Attitude plane = {0.0, at->heel_rad, at->trim_rad};
    plane.origin_depth_m = basin_rim_m(basin, &plane);
    return basin_below_m3(basin, &plane);
}

Validity
deck_water(const Body *body, const Load *load, double density_kg_per_m3, const Basin *basin,
           double water_kg_per_m3, double water_m3, DeckWater *out)
{
    const Tank filled = {.fill_frac = water_m3 / basin->whole_m3,
                         .density_kg_per_m3 = water_kg_per_m3,
                         .basin = basin};
    *out = (DeckWater){0};
    rest_find(&(Body){0}, load, density_kg_per_m3, &out->wet); /* all NAN until found */
    if (tank_fault(&filled) != NULL || !(water_m3 > 0.0))
        return refuse(out, REST_NO_PLANE);
    Tank *tanks = malloc((load->tanks + 1) * sizeof *tanks);
    if (tanks == NULL)
        return refuse(out, REST_NO_PLANE);
    const Load wet = load_with(load, &filled, tanks);
    Validity validity = rest_find_within(MOST_HEEL_RAD, body, &wet, density_kg_per_m3, &out->wet);
    free(tanks);
    if (validity == REFUSED)
        return refuse(out, out->wet.outcome);
    TankLiquid lies;
    const Attitude *at = &out->wet.at;
    if (!basin_lies(basin, water_m3, at->heel_rad, at->trim_rad, &lies, &out->depth_m))
        return refuse(out, REST_NO_PLANE);
    out->water_m3 = water_m3;
    out->water_kg = tank_liquid_kg(&filled);
    out->holds_m3 = holds_m3(basin, at);
    return water_m3 > out->holds_m3 * (1.0 + 1e-9) ? EXTRAPOLATED : VALID;
}

/* A hair below the rim: full to it the well would be a closed tank, whose water cannot run to one side. What spills over the
 * rim of an open one heels her as much as what runs. */
#define FULL 0.999

/* Upright she may hold more than she can bear: then from dry on in equal parts, until it runs over or she is gone. */
static Validity
first_over(const Body *body, const Load *load, double density, const Basin *basin, double water,
           double *before, DeckWater *out)
{
    enum { PARTS = 8 };
    double most = FULL * basin->whole_m3;
    *before = 0.0;
    if (deck_water(body, load, density, basin, water, most, out) != REFUSED)
        return VALID;
    for (int i = 1; i < PARTS; i++) {
        double v = most * i / PARTS;
        Validity validity = deck_water(body, load, density, basin, water, v, out);
        if (validity != VALID)
            return validity == REFUSED ? REFUSED : VALID;
        *before = v;
    }
    return deck_water(body, load, density, basin, water, most, out);
}

Validity
deck_water_brim(const Body *body, const Load *load, double density_kg_per_m3, const Basin *basin,
                double water_kg_per_m3, DeckWater *out)
{
    enum { MOST = 60 };
    double before;
    if (first_over(body, load, density_kg_per_m3, basin, water_kg_per_m3, &before, out) == REFUSED)
        return REFUSED;
    double over = out->holds_m3 - out->water_m3, fine = 1e-7 * basin->whole_m3;
    if (over >= -fine)
        return VALID; /* nothing runs over */
    Bracket k = {before, out->water_m3, fmax(basin->whole_m3 - before, fine), over, 0};
    for (int i = 0; i < MOST && fabs(over) > fine; i++) {
        double v = bracket_next(&k);
        if (deck_water(body, load, density_kg_per_m3, basin, water_kg_per_m3, v, out) == REFUSED)
            return REFUSED;
        over = out->holds_m3 - v;
        if (k.b - k.a <= fine)
            break;
        bracket_narrow(&k, v, over);
    }
    return VALID;
}
