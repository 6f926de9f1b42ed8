/* Workings of what is read from the curve of righting levers, and of the weight on the stern.
 * Invariant: the position behind each value is solved again here, so that the equations shown hold to rounding. */
#include <math.h>

#include "checks/afloat/workings.h"

#define DEGREE (G_PI / 180.0)

/* Attitude at a heel of the governing case, started from the nearest point of its curve. */
static Attitude
lies_at(const Afloat *afloat, double mass_kg, double heel_rad, double *gz_m)
{
    const LeverCurve *curve = heel_rad < 0.0 ? &afloat->port : &afloat->starboard;
    size_t near = 0;
    for (size_t i = 0; i < curve->n; i++)
        if (fabs(curve->heel_rad[i] - heel_rad) < fabs(curve->heel_rad[near] - heel_rad))
            near = i;
    Attitude at = {curve->depth_m[near], heel_rad, curve->trim_rad[near]};
    Load load = afloat->governing->load;
    load.mass_kg = mass_kg;
    if (rest_at_heel(&afloat->body, &load, afloat->density_kg_per_m3, heel_rad, true, &at, gz_m) ==
        REFUSED)
        *gz_m = NAN;
    return at;
}

static void
g_at(const Case *c, const Attitude *at, double g[3])
{
    g[0] = c->load.mass_kg * c->load.lcg_m;
    g[1] = c->load.mass_kg * c->load.tcg_m;
    g[2] = c->load.mass_kg * c->load.vcg_m;
    for (guint i = 0; i < c->tanks->len; i++) {
        const Tank *tank = &g_array_index(c->tanks, Tank, i);
        double a[3], b[3], kg = tank_liquid_kg(tank);
        tank_centroid(tank, 0.0, 0.0, &a[0], &a[1], &a[2]);
        tank_centroid(tank, at->heel_rad, at->trim_rad, &b[0], &b[1], &b[2]);
        for (int k = 0; k < 3; k++)
            g[k] += kg * (b[k] - a[k]);
    }
    for (int k = 0; k < 3; k++)
        g[k] /= c->load.mass_kg;
}

void
working_at(Working *w, const Afloat *afloat, const Case *c, const Attitude *at)
{
    Immersed under;
    double g[3];
    body_immersed(&afloat->body, at, &under);
    g_at(c, at, g);
    working_given(w, "rho", "density of the water", afloat->density_kg_per_m3, Q_DENSITY,
                  afloat->density_spread, afloat->density_basis, NULL);
    working_path_is(w, "boat.density");
    Basis basis = masses_basis(c);
    working_given(w, "M", "displacement (see afloat.displacement)", c->sum.mass_kg, Q_MASS,
                  c->sum.mass_spread_kg, basis, &source_ledger);
    working_followed_is(w, true);
    working_given(w, "x_G", "centre of gravity along, liquids as they lie at this heel", g[0],
                  Q_LENGTH, 0.0, BASIS_MEASURED, &source_ledger);
    working_given(w, "y_G", "centre of gravity across, port +", g[1], Q_LENGTH, 0.0, BASIS_MEASURED,
                  &source_ledger);
    working_given(w, "z_G", "centre of gravity above the base line", g[2], Q_LENGTH, 0.0,
                  BASIS_MEASURED, &source_ledger);
    working_given(w, "V", "volume under water", under.volume_m3, Q_VOLUME, 0.0, BASIS_MEASURED,
                  &source_stations);
    working_given(w, "x_B", "centre of buoyancy along", under.x_m4 / under.volume_m3, Q_LENGTH, 0.0,
                  BASIS_MEASURED, &source_stations);
    working_given(w, "y_B", "centre of buoyancy across, port +", under.y_m4 / under.volume_m3,
                  Q_LENGTH, 0.0, BASIS_MEASURED, &source_stations);
    working_given(w, "z_B", "centre of buoyancy above the base line", under.z_m4 / under.volume_m3,
                  Q_LENGTH, 0.0, BASIS_MEASURED, &source_stations);
}

