/* Workings of weights, position of rest and metacentric height, as a handbook example would set them out.
 * Invariant: every formula here is what physics computes; tests/checks re-evaluates all of them independently. */
#include "checks/afloat/workings.h"

#include <math.h>

const Source source_ledger = {"moments of mass, docs/methods/float.md 1", STANDING_DERIVED};
const Source source_stations = {"integrated over the stations, docs/methods/float.md 2.3",
                                STANDING_DERIVED};
const Source source_rest = {"Archimedes, docs/methods/float.md 2.7", STANDING_DERIVED};
const Source source_upright = {"docs/methods/float.md 2.5", STANDING_DERIVED};
const Source source_levers = {"docs/methods/float.md 2.8", STANDING_DERIVED};
static const Source source_axes = {"docs/methods/float.md 0", STANDING_DERIVED};
static const Source source_surface = {"Barrass and Derrett, Ship Stability for Masters and Mates, "
                                      "5th ed., p. 193-195; docs/methods/float.md 3",
                                      STANDING_READ};

Basis
masses_basis(const Case *c)
{
    Basis basis = BASIS_MEASURED;
    for (guint i = 0; i < c->masses->len; i++)
        basis = basis_worse(basis, g_array_index(c->masses, Mass, i).basis);
    return basis;
}

/* What is left out of the sum for want of a mass or a place: no verdict that rests on the sum is settled with it. */
static void
working_gaps(Working *w, const Afloat *afloat)
{
    if (afloat->gaps->len == 0)
        return;
    const Record *first = g_ptr_array_index(afloat->gaps, 0);
    working_given(w, "left_out", "things left out of the sum, their mass or place not known",
                  afloat->gaps->len, Q_COUNT, 0.0, BASIS_ASSUMED, NULL);
    working_path_is(w, first->path);
}

static void
list_masses(Working *w, const Afloat *afloat, const Case *c)
{
    working_gaps(w, afloat);
    guint n = c->masses->len;
    g_autofree double *kg = g_new(double, n);
    g_autofree const char **names = g_new(const char *, n);
    for (guint i = 0; i < n; i++) {
        kg[i] = g_array_index(c->masses, Mass, i).ledger.mass_kg;
        names[i] = g_array_index(c->masses, Mass, i).name;
    }
    working_list(w, "m", "masses of what is aboard", n, kg, names, Q_MASS, masses_basis(c), NULL);
    working_followed_is(w, true);
}

static void
settle(Working *w, const Spread *spread)
{
    working_settles(w, spread->path, spread->text);
}

Working *
working_of_mass(const Afloat *afloat, const Case *c, Result *result, double *value, double *spread)
{
    Linear a = linear_mass();
    Spread s = spread_of(afloat, c, &a, result);
    Working *w = result_working(result, "What she weighs");
    list_masses(w, afloat, c);
    working_reckon(w, "M", "displacement", "sum(m)", c->sum.mass_kg, Q_MASS, s.spread,
                   &source_ledger);
    settle(w, &s);
    *value = c->sum.mass_kg;
    *spread = s.spread;
    return w;
}

Working *
working_of_centre(const Afloat *afloat, const Case *c, int axis, Result *result, double *value,
                  double *spread)
{
    static const struct {
        const char *title, *symbol, *list, *label, *places, *total, *expression;
    } of[] = {
        {"Where her weight lies along the length", "LCG", "x",
         "centre of gravity forward of the stern", "places along", "M", "sum(m * x) / M"},
        {"Where her weight lies across", "TCG", "y", "centre of gravity to port of the centreline",
         "places across, port +", "M", "sum(m * y) / M"},
        {"How high her weight lies", "VCG", "z", "centre of gravity above the base line", "heights",
         "M", "sum(m * z) / M"},
    };
    guint n = c->masses->len;
    g_autofree double *at = g_new(double, n);
    for (guint i = 0; i < n; i++) {
        const LedgerItem *item = &g_array_index(c->masses, Mass, i).ledger;
        at[i] = axis == 0 ? item->x_m : axis == 1 ? item->y_m : item->z_m;
    }
    Linear a = linear_centre(c, axis);
    Spread s = spread_of(afloat, c, &a, result);
    Working *w = result_working(result, of[axis].title);
    list_masses(w, afloat, c);
    working_list(w, of[axis].list, of[axis].places, n, at, NULL, Q_LENGTH, BASIS_STATED, NULL);
    working_reckon(w, "M", "displacement", "sum(m)", c->sum.mass_kg, Q_MASS, 0.0, &source_ledger);
    *value = axis == 0 ? c->sum.lcg_m : axis == 1 ? c->sum.tcg_m : c->sum.vcg_m;
    working_reckon(w, of[axis].symbol, of[axis].label, of[axis].expression, *value, Q_LENGTH,
                   s.spread, &source_ledger);
    settle(w, &s);
    *spread = s.spread;
    return w;
}

