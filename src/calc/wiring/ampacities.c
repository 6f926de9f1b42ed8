/* Calculators of the current a cable bears. Invariant: a figure from memory shows in `figures`. */
#include <math.h>

#include "calc/wiring/conductors.h"
#include "physics/domain.h"
#include "physics/wiring/ampacity.h"
#include "physics/wiring/size.h"

static const char *const place_words[] = {"outside", "engine-space", NULL};
enum { PLACE_OUTSIDE, PLACE_ENGINE_SPACE };

/* Column whose heading is the insulation temperature, from `from` on; the number of columns when none is. */
static size_t
heading_find(const TradeTable *table, size_t from, double value)
{
    size_t k = from;
    while (k < table->figures && !(fabs(table->heading[k] - value) < 1e-6 * value))
        k++;
    return k;
}

/* Row of a set whose first figure is the temperature. */
static double
place_factor(const CalcArguments *in, const char *set, Standing *standing)
{
    if (argument_choice(in, "place") == PLACE_OUTSIDE)
        return 1.0;
    double insulation_K = argument_number(in, "insulation_temperature");
    g_autoptr(TradeTable) factors = trade_table_load(TABLE_AMBIENT_FACTORS);
    size_t first, n = trade_table_rows(factors, set, &first);
    for (size_t i = first; i < first + n; i++)
        if (fabs(factors->figure[0][i] - insulation_K) < 0.01) {
            *standing = standing_worse(*standing, factors->source[i].standing);
            return factors->figure[1][i];
        }
    return NAN;
}

static double
bundle_factor_of(const char *set, double count, Standing *standing)
{
    g_autoptr(TradeTable) factors = trade_table_load(TABLE_BUNDLE_FACTORS);
    size_t first, n = trade_table_rows(factors, set, &first);
    *standing = standing_worse(*standing, factors->source[first].standing);
    return bundle_factor(n, factors->figure[0] + first, factors->figure[1] + first, count);
}

/* Sets the outputs both small-craft calculators share; NAN when refused. */
static double
small_craft_set(const CalcArguments *in, CalcResults *out, double table_A, const char *place_set,
                const char *bundle_set, Standing *standing)
{
    double place = place_factor(in, place_set, standing);
    double bundle = bundle_factor_of(bundle_set, argument_number(in, "bundle"), standing);
    if (isnan(bundle))
        results_refuse(out, "a bundle has a whole number of conductors, one or more");
    results_set(out, "table_ampacity", table_A);
    results_set(out, "place_factor", place);
    results_set(out, "bundle_factor", bundle);
    results_set(out, "ampacity", table_A * place * bundle);
    return table_A * place * bundle;
}

static const Input gauge_inputs[] = {
    IN_WORD("gauge", trade_gauge_words),
    IN_NUMBER("insulation_temperature", "K"),
    IN_WORD("place", place_words, .standard = "outside"),
    IN_NUMBER("bundle", "1", .standard = "1"),
    IN_NUMBER("system_voltage", "V", .standard = "12 V"),
};
static const Output gauge_outputs[] = {OUT_NUMBER("table_ampacity", "A"),
                                       OUT_NUMBER("place_factor", "1"),
                                       OUT_NUMBER("bundle_factor", "1"),
                                       OUT_NUMBER("ampacity", "A"),
                                       OUT_NUMBER("device_limit_cfr", "A"),
                                       OUT_NUMBER("device_limit", "A"),
                                       OUT_FIGURES};
static const Method *const small_methods[] = {&ampacity_method, NULL};

static void
run_gauge(const CalcArguments *in, CalcResults *out)
{
    g_autoptr(TradeTable) table = trade_table_load(TABLE_AMPACITY_GAUGE);
    size_t column = heading_find(table, 0, argument_number(in, "insulation_temperature")), row;
    trade_table_rows(table, argument_word(in, "gauge"), &row);
    double system_V = argument_number(in, "system_voltage");
    if (column == table->figures || !is_positive(system_V)) {
        results_refuse(out,
                       "the table has insulation for 60, 75, 80, 90, 105, 125 and 200 degC; the "
                       "system voltage must be positive");
        return;
    }
    double table_A = table->figure[column][row];
    Standing standing = table->source[row].standing;
    double ampacity =
        small_craft_set(in, out, table_A, "engine-space-gauge", "bundle-gauge", &standing);
    results_set(out, "device_limit_cfr", system_V < 50.0 ? 1.5 * table_A : table_A);
    results_set(out, "device_limit", ampacity);
    results_figures(out, standing);
}

const Calculator calculator_ampacity_abyc = {
    .name = "ampacity-abyc",
    .question =
        "current a gauge-sized boat cable may carry, and the largest protection allowed on it",
    .sheet = "wires.md 1.3, 3.1b",
    CALCULATOR_BODY(gauge_inputs, gauge_outputs),
    .methods = small_methods,
    .run = run_gauge,
};

static const Input metric_inputs[] = {
    IN_NUMBER("area", "m2"),
    IN_NUMBER("insulation_temperature", "K"),
    IN_WORD("place", place_words, .standard = "outside"),
    IN_NUMBER("bundle", "1", .standard = "1"),
};
static const Output metric_outputs[] = {
    OUT_NUMBER("table_ampacity", "A"), OUT_NUMBER("place_factor", "1"),
    OUT_NUMBER("bundle_factor", "1"), OUT_NUMBER("ampacity", "A"), OUT_FIGURES};

