/* Calculators of flooding. Invariant: compartments handed to physics are without fault. */
#include <math.h>

#include "calc/afloat/hull.h"
#include "physics/afloat/box_bilged.h"
#include "physics/afloat/flooding.h"
#include "physics/afloat/profile.h"

static const Column compartment_columns[] = {
    {.name = "x_aft", .unit = "m"},       {.name = "x_fwd", .unit = "m"},
    {.name = "y_stbd", .unit = "m"},      {.name = "y_port", .unit = "m"},
    {.name = "z_bottom", .unit = "m"},    {.name = "z_top", .unit = "m"},
    {.name = "permeability", .unit = "1"}};
static const Input flooded_inputs[] = {
    IN_HULL,
    IN_NUMBER("displacement", "kg"),
    IN_NUMBER("lcg", "m"),
    IN_NUMBER("vcg", "m"),
    IN_TABLE("compartments", compartment_columns),
    IN_NUMBER("tcg", "m", .standard = "0 m"),
    IN_NUMBER("x_aft", "m", .otherwise = "first-station"),
    IN_NUMBER("x_fwd", "m", .otherwise = "last-station"),
    IN_WATER,
    IN_DENSITY,
};
static const Output flooded_outputs[] = {
    OUT_REST,
};
static const Method *const flooded_methods[] = {&flooded_volume_method,
                                                &compartment_lost_method,
                                                &flooded_trim_method,
                                                &flooded_heel_method,
                                                &bm_method,
                                                &gm_method,
                                                NULL};

static Compartment *
compartments_read(const CalcArguments *in, CalcResults *out, size_t *n)
{
    *n = argument_rows(in, "compartments");
    const double *column[7];
    for (size_t k = 0; k < 7; k++)
        column[k] = argument_column(in, "compartments", compartment_columns[k].name);
    g_autofree Compartment *list = g_new0(Compartment, *n + 1);
    for (size_t i = 0; i < *n; i++) {
        list[i] = (Compartment){column[0][i], column[1][i], column[2][i], column[3][i],
                                column[4][i], column[5][i], column[6][i]};
        const char *fault = compartment_fault(&list[i]);
        for (size_t k = 0; k < i && fault == NULL; k++)
            if (compartments_overlap(&list[i], &list[k]))
                fault = "two compartments overlap: their water would be counted twice";
        if (fault != NULL) {
            results_refuse(out, fault);
            return NULL;
        }
    }
    return g_steal_pointer(&list);
}

static const char *
why_not(RestOutcome outcome)
{
    switch (outcome) {
    case REST_SINKS:
        return "what is left of the closed body displaces less than the load: she sinks";
    case REST_UNSTABLE:
        return "there is no stable position within 90 degrees of upright: she capsizes";
    case REST_PITCHES:
        return "she is not stable lengthwise: she goes down by one end";
    default:
        return "the load is no positive mass at a place within reach, or no water plane is left";
    }
}

static void
run_flooded(const CalcArguments *in, CalcResults *out)
{
    Hull hull;
    size_t n;
    double density = water_density(in, out);
    g_autofree Compartment *compartment = compartments_read(in, out, &n);
    if (compartment == NULL || !hull_read(in, out, &hull))
        return;
    const Load load = {.mass_kg = argument_number(in, "displacement"),
                       .lcg_m = argument_number(in, "lcg"),
                       .tcg_m = argument_number(in, "tcg"),
                       .vcg_m = argument_number(in, "vcg")};
    Rest rest;
    if (flooded_rest(&hull.body, &load, n, compartment, density, &rest) == REFUSED)
        results_refuse(out, why_not(rest.outcome));
    else
        rest_results(in, out, &hull, &rest);
    hull_clear(&hull);
}

const Calculator calculator_flooded_position = {
    .name = "flooded-position",
    .question = "position of rest with compartments open to the sea, lost buoyancy",
    .sheet = "float.md 10.2, 2.7",
    CALCULATOR_BODY(flooded_inputs, flooded_outputs),
    .methods = flooded_methods,
    .run = run_flooded,
};

static const Input bilged_inputs[] = {
    IN_NUMBER("length", "m"),
    IN_NUMBER("beam", "m"),
    IN_NUMBER("draught", "m"),
    IN_NUMBER("compartment_length", "m"),
    IN_NUMBER("vcg", "m", .otherwise = "none"),
    IN_NUMBER("permeability", "1", .standard = "1"),
};
static const Output bilged_outputs[] = {OUT_NUMBER("draught_after", "m"), OUT_NUMBER("rise", "m"),
                                        OUT_NUMBER("bm", "m"), OUT_NUMBER("km", "m"),
                                        OUT_NUMBER("gm", "m")};
static const Method *const bilged_methods[] = {&box_bilged_draught_method, &box_bilged_bm_method,
                                               NULL};

static void
run_bilged(const CalcArguments *in, CalcResults *out)
{
    BoxBilged after;
    if (box_bilged(argument_number(in, "length"), argument_number(in, "beam"),
                   argument_number(in, "draught"), argument_number(in, "compartment_length"),
                   argument_number(in, "permeability"), argument_number(in, "vcg"),
                   &after) == REFUSED) {
        results_refuse(out, "sizes must be positive, the compartment shorter than the barge and "
                            "the permeability above 0 and up to 100 %");
        return;
    }
    results_set(out, "draught_after", after.draught_m);
    results_set(out, "rise", after.rise_m);
    results_set(out, "bm", after.bm_m);
    results_set(out, "km", after.km_m);
    results_set(out, "gm", after.gm_m);
}

const Calculator calculator_box_bilged = {
    .name = "box-bilged",
    .question = "box barge with a midship compartment open to the sea",
    .sheet = "float.md 10.2",
    CALCULATOR_BODY(bilged_inputs, bilged_outputs),
    .methods = bilged_methods,
    .run = run_bilged,
};
