/* Calculators of sacrificial anodes. */
#include <math.h>

#include "calc/arguments.h"
#include "calc/results.h"
#include "physics/wiring/anode.h"
#include "physics/wiring/hull_anodes.h"

/* --- anode-resistance ---------------------------------------------------------------------------------------------- */

static const char *const shape_words[] = {"long-stand-off",
                                          "near-stand-off",
                                          "short-stand-off",
                                          "long-flush",
                                          "short-flush",
                                          "bracelet",
                                          NULL};
static const Input resistance_inputs[] = {
    IN_WORD("shape", shape_words),
    IN_NUMBER("resistivity", "ohm m", .standard = "0.30 ohm m"),
    IN_NUMBER("length", "m", .otherwise = "none"),
    IN_NUMBER("radius", "m", .otherwise = "none"),
    IN_NUMBER("width", "m", .otherwise = "none"),
    IN_NUMBER("exposed_area", "m2", .otherwise = "none"),
    IN_NUMBER("driving_voltage", "V", .otherwise = "none"),
};
static const Output resistance_outputs[] = {OUT_NUMBER("resistance", "ohm"),
                                            OUT_NUMBER("current", "A")};
static const Method *const resistance_methods[] = {
    &anode_stand_off_method, &anode_short_stand_off_method, &anode_long_flush_method,
    &anode_short_flush_method, NULL};

static void
run_resistance(const CalcArguments *in, CalcResults *out)
{
    const AnodeSize size = {argument_number(in, "length"), argument_number(in, "radius"),
                            argument_number(in, "width"), argument_number(in, "exposed_area")};
    double driving = argument_number(in, "driving_voltage"), ohm;
    Validity validity = anode_resistance((AnodeShape) argument_choice(in, "shape"),
                                         argument_number(in, "resistivity"), &size, &ohm);
    if (validity == REFUSED || driving < 0.0)
        results_refuse(out, "stand-off anodes need length and radius, long flush ones length and "
                            "width, the others the exposed area, all positive, and no negative "
                            "driving voltage");
    results_limit(out, validity);
    results_set(out, "resistance", ohm);
    results_set(out, "current", driving / ohm);
}

const Calculator calculator_anode_resistance = {
    .name = "anode-resistance",
    .question = "resistance of an anode in water, and its current",
    .sheet = "wires.md 7.2",
    CALCULATOR_BODY(resistance_inputs, resistance_outputs),
    .methods = resistance_methods,
    .run = run_resistance,
};

/* --- hull-anodes --------------------------------------------------------------------------------------------------- */

static const char *const coating_words[] = {"none", "category-1", "category-2", "category-3", NULL};
static const char *const climate_words[] = {"tropical", "subtropical", "temperate", "arctic", NULL};
static const char *const anode_words[] = {"zinc", "aluminium", "magnesium", NULL};
static const Input hull_inputs[] = {
    IN_NUMBER("area", "m2"),
    IN_NUMBER("bare_area", "m2", .standard = "0 m2"),
    IN_WORD("coating", coating_words),
    IN_WORD("climate", climate_words, .standard = "temperate"),
    IN_NUMBER("life", "s"),
    IN_WORD("anode_metal", anode_words),
    IN_NUMBER("anode_length", "m"),
    IN_NUMBER("anode_width", "m"),
    IN_NUMBER("anode_thickness", "m"),
    IN_NUMBER("anode_mass", "kg"),
    IN_NUMBER("utilisation", "1", .standard = "0.80"),
    IN_NUMBER("capacity", "C/kg", .otherwise = "by metal"),
    IN_NUMBER("driving_voltage", "V", .otherwise = "by metal"),
    IN_NUMBER("resistivity", "ohm m", .standard = "0.30 ohm m"),
};
static const Output hull_outputs[] = {OUT_NUMBER("coating_mean", "1"),
                                      OUT_NUMBER("coating_final", "1"),
                                      OUT_NUMBER("current_initial", "A"),
                                      OUT_NUMBER("current_mean", "A"),
                                      OUT_NUMBER("current_final", "A"),
                                      OUT_NUMBER("mass", "kg"),
                                      OUT_NUMBER("anode_resistance_initial", "ohm"),
                                      OUT_NUMBER("anode_resistance_final", "ohm"),
                                      OUT_NUMBER("anode_current_initial", "A"),
                                      OUT_NUMBER("anode_current_final", "A"),
                                      OUT_NUMBER("count_mass", "1"),
                                      OUT_NUMBER("count_initial", "1"),
                                      OUT_NUMBER("count_final", "1"),
                                      OUT_NUMBER("anodes", "1")};
static const Method *const hull_methods[] = {
    &hull_anodes_coating_method, &hull_anodes_current_method, &hull_anodes_mass_method,
    &anode_short_flush_method,   &hull_anodes_count_method,   NULL};

static AnodedHull
read_hull(const CalcArguments *in)
{
    AnodeMetal metal = (AnodeMetal) argument_choice(in, "anode_metal");
    bool own_capacity = argument_given(in, "capacity");
    bool own_driving = argument_given(in, "driving_voltage");
    return (AnodedHull){.area_m2 = argument_number(in, "area"),
                        .bare_m2 = argument_number(in, "bare_area"),
                        .life_s = argument_number(in, "life"),
                        .coating = (Coating) argument_choice(in, "coating"),
                        .climate = (Climate) argument_choice(in, "climate"),
                        .length_m = argument_number(in, "anode_length"),
                        .width_m = argument_number(in, "anode_width"),
                        .thickness_m = argument_number(in, "anode_thickness"),
                        .mass_kg = argument_number(in, "anode_mass"),
                        .utilisation = argument_number(in, "utilisation"),
                        .capacity_C_per_kg = own_capacity ? argument_number(in, "capacity")
                                                          : anode_metal_capacity_C_per_kg(metal),
                        .driving_V = own_driving ? argument_number(in, "driving_voltage")
                                                 : anode_metal_driving_V(metal),
                        .resistivity_ohm_m = argument_number(in, "resistivity")};
}