void
working_found_trim_depth(Working *w, const Attitude *at)
{
    working_found(w, "trim", "trim at this heel, bow down +",
                  "(x_B - x_G) * cos(trim) + (y_B - y_G) * sin(heel) * sin(trim) = (z_G - z_B) * "
                  "cos(heel) * sin(trim)",
                  at->trim_rad, Q_ANGLE, 0.0, &source_levers, VALID);
    working_found(w, "depth", "depth of the base line's aft end below the water", "rho * V = M",
                  at->origin_depth_m, Q_LENGTH, 0.0, &source_levers, VALID);
}

void
working_lever_at(Working *w, const Afloat *afloat, double heel_rad, double *gz_m)
{
    Attitude at = lies_at(afloat, afloat->governing->load.mass_kg, heel_rad, gz_m);
    working_at(w, afloat, afloat->governing, &at);
    working_given(w, "heel", "heel, starboard down +", heel_rad, Q_ANGLE, 0.0, BASIS_MEASURED,
                  &source_levers);
    working_found_trim_depth(w, &at);
    working_reckon(w, "GZ", "righting lever", "(y_G - y_B) * cos(heel) - (z_G - z_B) * sin(heel)",
                   *gz_m, Q_LENGTH, 0.0, &source_levers);
}

double
lever_at(const Afloat *afloat, double heel_rad)
{
    double gz;
    lies_at(afloat, afloat->governing->load.mass_kg, heel_rad, &gz);
    return gz;
}

double
lever_per_kg(const Afloat *afloat, double heel_rad)
{
    double mass = afloat->governing->load.mass_kg, more, less, step = 0.005 * mass;
    lies_at(afloat, mass + step, heel_rad, &more);
    lies_at(afloat, mass - step, heel_rad, &less);
    double slope = (more - less) / (2.0 * step);
    return isfinite(slope) ? (heel_rad < 0.0 ? -slope : slope) : 0.0;
}

static Spread
lever_spread(const Afloat *afloat, double heel_rad, Result *result)
{
    Linear a = linear_lever(afloat, afloat->governing, heel_rad, lever_per_kg(afloat, heel_rad));
    return spread_of(afloat, afloat->governing, &a, result);
}

Working *
working_of_lever_max(const Afloat *afloat, Result *result, double *value, double *spread)
{
    double heel = afloat->facts_side * afloat->facts.max_rad, gz = NAN;
    Working *w = result_working(result, "The greatest righting lever");
    *value = *spread = NAN;
    if (!isfinite(heel))
        return w;
    Spread s = lever_spread(afloat, heel, result);
    working_lever_at(w, afloat, heel, &gz);
    *value = afloat->facts_side * gz;
    *spread = s.spread;
    working_reckon(w, "lever", "righting lever on the weaker side",
                   afloat->facts_side < 0 ? "-GZ" : "GZ", *value, Q_LENGTH, s.spread,
                   &source_levers);
    working_settles(w, s.path, s.text);
    return w;
}

/* Spread of the heel at which the first inlet floods: its height's, over how fast it sinks with heel. */
static Spread
flooding_spread(const Afloat *afloat, Result *result)
{
    const Inlet *inlet = afloat->flooding_inlet;
    const Case *c = afloat->governing;
    double side = afloat->flooding_side < 0 ? -1.0 : 1.0, gz;
    if (inlet->edge) { /* it sinks by half the beam for every radian */
        Linear edge =
            linear_height(afloat, c, c->side.least_freeboard_x_m, -side * c->side.beam_m / 2.0);
        Spread of_edge = spread_of(afloat, c, &edge, result);
        of_edge.spread /= c->side.beam_m / 2.0;
        return of_edge;
    }
    Attitude less = lies_at(afloat, c->load.mass_kg, side * (afloat->flooding_rad - DEGREE), &gz);
    double slope = attitude_height_m(&less, inlet->x_m, inlet->y_m, inlet->z_m) / DEGREE;
    Linear a = linear_height(afloat, c, inlet->x_m, inlet->y_m);
    a.own = inlet->spread_m;
    a.own_record = inlet->record;
    Spread s = spread_of(afloat, c, &a, result);
    s.spread /= fabs(slope);
    return s;
}

