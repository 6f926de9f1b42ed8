/* Calculators of alternating-current loads, sources and sharing. */
#include <math.h>

#include "calc/arguments.h"
#include "calc/results.h"
#include "physics/wiring/ac_load.h"
#include "physics/wiring/ac_state.h"
#include "physics/wiring/shore_share.h"
#include "physics/wiring/weak_source.h"

/* --- ac-circuit ---------------------------------------------------------------------------------------------------- */

static const Input circuit_inputs[] = {
    IN_NUMBER("current", "A", .otherwise = "none"),
    IN_NUMBER("power", "W", .otherwise = "none"),
    IN_NUMBER("power_factor", "1", .standard = "1"),
    IN_NUMBER("efficiency", "1", .standard = "1"),
    IN_NUMBER("voltage", "V", .standard = "230 V"),
    IN_NUMBER("run", "m", .otherwise = "none"),
    IN_NUMBER("area", "m2", .otherwise = "none"),
    IN_NUMBER("start_factor", "1", .otherwise = "none"),
    IN_NUMBER("target_power_factor", "1", .otherwise = "none"),
    IN_NUMBER("frequency", "Hz", .standard = "50 Hz"),
};
static const Output circuit_outputs[] = {
    OUT_NUMBER("current", "A"),          OUT_NUMBER("apparent_power", "V A"),
    OUT_NUMBER("reactive_power", "V A"), OUT_NUMBER("start_current", "A"),
    OUT_NUMBER("capacitance", "F"),      OUT_NUMBER("drop", "V"),
    OUT_NUMBER("drop_fraction", "1")};
static const Method *const circuit_methods[] = {&ac_current_method, &ac_reactive_method,
                                                &ac_drop_method, &ac_capacitor_method, NULL};

static void
run_circuit(const CalcArguments *in, CalcResults *out)
{
    const AcLoad load = {.current_A = argument_number(in, "current"),
                         .shaft_W = argument_number(in, "power"),
                         .power_factor = argument_number(in, "power_factor"),
                         .efficiency = argument_number(in, "efficiency"),
                         .voltage_V = argument_number(in, "voltage"),
                         .run_m = argument_number(in, "run"),
                         .area_m2 = argument_number(in, "area"),
                         .start_factor = argument_number(in, "start_factor"),
                         .target_factor = argument_number(in, "target_power_factor"),
                         .frequency_Hz = argument_number(in, "frequency")};
    AcPoint point;
    if (ac_load(&load, &point) == REFUSED)
        results_refuse(out, "one of current and power is needed, not both; power factor and "
                            "efficiency above 0 to 1, the target not below the power factor, the "
                            "start factor 1 or more; the cable must leave some voltage");
    results_set(out, "current", point.current_A);
    results_set(out, "apparent_power", point.apparent_VA);
    results_set(out, "reactive_power", point.reactive_VA);
    results_set(out, "start_current", point.start_A);
    results_set(out, "capacitance", point.capacitance_F);
    results_set(out, "drop", point.drop_V);
    results_set(out, "drop_fraction", point.drop_frac);
}

const Calculator calculator_ac_circuit = {
    .name = "ac-circuit",
    .question = "current, reactive power, start current and voltage drop of a single-phase load",
    .sheet = "wires.md 5.3, 5.4",
    CALCULATOR_BODY(circuit_inputs, circuit_outputs),
    .methods = circuit_methods,
    .run = run_circuit,
};

/* --- ac-state ------------------------------------------------------------------------------------------------------ */

static const char *const live_words[] = {"live", "dead", NULL};
static const char *const running_words[] = {"running", "stopped", NULL};
static const char *const transfer_words[] = {"shore", "generator", "off", NULL};
static const char *const on_words[] = {"on", "off", NULL};
static const char *const charged_words[] = {"charged", "flat", NULL};
static const char *const yes_words[] = {"yes", "no", NULL};
static const char *const source_words[] = {"shore", "generator", "inverter", "none", NULL};
static const char *const bond_words[] = {"shore",    "transformer", "generator",
                                         "inverter", "none",        NULL};
static const Input state_inputs[] = {
    IN_WORD("shore", live_words),
    IN_WORD("generator", running_words),
    IN_WORD("transfer", transfer_words),
    IN_WORD("inverter", on_words),
    IN_WORD("battery", charged_words, .standard = "charged"),
    IN_WORD("isolation_transformer", yes_words, .standard = "no"),
};
static const Output state_outputs[] = {
    OUT_WORD("ac_in", live_words),       OUT_WORD("kept_output", live_words),
    OUT_WORD("pass_output", live_words), OUT_WORD("charger", on_words),
    OUT_WORD("source", source_words),    OUT_NUMBER("bonds_aboard", "1"),
    OUT_WORD("bond_at", bond_words)};

/* Of the pairs of words above the first one means yes. */
static bool
is_first(const CalcArguments *in, const char *name)
{
    return argument_choice(in, name) == 0;
}

static void
run_state(const CalcArguments *in, CalcResults *out)
{
    const AcSwitches switches = {.shore_live = is_first(in, "shore"),
                                 .generator_runs = is_first(in, "generator"),
                                 .inverter_on = is_first(in, "inverter"),
                                 .battery_charged = is_first(in, "battery"),
                                 .isolation_transformer = is_first(in, "isolation_transformer"),
                                 .transfer = (AcTransfer) argument_choice(in, "transfer")};
    AcState state = ac_state(&switches);
    results_word(out, "ac_in", live_words[!state.in_live]);
    results_word(out, "kept_output", live_words[!state.kept_live]);
    results_word(out, "pass_output", live_words[!state.pass_live]);
    results_word(out, "charger", on_words[!state.charger_on]);
    results_word(out, "source", source_words[state.source]);
    results_set(out, "bonds_aboard", state.bonds_aboard);
    results_word(out, "bond_at", bond_words[state.bond_at]);
}

