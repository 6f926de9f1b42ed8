/* Calculators of boats on blocks. Invariant: heights are above the point of contact. */
#include <math.h>

#include "calc/afloat/hull.h"
#include "physics/afloat/docking.h"
#include "physics/afloat/grounding.h"

static const Input keel_inputs[] = {
    IN_HULL,
    IN_NUMBER("displacement", "kg"),
    IN_NUMBER("lcg", "m"),
    IN_NUMBER("vcg", "m"),
    IN_NUMBER("block_x", "m"),
    IN_NUMBER("fall", "m"),
    IN_NUMBER("block_z", "m", .standard = "0 m"),
    IN_WATER,
    IN_DENSITY,
};
static const Output keel_outputs[] = {
    OUT_NUMBER("afloat_trim", "rad"), OUT_NUMBER("touch_depth", "m"),
    OUT_NUMBER("reaction", "kg"),     OUT_NUMBER("trim", "rad"),
    OUT_NUMBER("km_contact", "m"),    OUT_NUMBER("vcg_contact", "m"),
    OUT_NUMBER("gm_a", "m"),          OUT_NUMBER("gm_b", "m")};
static const Method *const keel_methods[] = {&keel_reaction_method, &keel_trim_method,
                                             &keel_gm_a_method, &keel_gm_b_method, NULL};

static void
run_keel(const CalcArguments *in, CalcResults *out)
{
    Hull hull;
    double density = water_density(in, out);
    if (!hull_read(in, out, &hull))
        return;
    const Load load = {.mass_kg = argument_number(in, "displacement"),
                       .lcg_m = argument_number(in, "lcg"),
                       .vcg_m = argument_number(in, "vcg")};
    const KeelBlock block = {argument_number(in, "block_x"), argument_number(in, "block_z"), NAN};
    KeelStep afloat, step;
    Validity validity = keel_on_block(&hull.body, &load, density, &block,
                                      argument_number(in, "fall"), &afloat, &step);
    hull_clear(&hull);
    if (validity == REFUSED) {
        results_refuse(out, "she does not float with this load, the fall is negative, or she does "
                            "not lie stable lengthwise on the block");
        return;
    }
    results_set(out, "afloat_trim", afloat.trim_rad);
    results_set(out, "touch_depth", afloat.depth_m);
    results_set(out, "reaction", step.reaction_kg);
    results_set(out, "trim", step.trim_rad);
    results_set(out, "km_contact", step.km_m);
    results_set(out, "vcg_contact", step.vcg_m);
    results_set(out, "gm_a", step.gm_a_m);
    results_set(out, "gm_b", step.gm_b_m);
}

const Calculator calculator_keel_on_block = {
    .name = "keel-on-block",
    .question = "load on a block or ground under the keel and the stability left, as the water "
                "falls",
    .sheet = "float.md 10.1",
    CALCULATOR_BODY(keel_inputs, keel_outputs),
    .methods = keel_methods,
    .run = run_keel,
};

static const Input box_inputs[] = {IN_NUMBER("beam", "m"), IN_NUMBER("draught", "m"),
                                   IN_NUMBER("vcg", "m")};
static const Output box_outputs[] = {OUT_NUMBER("gm_afloat", "m"),
                                     OUT_NUMBER("critical_depth", "m")};
static const Method *const box_methods[] = {&box_on_block_method, NULL};

static void
run_box(const CalcArguments *in, CalcResults *out)
{
    BoxOnBlock box;
    if (box_on_block(argument_number(in, "beam"), argument_number(in, "draught"),
                     argument_number(in, "vcg"), &box) == REFUSED) {
        results_refuse(out, "there is no critical depth: she is stable down to dry blocks, or not "
                            "stable afloat; sizes must be positive");
        return;
    }
    results_set(out, "gm_afloat", box.gm_afloat_m);
    results_set(out, "critical_depth", box.critical_depth_m);
}

const Calculator calculator_box_on_block = {
    .name = "box-on-block",
    .question = "depth at which a box barge on a narrow centreline block loses its stability",
    .sheet = "float.md 10.1",
    CALCULATOR_BODY(box_inputs, box_outputs),
    .methods = box_methods,
    .run = run_box,
};

static const Input dock_inputs[] = {
    IN_NUMBER("displacement", "kg"),
    IN_NUMBER("km", "m"),
    IN_NUMBER("vcg", "m"),
    IN_NUMBER("mct", "kg m/m", .otherwise = "none"),
    IN_NUMBER("trim", "m", .standard = "0 m"),
    IN_NUMBER("contact_to_lcf", "m", .otherwise = "none"),
    IN_NUMBER("tpc", "kg/m", .standard = "0 kg/m"),
    IN_NUMBER("fall", "m", .standard = "0 m"),
    IN_NUMBER("free_surface_moment", "kg m", .standard = "0 kg m"),
};
static const Output dock_outputs[] = {OUT_NUMBER("reaction", "kg"), OUT_NUMBER("loss_a", "m"),
                                      OUT_NUMBER("loss_b", "m"), OUT_NUMBER("gm_a", "m"),
                                      OUT_NUMBER("gm_b", "m")};
static const Method *const dock_methods[] = {&docking_reaction_method, &docking_loss_a_method,
                                             &docking_loss_b_method, NULL};

static void
run_dock(const CalcArguments *in, CalcResults *out)
{
    Docking d;
    if (docking(argument_number(in, "displacement"), argument_number(in, "km"),
                argument_number(in, "vcg"), argument_number(in, "mct"), argument_number(in, "trim"),
                argument_number(in, "contact_to_lcf"), argument_number(in, "tpc"),
                argument_number(in, "fall"), argument_number(in, "free_surface_moment"),
                &d) == REFUSED) {
        results_refuse(out, "the reaction is not between 0 and the displacement; a trim needs mct "
                            "and contact_to_lcf; displacement and km must be positive");
        return;
    }
    results_set(out, "reaction", d.reaction_kg);
    results_set(out, "loss_a", d.loss_a_m);
    results_set(out, "loss_b", d.loss_b_m);
    results_set(out, "gm_a", d.gm_a_m);
    results_set(out, "gm_b", d.gm_b_m);
}

const Calculator calculator_docking = {
    .name = "docking",
    .question = "reaction and GM when trimmed keel meets the slip, handbook method",
    .sheet = "float.md 10.1",
    CALCULATOR_BODY(dock_inputs, dock_outputs),
    .methods = dock_methods,
    .run = run_dock,
};
