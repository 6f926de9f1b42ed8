/* Calculators of a battery that is drawn from. */
#include <math.h>

#include "calc/arguments.h"
#include "calc/results.h"
#include "physics/wiring/discharge_curve.h"
#include "physics/wiring/peukert.h"
#include "physics/wiring/rest_voltage.h"
#include "physics/wiring/two_point.h"

/* --- peukert ------------------------------------------------------------------------------------------------------- */

static const Input peukert_inputs[] = {
    IN_NUMBER("capacity", "C"),
    IN_NUMBER("rate_time", "s", .standard = "20 h"),
    IN_NUMBER("exponent", "1"),
    IN_LIST("current", "A"),
    IN_LIST("duration", "s", .otherwise = "none"),
};
static const Output peukert_outputs[] = {OUT_NUMBERS("time", "s"), OUT_NUMBERS("charge", "C"),
                                         OUT_NUMBER("depth", "1"), OUT_NUMBER("depth_plain", "1")};
static const Method *const peukert_methods[] = {&peukert_time_method, &peukert_depth_method, NULL};

static void
run_peukert(const CalcArguments *in, CalcResults *out)
{
    size_t n, durations;
    const double *current = argument_list(in, "current", &n);
    const double *duration = argument_list(in, "duration", &durations);
    const PeukertBattery battery = {argument_number(in, "capacity"),
                                    argument_number(in, "rate_time"),
                                    argument_number(in, "exponent")};
    if (duration != NULL && durations != n) {
        results_refuse(out, "as many durations as currents are needed");
        return;
    }
    for (size_t i = 0; i < n; i++) {
        double time_s;
        results_limit(out, peukert_time(&battery, current[i], &time_s));
        results_set_at(out, "time", i, time_s);
        /* Without a current it lasts for ever, and gives what it is rated for. */
        results_set_at(out, "charge", i, isinf(time_s) ? battery.capacity_As : current[i] * time_s);
    }
    double depth = NAN, plain = NAN;
    if (duration != NULL)
        results_limit(out, peukert_depth(&battery, n, current, duration, &depth, &plain));
    if (results_validity(out) == REFUSED)
        results_refuse(out, "capacity, rate time and exponent must be positive, currents and "
                            "durations not negative");
    results_set(out, "depth", depth);
    results_set(out, "depth_plain", plain);
}

const Calculator calculator_peukert = {
    .name = "peukert",
    .question = "how long a battery lasts at a current, and how deep a day of different currents "
                "takes it",
    .sheet = "wires.md 4.1",
    CALCULATOR_BODY(peukert_inputs, peukert_outputs),
    .methods = peukert_methods,
    .run = run_peukert,
};

static const Input exponent_inputs[] = {
    IN_NUMBER("current_1", "A"),
    IN_NUMBER("time_1", "s"),
    IN_NUMBER("current_2", "A"),
    IN_NUMBER("time_2", "s"),
};
static const Output exponent_outputs[] = {OUT_NUMBER("exponent", "1")};
static const Method *const exponent_methods[] = {&peukert_exponent_method, NULL};

static void
run_exponent(const CalcArguments *in, CalcResults *out)
{
    double exponent;
    Validity validity = peukert_exponent(
        argument_number(in, "current_1"), argument_number(in, "time_1"),
        argument_number(in, "current_2"), argument_number(in, "time_2"), &exponent);
    if (validity == REFUSED)
        results_refuse(out, "two different currents are needed, the larger with the shorter time, "
                            "all of them positive");
    results_limit(out, validity);
    results_set(out, "exponent", exponent);
}

const Calculator calculator_peukert_exponent = {
    .name = "peukert-exponent",
    .question = "Peukert exponent from two ratings",
    .sheet = "wires.md 4.1",
    CALCULATOR_BODY(exponent_inputs, exponent_outputs),
    .methods = exponent_methods,
    .run = run_exponent,
};

/* --- battery-two-point --------------------------------------------------------------------------------------------- */

static const Input two_inputs[] = {
    IN_NUMBER("voltage_1", "V"),
    IN_NUMBER("current_1", "A"),
    IN_NUMBER("voltage_2", "V"),
    IN_NUMBER("current_2", "A"),
};
static const Output two_outputs[] = {OUT_NUMBER("resistance", "ohm"), OUT_NUMBER("emf", "V"),
                                     OUT_NUMBER("short_circuit_current", "A")};
static const Method *const two_methods[] = {&two_point_resistance_method, &two_point_emf_method,
                                            &two_point_short_method, NULL};