const Calculator calculator_ac_state = {
    .name = "ac-state",
    .question = "which circuits are live from shore, generator or inverter, and where neutral is "
                "bonded to earth",
    .sheet = "wires.md 5.1",
    CALCULATOR_BODY(state_inputs, state_outputs),
    .run = run_state,
};

/* --- shore-share --------------------------------------------------------------------------------------------------- */

static const Input share_inputs[] = {
    IN_NUMBER("shore_current", "A"),
    IN_NUMBER("shore_voltage", "V", .standard = "230 V"),
    IN_NUMBER("load", "W"),
    IN_NUMBER("battery_voltage", "V"),
    IN_NUMBER("inverter_efficiency", "1", .standard = "0.90"),
    IN_NUMBER("charger_efficiency", "1", .standard = "0.90"),
    IN_NUMBER("charger_limit", "W", .otherwise = "none"),
};
static const Output share_outputs[] = {
    OUT_NUMBER("shore_power", "W"), OUT_NUMBER("battery_help_power", "W"),
    OUT_NUMBER("battery_help_current", "A"), OUT_NUMBER("charger_power", "W"),
    OUT_NUMBER("charge_current", "A")};
static const Method *const share_methods[] = {&shore_help_method, &shore_help_current_method,
                                              &shore_charger_method, &shore_charge_method, NULL};

static void
run_share(const CalcArguments *in, CalcResults *out)
{
    const SharedSupply supply = {argument_number(in, "shore_current"),
                                 argument_number(in, "shore_voltage"),
                                 argument_number(in, "load"),
                                 argument_number(in, "battery_voltage"),
                                 argument_number(in, "inverter_efficiency"),
                                 argument_number(in, "charger_efficiency"),
                                 argument_number(in, "charger_limit")};
    ShoreShare share;
    if (shore_share(&supply, &share) == REFUSED)
        results_refuse(out, "voltages must be positive, efficiencies above 0 to 1, shore current, "
                            "load and charger limit not negative");
    results_set(out, "shore_power", share.shore_W);
    results_set(out, "battery_help_power", share.help_W);
    results_set(out, "battery_help_current", share.help_A);
    results_set(out, "charger_power", share.charger_W);
    results_set(out, "charge_current", share.charge_A);
}

const Calculator calculator_shore_share = {
    .name = "shore-share",
    .question = "what the shore supply carries, what the inverter must add, and what is left for "
                "charging",
    .sheet = "wires.md 5.2",
    CALCULATOR_BODY(share_inputs, share_outputs),
    .methods = share_methods,
    .run = run_share,
};

/* --- weak-source-fault --------------------------------------------------------------------------------------------- */

static const Input weak_inputs[] = {
    IN_NUMBER("apparent_power", "V A"),
    IN_NUMBER("voltage", "V", .standard = "230 V"),
    IN_NUMBER("subtransient_reactance", "1", .otherwise = "none"),
    IN_NUMBER("transient_reactance", "1", .otherwise = "none"),
    IN_NUMBER("permanent_reactance", "1", .otherwise = "none"),
    IN_NUMBER("current_limit", "1", .otherwise = "none"),
};
static const Output weak_outputs[] = {
    OUT_NUMBER("rated_current", "A"),     OUT_NUMBER("subtransient_current", "A"),
    OUT_NUMBER("transient_current", "A"), OUT_NUMBER("permanent_current", "A"),
    OUT_NUMBER("limited_current", "A"),   OUT_NUMBER("largest_mcb_b", "A"),
    OUT_NUMBER("largest_mcb_c", "A"),     OUT_NUMBER("largest_mcb_d", "A")};
static const Method *const weak_methods[] = {&weak_source_rated_method, &weak_source_fault_method,
                                             &weak_source_limited_method,
                                             &weak_source_breaker_method, NULL};

static void
run_weak(const CalcArguments *in, CalcResults *out)
{
    const WeakMachine machine = {
        argument_number(in, "apparent_power"),         argument_number(in, "voltage"),
        argument_number(in, "subtransient_reactance"), argument_number(in, "transient_reactance"),
        argument_number(in, "permanent_reactance"),    argument_number(in, "current_limit")};
    WeakSource source;
    if (weak_source(&machine, &source) == REFUSED)
        results_refuse(out, "power and voltage must be positive, and what is given of reactances "
                            "and limit");
    results_set(out, "rated_current", source.rated_A);
    results_set(out, "subtransient_current", source.subtransient_A);
    results_set(out, "transient_current", source.transient_A);
    results_set(out, "permanent_current", source.permanent_A);
    results_set(out, "limited_current", source.limited_A);
    results_set(out, "largest_mcb_b", source.breaker_b_A);
    results_set(out, "largest_mcb_c", source.breaker_c_A);
    results_set(out, "largest_mcb_d", source.breaker_d_A);
}

const Calculator calculator_weak_source_fault = {
    .name = "weak-source-fault",
    .question = "fault current of a generator or inverter, and the largest breaker it can trip",
    .sheet = "wires.md 5.4",
    CALCULATOR_BODY(weak_inputs, weak_outputs),
    .methods = weak_methods,
    .run = run_weak,
};
