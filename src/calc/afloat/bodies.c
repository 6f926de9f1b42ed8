/* Calculators of bodies with closed forms. Invariant: none of them integrates a hull. */
#include "calc/afloat/hull.h"
#include "physics/afloat/box_barge.h"
#include "physics/afloat/cylinder.h"
#include "physics/afloat/rates.h"
#include "physics/afloat/wedge.h"
#include "physics/afloat/wigley.h"

static const char *const phase_words[] = {"wall-sided", "deck-wet", "bilge-out", "both", NULL};
static const Input box_inputs[] = {
    IN_NUMBER("length", "m"),
    IN_NUMBER("beam", "m"),
    IN_NUMBER("depth", "m"),
    IN_NUMBER("draught", "m"),
    IN_NUMBER("vcg", "m"),
    IN_NUMBER("heel", "rad", .standard = "0 deg"),
    IN_WATER,
    IN_DENSITY,
};
static const Output box_outputs[] = {
    OUT_NUMBER("volume", "m3"), OUT_NUMBER("displacement", "kg"),
    OUT_NUMBER("kb", "m"),      OUT_NUMBER("bm", "m"),
    OUT_NUMBER("bm_l", "m"),    OUT_NUMBER("km", "m"),
    OUT_NUMBER("gm", "m"),      OUT_NUMBER("gm_l", "m"),
    OUT_NUMBER("tpc", "kg/m"),  OUT_NUMBER("mct", "kg m/m"),
    OUT_NUMBER("gz", "m"),      OUT_NUMBER("tcb", "m"),
    OUT_NUMBER("vcb", "m"),     OUT_WORD("phase", phase_words),
};
static const Method *const box_methods[] = {&box_volume_method, &box_bm_method, &box_lever_method,
                                            NULL};

static void
run_box(const CalcArguments *in, CalcResults *out)
{
    double density = water_density(in, out), length = argument_number(in, "length"),
           beam = argument_number(in, "beam");
    BoxBarge box;
    if (box_barge(length, beam, argument_number(in, "depth"), argument_number(in, "draught"),
                  argument_number(in, "vcg"), argument_number(in, "heel"), &box) == REFUSED) {
        results_refuse(
            out,
            "sizes must be positive, the draught below the depth and the heel within 90 degrees");
        return;
    }
    Rates rates;
    displacement_rates(box.volume_m3, length * beam, density, box.gm_l_m, length, beam,
                       argument_number(in, "draught"), &rates);
    results_set(out, "volume", box.volume_m3);
    results_set(out, "displacement", rates.mass_kg);
    results_set(out, "kb", box.kb_m);
    results_set(out, "bm", box.bm_m);
    results_set(out, "bm_l", box.bm_l_m);
    results_set(out, "km", box.km_m);
    results_set(out, "gm", box.gm_m);
    results_set(out, "gm_l", box.gm_l_m);
    results_set(out, "tpc", rates.tpc_kg_per_m);
    results_set(out, "mct", rates.mct_kgm_per_m);
    results_set(out, "gz", box.gz_m);
    results_set(out, "tcb", box.tcb_m);
    results_set(out, "vcb", box.vcb_m);
    results_word(out, "phase", phase_words[box.phase]);
}

const Calculator calculator_box_barge = {
    .name = "box-barge",
    .question = "everything about a rectangular barge, and its exact righting lever at any heel",
    .sheet = "float.md 9.1",
    CALCULATOR_BODY(box_inputs, box_outputs),
    .methods = box_methods,
    .run = run_box,
};

static const Input wedge_inputs[] = {IN_NUMBER("half_angle", "rad"), IN_NUMBER("draught", "m"),
                                     IN_NUMBER("heel", "rad", .standard = "0 deg"),
                                     IN_NUMBER("vcg", "m", .standard = "0 m")};
static const Output wedge_outputs[] = {OUT_NUMBER("area", "m2"), OUT_NUMBER("kb", "m"),
                                       OUT_NUMBER("km", "m"), OUT_NUMBER("kn", "m"),
                                       OUT_NUMBER("gz", "m")};
static const Method *const wedge_methods[] = {&wedge_kn_method, NULL};