static void
run_metric(const CalcArguments *in, CalcResults *out)
{
    g_autoptr(TradeTable) table = trade_table_load(TABLE_AMPACITY_METRIC);
    double insulation_K = argument_number(in, "insulation_temperature"), table_A;
    bool shared = fabs(insulation_K - 363.15) < 0.01; /* 85 and 90 degC share a column */
    size_t column = heading_find(table, 1, shared ? 358.15 : insulation_K);
    if (column == table->figures) {
        results_refuse(out, "the table has insulation for 70, 85, 90, 105, 125 and 200 degC; its "
                            "column for 60 degC cannot be trusted");
        return;
    }
    Validity validity = size_figure(table->n, table->figure[0], table->figure[column],
                                    argument_number(in, "area"), &table_A);
    if (validity == REFUSED)
        results_refuse(out, "the table goes from 0.75 to 150 mm2");
    results_limit(out, validity);
    Standing standing = table->source[0].standing;
    small_craft_set(in, out, table_A, "engine-space-metric", "bundle-metric", &standing);
    results_figures(out, standing);
}

const Calculator calculator_ampacity_iso = {
    .name = "ampacity-iso",
    .question = "current a metric boat cable may carry by the small-craft standard (table from "
                "memory, not seen)",
    .sheet = "wires.md 1.3",
    CALCULATOR_BODY(metric_inputs, metric_outputs),
    .methods = small_methods,
    .run = run_metric,
};

static const char *const insulation_words[] = {"pvc-70", "xlpe-90", NULL};
static const char *const method_words[] = {"a1", "a2", "b1", "b2", "c", "e", NULL};

static const Input fixed_inputs[] = {
    IN_NUMBER("area", "m2"),
    IN_WORD("insulation", insulation_words, .standard = "pvc-70"),
    IN_NUMBER("loaded_conductors", "1", .standard = "2"),
    IN_WORD("method", method_words, .standard = "c"),
    IN_NUMBER("ambient", "K", .standard = "30 degC"),
    IN_NUMBER("circuits", "1", .standard = "1"),
};
static const Output fixed_outputs[] = {
    OUT_NUMBER("table_ampacity", "A"), OUT_NUMBER("ambient_factor", "1"),
    OUT_NUMBER("grouping_factor", "1"), OUT_NUMBER("ampacity", "A"), OUT_FIGURES};
static const Method *const fixed_methods[] = {&ampacity_fixed_method, &ambient_factor_method, NULL};

static double
fixed_table_A(const CalcArguments *in, CalcResults *out, Standing *standing)
{
    g_autoptr(TradeTable) table = trade_table_load(TABLE_AMPACITY_FIXED);
    g_autofree char *laying =
        g_strdup_printf("%s-%.17g-%s", argument_word(in, "insulation"),
                        argument_number(in, "loaded_conductors"), argument_word(in, "method"));
    double figure[TRADE_FIGURES], ampacity = NAN;
    size_t row;
    if (trade_table_rows(table, laying, &row) == 0) {
        results_refuse(out,
                       "there are columns for 2 loaded conductors, and for 3 with b1, b2, c, e");
        return NAN;
    }
    for (size_t k = 0; k < table->figures; k++)
        figure[k] = table->figure[k][row];
    Validity validity =
        size_figure(table->figures, table->heading, figure, argument_number(in, "area"), &ampacity);
    if (validity == REFUSED)
        results_refuse(out, "the table goes from 1.5 to 300 mm2");
    results_limit(out, validity);
    *standing = table->source[row].standing;
    return ampacity;
}

static double
air_factor(const CalcArguments *in, CalcResults *out, Standing *standing)
{
    static const double insulation_K[] = {343.15, 363.15};
    g_autoptr(TradeTable) factors = trade_table_load(TABLE_AMBIENT_FACTORS);
    g_autofree char *set = g_strconcat("air-", argument_word(in, "insulation"), NULL);
    size_t first, n = trade_table_rows(factors, set, &first);
    double factor;
    Validity validity = ambient_factor(n, factors->figure[0] + first, factors->figure[1] + first,
                                       insulation_K[argument_choice(in, "insulation")],
                                       argument_number(in, "ambient"), &factor);
    if (validity == REFUSED)
        results_refuse(out, "the air is as warm as the insulation may get: no current is left");
    results_limit(out, validity);
    *standing = standing_worse(*standing, factors->source[first].standing);
    return factor;
}

static double
circuits_factor(const CalcArguments *in, CalcResults *out)
{
    g_autoptr(TradeTable) factors = trade_table_load(TABLE_BUNDLE_FACTORS);
    size_t first, n = trade_table_rows(factors, "circuits-bunched", &first);
    double factor = grouping_factor(n, factors->figure[0] + first, factors->figure[1] + first,
                                    argument_number(in, "circuits"));
    if (isnan(factor))
        results_refuse(out, "circuits are a whole number from 1 to 20");
    return factor;
}

static void
run_fixed(const CalcArguments *in, CalcResults *out)
{
    Standing standing = STANDING_READ;
    double table_A = fixed_table_A(in, out, &standing);
    double air = air_factor(in, out, &standing), group = circuits_factor(in, out);
    results_set(out, "table_ampacity", table_A);
    results_set(out, "ambient_factor", air);
    results_set(out, "grouping_factor", group);
    results_set(out, "ampacity", table_A * air * group);
    results_figures(out, standing);
}

const Calculator calculator_ampacity_iec = {
    .name = "ampacity-iec",
    .question = "current a fixed mains cable may carry as it is laid",
    .sheet = "wires.md 1.4",
    CALCULATOR_BODY(fixed_inputs, fixed_outputs),
    .methods = fixed_methods,
    .run = run_fixed,
};
