/* Calculators of the weight ledger. Invariant: spreads left out count as 0. */
#include "calc/afloat/hull.h"
#include "physics/afloat/ledger.h"
#include "physics/afloat/position_spread.h"

static const Column item_columns[] = {
    {.name = "mass", .unit = "kg"}, {.name = "mass_spread", .unit = "kg", .optional = true},
    {.name = "x", .unit = "m"},     {.name = "x_spread", .unit = "m", .optional = true},
    {.name = "y", .unit = "m"},     {.name = "y_spread", .unit = "m", .optional = true},
    {.name = "z", .unit = "m"},     {.name = "z_spread", .unit = "m", .optional = true},
};
static const Input ledger_inputs[] = {IN_TABLE("items", item_columns)};
static const Output ledger_outputs[] = {
    OUT_NUMBER("mass", "kg"),      OUT_NUMBER("lcg", "m"),          OUT_NUMBER("tcg", "m"),
    OUT_NUMBER("vcg", "m"),        OUT_NUMBER("mass_spread", "kg"), OUT_NUMBER("lcg_spread", "m"),
    OUT_NUMBER("tcg_spread", "m"), OUT_NUMBER("vcg_spread", "m"),   OUT_NUMBERS("lcg_share", "1"),
    OUT_NUMBERS("tcg_share", "1"), OUT_NUMBERS("vcg_share", "1"),
};
static const Method *const ledger_methods[] = {&ledger_mass_method, &ledger_centre_method,
                                               &ledger_mass_spread_method,
                                               &ledger_centre_spread_method, NULL};

static void
run_ledger(const CalcArguments *in, CalcResults *out)
{
    size_t n = argument_rows(in, "items");
    const double *column[8];
    for (size_t k = 0; k < 8; k++)
        column[k] = argument_column(in, "items", item_columns[k].name);
    g_autofree LedgerItem *item = g_new(LedgerItem, n);
    for (size_t i = 0; i < n; i++)
        item[i] = (LedgerItem){column[0][i], column[1][i], column[2][i],
                               column[3][i], column[4][i], column[5][i],
                               column[6][i], column[7][i], 0};
    g_autofree double *share = g_new(double, 3 * n);
    LedgerSum sum;
    if (ledger_sum(n, item, &sum, share, share + n, share + 2 * n) == REFUSED) {
        results_refuse(out, "the total mass must be positive and no spread negative");
        return;
    }
    results_set(out, "mass", sum.mass_kg);
    results_set(out, "lcg", sum.lcg_m);
    results_set(out, "tcg", sum.tcg_m);
    results_set(out, "vcg", sum.vcg_m);
    results_set(out, "mass_spread", sum.mass_spread_kg);
    results_set(out, "lcg_spread", sum.lcg_spread_m);
    results_set(out, "tcg_spread", sum.tcg_spread_m);
    results_set(out, "vcg_spread", sum.vcg_spread_m);
    for (size_t i = 0; i < n; i++) {
        results_set_at(out, "lcg_share", i, share[i]);
        results_set_at(out, "tcg_share", i, share[n + i]);
        results_set_at(out, "vcg_share", i, share[2 * n + i]);
    }
}

const Calculator calculator_weight_ledger = {
    .name = "weight-ledger",
    .question = "mass, centre of gravity and how sure both are, from a list of items",
    .sheet = "float.md 1",
    CALCULATOR_BODY(ledger_inputs, ledger_outputs),
    .methods = ledger_methods,
    .run = run_ledger,
};

static const Input spread_inputs[] = {
    IN_NUMBER("mass_spread", "kg"),
    IN_NUMBER("waterplane_area", "m2"),
    IN_NUMBER("gm", "m"),
    IN_NUMBER("gm_l", "m"),
    IN_NUMBER("length", "m"),
    IN_NUMBER("lcg_spread", "m", .standard = "0 m"),
    IN_NUMBER("tcg_spread", "m", .standard = "0 m"),
    IN_NUMBER("vcg_spread", "m", .standard = "0 m"),
    IN_NUMBER("km_slope", "m/kg", .standard = "0 m/kg"),
    IN_WATER,
    IN_DENSITY,
};
static const Output spread_outputs[] = {
    OUT_NUMBER("draught_spread", "m"), OUT_NUMBER("gm_spread", "m"),
    OUT_NUMBER("heel_spread", "rad"), OUT_NUMBER("trim_spread", "m")};
static const Method *const spread_methods[] = {&draught_spread_method, &gm_spread_method,
                                               &heel_spread_method, &trim_spread_method, NULL};

static void
run_spread(const CalcArguments *in, CalcResults *out)
{
    PositionSpread s;
    Validity validity =
        position_spread(argument_number(in, "mass_spread"), argument_number(in, "lcg_spread"),
                        argument_number(in, "tcg_spread"), argument_number(in, "vcg_spread"),
                        argument_number(in, "waterplane_area"), water_density(in, out),
                        argument_number(in, "gm"), argument_number(in, "gm_l"),
                        argument_number(in, "length"), argument_number(in, "km_slope"), &s);
    if (validity == REFUSED) {
        results_refuse(out,
                       "spreads must not be negative; area, heights and length must be positive");
        return;
    }
    results_set(out, "draught_spread", s.draught_m);
    results_set(out, "gm_spread", s.gm_m);
    results_set(out, "heel_spread", s.heel_rad);
    results_set(out, "trim_spread", s.trim_m);
}

const Calculator calculator_position_spread = {
    .name = "position-spread",
    .question =
        "give or take of draught, GM, heel and trim that follows from the spread of the ledger",
    .sheet = "float.md 1",
    CALCULATOR_BODY(spread_inputs, spread_outputs),
    .methods = spread_methods,
    .run = run_spread,
};