Working *
working_of_range(const Afloat *afloat, Result *result, double *value, double *spread)
{
    const LeverFacts *facts = &afloat->facts;
    double heel = afloat->facts_side * facts->vanishing_rad,
           list = afloat->governing->rest.at.heel_rad;
    bool flooded = isfinite(afloat->flooding_rad) && !(facts->vanishing_rad < afloat->flooding_rad);
    Working *w = result_working(result, "Up to which heel she comes back");
    *value = facts->range_rad;
    *spread = NAN;
    Linear lean = linear_list(afloat, afloat->governing);
    Basis basis = masses_basis(afloat->governing);
    working_given(w, "list", "where she rests, starboard down + (see afloat.list)", list, Q_ANGLE,
                  spread_of(afloat, afloat->governing, &lean, NULL).spread, basis, &source_rest);
    working_followed_is(w, true);
    if (flooded) {
        *spread = flooding_spread(afloat, result).spread;
        working_given(w, "heel", "heel at which water comes in (see afloat.flooding-angle)",
                      afloat->flooding_rad, Q_ANGLE, *spread,
                      basis_worse(basis, afloat->flooding_inlet->basis), &source_levers);
        working_followed_is(w, true);
    } else if (isfinite(heel)) {
        double gz, beyond;
        Attitude at = lies_at(afloat, afloat->governing->load.mass_kg, heel, &gz);
        working_at(w, afloat, afloat->governing, &at);
        working_found(w, "heel", "heel at which the lever vanishes",
                      "(y_B - y_G) * cos(heel) = (z_B - z_G) * sin(heel)", heel, Q_ANGLE, 0.0,
                      &source_levers, VALID);
        working_found_trim_depth(w, &at);
        lies_at(afloat, afloat->governing->load.mass_kg, heel - afloat->facts_side * DEGREE,
                &beyond);
        Spread s = lever_spread(afloat, heel, result);
        *spread = s.spread / (fabs(beyond - gz) / DEGREE);
        working_settles(w, s.path, s.text);
    }
    if (!isfinite(*value))
        return w;
    const char *how = flooded                  ? "max(0, heel - abs(list))"
                      : afloat->facts_side < 0 ? "list - heel"
                                               : "heel - list";
    if (flooded)
        *value = fmax(0.0, afloat->flooding_rad - fabs(list));
    else
        *value = afloat->facts_side * (heel - list);
    working_reckon(w, "range", "range of stability", how, *value, Q_ANGLE, *spread, &source_levers);
    return w;
}

Working *
working_of_flooding(const Afloat *afloat, Result *result, double *value, double *spread)
{
    const Inlet *inlet = afloat->flooding_inlet;
    const Case *c = afloat->governing;
    double heel = (afloat->flooding_side < 0 ? -1.0 : 1.0) * afloat->flooding_rad, gz;
    Working *w = result_working(
        result, result_text(result, "At which heel water comes in: %s", inlet->name));
    Attitude at = lies_at(afloat, c->load.mass_kg, heel, &gz);
    *value = afloat->flooding_rad;
    *spread = NAN;
    working_at(w, afloat, afloat->governing, &at);
    if (!inlet->edge) {
        working_from_boat(w, "x", inlet->record, "along");
        working_followed_is(w, true);
        working_from_boat(w, "y", inlet->record, "across");
        working_followed_is(w, true);
        working_from_boat(w, "z", inlet->record, "height");
        working_followed_is(w, true);
        if (fabs(attitude_height_m(&at, inlet->x_m, inlet->y_m, inlet->z_m)) > 1e-6)
            working_given(w, "heel", "upright: it is under there already", heel, Q_ANGLE, 0.0,
                          BASIS_MEASURED, &source_levers);
        else
            working_found(
                w, "heel", "heel at which it meets the water",
                "-x * sin(trim) + y * sin(heel) * cos(trim) + z * cos(heel) * cos(trim) = depth",
                heel, Q_ANGLE, 0.0, &source_levers, VALID);
        Spread s = flooding_spread(afloat, result);
        *spread = s.spread;
        working_settles(w, s.path, s.text);
    } else {
        Spread s = flooding_spread(afloat, result);
        *spread = s.spread;
        working_settles(w, s.path, s.text);
        working_given(w, "heel", "heel at which the edge meets the water", heel, Q_ANGLE, s.spread,
                      BASIS_ASSUMED, &source_levers);
    }
    working_found_trim_depth(w, &at);
    working_reckon(w, "phi_f", "heel at which water comes in", "abs(heel)", *value, Q_ANGLE,
                   *spread, &source_levers);
    return w;
}

