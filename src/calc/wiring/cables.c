/* Calculators of resistance, gauge, voltage drop and size of cables. */
#include <math.h>

#include "calc/wiring/conductors.h"
#include "physics/domain.h"
#include "physics/wiring/cable_drop.h"
#include "physics/wiring/conductor.h"
#include "physics/wiring/gauge.h"

static const Input resistance_inputs[] = {
    IN_NUMBER("area", "m2"),
    IN_NUMBER("conductor_length", "m"),
    IN_CONDUCTOR,
    IN_TEMPERATURE,
};
static const Output resistance_outputs[] = {
    OUT_NUMBER("resistance", "ohm"), OUT_NUMBER("resistance_per_length", "ohm/m"),
    OUT_NUMBER("resistance_per_length_20", "ohm/m"), OUT_NUMBER("reading_to_20_factor", "1")};
static const Method *const resistance_methods[] = {&conductor_resistance_method,
                                                   &reading_to_20_method, NULL};

static void
run_resistance(const CalcArguments *in, CalcResults *out)
{
    double length = argument_number(in, "conductor_length");
    double temperature = argument_number(in, "temperature");
    size_t conductor = argument_choice(in, "conductor");
    if (!is_not_negative(length)) {
        results_refuse(out, "a length cannot be negative");
        return;
    }
    g_autoptr(TradeTable) conductors = trade_table_load(TABLE_CONDUCTORS);
    double cold = conductor_ohm_per_m(conductors, conductor, argument_number(in, "area"), out);
    double warm = cold * conductor_warmth_at(conductor, temperature, out);
    results_set(out, "resistance", warm * length);
    results_set(out, "resistance_per_length", warm);
    results_set(out, "resistance_per_length_20", cold);
    results_set(out, "reading_to_20_factor", reading_to_20(temperature));
}

const Calculator calculator_conductor_resistance = {
    .name = "conductor-resistance",
    .question = "resistance of a metric conductor at its working temperature",
    .sheet = "wires.md 1.1",
    CALCULATOR_BODY(resistance_inputs, resistance_outputs),
    .methods = resistance_methods,
    .run = run_resistance,
};

static const Input gauge_inputs[] = {IN_WORD("gauge", gauge_words)};
static const Output gauge_outputs[] = {
    OUT_NUMBER("diameter", "m"), OUT_NUMBER("area", "m2"), OUT_NUMBER("circular_mils", "1"),
    OUT_NUMBER("sae_circular_mils", "1"), OUT_NUMBER("resistance_per_length", "ohm/m")};
static const Method *const gauge_methods[] = {&gauge_method, NULL};

static void
run_gauge(const CalcArguments *in, CalcResults *out)
{
    const char *word = argument_word(in, "gauge");
    Gauge gauge = gauge_size(gauge_number(word));
    results_set(out, "diameter", gauge.diameter_m);
    results_set(out, "area", gauge.area_m2);
    results_set(out, "circular_mils", gauge.circular_mils);
    g_autoptr(TradeTable) gauges = trade_table_load(TABLE_GAUGES);
    size_t row;
    if (trade_table_rows(gauges, word, &row) > 0)
        results_set(out, "sae_circular_mils", gauges->figure[0][row]);
    results_set(out, "resistance_per_length", gauge.ohm_per_m);
}

const Calculator calculator_awg_size = {
    .name = "awg-size",
    .question = "what a gauge number means in millimetres, area and ohms, and how much smaller "
                "vehicle cable of the same label may be",
    .sheet = "wires.md 1.1",
    CALCULATOR_BODY(gauge_inputs, gauge_outputs),
    .methods = gauge_methods,
    .run = run_gauge,
};

/* What a direct-current cable has to carry, and the drop it may cost. */
typedef struct {
    double current_A, length_m, system_V, drop_V;
} CableTask;

static bool
task_read(const CalcArguments *in, CalcResults *out, CableTask *task)
{
    *task = (CableTask){argument_number(in, "current"), argument_number(in, "conductor_length"),
                        argument_number(in, "system_voltage"), NAN};
    task->drop_V = argument_number(in, "drop_limit") * task->system_V;
    if (is_positive(task->current_A) && is_positive(task->length_m) &&
        is_positive(task->system_V) && is_positive(task->drop_V))
        return true;
    results_refuse(out, "current, length, system voltage and drop limit must be positive");
    return false;
}

static const Input drop_inputs[] = {
    IN_NUMBER("current", "A"),
    IN_NUMBER("conductor_length", "m"),
    IN_NUMBER("area", "m2"),
    IN_NUMBER("system_voltage", "V"),
    IN_CONDUCTOR,
    IN_TEMPERATURE,
    IN_NUMBER("extra_resistance", "ohm", .standard = "0 ohm"),
    IN_NUMBER("drop_limit", "1", .standard = "3 %"),
};
static const Output drop_outputs[] = {
    OUT_NUMBER("resistance", "ohm"),     OUT_NUMBER("drop", "V"),
    OUT_NUMBER("drop_fraction", "1"),    OUT_NUMBER("drop_iso", "V"),
    OUT_NUMBER("drop_abyc", "V"),        OUT_NUMBER("length_limit", "m"),
    OUT_NUMBER("length_limit_iso", "m"), OUT_NUMBER("length_limit_abyc", "m")};
static const Method *const drop_methods[] = {&conductor_resistance_method, &cable_drop_method,
                                             &cable_length_method,         &cable_drop_iso_method,
                                             &cable_drop_abyc_method,      NULL};

