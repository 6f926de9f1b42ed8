/* Calculators of loading by textbook forms. Invariant: no hull is needed, its hydrostatics are inputs. */
#include "calc/afloat/hull.h"
#include "physics/afloat/list_angle.h"
#include "physics/afloat/load_change.h"
#include "physics/afloat/rates.h"

static const Input list_inputs[] = {
    IN_NUMBER("displacement", "kg"),
    IN_NUMBER("gm", "m"),
    IN_NUMBER("bm", "m", .standard = "0 m"),
    IN_NUMBER("moment", "kg m", .standard = "0 kg m"),
};
static const Output list_outputs[] = {OUT_NUMBER("list_linear", "rad"), OUT_NUMBER("list", "rad"),
                                      OUT_NUMBER("gm_at_list", "m")};
static const Method *const list_methods[] = {&list_linear_method, &list_method, &loll_method, NULL};

static void
run_list(const CalcArguments *in, CalcResults *out)
{
    ListAngle list;
    if (list_angle(argument_number(in, "displacement"), argument_number(in, "gm"),
                   argument_number(in, "bm"), argument_number(in, "moment"), &list) == REFUSED) {
        results_refuse(out, "without a positive GM, BM is needed; the displacement must be "
                            "positive, BM not negative");
        return;
    }
    results_set(out, "list_linear", list.linear_rad);
    results_set(out, "list", list.list_rad);
    results_set(out, "gm_at_list", list.gm_at_list_m);
}

const Calculator calculator_list_angle = {
    .name = "list-angle",
    .question = "list from a heeling moment with positive, zero or negative GM; angle of loll",
    .sheet = "float.md 9.5",
    CALCULATOR_BODY(list_inputs, list_outputs),
    .methods = list_methods,
    .run = run_list,
};

static LoadChange *
read_changes(const CalcArguments *in, gboolean lengthwise, size_t *n)
{
    *n = argument_rows(in, "changes");
    LoadChange *change = g_new0(LoadChange, *n + 1);
    const double *w = argument_column(in, "changes", "mass");
    for (size_t i = 0; i < *n; i++) {
        change[i].w_kg = w[i];
        if (lengthwise) {
            change[i].x_m = argument_column(in, "changes", "x")[i];
        } else {
            change[i].y_m = argument_column(in, "changes", "y")[i];
            change[i].z_m = argument_column(in, "changes", "z")[i];
        }
    }
    return change;
}

static const Column heel_columns[] = {
    {.name = "mass", .unit = "kg"}, {.name = "y", .unit = "m"}, {.name = "z", .unit = "m"}};
static const Input heel_inputs[] = {
    IN_NUMBER("displacement", "kg"),
    IN_NUMBER("vcg", "m"),
    IN_NUMBER("km", "m"),
    IN_TABLE("changes", heel_columns),
    IN_NUMBER("tcg", "m", .standard = "0 m"),
    IN_NUMBER("free_surface_moment", "kg m", .standard = "0 kg m"),
};
static const Output heel_outputs[] = {OUT_NUMBER("displacement_after", "kg"),
                                      OUT_NUMBER("vcg_after", "m"), OUT_NUMBER("tcg_after", "m"),
                                      OUT_NUMBER("gm", "m"), OUT_NUMBER("heel", "rad")};
static const Method *const heel_methods[] = {&load_gm_method, &load_list_method, NULL};

static void
run_heel(const CalcArguments *in, CalcResults *out)
{
    size_t n;
    LoadChange *change = read_changes(in, FALSE, &n);
    LoadHeel after;
    Validity validity = load_heel(argument_number(in, "displacement"), argument_number(in, "vcg"),
                                  argument_number(in, "tcg"), argument_number(in, "km"),
                                  argument_number(in, "free_surface_moment"), n, change, &after);
    g_free(change);
    if (validity == REFUSED) {
        results_refuse(out, "nothing is left afloat, or GM after the change is not positive");
        return;
    }
    results_set(out, "displacement_after", after.mass_kg);
    results_set(out, "vcg_after", after.vcg_m);
    results_set(out, "tcg_after", after.tcg_m);
    results_set(out, "gm", after.gm_m);
    results_set(out, "heel", after.heel_rad);
}

const Calculator calculator_load_heel = {
    .name = "load-heel",
    .question = "new KG, GM and list after masses come, go or move",
    .sheet = "float.md 1, 2.5",
    CALCULATOR_BODY(heel_inputs, heel_outputs),
    .methods = heel_methods,
    .run = run_heel,
};

