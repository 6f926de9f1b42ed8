/* Water on deck as one more slack tank. Invariant: the load handed in is not changed. */
#include "physics/afloat/deck_water.h"

#include <math.h>
#include <stdlib.h>

#include "physics/domain.h"

const Method deck_water_mass_method = {"Displacement with water on deck",
                                       "m1 = m + rho_w * v",
                                       {"docs/methods/float.md 10.3", STANDING_DERIVED}};

static double
box_m3(const Tank *t)
{
    return (t->x_fwd_m - t->x_aft_m) * (t->y_port_m - t->y_stbd_m) * (t->z_top_m - t->z_bottom_m);
}

/* The part of the box below a level plane through its lowest rim corner. */
static double
holds_m3(const Tank *t, const Attitude *at)
{
    const double half = 0.5 * (t->y_port_m - t->y_stbd_m);
    const double x[] = {t->x_aft_m, t->x_fwd_m}, y[] = {half, half, half, half};
    const double z[] = {t->z_bottom_m, t->z_top_m, t->z_bottom_m, t->z_top_m};
    const Loft loft = {2, 2, x, y, z, 0.5 * (t->y_stbd_m + t->y_port_m)};
    const Body box = {.lofts = 1, .loft = &loft};
    Attitude plane = {0.0, at->heel_rad, at->trim_rad};
    double rim = INFINITY;
    for (int i = 0; i < 4; i++)
        rim = fmin(rim, attitude_height_m(&plane, x[i & 1], i & 2 ? t->y_stbd_m : t->y_port_m,
                                          t->z_top_m));
    plane.origin_depth_m = rim;
    Immersed below;
    body_immersed(&box, &plane, &below);
    return below.volume_m3;
}

static Validity
refuse(DeckWater *out, RestOutcome outcome)
{
    out->water_kg = out->holds_m3 = NAN;
    out->wet.outcome = outcome;
    return REFUSED;
}

Validity
deck_water(const Body *body, const Load *load, double density_kg_per_m3, const Tank *well,
           double water_m3, DeckWater *out)
{
    Tank filled = *well;
    *out = (DeckWater){0};
    rest_find(body, load, density_kg_per_m3, &out->dry);
    rest_find(&(Body){0}, load, density_kg_per_m3, &out->wet); /* all NAN until found */
    filled.fill_frac = 0.0;
    if (tank_fault(&filled) != NULL || !is_positive(water_m3) || !(water_m3 <= box_m3(well)))
        return refuse(out, REST_NO_PLANE);
    Tank *tanks = malloc((load->tanks + 1) * sizeof *tanks);
    if (tanks == NULL)
        return refuse(out, REST_NO_PLANE);
    for (size_t i = 0; i < load->tanks; i++)
        tanks[i] = load->tank[i];
    filled.fill_frac = water_m3 / box_m3(well);
    tanks[load->tanks] = filled;

    double w = tank_liquid_kg(&filled), m = load->mass_kg + w;
    double z = well->z_bottom_m + 0.5 * filled.fill_frac * (well->z_top_m - well->z_bottom_m);
    const Load wet = {m,
                      (load->mass_kg * load->lcg_m + w * 0.5 * (well->x_aft_m + well->x_fwd_m)) / m,
                      (load->mass_kg * load->tcg_m + w * 0.5 * (well->y_stbd_m + well->y_port_m)) /
                          m,
                      (load->mass_kg * load->vcg_m + w * z) / m,
                      load->tanks + 1,
                      tanks};
    Validity validity = rest_find(body, &wet, density_kg_per_m3, &out->wet);
    free(tanks);
    if (validity == REFUSED)
        return refuse(out, out->wet.outcome);
    out->water_kg = w;
    out->holds_m3 = holds_m3(well, &out->wet.at);
    return water_m3 > out->holds_m3 * (1.0 + 1e-9) ? EXTRAPOLATED : VALID;
}