/* What the hull was read within: in every spread, and assumed where nobody said it. */
static void
working_hull(Working *w, const Afloat *afloat)
{
    const FieldState *state = record_state(boat_single(afloat->boat, &section_hull), "within");
    bool stated = state->origin == ORIGIN_TYPED && !afloat->from_form;
    working_given(w, "within", "every half-breadth and height of the hull is known to",
                  afloat->within_m, Q_SMALL_LENGTH, afloat->within_m,
                  stated ? BASIS_STATED : BASIS_ASSUMED, NULL);
    working_path_is(w, "hull.within");
}

static void
given_mass_and_g(Working *w, const Afloat *afloat, const Case *c)
{
    working_gaps(w, afloat);
    working_hull(w, afloat);
    Basis basis = masses_basis(c);
    const LedgerSum *sum = &c->sum;
    working_given(w, "rho", "density of the water", afloat->density_kg_per_m3, Q_DENSITY,
                  afloat->density_spread, afloat->density_basis, NULL);
    working_path_is(w, "boat.density");
    working_given(w, "M", "displacement (see afloat.displacement)", sum->mass_kg, Q_MASS,
                  sum->mass_spread_kg, basis, &source_ledger);
    working_followed_is(w, true);
    working_given(w, "x_G", "centre of gravity along, liquids as they lie", c->g_x_m, Q_LENGTH,
                  sum->lcg_spread_m, basis, &source_ledger);
    working_followed_is(w, true);
    working_given(w, "y_G", "centre of gravity across, port +", c->g_y_m, Q_LENGTH,
                  sum->tcg_spread_m, basis, &source_ledger);
    working_followed_is(w, true);
    working_given(w, "z_G", "centre of gravity above the base line", c->g_z_m, Q_LENGTH,
                  sum->vcg_spread_m, basis, &source_ledger);
    working_followed_is(w, true);
}

void
working_rest(Working *w, const Afloat *afloat, const Case *c)
{
    const Rest *rest = &c->rest;
    given_mass_and_g(w, afloat, c);
    working_given(w, "V", "volume under water", rest->volume_m3, Q_VOLUME, 0.0, BASIS_MEASURED,
                  &source_stations);
    working_given(w, "x_B", "centre of buoyancy along", rest->lcb_m, Q_LENGTH, 0.0, BASIS_MEASURED,
                  &source_stations);
    working_given(w, "y_B", "centre of buoyancy across, port +", rest->tcb_m, Q_LENGTH, 0.0,
                  BASIS_MEASURED, &source_stations);
    working_given(w, "z_B", "centre of buoyancy above the base line", rest->vcb_m, Q_LENGTH, 0.0,
                  BASIS_MEASURED, &source_stations);
    working_found(w, "heel", "list, starboard down +",
                  "(y_B - y_G) * cos(heel) = (z_B - z_G) * sin(heel)", rest->at.heel_rad, Q_ANGLE,
                  0.0, &source_rest, VALID);
    working_found(w, "trim", "trim, bow down +",
                  "(x_B - x_G) * cos(trim) + (y_B - y_G) * sin(heel) * sin(trim) = (z_G - z_B) * "
                  "cos(heel) * sin(trim)",
                  rest->at.trim_rad, Q_ANGLE, 0.0, &source_rest, VALID);
    working_found(w, "depth", "depth of the base line's aft end below the water", "rho * V = M",
                  rest->at.origin_depth_m, Q_LENGTH, 0.0, &source_rest, VALID);
}

void
working_people(Working *w, const Afloat *afloat, const Case *c)
{
    if (c->crowded)
        working_from_boat(w, "people", boat_single(afloat->boat, &section_boat), "people");
}