static void
point_of(const Afloat *afloat, const Inlet *inlet, const SideView *side, double at[3])
{
    at[0] = inlet->x_m;
    at[1] = inlet->y_m;
    at[2] = inlet->z_m;
    if (!inlet->edge)
        return;
    size_t n = afloat->hull->points;
    g_autofree double *half = g_new(double, 2 * n);
    loft_points(afloat->hull, side->least_freeboard_x_m, half, half + n);
    at[0] = side->least_freeboard_x_m;
    at[1] = half[n - 1] * (side->least_freeboard_side > 0 ? -1.0 : 1.0);
    at[2] = half[2 * n - 1];
}

Working *
working_of_stern_load(const Afloat *afloat, Result *result, double *value, double *spread)
{
    const Case *c = afloat->stern_case;
    const Inlet *inlet = afloat->stern_inlet;
    const Rest *rest = &afloat->stern_rest;
    Working *w = result_working(
        result, result_text(result, "Weight on the stern that brings it under: %s", inlet->name));
    double at[3], height = inlet_height_m(inlet, c);
    point_of(afloat, inlet, &afloat->stern_side, at);
    Linear mass = linear_mass(), a = linear_height(afloat, c, at[0], at[1]);
    a.own = inlet->spread_m;
    a.own_record = inlet->record;
    Spread s = spread_of(afloat, c, &a, result), of_mass = spread_of(afloat, c, &mass, NULL);
    *value = afloat->stern_load_kg;
    double sink = 1.0 / (afloat->density_kg_per_m3 * c->rest.waterplane_m2);
    *spread = s.spread / (*value > 0.0 ? height / *value : sink);
    working_given(w, "rho", "density of the water", afloat->density_kg_per_m3, Q_DENSITY,
                  afloat->density_spread, afloat->density_basis, NULL);
    working_path_is(w, "boat.density");
    working_given(w, "M0", "displacement before", c->sum.mass_kg, Q_MASS, of_mass.spread,
                  masses_basis(c), &source_ledger);
    working_followed_is(w, true);
    working_given(w, "V", "volume under water with the weight aboard", rest->volume_m3, Q_VOLUME,
                  0.0, BASIS_MEASURED, &source_stations);
    working_given(w, "heel", "heel then", rest->at.heel_rad, Q_ANGLE, 0.0, BASIS_MEASURED,
                  &source_rest);
    working_given(w, "trim", "trim then, bow down +", rest->at.trim_rad, Q_ANGLE, 0.0,
                  BASIS_MEASURED, &source_rest);
    working_given(w, "x", "opening, along", at[0], Q_LENGTH, 0.0, BASIS_MEASURED, NULL);
    working_given(w, "y", "opening, across, port +", at[1], Q_LENGTH, 0.0, BASIS_MEASURED, NULL);
    working_given(w, "z", "opening, height", at[2], Q_LENGTH, inlet->spread_m, inlet->basis, NULL);
    working_followed_is(w, true);
    if (*value > 0.0)
        working_found(
            w, "depth", "depth of the base line's aft end: the opening just meets the water",
            "-x * sin(trim) + y * sin(heel) * cos(trim) + z * cos(heel) * cos(trim) = depth",
            rest->at.origin_depth_m, Q_LENGTH, 0.0, &source_rest, VALID);
    working_found(w, "load", "weight on the stern, 0.5 m forward of it", "rho * V = M0 + load",
                  *value, Q_MASS, *spread, &source_rest, VALID);
    working_settles(w, s.path, s.text);
    return w;
}

Working *
working_of_inlet(const Afloat *afloat, const Case *c, const Inlet *inlet, Result *result,
                 double *value, double *spread)
{
    if (inlet->edge)
        return working_of_freeboard(afloat, c, result, value, spread);
    return working_of_height(afloat, c, inlet->record, inlet->name, inlet->x_m, inlet->y_m,
                             inlet->z_m, inlet->spread_m, result, value, spread);
}
