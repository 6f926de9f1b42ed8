/* Calculators of what a source can hold up, and of banks that are joined. */
#include "calc/arguments.h"
#include "calc/results.h"
#include "physics/wiring/bank_equalise.h"
#include "physics/wiring/constant_power.h"

static const Input power_inputs[] = {
    IN_NUMBER("emf", "V"),
    IN_NUMBER("resistance", "ohm"),
    IN_NUMBER("power", "W"),
};
static const Output power_outputs[] = {
    OUT_NUMBER("power_limit", "W"),   OUT_NUMBER("limit_current", "A"),
    OUT_NUMBER("limit_voltage", "V"), OUT_NUMBER("loading", "1"),
    OUT_NUMBER("voltage", "V"),       OUT_NUMBER("current", "A"),
    OUT_NUMBER("voltage_low", "V")};
static const Method *const power_methods[] = {&constant_power_limit_method,
                                              &constant_power_voltage_method, NULL};

static void
run_power(const CalcArguments *in, CalcResults *out)
{
    ConstantPower load;
    Validity validity =
        constant_power(argument_number(in, "emf"), argument_number(in, "resistance"),
                       argument_number(in, "power"), &load);
    if (validity == REFUSED && !(load.loading > 1.0)) {
        results_refuse(out, "open voltage and resistance must be positive, the power not negative");
        return;
    }
    if (validity == REFUSED)
        results_refuse_but(out, "the source cannot give that power: the voltage collapses");
    results_set(out, "power_limit", load.power_limit_W);
    results_set(out, "limit_current", load.limit_current_A);
    results_set(out, "limit_voltage", load.limit_voltage_V);
    results_set(out, "loading", load.loading);
    results_set(out, "voltage", load.voltage_V);
    results_set(out, "current", load.current_A);
    results_set(out, "voltage_low", load.voltage_low_V);
}

const Calculator calculator_constant_power = {
    .name = "constant-power",
    .question =
        "whether a source can hold up a constant-power load, at which voltage, and how near "
        "collapse",
    .sheet = "wires.md 2.3",
    CALCULATOR_BODY(power_inputs, power_outputs),
    .methods = power_methods,
    .run = run_power,
};

static const Input equalise_inputs[] = {
    IN_NUMBER("voltage_1", "V"),         IN_NUMBER("capacity_1", "C"),
    IN_NUMBER("voltage_2", "V"),         IN_NUMBER("capacity_2", "C"),
    IN_NUMBER("loop_resistance", "ohm"), IN_NUMBER("voltage_slope", "V"),
};
static const Output equalise_outputs[] = {
    OUT_NUMBER("current", "A"), OUT_NUMBER("time_constant", "s"), OUT_NUMBER("final_voltage", "V"),
    OUT_NUMBER("charge_moved", "C")};
static const Method *const equalise_methods[] = {
    &bank_equalise_current_method, &bank_equalise_time_method, &bank_equalise_voltage_method, NULL};

static void
run_equalise(const CalcArguments *in, CalcResults *out)
{
    const RestingBank first = {argument_number(in, "voltage_1"), argument_number(in, "capacity_1")};
    const RestingBank second = {argument_number(in, "voltage_2"),
                                argument_number(in, "capacity_2")};
    BankEqualise joined;
    if (bank_equalise(&first, &second, argument_number(in, "loop_resistance"),
                      argument_number(in, "voltage_slope"), &joined) == REFUSED) {
        results_refuse(out, "capacities, loop resistance and voltage slope must be positive");
        return;
    }
    results_set(out, "current", joined.current_A);
    results_set(out, "time_constant", joined.time_constant_s);
    results_set(out, "final_voltage", joined.final_voltage_V);
    results_set(out, "charge_moved", joined.charge_moved_As);
}

const Calculator calculator_bank_equalise = {
    .name = "bank-equalise",
    .question = "what flows when two banks are joined, and where they settle",
    .sheet = "wires.md 2.6, 4.3",
    CALCULATOR_BODY(equalise_inputs, equalise_outputs),
    .methods = equalise_methods,
    .run = run_equalise,
};
