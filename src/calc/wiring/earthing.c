/* Calculators of faults to earth: what flows, and how fast it must be cut off. */
#include <math.h>

#include "calc/wiring/conductors.h"
#include "physics/wiring/disconnection.h"
#include "physics/wiring/fault_loop.h"

/* --- fault-loop ---------------------------------------------------------------------------------------------------- */

static const Input loop_inputs[] = {
    IN_NUMBER("external_impedance", "ohm"),
    IN_LIST("run", "m"),
    IN_LIST("area", "m2"),
    IN_LIST("return_area", "m2", .otherwise = "area"),
    IN_WORD("conductor", conductor_words, .standard = "class-5-plain"),
    IN_NUMBER("factor", "1", .standard = "1.2"),
    IN_NUMBER("voltage", "V", .standard = "230 V"),
    IN_NUMBER("voltage_factor", "1", .standard = "1"),
};
static const Output loop_outputs[] = {OUT_NUMBER("loop_impedance", "ohm"),
                                      OUT_NUMBER("fault_current", "A")};
static const Method *const loop_methods[] = {&fault_loop_method, &fault_loop_current_method, NULL};

/* The chain of cables, g_free; NULL and refused when the lists are not of one length. */
static LoopCable *
read_chain(const CalcArguments *in, CalcResults *out, size_t *n)
{
    size_t areas, returns;
    const double *run = argument_list(in, "run", n);
    const double *area = argument_list(in, "area", &areas);
    const double *back = argument_list(in, "return_area", &returns);
    if (areas != *n || (back != NULL && returns != *n)) {
        results_refuse(out, "as many areas as runs are needed, and as many return areas");
        return NULL;
    }
    size_t conductor = argument_choice(in, "conductor");
    g_autoptr(TradeTable) conductors = trade_table_load(TABLE_CONDUCTORS);
    LoopCable *cable = g_new(LoopCable, *n);
    for (size_t i = 0; i < *n; i++) {
        double line = conductor_ohm_per_m(conductors, conductor, area[i], out);
        double other =
            back != NULL ? conductor_ohm_per_m(conductors, conductor, back[i], out) : line;
        cable[i] = (LoopCable){run[i], line, other};
    }
    return cable;
}

static void
run_loop(const CalcArguments *in, CalcResults *out)
{
    size_t n;
    double ohm, fault;
    g_autofree LoopCable *cable = read_chain(in, out, &n);
    if (cable == NULL)
        return;
    if (fault_loop(argument_number(in, "external_impedance"), n, cable,
                   argument_number(in, "factor"), argument_number(in, "voltage"),
                   argument_number(in, "voltage_factor"), &ohm, &fault) == REFUSED)
        results_refuse(out, "runs and the external impedance must not be negative nor all 0, the "
                            "factor 1 or more, the voltage positive, its factor above 0 to 1");
    results_set(out, "loop_impedance", ohm);
    results_set(out, "fault_current", fault);
}

const Calculator calculator_fault_loop = {
    .name = "fault-loop",
    .question = "earth fault loop impedance at the end of a chain of cables, and the current that "
                "flows",
    .sheet = "wires.md 5.3",
    CALCULATOR_BODY(loop_inputs, loop_outputs),
    .methods = loop_methods,
    .run = run_loop,
};

/* --- disconnection-time -------------------------------------------------------------------------------------------- */

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
static const Method *const time_methods[] = {&disconnection_time_method,
                                             &disconnection_distribution_method,
                                             &electrode_limit_method, &rcd_time_method, NULL};

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
    .question = "how fast a fault must be cut off, and which earth electrode a residual current "
                "device allows",
    .sheet = "wires.md 5.3",
    CALCULATOR_BODY(time_inputs, time_outputs),
    .methods = time_methods,
    .run = run_time,
};
