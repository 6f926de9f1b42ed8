/* Calculators of righting levers. Invariant: results stand in the order of the heels that were put in. */
#include <math.h>
#include <stdlib.h>

#include "calc/afloat/hull.h"
#include "physics/afloat/lever.h"
#include "physics/afloat/lever_shift.h"
#include "physics/afloat/wall_sided.h"

static const char *const trimming_words[] = {"free", "fixed", NULL};
static const char *const liquid_words[] = {"real", "corrected", NULL};
static const Input arm_inputs[] = {
    IN_HULL,
    IN_NUMBER("displacement", "kg"),
    IN_NUMBER("lcg", "m"),
    IN_NUMBER("vcg", "m"),
    IN_LIST("heels", "rad"),
    IN_NUMBER("tcg", "m", .standard = "0 m"),
    IN_WORD("trimming", trimming_words, .standard = "free"),
    IN_NUMBER("fixed_trim", "rad", .standard = "0 deg"),
    IN_TANKS,
    IN_WORD("liquid", liquid_words, .standard = "real"),
    IN_NUMBER("downflooding_angle", "rad", .standard = "90 deg"),
    IN_WATER,
    IN_DENSITY,
};
static const Output arm_outputs[] = {
    OUT_NUMBERS("gz", "m"),
    OUT_NUMBERS("trim", "rad"),
    OUT_NUMBERS("origin_depth", "m"),
    OUT_NUMBERS("kn", "m"),
    OUT_NUMBER("gz_max", "m"),
    OUT_NUMBER("gz_max_angle", "rad"),
    OUT_NUMBER("vanishing_angle", "rad"),
    OUT_NUMBER("area_30", "m rad"),
    OUT_NUMBER("area_40", "m rad"),
    OUT_NUMBER("area_30_40", "m rad"),
};
static const Method *const arm_methods[] = {&lever_method, &kn_method, &lever_area_method, NULL};

typedef struct {
    const Body *body;
    Load load;
    double density, fixed_trim, surface_loss; /* m, by the correction; 0 when liquids are real */
    bool trim_free;
} Case;

static double *
cells(LeverCurve *curve, size_t n)
{
    double *all = g_new(double, 4 * n);
    *curve = (LeverCurve){n, all, all + n, all + 2 * n, all + 3 * n};
    return all;
}

static int
ascending(const void *a, const void *b)
{
    const double *p = *(const double *const *) a, *q = *(const double *const *) b;
    return *p < *q ? -1 : *p > *q;
}

/* Solved in ascending order, so that each heel starts from its neighbour. */
static void
set_heels(const Case *c, const CalcArguments *in, CalcResults *out)
{
    size_t n;
    const double *heel = argument_list(in, "heels", &n);
    g_autofree const double **order = g_new(const double *, n);
    for (size_t i = 0; i < n; i++)
        order[i] = &heel[i];
    qsort(order, n, sizeof *order, ascending);
    LeverCurve curve;
    g_autofree double *all = cells(&curve, n);
    for (size_t i = 0; i < n; i++)
        curve.heel_rad[i] = *order[i];
    if (lever_curve(c->body, &c->load, c->density, c->trim_free, c->fixed_trim, &curve) ==
        REFUSED) {
        results_refuse(out,
                       "at one of the heels she finds no level: too heavy, or unstable lengthwise");
        return;
    }
    double vcg = argument_number(in, "vcg");
    for (size_t i = 0; i < n; i++) {
        size_t k = (size_t) (order[i] - heel);
        double gz = curve.gz_m[i] - c->surface_loss * sin(heel[k]);
        results_set_at(out, "gz", k, gz);
        results_set_at(out, "trim", k, curve.trim_rad[i]);
        results_set_at(out, "origin_depth", k, curve.depth_m[i]);
        results_set_at(out, "kn", k, gz + vcg * sin(heel[k]));
    }
}

/* The whole curve to 180 degrees, as far as she finds a level. A correction of the free surface is a raised centre of
 * gravity here. */
static void
set_facts(const Case *c, double flooding, CalcResults *out)
{
    enum { STEPS = 181 };
    LeverCurve curve;
    g_autofree double *all = cells(&curve, STEPS);
    for (size_t i = 0; i < STEPS; i++)
        curve.heel_rad[i] = (double) i * (M_PI / 180.0);
    Load load = c->load;
    load.vcg_m += c->surface_loss;
    lever_curve(c->body, &load, c->density, c->trim_free, c->fixed_trim, &curve);
    size_t known = 0;
    while (known < STEPS && isfinite(curve.gz_m[known]))
        known++;
    curve.n = known;
    LeverFacts facts;
    if (lever_facts(c->body, &load, c->density, c->trim_free, &curve, flooding, true, &facts) ==
        REFUSED)
        return;
    results_set(out, "gz_max", facts.max_m);
    results_set(out, "gz_max_angle", facts.max_rad);
    results_set(out, "vanishing_angle", facts.vanishing_rad);
    results_set(out, "area_30", facts.area_30);
    results_set(out, "area_40", facts.area_40);
    results_set(out, "area_30_40", facts.area_30_40);
}

