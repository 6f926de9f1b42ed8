/* Calculators of free surfaces. Invariant: one rectangular tank at a time. */
#include "calc/afloat/hull.h"
#include "physics/afloat/free_surface.h"

static const Input surface_inputs[] = {
    IN_NUMBER("length", "m"),
    IN_NUMBER("breadth", "m"),
    IN_NUMBER("displacement", "kg"),
    IN_NUMBER("liquid_density", "kg/m3", .standard = "1000 kg/m3"),
    IN_NUMBER("divisions", "1", .standard = "1"),
};
static const Output surface_outputs[] = {
    OUT_NUMBER("inertia", "m4"), OUT_NUMBER("free_surface_moment", "kg m"),
    OUT_NUMBER("gm_loss", "m"), OUT_NUMBER("inertia_l", "m4"), OUT_NUMBER("gm_l_loss", "m")};
static const Method *const surface_methods[] = {&surface_inertia_method, &surface_loss_method,
                                                NULL};

static void
run_surface(const CalcArguments *in, CalcResults *out)
{
    FreeSurface s;
    if (free_surface(argument_number(in, "length"), argument_number(in, "breadth"),
                     argument_number(in, "displacement"), argument_number(in, "liquid_density"),
                     argument_number(in, "divisions"), &s) == REFUSED) {
        results_refuse(out,
                       "sizes, mass and density must be positive, divisions a whole number from 1");
        return;
    }
    results_set(out, "inertia", s.inertia_m4);
    results_set(out, "free_surface_moment", s.moment_kgm);
    results_set(out, "gm_loss", s.gm_loss_m);
    results_set(out, "inertia_l", s.inertia_l_m4);
    results_set(out, "gm_l_loss", s.gm_l_loss_m);
}

const Calculator calculator_free_surface = {
    .name = "free-surface",
    .question = "what the free surface of a rectangular tank takes from GM",
    .sheet = "float.md 3",
    CALCULATOR_BODY(surface_inputs, surface_outputs),
    .methods = surface_methods,
    .run = run_surface,
};

static const Input lever_inputs[] = {IN_NUMBER("breadth", "m"), IN_NUMBER("height", "m"),
                                     IN_NUMBER("fill_depth", "m"), IN_NUMBER("heel", "rad")};
static const Output lever_outputs[] = {OUT_NUMBER("lever", "m"), OUT_NUMBER("lever_corrected", "m"),
                                       OUT_NUMBER("tcg", "m"), OUT_NUMBER("vcg", "m"),
                                       OUT_NUMBER("corner_angle", "rad")};
static const Method *const lever_methods[] = {&tank_lever_corrected_method, NULL};

static void
run_lever(const CalcArguments *in, CalcResults *out)
{
    TankLever t;
    if (tank_lever(argument_number(in, "breadth"), argument_number(in, "height"),
                   argument_number(in, "fill_depth"), argument_number(in, "heel"), &t) == REFUSED) {
        results_refuse(
            out,
            "the tank must be filled above 0 and below its height, the heel within 90 degrees");
        return;
    }
    results_set(out, "lever", t.lever_m);
    results_set(out, "lever_corrected", t.corrected_m);
    results_set(out, "tcg", t.tcg_m);
    results_set(out, "vcg", t.vcg_m);
    results_set(out, "corner_angle", t.corner_rad);
}

const Calculator calculator_tank_lever = {
    .name = "tank-lever",
    .question = "exact sideways shift of the liquid in a rectangular tank, against the correction",
    .sheet = "float.md 3",
    CALCULATOR_BODY(lever_inputs, lever_outputs),
    .methods = lever_methods,
    .run = run_lever,
};