static void
run_wedge(const CalcArguments *in, CalcResults *out)
{
    Wedge wedge;
    if (wedge_float(argument_number(in, "half_angle"), argument_number(in, "draught"),
                    argument_number(in, "heel"), argument_number(in, "vcg"), &wedge) == REFUSED) {
        results_refuse(
            out, "the draught must be positive and the heel below 90 degrees less the half angle");
        return;
    }
    results_set(out, "area", wedge.area_m2);
    results_set(out, "kb", wedge.kb_m);
    results_set(out, "km", wedge.km_m);
    results_set(out, "kn", wedge.kn_m);
    results_set(out, "gz", wedge.gz_m);
}

const Calculator calculator_wedge_kn = {
    .name = "wedge-kn",
    .question = "triangular prism: section, metacentre and exact lever",
    .sheet = "float.md 9.2",
    CALCULATOR_BODY(wedge_inputs, wedge_outputs),
    .methods = wedge_methods,
    .run = run_wedge,
};

static const Input cylinder_inputs[] = {IN_NUMBER("radius", "m"), IN_NUMBER("draught", "m"),
                                        IN_NUMBER("vcg", "m", .otherwise = "none"),
                                        IN_NUMBER("heel", "rad", .standard = "0 deg")};
static const Output cylinder_outputs[] = {OUT_NUMBER("area", "m2"), OUT_NUMBER("kb", "m"),
                                          OUT_NUMBER("bm", "m"),    OUT_NUMBER("km", "m"),
                                          OUT_NUMBER("girth", "m"), OUT_NUMBER("gz", "m")};
static const Method *const cylinder_methods[] = {&cylinder_area_method, &cylinder_lever_method,
                                                 NULL};

static void
run_cylinder(const CalcArguments *in, CalcResults *out)
{
    Cylinder c;
    if (cylinder_float(argument_number(in, "radius"), argument_number(in, "draught"),
                       argument_number(in, "vcg"), argument_number(in, "heel"), &c) == REFUSED) {
        results_refuse(out, "the draught must lie between 0 and two radii");
        return;
    }
    results_set(out, "area", c.area_m2);
    results_set(out, "kb", c.kb_m);
    results_set(out, "bm", c.bm_m);
    results_set(out, "km", c.km_m);
    results_set(out, "girth", c.girth_m);
    results_set(out, "gz", c.gz_m);
}

const Calculator calculator_cylinder_hydrostatics = {
    .name = "cylinder-hydrostatics",
    .question = "horizontal round hull or pontoon tube",
    .sheet = "float.md 9.3",
    CALCULATOR_BODY(cylinder_inputs, cylinder_outputs),
    .methods = cylinder_methods,
    .run = run_cylinder,
};

static const Input wigley_inputs[] = {IN_NUMBER("length", "m"), IN_NUMBER("beam", "m"),
                                      IN_NUMBER("draught", "m")};
static const Output wigley_outputs[] = {
    OUT_NUMBER("volume", "m3"),    OUT_NUMBER("waterplane_area", "m2"), OUT_NUMBER("kb", "m"),
    OUT_NUMBER("inertia_t", "m4"), OUT_NUMBER("inertia_l", "m4"),       OUT_NUMBER("bm", "m"),
    OUT_NUMBER("bm_l", "m"),       OUT_NUMBER("wetted_surface", "m2"),
};
static const Method *const wigley_methods[] = {&wigley_volume_method, NULL};

static void
run_wigley(const CalcArguments *in, CalcResults *out)
{
    Wigley w;
    if (wigley_hull(argument_number(in, "length"), argument_number(in, "beam"),
                    argument_number(in, "draught"), &w) == REFUSED) {
        results_refuse(out, "length, beam and draught must be positive");
        return;
    }
    results_set(out, "volume", w.volume_m3);
    results_set(out, "waterplane_area", w.waterplane_m2);
    results_set(out, "kb", w.kb_m);
    results_set(out, "inertia_t", w.inertia_t_m4);
    results_set(out, "inertia_l", w.inertia_l_m4);
    results_set(out, "bm", w.bm_m);
    results_set(out, "bm_l", w.bm_l_m);
    results_set(out, "wetted_surface", w.wetted_m2);
}

const Calculator calculator_wigley_hull = {
    .name = "wigley-hull",
    .question = "the exact values of the mathematical hull used to test hydrostatics",
    .sheet = "float.md 9.4",
    CALCULATOR_BODY(wigley_inputs, wigley_outputs),
    .methods = wigley_methods,
    .run = run_wigley,
};
