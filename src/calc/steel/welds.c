/* Calculators of weld metal. */
#include <math.h>

#include "calc/arguments.h"
#include "calc/results.h"
#include "physics/steel/weld.h"

#define IN_STEEL_DENSITY IN_NUMBER("density", "kg/m3", .standard = "7850 kg/m3")

/* --- weld-area ----------------------------------------------------------------------------------------------------- */

enum { JOINT_FILLET, JOINT_BUTT };
static const char *const joint_words[] = {"fillet", "butt", NULL};
static const Input area_inputs[] = {
    IN_WORD("joint", joint_words),
    IN_NUMBER("leg", "m", .otherwise = "none"),
    IN_NUMBER("convexity", "1", .standard = "0"),
    IN_NUMBER("thickness", "m", .otherwise = "none"),
    IN_NUMBER("gap", "m", .standard = "0 m"),
    IN_NUMBER("angle", "rad", .standard = "0 deg"),
    IN_NUMBER("root_face", "m", .standard = "0 m"),
    IN_NUMBER("cap", "m", .standard = "0 m"),
    IN_STEEL_DENSITY,
};
static const Output area_outputs[] = {OUT_NUMBER("bare_area", "m2"), OUT_NUMBER("area", "m2"),
                                      OUT_NUMBER("top_width", "m"),
                                      OUT_NUMBER("mass_per_length", "kg/m")};
static const Method *const area_methods[] = {&weld_fillet_method, &weld_butt_method,
                                             &weld_metal_method, NULL};

static void
run_area(const CalcArguments *in, CalcResults *out)
{
    bool fillet = argument_choice(in, "joint") == JOINT_FILLET;
    double density = argument_number(in, "density");
    ButtWeld butt = {argument_number(in, "thickness"), argument_number(in, "gap"),
                     argument_number(in, "angle"), argument_number(in, "root_face"),
                     argument_number(in, "cap")};
    WeldArea weld;
    if (!argument_given(in, fillet ? "leg" : "thickness")) {
        results_error(out, fillet ? "a fillet needs leg" : "a butt needs thickness");
        return;
    }
    Validity validity =
        fillet ? weld_fillet(argument_number(in, "leg"), argument_number(in, "convexity"), &weld)
               : weld_butt(&butt, &weld);
    if (validity == REFUSED || !(density > 0.0))
        results_refuse(out, "leg, thickness and density must be above 0, nothing negative, the "
                            "root face not above the thickness, the angle below 179 degrees");
    results_set(out, "bare_area", weld.bare_m2);
    results_set(out, "area", weld.area_m2);
    results_set(out, "top_width", weld.top_width_m);
    results_set(out, "mass_per_length", weld.area_m2 * density);
}

const Calculator calculator_weld_area = {
    .name = "weld-area",
    .question = "cross-section and mass per length of a fillet or butt weld",
    .sheet = "steel.md D4",
    CALCULATOR_BODY(area_inputs, area_outputs),
    .methods = area_methods,
    .run = run_area,
};

/* --- weld-consumption ---------------------------------------------------------------------------------------------- */

static const char *const process_words[] = {
    "submerged",     "mig-argon",     "mag-mixed",     "mag-co2",       "metal-cored", "flux-cored",
    "self-shielded", "electrode-300", "electrode-350", "electrode-450", NULL}; /* as WeldProcess */
static const Input run_inputs[] = {
    IN_NUMBER("area", "m2"),
    IN_NUMBER("length", "m"),
    IN_NUMBER("deposition_rate", "kg/s"),
    IN_NUMBER("operating_factor", "1"),
    IN_WORD("process", process_words, .standard = "mag-mixed"),
    IN_NUMBER("efficiency", "1", .otherwise = "by process"),
    IN_NUMBER("gas_flow", "m3/s", .standard = "0 L/min"),
    IN_STEEL_DENSITY,
};
static const Output run_outputs[] = {OUT_NUMBER("metal", "kg"), OUT_NUMBER("filler", "kg"),
                                     OUT_NUMBER("arc_time", "s"), OUT_NUMBER("elapsed_time", "s"),
                                     OUT_NUMBER("gas", "m3")};
static const Method *const run_methods[] = {&weld_metal_method, &weld_filler_method,
                                            &weld_time_method, NULL};

static void
run_consumption(const CalcArguments *in, CalcResults *out)
{
    double efficiency = argument_given(in, "efficiency")
                            ? argument_number(in, "efficiency")
                            : weld_efficiency((WeldProcess) argument_choice(in, "process"));
    WeldRun run = {argument_number(in, "area"),
                   argument_number(in, "length"),
                   argument_number(in, "deposition_rate"),
                   argument_number(in, "operating_factor"),
                   efficiency,
                   argument_number(in, "gas_flow"),
                   argument_number(in, "density")};
    WeldConsumption found;
    if (weld_consumption(&run, &found) == REFUSED)
        results_refuse(out, "nothing may be negative, deposition rate and density are above 0, "
                            "operating factor and efficiency above 0 to 1");
    results_set(out, "metal", found.metal_kg);
    results_set(out, "filler", found.filler_kg);
    results_set(out, "arc_time", found.arc_s);
    results_set(out, "elapsed_time", found.elapsed_s);
    results_set(out, "gas", found.gas_m3);
}

const Calculator calculator_weld_consumption = {
    .name = "weld-consumption",
    .question = "filler, gas, arc time and elapsed time for a length of weld",
    .sheet = "steel.md D4",
    CALCULATOR_BODY(run_inputs, run_outputs),
    .methods = run_methods,
    .run = run_consumption,
};