static void
run_two(const CalcArguments *in, CalcResults *out)
{
    TwoPoint battery;
    if (two_point(argument_number(in, "voltage_1"), argument_number(in, "current_1"),
                  argument_number(in, "voltage_2"), argument_number(in, "current_2"),
                  &battery) == REFUSED)
        results_refuse(out, "the voltage must be lower at the larger of two different currents");
    results_set(out, "resistance", battery.resistance_ohm);
    results_set(out, "emf", battery.emf_V);
    results_set(out, "short_circuit_current", battery.short_circuit_A);
}

const Calculator calculator_battery_two_point = {
    .name = "battery-two-point",
    .question = "internal resistance, open voltage and short-circuit current from two loads, or "
                "from the cranking rating",
    .sheet = "wires.md 4.2",
    CALCULATOR_BODY(two_inputs, two_outputs),
    .methods = two_methods,
    .run = run_two,
};

/* --- battery-rest -------------------------------------------------------------------------------------------------- */

static const char *const chemistry_words[] = {"flooded-lead", "lfp", NULL};
static const Input rest_inputs[] = {
    IN_WORD("chemistry", chemistry_words),
    IN_NUMBER("state_of_charge", "1", .otherwise = "none"),
    IN_NUMBER("rest_voltage", "V", .otherwise = "none"),
    IN_NUMBER("nominal_voltage", "V", .standard = "12 V"),
};
static const Output rest_outputs[] = {
    OUT_NUMBER("state_of_charge", "1"), OUT_NUMBER("rest_voltage", "V"),
    OUT_NUMBER("specific_gravity", "1"), OUT_NUMBER("freezing_point", "K")};
static const Method *const rest_methods[] = {&rest_voltage_lead_method, &rest_voltage_lfp_method,
                                             NULL};

static const char *
rest_refusal(RestChemistry chemistry, bool from_voltage)
{
    if (!from_voltage)
        return "the state of charge must lie from 0 to 1, and the nominal voltage be a whole "
               "number of cells: 2 V of lead, 3 V of lithium (12 V for four cells)";
    if (chemistry == CHEMISTRY_LFP)
        return "the voltage must lie in the table (10.0 to 13.6 V of a 12 V system), but not "
               "between 12.8 and 13.4 V, where it says nothing of the charge: count the "
               "charge; the nominal voltage is 12 V for four cells";
    return "the voltage must lie in the table, 11.89 to 12.65 V of a 12 V battery that has rested "
           "for hours; the nominal voltage must be a whole number of cells of 2 V";
}

static void
run_rest(const CalcArguments *in, CalcResults *out)
{
    bool charge = argument_given(in, "state_of_charge"), volts = argument_given(in, "rest_voltage");
    RestChemistry chemistry = (RestChemistry) argument_choice(in, "chemistry");
    double nominal = argument_number(in, "nominal_voltage");
    RestState state;
    if (charge == volts) {
        results_refuse(out, "one of state_of_charge and rest_voltage is needed, not both");
        return;
    }
    Validity validity =
        charge ? rest_voltage_at(chemistry, nominal, argument_number(in, "state_of_charge"), &state)
               : rest_voltage_read(chemistry, nominal, argument_number(in, "rest_voltage"), &state);
    if (validity == REFUSED)
        results_refuse(out, rest_refusal(chemistry, volts));
    results_set(out, "state_of_charge", state.state_of_charge);
    results_set(out, "rest_voltage", state.rest_V);
    results_set(out, "specific_gravity", state.specific_gravity);
    results_set(out, "freezing_point", state.freezing_K);
}

const Calculator calculator_battery_rest = {
    .name = "battery-rest",
    .question = "state of charge from rest voltage, or the other way round",
    .sheet = "wires.md 4.3",
    CALCULATOR_BODY(rest_inputs, rest_outputs),
    .methods = rest_methods,
    .run = run_rest,
};

/* --- battery-curve ------------------------------------------------------------------------------------------------- */

