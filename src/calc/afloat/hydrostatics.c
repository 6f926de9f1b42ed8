/* Calculators of a hull at a given attitude. Invariant: nothing is solved here, the attitude is the input. */
#include <math.h>

#include "calc/afloat/hull.h"
#include "physics/afloat/rates.h"
#include "physics/afloat/rest.h"

static const Input upright_inputs[] = {
    IN_HULL,
    IN_NUMBER("draught", "m"),
    IN_NUMBER("vcg", "m", .otherwise = "none"),
    IN_NUMBER("length", "m", .otherwise = "of-hull"),
    IN_WATER,
    IN_DENSITY,
};
static const Output upright_outputs[] = {
    OUT_NUMBER("volume", "m3"),
    OUT_NUMBER("displacement", "kg"),
    OUT_NUMBER("lcb", "m"),
    OUT_NUMBER("kb", "m"),
    OUT_NUMBER("waterplane_area", "m2"),
    OUT_NUMBER("lcf", "m"),
    OUT_NUMBER("inertia_t", "m4"),
    OUT_NUMBER("inertia_l", "m4"),
    OUT_NUMBER("bm", "m"),
    OUT_NUMBER("bm_l", "m"),
    OUT_NUMBER("km", "m"),
    OUT_NUMBER("km_l", "m"),
    OUT_NUMBER("wetted_surface", "m2"),
    OUT_NUMBER("tpc", "kg/m"),
    OUT_NUMBER("gm", "m"),
    OUT_NUMBER("gm_l", "m"),
    OUT_NUMBER("mct", "kg m/m"),
};
static const Method *const upright_methods[] = {&bm_method, &km_method, &tpc_method, &mct_method,
                                                NULL};

static double
lowest_deck(const Loft *loft)
{
    double low = INFINITY;
    for (size_t i = 0; i < loft->stations; i++)
        low = fmin(low, loft->z_m[(i + 1) * loft->points - 1]);
    return low;
}

static void
set_upright(const CalcArguments *in, CalcResults *out, const Hull *hull, const Immersed *u)
{
    double density = water_density(in, out), v = u->volume_m3, kb = u->z_m4 / v;
    double lcf = u->plane_X_m3 / u->plane_m2;
    double i_t = u->plane_YY_m4 - u->plane_Y_m3 * u->plane_Y_m3 / u->plane_m2;
    double i_l = u->plane_XX_m4 - lcf * u->plane_X_m3;
    double gm_l = kb + i_l / v - argument_number(in, "vcg");
    double length = argument_given(in, "length")
                        ? argument_number(in, "length")
                        : hull->x_m[hull->loft.stations - 1] - hull->x_m[0];
    if (!(length > 0.0)) {
        results_refuse(out, "the length must be positive");
        return;
    }
    results_set(out, "volume", v);
    results_set(out, "displacement", density * v);
    results_set(out, "lcb", u->x_m4 / v);
    results_set(out, "kb", kb);
    results_set(out, "waterplane_area", u->plane_m2);
    results_set(out, "lcf", lcf);
    results_set(out, "inertia_t", i_t);
    results_set(out, "inertia_l", i_l);
    results_set(out, "bm", i_t / v);
    results_set(out, "bm_l", i_l / v);
    results_set(out, "km", kb + i_t / v);
    results_set(out, "km_l", kb + i_l / v);
    results_set(out, "tpc", density * u->plane_m2);
    results_set(out, "gm", kb + i_t / v - argument_number(in, "vcg"));
    results_set(out, "gm_l", gm_l);
    results_set(out, "mct", density * v * gm_l / length);
}

static void
run_upright(const CalcArguments *in, CalcResults *out)
{
    Hull hull;
    if (!hull_read(in, out, &hull))
        return;
    Attitude at = {.origin_depth_m = argument_number(in, "draught")};
    Immersed u;
    body_immersed(&hull.body, &at, &u);
    if (at.origin_depth_m > lowest_deck(&hull.loft))
        results_limit(out, EXTRAPOLATED);
    if (u.volume_m3 > 0.0) {
        set_upright(in, out, &hull, &u);
        results_set(out, "wetted_surface", body_wetted_m2(&hull.body, &at));
    } else {
        results_refuse(out, "the hull is dry at this draught");
    }
    hull_clear(&hull);
}

const Calculator calculator_hydrostatics_upright = {
    .name = "hydrostatics-upright",
    .question = "volume, centres, water plane and metacentres on even keel at a draught",
    .sheet = "float.md 2.1, 2.3, 2.5",
    CALCULATOR_BODY(upright_inputs, upright_outputs),
    .methods = upright_methods,
    .run = run_upright,
};