static void
set_hull(CalcResults *out, const HullAnodes *found)
{
    results_set(out, "coating_mean", found->coating_mean);
    results_set(out, "coating_final", found->coating_final);
    results_set(out, "current_initial", found->initial_A);
    results_set(out, "current_mean", found->mean_A);
    results_set(out, "current_final", found->final_A);
    results_set(out, "mass", found->mass_kg);
    results_set(out, "anode_resistance_initial", found->initial_ohm);
    results_set(out, "anode_resistance_final", found->final_ohm);
    results_set(out, "anode_current_initial", found->anode_initial_A);
    results_set(out, "anode_current_final", found->anode_final_A);
    results_set(out, "count_mass", found->count_mass);
    results_set(out, "count_initial", found->count_initial);
    results_set(out, "count_final", found->count_final);
    results_set(out, "anodes", found->anodes);
}

static void
run_hull(const CalcArguments *in, CalcResults *out)
{
    AnodedHull hull = read_hull(in);
    HullAnodes found;
    Validity validity = hull_anodes(&hull, &found);
    if (validity == REFUSED)
        results_refuse(out, "areas must not be negative nor both 0, the length of an anode not "
                            "below its width, utilisation above 0 to 1, all else positive");
    results_limit(out, validity);
    set_hull(out, &found);
}

const Calculator calculator_hull_anodes = {
    .name = "hull-anodes",
    .question = "current, mass and number of flush anodes for a coated hull by the offshore method",
    .sheet = "wires.md 7.2",
    CALCULATOR_BODY(hull_inputs, hull_outputs),
    .methods = hull_methods,
    .run = run_hull,
};

/* --- anode-mass ---------------------------------------------------------------------------------------------------- */

static const char *const form_words[] = {"full", "medium", "light", NULL};
static const char *const mass_words[] = {"zinc", "aluminium", NULL};
static const Input mass_inputs[] = {
    IN_NUMBER("current", "A", .otherwise = "none"),
    IN_NUMBER("area", "m2", .otherwise = "none"),
    IN_NUMBER("waterline_length", "m", .otherwise = "none"),
    IN_NUMBER("beam", "m", .otherwise = "none"),
    IN_NUMBER("draught", "m", .otherwise = "none"),
    IN_WORD("form", form_words, .standard = "full"),
    IN_NUMBER("current_density", "A/m2", .otherwise = "none"),
    IN_NUMBER("duration", "s"),
    IN_WORD("metal", mass_words, .standard = "zinc"),
    IN_NUMBER("capacity", "C/kg", .otherwise = "by metal"),
    IN_NUMBER("consumption", "kg/C", .otherwise = "none"),
    IN_NUMBER("utilisation", "1", .standard = "1"),
};
static const Output mass_outputs[] = {OUT_NUMBER("area", "m2"), OUT_NUMBER("current", "A"),
                                      OUT_NUMBER("mass", "kg")};
static const Method *const mass_methods[] = {&anode_hull_area_method, &anode_mass_method, NULL};

static double
mass_area(const CalcArguments *in)
{
    if (argument_given(in, "area"))
        return argument_number(in, "area");
    return anode_hull_area_m2((WettedForm) argument_choice(in, "form"),
                              argument_number(in, "waterline_length"), argument_number(in, "beam"),
                              argument_number(in, "draught"));
}

static double
mass_capacity(const CalcArguments *in)
{
    if (argument_given(in, "consumption"))
        return 1.0 / argument_number(in, "consumption");
    if (argument_given(in, "capacity"))
        return argument_number(in, "capacity");
    return anode_guide_capacity_C_per_kg((AnodeMetal) argument_choice(in, "metal"));
}

/* NAN when it is not one of the two ways. */
static double
mass_current(const CalcArguments *in, double area)
{
    bool direct = argument_given(in, "current"), density = argument_given(in, "current_density");
    if (direct == density)
        return NAN;
    return direct ? argument_number(in, "current") : argument_number(in, "current_density") * area;
}

static void
run_mass(const CalcArguments *in, CalcResults *out)
{
    double area = mass_area(in), current = mass_current(in, area), mass;
    bool twice = argument_given(in, "consumption") && argument_given(in, "capacity");
    bool nonsense = argument_given(in, "area") && !(area > 0.0);
    if (twice || nonsense ||
        anode_mass(current, argument_number(in, "duration"), mass_capacity(in),
                   argument_number(in, "utilisation"), &mass) == REFUSED) {
        results_refuse(out, "either current, or current_density with area, or with "
                            "waterline_length, beam and draught; one of capacity and consumption "
                            "at most; none negative, utilisation above 0 to 1");
        return;
    }
    results_set(out, "area", area);
    results_set(out, "current", current);
    results_set(out, "mass", mass);
}

const Calculator calculator_anode_mass = {
    .name = "anode-mass",
    .question = "anode mass by the small-craft rule: a current density over the wetted hull for a "
                "time",
    .sheet = "wires.md 7.3",
    CALCULATOR_BODY(mass_inputs, mass_outputs),
    .methods = mass_methods,
    .run = run_mass,
};