static void
run_arm(const CalcArguments *in, CalcResults *out)
{
    Hull hull;
    Tank *tank;
    size_t tanks;
    double density = water_density(in, out), flooding = argument_number(in, "downflooding_angle");
    if (!(flooding > 0.0)) {
        results_refuse(out, "the down-flooding angle must be positive");
        return;
    }
    if (!hull_read(in, out, &hull))
        return;
    if (tanks_read(in, out, &tank, &tanks)) {
        Case c = {.body = &hull.body,
                  .load = {argument_number(in, "displacement"), argument_number(in, "lcg"),
                           argument_number(in, "tcg"), argument_number(in, "vcg"), tanks, tank},
                  .density = density,
                  .fixed_trim = argument_number(in, "fixed_trim"),
                  .trim_free = argument_choice(in, "trimming") == 0};
        if (c.trim_free)
            c.fixed_trim = 0.0;
        if (argument_choice(in, "liquid") == 1) {
            for (size_t i = 0; i < tanks; i++) {
                double t, l;
                tank_surface(&tank[i], &t, &l);
                c.surface_loss += tank[i].density_kg_per_m3 * t / c.load.mass_kg;
            }
            c.load.tanks = 0;
        }
        set_heels(&c, in, out);
        if (results_validity(out) != REFUSED)
            set_facts(&c, flooding, out);
        g_free(tank);
    }
    hull_clear(&hull);
}

const Calculator calculator_righting_arm = {
    .name = "righting-arm",
    .question = "righting levers at given heels, free to sink and trim, with the largest lever, "
                "vanishing angle and areas",
    .sheet = "float.md 2.6, 2.8, 3",
    CALCULATOR_BODY(arm_inputs, arm_outputs),
    .methods = arm_methods,
    .run = run_arm,
};

static const Input shift_inputs[] = {
    IN_LIST("heels", "rad"),
    IN_LIST("gz", "m"),
    IN_NUMBER("vcg_new", "m"),
    IN_NUMBER("vcg_old", "m", .standard = "0 m"),
    IN_NUMBER("tcg_new", "m", .standard = "0 m"),
    IN_NUMBER("tcg_old", "m", .standard = "0 m"),
};
static const Output shift_outputs[] = {OUT_NUMBERS("gz_new", "m")};
static const Method *const shift_methods[] = {&lever_shift_method, NULL};

static void
run_shift(const CalcArguments *in, CalcResults *out)
{
    size_t n, m;
    const double *heel = argument_list(in, "heels", &n), *gz = argument_list(in, "gz", &m);
    if (n != m) {
        results_refuse(out, "there must be as many levers as heels");
        return;
    }
    for (size_t i = 0; i < n; i++)
        results_set_at(out, "gz_new", i,
                       lever_shift_m(gz[i], heel[i], argument_number(in, "vcg_old"),
                                     argument_number(in, "vcg_new"), argument_number(in, "tcg_old"),
                                     argument_number(in, "tcg_new")));
}

const Calculator calculator_gz_for_new_g = {
    .name = "gz-for-new-g",
    .question = "righting levers for another centre of gravity, or from cross curves (vcg_old = 0)",
    .sheet = "float.md 2.8",
    CALCULATOR_BODY(shift_inputs, shift_outputs),
    .methods = shift_methods,
    .run = run_shift,
};

static const Input wall_inputs[] = {IN_NUMBER("gm", "m"), IN_NUMBER("bm", "m"),
                                    IN_NUMBER("heel", "rad"),
                                    IN_NUMBER("wall_angle", "rad", .standard = "90 deg")};
static const Output wall_outputs[] = {OUT_NUMBER("gz", "m")};
static const Method *const wall_methods[] = {&wall_sided_method, NULL};

static void
run_wall(const CalcArguments *in, CalcResults *out)
{
    double gz;
    Validity validity =
        wall_sided_lever(argument_number(in, "gm"), argument_number(in, "bm"),
                         argument_number(in, "heel"), argument_number(in, "wall_angle"), &gz);
    if (validity == REFUSED)
        results_refuse(out, "heel must stay below 90 degrees and BM must not be negative");
    results_limit(out, validity);
    results_set(out, "gz", gz);
}

const Calculator calculator_wall_sided_gz = {
    .name = "wall-sided-gz",
    .question = "righting lever while the sides are vertical between the water lines",
    .sheet = "float.md 9.1",
    CALCULATOR_BODY(wall_inputs, wall_outputs),
    .methods = wall_methods,
    .run = run_wall,
};
