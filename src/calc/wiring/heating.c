/* Calculators of cables under load for a time: heating, short circuit, starter circuit. */
#include <math.h>

#include "calc/wiring/conductors.h"
#include "catalog/catalog.h"
#include "physics/domain.h"
#include "physics/wiring/cable_heating.h"
#include "physics/wiring/cable_withstand.h"
#include "physics/wiring/starter_loop.h"

static const Input heating_inputs[] = {
    IN_NUMBER("area", "m2"),
    IN_NUMBER("ampacity", "A"),
    IN_NUMBER("insulation_temperature", "K"),
    IN_NUMBER("reference_ambient", "K", .standard = "30 degC"),
    IN_NUMBER("ambient", "K", .standard = "30 degC"),
    IN_CONDUCTOR,
    IN_NUMBER("current", "A", .otherwise = "none"),
    IN_NUMBER("duration", "s", .otherwise = "none"),
};
static const Output heating_outputs[] = {OUT_NUMBER("time_constant", "s"),
                                         OUT_NUMBER("short_time_current", "A"),
                                         OUT_NUMBER("conductor_temperature", "K")};
static const Method *const heating_methods[] = {
    &cable_time_constant_method, &cable_short_time_method, &cable_temperature_method, NULL};

static void
run_heating(const CalcArguments *in, CalcResults *out)
{
    size_t conductor = argument_choice(in, "conductor");
    LoadedCable cable = {.area_m2 = argument_number(in, "area"),
                         .ampacity_A = argument_number(in, "ampacity"),
                         .insulation_K = argument_number(in, "insulation_temperature"),
                         .reference_K = argument_number(in, "reference_ambient")};
    g_autoptr(TradeTable) conductors = trade_table_load(TABLE_CONDUCTORS);
    cable.ohm_per_m = conductor_ohm_per_m(conductors, conductor, cable.area_m2, out) *
                      conductor_warmth_at(conductor, cable.insulation_K, out);
    double time_constant = cable_time_constant_s(&cable);
    double current = argument_number(in, "current"), duration = argument_number(in, "duration");
    double temperature = cable_temperature_K(&cable, argument_number(in, "ambient"), current);
    if (isnan(time_constant) || (argument_given(in, "duration") && !is_positive(duration)) ||
        (argument_given(in, "current") && isnan(temperature)))
        results_refuse(out,
                       "the insulation must bear more than the reference ambient; ampacity and "
                       "duration must be positive, the current not negative");
    if (temperature > cable.insulation_K)
        results_limit(out, EXTRAPOLATED);
    results_set(out, "time_constant", time_constant);
    results_set(out, "short_time_current", cable_short_time_A(&cable, duration));
    results_set(out, "conductor_temperature", temperature);
}

const Calculator calculator_cable_heating = {
    .name = "cable-heating",
    .question = "how hot a loaded conductor gets and what it bears for a short time",
    .sheet = "wires.md 1.1, 1.6",
    CALCULATOR_BODY(heating_inputs, heating_outputs),
    .methods = heating_methods,
    .run = run_heating,
};

static const char *const metal_words[] = {"copper", "aluminium", "steel", NULL};
static const char *const jacket_words[] = {"pvc-70",  "pvc-70-large", "pvc-90",    "pvc-90-large",
                                           "xlpe-90", "rubber-60",    "rubber-85", "silicone-180",
                                           "bare",    "pvc-70-apart", NULL};

static const Input withstand_inputs[] = {
    IN_WORD("material", metal_words, .standard = "copper"),
    IN_WORD("insulation", jacket_words),
    IN_NUMBER("area", "m2", .otherwise = "none"),
    IN_NUMBER("current", "A", .otherwise = "none"),
    IN_NUMBER("duration", "s", .otherwise = "none"),
};
static const Output withstand_outputs[] = {
    OUT_NUMBER("constant", "1"),       OUT_NUMBER("constant_computed", "1"),
    OUT_NUMBER("area_min", "m2"),      OUT_NUMBER("time_max", "s"),
    OUT_NUMBER("let_through", "A2 s"), OUT_NUMBER("withstand", "A2 s")};
static const Method *const withstand_methods[] = {&cable_constant_method, &cable_withstand_method,
                                                  NULL};

static bool
positive_if_given(const CalcArguments *in, const char *name)
{
    return !argument_given(in, name) || is_positive(argument_number(in, name));
}

static void
run_withstand(const CalcArguments *in, CalcResults *out)
{
    double area = argument_number(in, "area"), current = argument_number(in, "current"),
           time = argument_number(in, "duration");
    CableConstant k;
    if (cable_constant((ConductorMetal) argument_choice(in, "material"),
                       (ConductorJacket) argument_choice(in, "insulation"), &k) == REFUSED)
        results_refuse(out, "the tables have no constant for that metal in that insulation");
    if (!positive_if_given(in, "area") || !positive_if_given(in, "current") ||
        !positive_if_given(in, "duration"))
        results_refuse(out, "area, current and duration must be positive");
    double withstand = withstand_A2s(k.constant, area), time_max = withstand / (current * current);
    if (time > 5.0 || time < 0.1 || time_max > 5.0 || time_max < 0.1)
        results_limit(out, EXTRAPOLATED);
    results_set(out, "constant", k.constant);
    results_set(out, "constant_computed", k.computed);
    results_set(out, "area_min", withstand_area_m2(k.constant, current, time));
    results_set(out, "time_max", time_max);
    results_set(out, "let_through", current * current * time);
    results_set(out, "withstand", withstand);
}

const Calculator calculator_cable_withstand = {
    .name = "cable-withstand",
    .question = "whether a conductor survives a short circuit until it is cleared",
    .sheet = "wires.md 3.1e",
    CALCULATOR_BODY(withstand_inputs, withstand_outputs),
    .methods = withstand_methods,
    .run = run_withstand,
};

static const char *const duty_words[] = {"light-medium", "heavy", NULL};

static const Input starter_inputs[] = {
    IN_NUMBER("system_voltage", "V"),
    IN_WORD("duty", duty_words),
    IN_NUMBER("current", "A"),
};
static const Output starter_outputs[] = {OUT_NUMBER("drop_limit", "V"),
                                         OUT_NUMBER("resistance_limit", "ohm")};
static const Method *const starter_methods[] = {&starter_drop_method, NULL};

/* The system voltage as the limits name it, or NULL. */
static const char *
starter_system(double system_V)
{
    if (is_within(system_V, 11.99, 12.01))
        return "12";
    return is_within(system_V, 23.99, 32.01) ? "24" : NULL;
}

static void
run_starter(const CalcArguments *in, CalcResults *out)
{
    double current = argument_number(in, "current");
    const char *system = starter_system(argument_number(in, "system_voltage"));
    if (system == NULL || !is_not_negative(current)) {
        results_refuse(out,
                       "the limits are for 12 V and for 24 to 32 V; a current is not negative");
        return;
    }
    g_autofree char *id = g_strdup_printf("starter-loop-%s-%s", system, argument_word(in, "duty"));
    g_autoptr(Catalog) catalog = catalog_load();
    const Limit *limit = catalog_limit(catalog, id);
    results_set(out, "drop_limit", starter_drop_V(limit->value, current));
    results_set(out, "resistance_limit", limit->value);
}

const Calculator calculator_starter_circuit_limit = {
    .name = "starter-circuit-limit",
    .question = "drop and loop resistance allowed between battery and starter",
    .sheet = "wires.md 1.5",
    CALCULATOR_BODY(starter_inputs, starter_outputs),
    .methods = starter_methods,
    .run = run_starter,
};