static const Input inclined_inputs[] = {
    IN_HULL,
    IN_NUMBER("origin_depth", "m"),
    IN_NUMBER("heel", "rad", .standard = "0 deg"),
    IN_NUMBER("trim", "rad", .standard = "0 deg"),
    IN_WATER,
    IN_DENSITY,
};
static const Output inclined_outputs[] = {
    OUT_NUMBER("volume", "m3"),
    OUT_NUMBER("displacement", "kg"),
    OUT_NUMBER("lcb", "m"),
    OUT_NUMBER("tcb", "m"),
    OUT_NUMBER("vcb", "m"),
    OUT_NUMBER("waterplane_area", "m2"),
    OUT_NUMBER("lcf", "m"),
    OUT_NUMBER("tcf", "m"),
    OUT_NUMBER("inertia_t", "m4"),
    OUT_NUMBER("inertia_l", "m4"),
    OUT_NUMBER("wetted_surface", "m2"),
};
static const Method *const inclined_methods[] = {&bm_method, NULL};

static void
set_inclined(const CalcArguments *in, CalcResults *out, const Attitude *at, const Immersed *u)
{
    double X = u->plane_X_m3 / u->plane_m2, Y = u->plane_Y_m3 / u->plane_m2;
    double q = X * sin(at->trim_rad) + at->origin_depth_m * cos(at->trim_rad);
    results_set(out, "volume", u->volume_m3);
    results_set(out, "displacement", water_density(in, out) * u->volume_m3);
    results_set(out, "lcb", u->x_m4 / u->volume_m3);
    results_set(out, "tcb", u->y_m4 / u->volume_m3);
    results_set(out, "vcb", u->z_m4 / u->volume_m3);
    results_set(out, "waterplane_area", u->plane_m2);
    results_set(out, "lcf", X * cos(at->trim_rad) - at->origin_depth_m * sin(at->trim_rad));
    results_set(out, "tcf", Y * cos(at->heel_rad) + q * sin(at->heel_rad));
    results_set(out, "inertia_t", u->plane_YY_m4 - Y * u->plane_Y_m3);
    results_set(out, "inertia_l", u->plane_XX_m4 - X * u->plane_X_m3);
}

static void
run_inclined(const CalcArguments *in, CalcResults *out)
{
    Hull hull;
    Attitude at = {argument_number(in, "origin_depth"), argument_number(in, "heel"),
                   argument_number(in, "trim")};
    if (!(fabs(at.trim_rad) <= 1.3) || !(fabs(at.heel_rad) <= 2.0 * M_PI)) {
        results_refuse(out, "trim must stay below 74 degrees and heel within one turn");
        return;
    }
    if (!hull_read(in, out, &hull))
        return;
    Immersed u;
    body_immersed(&hull.body, &at, &u);
    if (u.volume_m3 > 0.0) {
        set_inclined(in, out, &at, &u);
        results_set(out, "wetted_surface", body_wetted_m2(&hull.body, &at));
    } else {
        results_refuse(out, "the hull is dry at this depth");
    }
    hull_clear(&hull);
}

const Calculator calculator_hydrostatics_inclined = {
    .name = "hydrostatics-inclined",
    .question = "the same body at any heel and trim",
    .sheet = "float.md 2.2, 2.3",
    CALCULATOR_BODY(inclined_inputs, inclined_outputs),
    .methods = inclined_methods,
    .run = run_inclined,
};

static const Input section_inputs[] = {IN_HULL, IN_NUMBER("x", "m"), IN_NUMBER("height", "m")};
static const Output section_outputs[] = {OUT_NUMBER("area", "m2"), OUT_NUMBER("moment", "m3"),
                                         OUT_NUMBER("half_breadth", "m")};

static void
run_section(const CalcArguments *in, CalcResults *out)
{
    Hull hull;
    double area, moment, half;
    if (!hull_read(in, out, &hull))
        return;
    if (loft_section(&hull.loft, argument_number(in, "x"), argument_number(in, "height"), &area,
                     &moment, &half)) {
        results_set(out, "area", area);
        results_set(out, "moment", moment);
        results_set(out, "half_breadth", half);
    } else {
        results_refuse(out, "the section lies outside the hull's length");
    }
    hull_clear(&hull);
}

const Calculator calculator_section_area = {
    .name = "section-area",
    .question = "area of one cross section below a height, and its moment about z = 0",
    .sheet = "float.md 2.4",
    CALCULATOR_BODY(section_inputs, section_outputs),
    .run = run_section,
};