static void
run_drop(const CalcArguments *in, CalcResults *out)
{
    CableTask task;
    double area = argument_number(in, "area"), extra = argument_number(in, "extra_resistance");
    size_t conductor = argument_choice(in, "conductor");
    if (!task_read(in, out, &task))
        return;
    if (!is_not_negative(extra)) {
        results_refuse(out, "a resistance cannot be negative");
        return;
    }
    g_autoptr(TradeTable) conductors = trade_table_load(TABLE_CONDUCTORS);
    double ohm_per_m = conductor_ohm_per_m(conductors, conductor, area, out) *
                       conductor_warmth_at(conductor, argument_number(in, "temperature"), out);
    double resistance = ohm_per_m * task.length_m, drop = task.current_A * (resistance + extra);
    results_set(out, "resistance", resistance);
    results_set(out, "drop", drop);
    results_set(out, "drop_fraction", drop / task.system_V);
    results_set(out, "drop_iso",
                short_formula_drop_V(DROP_ISO_OHM_M, task.current_A, task.length_m, area));
    results_set(out, "drop_abyc",
                short_formula_drop_V(drop_abyc_ohm_m, task.current_A, task.length_m, area));
    results_set(out, "length_limit", drop_length_m(task.current_A, ohm_per_m, extra, task.drop_V));
    results_set(out, "length_limit_iso",
                short_formula_length_m(DROP_ISO_OHM_M, task.current_A, area, task.drop_V));
    results_set(out, "length_limit_abyc",
                short_formula_length_m(drop_abyc_ohm_m, task.current_A, area, task.drop_V));
}

const Calculator calculator_cable_drop = {
    .name = "cable-drop",
    .question =
        "voltage lost in a direct-current cable by three methods, and the longest cable that "
        "stays within the allowed drop",
    .sheet = "wires.md 1.2",
    CALCULATOR_BODY(drop_inputs, drop_outputs),
    .methods = drop_methods,
    .run = run_drop,
};

static const Input size_inputs[] = {
    IN_NUMBER("current", "A"),
    IN_NUMBER("conductor_length", "m"),
    IN_NUMBER("system_voltage", "V"),
    IN_NUMBER("drop_limit", "1", .standard = "3 %"),
    IN_CONDUCTOR,
    IN_TEMPERATURE,
};
static const Output size_outputs[] = {OUT_NUMBER("resistance_limit", "ohm/m"),
                                      OUT_NUMBER("area", "m2"),
                                      OUT_NUMBER("area_iso", "m2"),
                                      OUT_NUMBER("area_abyc", "m2"),
                                      OUT_NUMBER("circular_mils_abyc", "1"),
                                      OUT_WORD("gauge_abyc", trade_gauge_words),
                                      OUT_WORD("gauge_sae", trade_gauge_words)};
static const Method *const size_methods[] = {&cable_ohm_limit_method, &conductor_resistance_method,
                                             &cable_drop_iso_method, &cable_drop_abyc_method, NULL};

/* First area of the table whose resistance is within the limit; NAN when none is. */
static double
first_area(const TradeTable *conductors, size_t conductor, double warmth, double limit_ohm_per_m)
{
    for (size_t i = 0; i < conductors->n; i++)
        if (conductors->figure[1 + conductor][i] * warmth <= limit_ohm_per_m)
            return conductors->figure[0][i];
    return NAN;
}

static void
gauges_set(CalcResults *out, double circular_mils)
{
    g_autoptr(TradeTable) gauges = trade_table_load(TABLE_GAUGES);
    const char *nominal = NULL, *least = NULL;
    for (size_t i = 0; i < gauges->n; i++) {
        const char *word = gauges->text[0][i];
        if (nominal == NULL && gauge_size(gauge_number(word)).circular_mils >= circular_mils)
            nominal = word;
        if (least == NULL && gauges->figure[0][i] >= circular_mils)
            least = word;
    }
    if (nominal != NULL)
        results_word(out, "gauge_abyc", nominal);
    if (least != NULL)
        results_word(out, "gauge_sae", least);
}

static void
run_size(const CalcArguments *in, CalcResults *out)
{
    CableTask task;
    size_t conductor = argument_choice(in, "conductor");
    if (!task_read(in, out, &task))
        return;
    g_autoptr(TradeTable) conductors = trade_table_load(TABLE_CONDUCTORS);
    double limit = task.drop_V / (task.current_A * task.length_m);
    double warmth = conductor_warmth_at(conductor, argument_number(in, "temperature"), out);
    double area = first_area(conductors, conductor, warmth, limit);
    double area_abyc =
        short_formula_area_m2(drop_abyc_ohm_m, task.current_A, task.length_m, task.drop_V);
    if (isnan(area))
        results_refuse(out, "no conductor of that class is large enough: a shorter run, a higher "
                            "voltage or several cables side by side");
    results_set(out, "resistance_limit", limit);
    results_set(out, "area", area);
    results_set(out, "area_iso",
                short_formula_area_m2(DROP_ISO_OHM_M, task.current_A, task.length_m, task.drop_V));
    results_set(out, "area_abyc", area_abyc);
    results_set(out, "circular_mils_abyc", area_abyc / CIRCULAR_MIL_M2);
    gauges_set(out, area_abyc / CIRCULAR_MIL_M2);
}

const Calculator calculator_cable_size = {
    .name = "cable-size",
    .question = "smallest conductor for an allowed voltage drop, by three methods",
    .sheet = "wires.md 1.2",
    CALCULATOR_BODY(size_inputs, size_outputs),
    .methods = size_methods,
    .run = run_size,
};
