/* Calculators of direct-current motors. */
#include <math.h>

#include "calc/arguments.h"
#include "calc/results.h"
#include "physics/wiring/motor_start.h"
#include "physics/wiring/pm_motor.h"
#include "physics/wiring/pm_thruster.h"
#include "physics/wiring/series_motor.h"

/* --- motor-start --------------------------------------------------------------------------------------------------- */

static const Input start_inputs[] = {
    IN_NUMBER("emf", "V"),
    IN_NUMBER("source_resistance", "ohm"),
    IN_NUMBER("armature_resistance", "ohm"),
    IN_NUMBER("inductance", "H"),
    IN_NUMBER("motor_constant", "V s/rad"),
    IN_NUMBER("inertia", "kg m2"),
    IN_NUMBER("load_coefficient", "N m s2"),
    IN_NUMBER("time", "s", .otherwise = "none"),
};
static const Output start_outputs[] = {
    OUT_NUMBER("peak_current", "A"),   OUT_NUMBER("peak_time", "s"),
    OUT_NUMBER("lowest_voltage", "V"), OUT_NUMBER("current", "A"),
    OUT_NUMBER("speed", "rad/s"),      OUT_NUMBER("steady_speed", "rad/s"),
    OUT_NUMBER("steady_current", "A"), OUT_NUMBER("locked_current", "A")};
static const Method *const start_methods[] = {
    &motor_start_current_method, &motor_start_speed_method,  &motor_start_trough_method,
    &motor_start_steady_method,  &motor_start_locked_method, NULL};

static void
run_start(const CalcArguments *in, CalcResults *out)
{
    const StartingMotor motor = {argument_number(in, "emf"),
                                 argument_number(in, "source_resistance"),
                                 argument_number(in, "armature_resistance"),
                                 argument_number(in, "inductance"),
                                 argument_number(in, "motor_constant"),
                                 argument_number(in, "inertia"),
                                 argument_number(in, "load_coefficient")};
    MotorStart start;
    if (motor_start(&motor, argument_number(in, "time"), &start) == REFUSED)
        results_refuse(out, "emf, armature resistance, motor constant and inertia must be "
                            "positive, source resistance, inductance, load and time not negative, "
                            "and none so far from the others that the start cannot be followed");
    results_set(out, "peak_current", start.peak_A);
    results_set(out, "peak_time", start.peak_s);
    results_set(out, "lowest_voltage", start.lowest_V);
    results_set(out, "current", start.current_A);
    results_set(out, "speed", start.speed_rad_per_s);
    results_set(out, "steady_speed", start.steady_rad_per_s);
    results_set(out, "steady_current", start.steady_A);
    results_set(out, "locked_current", start.locked_A);
}

const Calculator calculator_motor_start = {
    .name = "motor-start",
    .question = "current and voltage trough while a permanent-magnet motor runs up against a "
                "propeller",
    .sheet = "wires.md 2.5, 2.6",
    CALCULATOR_BODY(start_inputs, start_outputs),
    .methods = start_methods,
    .run = run_start,
};

/* --- pm-motor ------------------------------------------------------------------------------------------------------ */

static const Input motor_inputs[] = {
    IN_NUMBER("emf_constant", "V s/rad"),
    IN_NUMBER("torque_constant", "N m/A", .otherwise = "emf_constant"),
    IN_NUMBER("resistance", "ohm"),
    IN_NUMBER("friction_torque", "N m", .standard = "0 N m"),
    IN_NUMBER("voltage", "V", .otherwise = "none"),
    IN_NUMBER("speed", "rad/s", .otherwise = "none"),
    IN_NUMBER("torque", "N m", .otherwise = "none"),
};
static const Output motor_outputs[] = {
    OUT_NUMBER("voltage", "V"),           OUT_NUMBER("speed", "rad/s"),
    OUT_NUMBER("torque", "N m"),          OUT_NUMBER("current", "A"),
    OUT_NUMBER("back_emf", "V"),          OUT_NUMBER("input_power", "W"),
    OUT_NUMBER("shaft_power", "W"),       OUT_NUMBER("loss", "W"),
    OUT_NUMBER("no_load_speed", "rad/s"), OUT_NUMBER("stall_current", "A"),
    OUT_NUMBER("stall_torque", "N m"),    OUT_NUMBER("power_limit", "W")};
static const Method *const motor_methods[] = {&pm_voltage_method,     &pm_torque_method,
                                              &pm_no_load_method,     &pm_stall_method,
                                              &pm_power_limit_method, NULL};

static void
set_motor(CalcResults *out, const PmPoint *point)
{
    results_set(out, "voltage", point->voltage_V);
    results_set(out, "speed", point->speed_rad_per_s);
    results_set(out, "torque", point->torque_Nm);
    results_set(out, "current", point->current_A);
    results_set(out, "back_emf", point->back_emf_V);
    results_set(out, "input_power", point->input_W);
    results_set(out, "shaft_power", point->shaft_W);
    results_set(out, "loss", point->loss_W);
    results_set(out, "no_load_speed", point->no_load_rad_per_s);
    results_set(out, "stall_current", point->stall_A);
    results_set(out, "stall_torque", point->stall_Nm);
    results_set(out, "power_limit", point->power_limit_W);
}

