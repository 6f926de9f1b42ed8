/* Calculators of charging, of how long batteries live, and of the air and the loads around them. */
#include <math.h>

#include "calc/arguments.h"
#include "calc/results.h"
#include "physics/wiring/alternator.h"
#include "physics/wiring/charging.h"
#include "physics/wiring/cycle_life.h"
#include "physics/wiring/hydrogen.h"
#include "physics/wiring/load_balance.h"

/* --- charge-time --------------------------------------------------------------------------------------------------- */

static const Input time_inputs[] = {
    IN_NUMBER("capacity", "C"),
    IN_NUMBER("charge_current", "A"),
    IN_NUMBER("efficiency", "1", .standard = "0.90"),
    IN_NUMBER("charge_from", "1"),
    IN_NUMBER("charge_to", "1"),
    IN_NUMBER("charge_bulk", "1", .standard = "0.80"),
    IN_NUMBER("acceptance_current", "A", .otherwise = "capacity/(5 h)"),
};
static const Output time_outputs[] = {
    OUT_NUMBER("bulk_time", "s"), OUT_NUMBER("time_constant", "s"),
    OUT_NUMBER("absorption_time", "s"), OUT_NUMBER("total_time", "s")};
static const Method *const time_methods[] = {&charge_bulk_method, &charge_tau_method,
                                             &charge_absorption_method, NULL};

static void
run_time(const CalcArguments *in, CalcResults *out)
{
    double capacity = argument_number(in, "capacity");
    bool stated = argument_given(in, "acceptance_current");
    const Charge charge = {.capacity_As = capacity,
                           .current_A = argument_number(in, "charge_current"),
                           .acceptance_A = stated ? argument_number(in, "acceptance_current")
                                                  : capacity / (5.0 * 3600.0),
                           .efficiency = argument_number(in, "efficiency"),
                           .from = argument_number(in, "charge_from"),
                           .to = argument_number(in, "charge_to"),
                           .bulk_to = argument_number(in, "charge_bulk")};
    ChargeTime time;
    if (charge_time(&charge, &time) == REFUSED)
        results_refuse(out, "capacity and currents must be positive, the efficiency above 0 to 1, "
                            "charge_bulk between 0 and 1, and charge_from from 0 to charge_to, "
                            "which must be below 1: the last of the charge takes for ever");
    results_set(out, "bulk_time", time.bulk_s);
    results_set(out, "time_constant", time.tau_s);
    results_set(out, "absorption_time", time.absorption_s);
    results_set(out, "total_time", time.total_s);
}

const Calculator calculator_charge_time = {
    .name = "charge-time",
    .question = "how long a charge takes, bulk and absorption",
    .sheet = "wires.md 4.5",
    CALCULATOR_BODY(time_inputs, time_outputs),
    .methods = time_methods,
    .run = run_time,
};

/* --- cycle-life ---------------------------------------------------------------------------------------------------- */

static const Input life_inputs[] = {
    IN_NUMBER("depth_1", "1"),  IN_NUMBER("cycles_1", "1"), IN_NUMBER("depth_2", "1"),
    IN_NUMBER("cycles_2", "1"), IN_NUMBER("depth", "1"),
};
static const Output life_outputs[] = {OUT_NUMBER("exponent", "1"), OUT_NUMBER("cycles", "1")};
static const Method *const life_methods[] = {&cycle_life_method, &cycle_life_exponent_method, NULL};

static void
run_life(const CalcArguments *in, CalcResults *out)
{
    double exponent, cycles;
    Validity validity = cycle_life(argument_number(in, "depth_1"), argument_number(in, "cycles_1"),
                                   argument_number(in, "depth_2"), argument_number(in, "cycles_2"),
                                   argument_number(in, "depth"), &exponent, &cycles);
    if (validity == REFUSED)
        results_refuse(out, "depths must be above 0 to 1 and the two known ones different, cycles "
                            "positive and not more at the greater depth");
    results_limit(out, validity);
    results_set(out, "exponent", exponent);
    results_set(out, "cycles", cycles);
}

