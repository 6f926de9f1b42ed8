/* Calculators of protection: where it stands, when it opens, what it must break. */
#include <math.h>

#include "calc/wiring/conductors.h"
#include "catalog/catalog.h"
#include "physics/domain.h"
#include "physics/wiring/bank_fault.h"
#include "physics/wiring/breaker.h"
#include "physics/wiring/fuse.h"

static const Input bank_inputs[] = {
    IN_NUMBER("emf", "V"),
    IN_NUMBER("resistance", "ohm"),
    IN_NUMBER("series", "1", .standard = "1"),
    IN_NUMBER("parallel", "1", .standard = "1"),
    IN_NUMBER("path_resistance", "ohm", .standard = "0 ohm"),
    IN_NUMBER("cranking_current", "A", .otherwise = "none"),
    IN_NUMBER("system_voltage", "V", .standard = "12 V"),
};
static const Output bank_outputs[] = {
    OUT_NUMBER("bank_emf", "V"),          OUT_NUMBER("bank_resistance", "ohm"),
    OUT_NUMBER("terminal_current", "A"),  OUT_NUMBER("fault_current", "A"),
    OUT_NUMBER("main_interrupting", "A"), OUT_NUMBER("branch_interrupting", "A")};
static const Method *const bank_methods[] = {&bank_resistance_method, &bank_fault_method, NULL};

/* First row that reaches to this system voltage and to this cranking current. */
static void
interrupting_set(CalcResults *out, double system_V, double cranking_A)
{
    g_autoptr(TradeTable) table = trade_table_load(TABLE_INTERRUPTING);
    for (size_t i = 0; i < table->n; i++) {
        double cranking_to_A = table->figure[1][i];
        bool next_system = i > 0 && table->figure[0][i - 1] >= system_V &&
                           table->figure[0][i] > table->figure[0][i - 1];
        if (next_system || !(system_V <= table->figure[0][i]) || cranking_A > cranking_to_A)
            continue;
        results_set(out, "main_interrupting", table->figure[2][i]);
        results_set(out, "branch_interrupting", table->figure[3][i]);
        return;
    }
    results_refuse(out, "the table of interrupting ratings ends at 36 V");
}

static void
run_bank(const CalcArguments *in, CalcResults *out)
{
    const Bank bank = {argument_number(in, "emf"), argument_number(in, "resistance"),
                       argument_number(in, "series"), argument_number(in, "parallel"),
                       argument_number(in, "path_resistance")};
    double cranking = argument_number(in, "cranking_current"),
           system_V = argument_number(in, "system_voltage");
    BankFault fault;
    if (bank_fault(&bank, &fault) == REFUSED || !is_positive(system_V) || cranking < 0.0)
        results_refuse(out, "voltages and resistance must be positive, batteries a whole number, "
                            "path and cranking current not negative");
    results_set(out, "bank_emf", fault.emf_V);
    results_set(out, "bank_resistance", fault.ohm);
    results_set(out, "terminal_current", fault.terminal_A);
    results_set(out, "fault_current", fault.fault_A);
    if (argument_given(in, "cranking_current"))
        interrupting_set(out, system_V, cranking);
}

const Calculator calculator_bank_fault = {
    .name = "bank-fault",
    .question = "short-circuit current of a battery bank, and the breaking capacity the cranking "
                "rating asks for",
    .sheet = "wires.md 2.4, 3.1d",
    CALCULATOR_BODY(bank_inputs, bank_outputs),
    .methods = bank_methods,
    .run = run_bank,
};

static const char *const rule_words[] = {"cfr-183", "abyc", "iso", NULL};
static const char *const yes_words[] = {"yes", "no", NULL};
static const char *const source_words[] = {"battery-terminal", "other", NULL};
enum { RULE_CFR, RULE_ABYC, RULE_ISO };