static void
run_motor(const CalcArguments *in, CalcResults *out)
{
    double emf_constant = argument_number(in, "emf_constant");
    bool own = argument_given(in, "torque_constant");
    const PmMotor motor = {
        emf_constant, own ? argument_number(in, "torque_constant") : emf_constant,
        argument_number(in, "resistance"), argument_number(in, "friction_torque")};
    PmPoint point;
    Validity validity =
        pm_motor(&motor, argument_number(in, "voltage"), argument_number(in, "speed"),
                 argument_number(in, "torque"), &point);
    if (validity == REFUSED)
        results_refuse(out, "two of voltage, speed and torque are needed, and not the third; "
                            "constants and resistance must be positive, friction, voltage and "
                            "speed not negative");
    results_limit(out, validity);
    set_motor(out, &point);
}

const Calculator calculator_pm_motor = {
    .name = "pm-motor",
    .question = "speed, torque, current and losses of a permanent-magnet motor; of voltage, speed "
                "and torque two are given",
    .sheet = "wires.md 8",
    CALCULATOR_BODY(motor_inputs, motor_outputs),
    .methods = motor_methods,
    .run = run_motor,
};

/* --- pm-thruster --------------------------------------------------------------------------------------------------- */

static const Input thruster_inputs[] = {
    IN_NUMBER("emf", "V"),
    IN_NUMBER("source_resistance", "ohm"),
    IN_NUMBER("armature_resistance", "ohm"),
    IN_NUMBER("motor_constant", "V s/rad"),
    IN_NUMBER("load_coefficient", "N m s2"),
    IN_NUMBER("compared_source_resistance", "ohm", .standard = "0 ohm"),
};
static const Output thruster_outputs[] = {
    OUT_NUMBER("speed", "rad/s"), OUT_NUMBER("current", "A"),     OUT_NUMBER("motor_voltage", "V"),
    OUT_NUMBER("torque", "N m"),  OUT_NUMBER("shaft_power", "W"), OUT_NUMBER("thrust_ratio", "1")};
static const Method *const thruster_methods[] = {&pm_thruster_speed_method,
                                                 &pm_thruster_ratio_method, NULL};

static void
run_thruster(const CalcArguments *in, CalcResults *out)
{
    const Thruster thruster = {argument_number(in, "emf"), argument_number(in, "source_resistance"),
                               argument_number(in, "armature_resistance"),
                               argument_number(in, "motor_constant"),
                               argument_number(in, "load_coefficient")};
    ThrusterPoint point;
    if (pm_thruster(&thruster, argument_number(in, "compared_source_resistance"), &point) ==
        REFUSED)
        results_refuse(out, "emf, armature resistance, motor constant and load coefficient must be "
                            "positive, source resistances not negative");
    results_set(out, "speed", point.speed_rad_per_s);
    results_set(out, "current", point.current_A);
    results_set(out, "motor_voltage", point.motor_V);
    results_set(out, "torque", point.torque_Nm);
    results_set(out, "shaft_power", point.shaft_W);
    results_set(out, "thrust_ratio", point.thrust_ratio);
}

const Calculator calculator_pm_thruster = {
    .name = "pm-thruster",
    .question = "running point of an electric thruster on its real cable, and the thrust that the "
                "cable costs",
    .sheet = "wires.md 8",
    CALCULATOR_BODY(thruster_inputs, thruster_outputs),
    .methods = thruster_methods,
    .run = run_thruster,
};

/* --- series-motor -------------------------------------------------------------------------------------------------- */

static const Input series_inputs[] = {
    IN_NUMBER("voltage", "V"),
    IN_NUMBER("resistance", "ohm"),
    IN_NUMBER("torque_coefficient", "N m/A2"),
    IN_NUMBER("torque", "N m"),
};
static const Output series_outputs[] = {OUT_NUMBER("current", "A"), OUT_NUMBER("speed", "rad/s"),
                                        OUT_NUMBER("stall_current", "A"),
                                        OUT_NUMBER("stall_torque", "N m")};
static const Method *const series_methods[] = {&series_current_method, &series_speed_method,
                                               &series_stall_method, NULL};

static void
run_series(const CalcArguments *in, CalcResults *out)
{
    SeriesPoint point;
    if (series_motor(argument_number(in, "voltage"), argument_number(in, "resistance"),
                     argument_number(in, "torque_coefficient"), argument_number(in, "torque"),
                     &point) == REFUSED)
        results_refuse(out, "voltage, resistance, coefficient and torque must be positive, the "
                            "torque no more than it has when held fast");
    results_set(out, "current", point.current_A);
    results_set(out, "speed", point.speed_rad_per_s);
    results_set(out, "stall_current", point.stall_A);
    results_set(out, "stall_torque", point.stall_Nm);
}

const Calculator calculator_series_motor = {
    .name = "series-motor",
    .question = "current and speed of a series-wound motor (starter) at a torque",
    .sheet = "wires.md 8",
    CALCULATOR_BODY(series_inputs, series_outputs),
    .methods = series_methods,
    .run = run_series,
};