const Calculator calculator_cycle_life = {
    .name = "cycle-life",
    .question = "number of cycles at a depth of discharge, from two known points",
    .sheet = "wires.md 4.5",
    CALCULATOR_BODY(life_inputs, life_outputs),
    .methods = life_methods,
    .run = run_life,
};

/* --- alternator-curve ---------------------------------------------------------------------------------------------- */

static const Column alternator_columns[] = {{.name = "speed", .unit = "rad/s"},
                                            {.name = "current", .unit = "A"}};
static const Input alternator_inputs[] = {
    IN_TABLE("curve", alternator_columns),
    IN_NUMBER("engine_speed", "rad/s"),
    IN_NUMBER("pulley_ratio", "1", .standard = "1"),
    IN_NUMBER("voltage", "V", .standard = "14.2 V"),
    IN_NUMBER("efficiency", "1", .standard = "0.55"),
};
static const Output alternator_outputs[] = {
    OUT_NUMBER("current", "A"), OUT_NUMBER("output_power", "W"), OUT_NUMBER("belt_power", "W")};
static const Method *const alternator_methods[] = {&alternator_current_method,
                                                   &alternator_belt_method, NULL};

static void
run_alternator(const CalcArguments *in, CalcResults *out)
{
    AlternatorPoint point;
    if (alternator_at(argument_rows(in, "curve"), argument_column(in, "curve", "speed"),
                      argument_column(in, "curve", "current"), argument_number(in, "engine_speed"),
                      argument_number(in, "pulley_ratio"), argument_number(in, "voltage"),
                      argument_number(in, "efficiency"), &point) == REFUSED)
        results_refuse(out, "the engine speed times the pulley ratio must lie on the curve, which "
                            "needs two or more rising speeds and no negative current; voltage and "
                            "ratio must be positive, the efficiency above 0 to 1");
    results_set(out, "current", point.current_A);
    results_set(out, "output_power", point.output_W);
    results_set(out, "belt_power", point.belt_W);
}

const Calculator calculator_alternator_curve = {
    .name = "alternator-curve",
    .question = "charging current and belt power of an alternator at an engine speed",
    .sheet = "wires.md 4.5",
    CALCULATOR_BODY(alternator_inputs, alternator_outputs),
    .methods = alternator_methods,
    .run = run_alternator,
};

/* --- battery-ventilation ------------------------------------------------------------------------------------------- */

static const char *const gassing_words[] = {"vented-lead", "vrla", "nicd", NULL};
static const char *const stage_words[] = {"float", "boost", NULL};
static const Input air_inputs[] = {
    IN_WORD("battery", gassing_words),
    IN_WORD("stage", stage_words),
    IN_NUMBER("cells", "1"),
    IN_NUMBER("capacity", "C"),
    IN_NUMBER("gas_current", "A", .otherwise = "none"),
    IN_NUMBER("charge_current", "A", .otherwise = "none"),
};
static const Output air_outputs[] = {OUT_NUMBER("airflow", "m3/s"), OUT_NUMBER("opening", "m2"),
                                     OUT_NUMBER("safety_distance", "m"),
                                     OUT_NUMBER("airflow_by_charge_current", "m3/s")};
static const Method *const air_methods[] = {&hydrogen_airflow_method, &hydrogen_opening_method,
                                            &hydrogen_spark_method, &hydrogen_by_charge_method,
                                            NULL};

static void
run_air(const CalcArguments *in, CalcResults *out)
{
    double by_table = hydrogen_current_A((GassingKind) argument_choice(in, "battery"),
                                         (ChargeStage) argument_choice(in, "stage"),
                                         argument_number(in, "capacity"));
    bool stated = argument_given(in, "gas_current");
    double gas_A = stated && !isnan(by_table) ? argument_number(in, "gas_current") : by_table;
    Hydrogen air;
    if (hydrogen_ventilation(gas_A, argument_number(in, "cells"),
                             argument_number(in, "charge_current"), &air) == REFUSED)
        results_refuse(out, "cells must be a whole number from 1 up, capacity and gas current "
                            "positive, the charging current not negative");
    results_set(out, "airflow", air.airflow_m3_per_s);
    results_set(out, "opening", air.opening_m2);
    results_set(out, "safety_distance", air.spark_m);
    results_set(out, "airflow_by_charge_current", air.by_charge_m3_per_s);
}