Working *
working_of_draught(const Afloat *afloat, const Case *c, double x_m, const char *where,
                   Result *result, double *value, double *spread)
{
    Linear a = linear_height(afloat, c, x_m, 0.0);
    Spread s = spread_of(afloat, c, &a, result);
    Working *w = result_working(result, result_text(result, "How deep she lies %s", where));
    working_rest(w, afloat, c);
    working_people(w, afloat, c);
    working_given(w, "x", "where it is read, forward of the stern", x_m, Q_LENGTH, 0.0,
                  BASIS_MEASURED, NULL);
    *value = attitude_draught_m(&c->rest.at, x_m);
    working_reckon(w, "T", result_text(result, "draught %s, to the base line", where),
                   "(depth + x * sin(trim)) / (cos(heel) * cos(trim))", *value, Q_LENGTH, s.spread,
                   &source_axes);
    settle(w, &s);
    *spread = s.spread;
    return w;
}

/* Both faces of the appendages that hang in the water. */
static double
appendages_wetted_m2(const Afloat *afloat, const Attitude *at)
{
    size_t n;
    const Record *const *parts = boat_records(afloat->boat, &section_appendages, &n);
    double sum = 0.0;
    for (size_t i = 0; i < n; i++) {
        const Appendage *part = parts[i]->data;
        if (part->area_m2 > 0.0 &&
            attitude_height_m(at, part->along_m, part->across_m, part->height_m) < 0.0)
            sum += 2.0 * part->area_m2;
    }
    return sum;
}

Working *
working_of_wetted(const Afloat *afloat, const Case *c, Result *result, double *value,
                  double *spread)
{
    const Loft *hull = afloat->hull;
    double middle = (hull->x_m[0] + hull->x_m[hull->stations - 1]) / 2.0;
    Linear a = linear_height(afloat, c, middle, 0.0);
    Spread s = spread_of(afloat, c, &a, result);
    Attitude deeper = c->rest.at;
    deeper.origin_depth_m += s.spread;
    double shell = body_wetted_m2(&afloat->body, &c->rest.at);
    double parts = appendages_wetted_m2(afloat, &c->rest.at);
    *value = shell + parts;
    *spread = body_wetted_m2(&afloat->body, &deeper) - shell;
    Working *w = result_working(result, "Surface below the water");
    working_rest(w, afloat, c);
    working_people(w, afloat, c);
    working_given(w, "S_shell", "shell below the water", shell, Q_AREA, *spread, BASIS_MEASURED,
                  &source_stations);
    working_given(w, "S_parts", "both faces of the appendages", parts, Q_AREA, 0.0, BASIS_MEASURED,
                  NULL);
    working_reckon(w, "S", "wetted surface", "S_shell + S_parts", *value, Q_AREA, *spread,
                   &source_stations);
    settle(w, &s);
    return w;
}

/* What Newton leaves of a level boat is no trim. */
static double
level_enough(double angle_rad)
{
    return fabs(angle_rad) < 1e-9 ? 0.0 : angle_rad;
}

Working *
working_of_trim(const Afloat *afloat, const Case *c, Result *result, double *value, double *spread)
{
    Linear a = linear_trim(c);
    Spread s = spread_of(afloat, c, &a, result);
    Working *w = result_working(result, "How she trims");
    working_rest(w, afloat, c);
    working_people(w, afloat, c);
    *value = level_enough(c->rest.at.trim_rad);
    working_reckon(w, "theta", "trim, bow down +", "trim", *value, Q_ANGLE, s.spread, &source_rest);
    settle(w, &s);
    *spread = s.spread;
    return w;
}

Working *
working_of_list(const Afloat *afloat, const Case *c, Result *result, double *value, double *spread)
{
    Linear a = linear_list(afloat, c);
    Spread s = spread_of(afloat, c, &a, result);
    Working *w = result_working(result, "How she lists");
    working_rest(w, afloat, c);
    working_people(w, afloat, c);
    *value = level_enough(c->rest.at.heel_rad);
    working_reckon(w, "phi", "list, starboard down +", "heel", *value, Q_ANGLE, s.spread,
                   &source_rest);
    settle(w, &s);
    *spread = s.spread;
    return w;
}