static const char *const form_words[] = {"form-2007", "form-2009", NULL};
static const Input curve_inputs[] = {
    IN_WORD("form", form_words, .standard = "form-2009"),
    IN_NUMBER("capacity", "C"),
    IN_NUMBER("resistance", "ohm"),
    IN_NUMBER("current", "A"),
    IN_NUMBER("charge_drawn", "C"),
    IN_NUMBER("e0", "V", .otherwise = "none"),
    IN_NUMBER("polarisation_voltage", "V", .otherwise = "none"),
    IN_NUMBER("polarisation_resistance", "ohm", .otherwise = "none"),
    IN_NUMBER("a", "V", .otherwise = "none"),
    IN_NUMBER("b", "1/C", .otherwise = "none"),
    IN_NUMBER("full_voltage", "V", .otherwise = "none"),
    IN_NUMBER("exponential_voltage", "V", .otherwise = "none"),
    IN_NUMBER("exponential_charge", "C", .otherwise = "none"),
    IN_NUMBER("nominal_voltage", "V", .otherwise = "none"),
    IN_NUMBER("nominal_charge", "C", .otherwise = "none"),
    IN_NUMBER("test_current", "A", .otherwise = "none"),
};
static const Output curve_outputs[] = {OUT_NUMBER("e0", "V"),
                                       OUT_NUMBER("polarisation_voltage", "V"),
                                       OUT_NUMBER("polarisation_resistance", "ohm"),
                                       OUT_NUMBER("a", "V"),
                                       OUT_NUMBER("b", "1/C"),
                                       OUT_NUMBER("voltage", "V")};
static const Method *const curve_methods[] = {&discharge_2007_method, &discharge_2009_method,
                                              &discharge_b_method, NULL};

static const char *
polarisation_name(CurveForm form)
{
    return form == FORM_2007 ? "polarisation_voltage" : "polarisation_resistance";
}

static size_t
how_many_given(const CalcArguments *in, size_t n, const char *const names[])
{
    size_t given = 0;
    for (size_t i = 0; i < n; i++)
        given += argument_given(in, names[i]) ? 1 : 0;
    return given;
}

static Validity
curve_from_points(const CalcArguments *in, DischargeCurve *curve)
{
    const DischargePoints points = {
        argument_number(in, "full_voltage"),       argument_number(in, "exponential_voltage"),
        argument_number(in, "exponential_charge"), argument_number(in, "nominal_voltage"),
        argument_number(in, "nominal_charge"),     argument_number(in, "test_current")};
    return discharge_curve_fit(&points, curve);
}

/* Refuses and returns false when neither all parameters nor all points stand there, or some of both. */
static bool
read_curve(const CalcArguments *in, CalcResults *out, DischargeCurve *curve)
{
    CurveForm form = (CurveForm) argument_choice(in, "form");
    const char *const parameters[] = {"e0", "polarisation_voltage", "polarisation_resistance", "a",
                                      "b"};
    const char *const points[] = {"full_voltage",    "exponential_voltage", "exponential_charge",
                                  "nominal_voltage", "nominal_charge",      "test_current"};
    size_t some = how_many_given(in, COUNT(parameters), parameters);
    size_t sheet = how_many_given(in, COUNT(points), points);
    double polarisation = argument_number(in, polarisation_name(form));
    *curve = (DischargeCurve){form,
                              argument_number(in, "capacity"),
                              argument_number(in, "resistance"),
                              argument_number(in, "e0"),
                              polarisation,
                              argument_number(in, "a"),
                              argument_number(in, "b")};
    bool by_parameters = sheet == 0 && some == 4 && !isnan(polarisation);
    if (!by_parameters && !(some == 0 && sheet == COUNT(points))) {
        results_refuse(out, "either e0, a, b and the polarisation of the form (voltage of 2007, "
                            "resistance of 2009) are needed, or all six points of the data sheet");
        return false;
    }
    if (sheet > 0 && curve_from_points(in, curve) == REFUSED) {
        results_refuse(out, "the curve does not fit these points (a or the polarisation would not "
                            "be positive): take rest voltage, resistance and Peukert's law");
        return false;
    }
    return true;
}

static void
run_curve(const CalcArguments *in, CalcResults *out)
{
    DischargeCurve curve;
    double voltage;
    if (!read_curve(in, out, &curve))
        return;
    if (discharge_curve_voltage(&curve, argument_number(in, "current"),
                                argument_number(in, "charge_drawn"), &voltage) == REFUSED) {
        results_refuse(out, "capacity, resistance, a, b and polarisation must be positive, the "
                            "current not negative, and the charge drawn must leave some voltage");
        return;
    }
    results_set(out, "e0", curve.e0_V);
    results_set(out, polarisation_name(curve.form), curve.polarisation);
    results_set(out, "a", curve.a_V);
    results_set(out, "b", curve.b_per_As);
    results_set(out, "voltage", voltage);
}

const Calculator calculator_battery_curve = {
    .name = "battery-curve",
    .question = "terminal voltage along a discharge, and the parameters of the curve from "
                "data-sheet points",
    .sheet = "wires.md 4.4",
    CALCULATOR_BODY(curve_inputs, curve_outputs),
    .methods = curve_methods,
    .run = run_curve,
};