static const Input distance_inputs[] = {
    IN_WORD("rule", rule_words),
    IN_WORD("sheathed", yes_words, .standard = "no"),
    IN_WORD("source", source_words, .standard = "other"),
};
static const Output distance_outputs[] = {OUT_NUMBER("distance_limit", "m"), OUT_FIGURES};

static void
run_distance(const CalcArguments *in, CalcResults *out)
{
    static const char *const rule_ids[] = {"cfr", "abyc", "iso"};
    size_t rule = argument_choice(in, "rule");
    bool sheathed = argument_choice(in, "sheathed") == 0;
    bool at_battery = argument_choice(in, "source") == 0;
    const char *tail = !sheathed ? "" : rule == RULE_ABYC && at_battery ? "-battery" : "-sheathed";
    g_autofree char *id = g_strconcat("protection-distance-", rule_ids[rule], tail, NULL);
    g_autoptr(Catalog) catalog = catalog_load();
    const Limit *limit = catalog_limit(catalog, id);
    results_set(out, "distance_limit", limit->value);
    results_figures(out, limit->source.standing);
}

const Calculator calculator_protection_distance = {
    .name = "protection-distance",
    .question = "how far from the source the fuse or breaker may stand",
    .sheet = "wires.md 3.1a",
    CALCULATOR_BODY(distance_inputs, distance_outputs),
    .run = run_distance,
};

static const char *const curve_words[] = {"b", "c", "d", NULL};
static const char *const supply_words[] = {"ac", "dc", NULL};
static const char *const trips_words[] = {"no", "may", "yes", NULL};

static const Input breaker_inputs[] = {
    IN_WORD("curve", curve_words),
    IN_NUMBER("rating", "A"),
    IN_NUMBER("current", "A", .otherwise = "none"),
    IN_WORD("supply", supply_words, .standard = "ac"),
    IN_NUMBER("voltage", "V", .standard = "230 V"),
};
static const Output breaker_outputs[] = {
    OUT_NUMBER("no_trip_current", "A"),   OUT_NUMBER("trip_current", "A"),
    OUT_NUMBER("conventional_time", "s"), OUT_NUMBER("magnetic_low", "A"),
    OUT_NUMBER("magnetic_high", "A"),     OUT_NUMBER("loop_impedance_limit", "ohm"),
    OUT_WORD("trips", trips_words),       OUT_NUMBER("fastest_time", "s"),
    OUT_NUMBER("slowest_time", "s")};
static const Method *const breaker_methods[] = {&breaker_band_method, &breaker_loop_method, NULL};

static void
run_breaker(const CalcArguments *in, CalcResults *out)
{
    double voltage = argument_number(in, "voltage");
    BreakerTrip trip;
    if (breaker_trip((BreakerCurve) argument_choice(in, "curve"), argument_number(in, "rating"),
                     argument_choice(in, "supply") == 1, argument_number(in, "current"),
                     &trip) == REFUSED ||
        !is_positive(voltage))
        results_refuse(out, "rating and voltage must be positive, the current not negative");
    results_set(out, "no_trip_current", trip.no_trip_A);
    results_set(out, "trip_current", trip.trip_A);
    results_set(out, "conventional_time", trip.conventional_s);
    results_set(out, "magnetic_low", trip.low_A);
    results_set(out, "magnetic_high", trip.high_A);
    results_set(out, "loop_impedance_limit", voltage / trip.high_A);
    if (argument_given(in, "current"))
        results_word(out, "trips", trips_words[trip.trips]);
    results_set(out, "fastest_time", trip.fastest_s);
    results_set(out, "slowest_time", trip.slowest_s);
}

const Calculator calculator_mcb_trip = {
    .name = "mcb-trip",
    .question = "when a miniature circuit breaker trips, and which fault loop it needs",
    .sheet = "wires.md 3.2, 5.3",
    CALCULATOR_BODY(breaker_inputs, breaker_outputs),
    .methods = breaker_methods,
    .run = run_breaker,
};