static const Column trim_columns[] = {{.name = "mass", .unit = "kg"}, {.name = "x", .unit = "m"}};
static const Input trim_inputs[] = {
    IN_NUMBER("draught_aft", "m"),     IN_NUMBER("draught_fwd", "m"),
    IN_NUMBER("length", "m"),          IN_NUMBER("lcf", "m"),
    IN_NUMBER("tpc", "kg/m"),          IN_NUMBER("mct", "kg m/m"),
    IN_TABLE("changes", trim_columns), IN_NUMBER("x_aft", "m", .standard = "0 m"),
};
static const Output trim_outputs[] = {
    OUT_NUMBER("mass_change", "kg"), OUT_NUMBER("sinkage", "m"), OUT_NUMBER("trim_change", "m"),
    OUT_NUMBER("draught_aft_after", "m"), OUT_NUMBER("draught_fwd_after", "m")};
static const Method *const trim_methods[] = {&load_sinkage_method, &load_trim_method, NULL};

static void
run_trim(const CalcArguments *in, CalcResults *out)
{
    size_t n;
    LoadChange *change = read_changes(in, TRUE, &n);
    LoadTrim after;
    Validity validity = load_trim(
        argument_number(in, "draught_aft"), argument_number(in, "draught_fwd"),
        argument_number(in, "length"), argument_number(in, "x_aft"), argument_number(in, "lcf"),
        argument_number(in, "tpc"), argument_number(in, "mct"), n, change, &after);
    g_free(change);
    if (validity == REFUSED) {
        results_refuse(out, "length, tpc and mct must be positive");
        return;
    }
    results_set(out, "mass_change", after.mass_kg);
    results_set(out, "sinkage", after.sinkage_m);
    results_set(out, "trim_change", after.trim_m);
    results_set(out, "draught_aft_after", after.draught_aft_m);
    results_set(out, "draught_fwd_after", after.draught_fwd_m);
}

const Calculator calculator_load_trim = {
    .name = "load-trim",
    .question = "new draughts after masses come, go or move, small changes",
    .sheet = "float.md 2.5",
    CALCULATOR_BODY(trim_inputs, trim_outputs),
    .methods = trim_methods,
    .run = run_trim,
};

static const Input rates_inputs[] = {
    IN_NUMBER("volume", "m3"),
    IN_NUMBER("waterplane_area", "m2"),
    IN_NUMBER("gm_l", "m", .otherwise = "none"),
    IN_NUMBER("length", "m", .otherwise = "none"),
    IN_NUMBER("beam", "m", .otherwise = "none"),
    IN_NUMBER("draught", "m", .otherwise = "none"),
    IN_WATER,
    IN_DENSITY,
};
static const Output rates_outputs[] = {
    OUT_NUMBER("displacement", "kg"), OUT_NUMBER("tpc", "kg/m"), OUT_NUMBER("mct", "kg m/m"),
    OUT_NUMBER("fresh_water_allowance", "m"), OUT_NUMBER("block_coefficient", "1")};
static const Method *const rates_methods[] = {
    &tpc_method, &mct_method, &fresh_water_allowance_method, &block_coefficient_method, NULL};

static void
run_rates(const CalcArguments *in, CalcResults *out)
{
    Rates rates;
    if (displacement_rates(argument_number(in, "volume"), argument_number(in, "waterplane_area"),
                           water_density(in, out), argument_number(in, "gm_l"),
                           argument_number(in, "length"), argument_number(in, "beam"),
                           argument_number(in, "draught"), &rates) == REFUSED) {
        results_refuse(
            out,
            "volume, area, density and what is given of length, beam and draught must be positive");
        return;
    }
    results_set(out, "displacement", rates.mass_kg);
    results_set(out, "tpc", rates.tpc_kg_per_m);
    results_set(out, "mct", rates.mct_kgm_per_m);
    results_set(out, "fresh_water_allowance", rates.fresh_water_allowance_m);
    results_set(out, "block_coefficient", rates.block_coefficient);
}

const Calculator calculator_displacement_rates = {
    .name = "displacement-rates",
    .question = "displacement, immersion and trim rates, fresh-water allowance, block coefficient",
    .sheet = "float.md 2.5",
    CALCULATOR_BODY(rates_inputs, rates_outputs),
    .methods = rates_methods,
    .run = run_rates,
};