const Calculator calculator_battery_ventilation = {
    .name = "battery-ventilation",
    .question = "air flow and openings that keep hydrogen thin, and the spark distance",
    .sheet = "wires.md 4.6",
    CALCULATOR_BODY(air_inputs, air_outputs),
    .methods = air_methods,
    .run = run_air,
};

/* --- load-balance -------------------------------------------------------------------------------------------------- */

static const char *const kind_words[] = {"continuous", "intermittent", NULL};
static const Column load_columns[] = {
    {.name = "load"},
    {.name = "power", .unit = "W"},
    {.name = "time", .unit = "s"},
    {.name = "factor", .unit = "1", .optional = true, .absent = 1.0},
    {.name = "efficiency", .unit = "1", .optional = true, .absent = 1.0},
    {.name = "kind", .words = kind_words, .optional = true},
    {.name = "start", .unit = "W", .optional = true},
};
static const Input balance_inputs[] = {
    IN_TABLE("loads", load_columns),
    IN_NUMBER("system_voltage", "V", .standard = "12 V"),
    IN_NUMBER("standby_current", "A", .standard = "0 A"),
    IN_NUMBER("period", "s", .standard = "24 h"),
    IN_NUMBER("usable", "1", .standard = "0.5"),
    IN_NUMBER("periods", "1", .standard = "1"),
};
static const Output balance_outputs[] = {
    OUT_NUMBER("energy", "J"), OUT_NUMBER("charge", "C"), OUT_NUMBER("average_power", "W"),
    OUT_NUMBER("capacity_needed", "C"), OUT_NUMBER("peak_power", "W")};
static const Method *const balance_methods[] = {&load_energy_method, &load_charge_method,
                                                &load_capacity_method, &load_peak_method, NULL};

static void
run_balance(const CalcArguments *in, CalcResults *out)
{
    size_t n = argument_rows(in, "loads");
    const double *power = argument_column(in, "loads", "power");
    const double *time = argument_column(in, "loads", "time");
    const double *factor = argument_column(in, "loads", "factor");
    const double *efficiency = argument_column(in, "loads", "efficiency");
    const double *start = argument_column(in, "loads", "start");
    const size_t *kind = argument_column_choice(in, "loads", "kind");
    g_autofree DayLoad *load = g_new(DayLoad, n);
    for (size_t i = 0; i < n; i++)
        load[i] = (DayLoad){power[i], time[i], factor[i], efficiency[i], start[i], kind[i] == 1};
    const DaySupply supply = {argument_number(in, "system_voltage"),
                              argument_number(in, "standby_current"), argument_number(in, "period"),
                              argument_number(in, "usable"), argument_number(in, "periods")};
    LoadBalance balance;
    if (load_balance(n, load, &supply, &balance) == REFUSED)
        results_refuse(out, "powers, starts and the standby current must not be negative, no time "
                            "longer than the period, factors from 0 to 1, efficiencies and usable "
                            "above 0 to 1, voltage, period and periods positive");
    results_set(out, "energy", balance.energy_J);
    results_set(out, "charge", balance.charge_As);
    results_set(out, "average_power", balance.average_W);
    results_set(out, "capacity_needed", balance.capacity_As);
    results_set(out, "peak_power", balance.peak_W);
}

const Calculator calculator_load_balance = {
    .name = "load-balance",
    .question =
        "energy and charge drawn over a day, the battery for it, and the peak on the source",
    .sheet = "wires.md 6",
    CALCULATOR_BODY(balance_inputs, balance_outputs),
    .methods = balance_methods,
    .run = run_balance,
};
