/* Calculators of faults to earth: how fast they must be cut off. */
#include <math.h>

#include "calc/arguments.h"
#include "calc/results.h"
#include "physics/wiring/disconnection.h"

static const char *const earthing_words[] = {"tn", "tt", NULL};
static const char *const supply_words[] = {"ac", "dc", NULL};
static const char *const circuit_words[] = {"final", "distribution", NULL};
static const char *const rcd_words[] = {"general", "selective", NULL};
static const Input time_inputs[] = {
    IN_WORD("earthing", earthing_words),
    IN_WORD("supply", supply_words, .standard = "ac"),
    IN_NUMBER("voltage", "V", .standard = "230 V"),
    IN_WORD("circuit", circuit_words, .standard = "final"),
    IN_NUMBER("residual_current", "A", .otherwise = "none"),
    IN_NUMBER("touch_voltage", "V", .standard = "50 V"),
    IN_WORD("rcd", rcd_words, .standard = "general"),
};
static const Output time_outputs[] = {
    OUT_NUMBER("time_limit", "s"), OUT_NUMBER("electrode_resistance_limit", "ohm"),
    OUT_NUMBER("break_time_1", "s"), OUT_NUMBER("break_time_2", "s"),
    OUT_NUMBER("break_time_5", "s")};
static const Method *const time_methods[] = {&disconnection_time_method, &electrode_limit_method,
                                             &rcd_time_method, NULL};

static void
run_time(const CalcArguments *in, CalcResults *out)
{
    double limit_s;
    double electrode = electrode_limit_ohm(argument_number(in, "residual_current"),
                                           argument_number(in, "touch_voltage"));
    RcdTimes rcd = rcd_times((RcdKind) argument_choice(in, "rcd"));
    if (argument_given(in, "residual_current") && isnan(electrode))
        results_refuse(out, "residual current and touch voltage must be positive");
    else if (disconnection_time((Earthing) argument_choice(in, "earthing"),
                                (CurrentKind) argument_choice(in, "supply"),
                                (CircuitRank) argument_choice(in, "circuit"),
                                argument_number(in, "voltage"), &limit_s) == REFUSED)
        results_refuse(out, "no time is known for this voltage: alternating current above 50 V, "
                            "direct current above 120 to 230 V");
    else
        results_set(out, "time_limit", limit_s);
    results_set(out, "electrode_resistance_limit", electrode);
    results_set(out, "break_time_1", rcd.at_1_s);
    results_set(out, "break_time_2", rcd.at_2_s);
    results_set(out, "break_time_5", rcd.at_5_s);
}

const Calculator calculator_disconnection_time = {
    .name = "disconnection-time",
    .question = "how fast a fault must be cut off, and which earth electrode a residual-current "
                "device allows",
    .sheet = "wires.md 5.3",
    CALCULATOR_BODY(time_inputs, time_outputs),
    .methods = time_methods,
    .run = run_time,
};