Working *
working_of_height(const Afloat *afloat, const Case *c, const Record *record, const char *label,
                  double x_m, double y_m, double z_m, double z_spread_m, Result *result,
                  double *value, double *spread)
{
    Linear a = linear_height(afloat, c, x_m, y_m);
    a.own = z_spread_m;
    a.own_record = record;
    Spread s = spread_of(afloat, c, &a, result);
    Working *w = result_working(result, result_text(result, "Height above the water: %s", label));
    working_rest(w, afloat, c);
    working_people(w, afloat, c);
    if (record != NULL) {
        working_from_boat(w, "x", record, "along");
        working_followed_is(w, true);
        working_from_boat(w, "y", record, "across");
        working_followed_is(w, true);
        working_from_boat(w, "z", record, "height");
    } else {
        working_given(w, "x", "along", x_m, Q_LENGTH, 0.0, BASIS_MEASURED, NULL);
        working_given(w, "y", "across, port +", y_m, Q_LENGTH, 0.0, BASIS_MEASURED, NULL);
        working_given(w, "z", "height above the base line", z_m, Q_LENGTH, z_spread_m, BASIS_STATED,
                      NULL);
    }
    *value = attitude_height_m(&c->rest.at, x_m, y_m, z_m);
    working_reckon(w, "h", "height above the water",
                   "-x * sin(trim) + y * sin(heel) * cos(trim) + z * cos(heel) * cos(trim) - depth",
                   *value, Q_LENGTH, s.spread, &source_axes);
    settle(w, &s);
    *spread = s.spread;
    return w;
}

Working *
working_of_freeboard(const Afloat *afloat, const Case *c, Result *result, double *value,
                     double *spread)
{
    const Loft *hull = afloat->hull;
    double x = c->side.least_freeboard_x_m;
    g_autofree double *y = g_new(double, 2 * hull->points);
    loft_points(hull, x, y, y + hull->points);
    double across = y[hull->points - 1] * (c->side.least_freeboard_side > 0 ? -1.0 : 1.0);
    double high = y[2 * hull->points - 1];
    return working_of_height(afloat, c, NULL, "the lowest point of the deck edge", x, across, high,
                             afloat->within_m, result, value, spread);
}

Working *
working_of_gm(const Afloat *afloat, const Case *c, Result *result, double *value, double *spread)
{
    const Rest *rest = &c->rest;
    Linear a = linear_gm(afloat, c);
    Spread s = spread_of(afloat, c, &a, result);
    Working *w = result_working(result, "How stiff she is (metacentric height)");
    working_rest(w, afloat, c);
    working_people(w, afloat, c);
    g_autofree double *density = g_new(double, MAX(c->tanks->len, 1)),
                      *inertia = g_new(double, MAX(c->tanks->len, 1));
    for (guint i = 0; i < c->tanks->len; i++) {
        const Tank *tank = &g_array_index(c->tanks, Tank, i);
        TankLiquid liquid;
        tank_lies(tank, rest->at.heel_rad, rest->at.trim_rad, &liquid);
        density[i] = tank->density_kg_per_m3;
        inertia[i] = liquid.surface_YY_m4;
    }
    working_given(w, "I_T", "second moment of the water plane about its long axis",
                  rest->inertia_t_m4, Q_INERTIA, 0.0, BASIS_MEASURED, &source_stations);
    working_reckon(w, "BM", "metacentre above the centre of buoyancy", "I_T / V", rest->bm_m,
                   Q_LENGTH, 0.0, &source_upright);
    working_reckon(w, "BG", "centre of gravity above the centre of buoyancy",
                   "(x_B - x_G) * sin(trim) + (y_G - y_B) * sin(heel) * cos(trim) + (z_G - z_B) * "
                   "cos(heel) * cos(trim)",
                   rest->bg_m, Q_LENGTH, 0.0, &source_axes);
    if (c->tanks->len > 0) {
        working_list(w, "rho_t", "densities of the liquids in tanks", c->tanks->len, density, NULL,
                     Q_DENSITY, BASIS_STATED, NULL);
        working_list(w, "i_t", "second moments of their surfaces", c->tanks->len, inertia, NULL,
                     Q_INERTIA, BASIS_STATED, NULL);
        working_reckon(w, "FS", "taken by the free surface of liquids", "sum(rho_t * i_t) / M",
                       rest->free_surface_m, Q_LENGTH, 0.0, &source_surface);
    } else {
        working_given(w, "FS", "taken by the free surface of liquids", 0.0, Q_LENGTH, 0.0,
                      BASIS_MEASURED, NULL);
    }
    *value = rest->gm_m;
    working_reckon(w, "GM", "metacentric height", "BM - BG - FS", *value, Q_LENGTH, s.spread,
                   &source_upright);
    settle(w, &s);
    *spread = s.spread;
    return w;
}
