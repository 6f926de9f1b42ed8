/* Motors: energy that goes in comes out, a start against closed forms and against plain Runge-Kutta. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <complex.h>
#include <math.h>

#include "hulls.h"

#include "physics/wiring/motor_start.h"
#include "physics/wiring/pm_motor.h"
#include "physics/wiring/pm_thruster.h"
#include "physics/wiring/series_motor.h"

#undef I /* a current here, not the imaginary unit */

/* --- start --------------------------------------------------------------------------------------------------------------- */

static StartingMotor
any_motor(void)
{
    return (StartingMotor){.emf_V = test_between(10.0, 50.0),
                           .source_ohm = test_between(0.001, 0.05),
                           .armature_ohm = test_between(0.002, 0.1),
                           .inductance_H = test_between(1e-5, 1e-3),
                           .constant_V_s = test_between(0.02, 0.2),
                           .inertia_kgm2 = test_between(1e-3, 0.05),
                           .load_Nm_s2 = test_between(1e-6, 1e-3)};
}

/* Fixed small steps from rest: another method, in other variables. */
static void
runge_kutta(const StartingMotor *m, double time, int steps, double *current, double *speed)
{
    double i = 0.0, w = 0.0, h = time / steps, R = m->source_ohm + m->armature_ohm;
    for (int n = 0; n < steps; n++) {
        double k[4][2];
        for (int s = 0; s < 4; s++) {
            double part = s == 0 ? 0.0 : s == 3 ? h : 0.5 * h;
            double I = i + (s > 0 ? part * k[s - 1][0] : 0.0);
            double W = w + (s > 0 ? part * k[s - 1][1] : 0.0);
            k[s][0] = (m->emf_V - R * I - m->constant_V_s * W) / m->inductance_H;
            k[s][1] = (m->constant_V_s * I - m->load_Nm_s2 * W * W) / m->inertia_kgm2;
        }
        i += h / 6.0 * (k[0][0] + 2.0 * k[1][0] + 2.0 * k[2][0] + k[3][0]);
        w += h / 6.0 * (k[0][1] + 2.0 * k[1][1] + 2.0 * k[2][1] + k[3][1]);
    }
    *current = i;
    *speed = w;
}

static void
start_agrees_with_runge_kutta(void **state)
{
    (void) state;
    test_random_restart(311);
    for (int n = 0; n < 60; n++) {
        StartingMotor m = any_motor();
        double time = test_between(1e-3, 0.2), i, w;
        MotorStart start;
        assert_int_equal(motor_start(&m, time, &start), VALID);
        runge_kutta(&m, time, 40000, &i, &w);
        assert_close(start.current_A, i, 1e-6 * start.locked_A);
        assert_close(start.speed_rad_per_s, w, 1e-6 * m.emf_V / m.constant_V_s);
        assert_true(start.peak_A >= start.current_A - 1e-6 * start.locked_A);
        assert_true(start.peak_A >= start.steady_A && start.peak_A <= start.locked_A);
        assert_close(start.lowest_V, m.emf_V - m.source_ohm * start.peak_A, 1e-9);
    }
}

/* What the supply gives by then: heat, the propeller, and what coil and shaft hold. */
static void
start_keeps_the_energy(void **state)
{
    (void) state;
    test_random_restart(312);
    for (int n = 0; n < 10; n++) {
        StartingMotor m = any_motor();
        double time = 0.05, R = m.source_ohm + m.armature_ohm, balance = 0.0, given = 0.0;
        enum { PARTS = 400 };
        for (int k = 0; k <= PARTS; k++) {
            MotorStart s;
            motor_start(&m, time * k / PARTS, &s);
            double i = s.current_A, w = s.speed_rad_per_s;
            double weight = k == 0 || k == PARTS ? 1.0 : k % 2 == 1 ? 4.0 : 2.0;
            double part = weight * time / PARTS / 3.0;
            given += part * m.emf_V * i;
            balance += part * (m.emf_V * i - R * i * i - m.load_Nm_s2 * w * w * w);
            if (k == PARTS)
                balance -= 0.5 * m.inductance_H * i * i + 0.5 * m.inertia_kgm2 * w * w;
        }
        assert_close(balance, 0.0, 1e-5 * given);
    }
}

/* Without a load the equations are linear: i = E/L (e^(s1 t) - e^(s2 t))/(s1 - s2). */
static void
start_without_load_in_closed_form(void **state)
{
    (void) state;
    test_random_restart(313);
    for (int n = 0; n < 60; n++) {
        StartingMotor m = any_motor();
        m.load_Nm_s2 = 0.0;
        double R = m.source_ohm + m.armature_ohm, L = m.inductance_H;
        double complex damping = R / (2.0 * L),
                       root = csqrt(damping * damping -
                                    m.constant_V_s * m.constant_V_s / (m.inertia_kgm2 * L)),
                       s1 = root - damping, s2 = -root - damping;
        double peak_s = creal(clog(s2 / s1) / (s1 - s2)), time = test_between(0.001, 0.1);
        double current = creal(m.emf_V / L * (cexp(s1 * time) - cexp(s2 * time)) / (s1 - s2));
        double peak = creal(m.emf_V / L * (cexp(s1 * peak_s) - cexp(s2 * peak_s)) / (s1 - s2));
        MotorStart start;
        assert_int_equal(motor_start(&m, time, &start), VALID);
        assert_close(start.current_A, current, 1e-7 * start.locked_A);
        assert_close(start.peak_A, peak, 1e-7 * start.locked_A);
        assert_close(start.peak_s, peak_s, 1e-5 * peak_s);
        assert_close(start.steady_rad_per_s, m.emf_V / m.constant_V_s,
                     1e-9 * m.emf_V / m.constant_V_s);
        assert_close(start.steady_A, 0.0, 1e-9 * start.locked_A);
    }
}

/* A vanishing coil comes to the same as none at all. */
static void
start_without_inductance(void **state)
{
    (void) state;
    test_random_restart(314);
    for (int n = 0; n < 40; n++) {
        StartingMotor m = any_motor(), none = m;
        m.inductance_H = 1e-10;
        none.inductance_H = 0.0;
        MotorStart a, b;
        double time = test_between(0.001, 0.2);
        assert_int_equal(motor_start(&m, time, &a), VALID);
        assert_int_equal(motor_start(&none, time, &b), VALID);
        assert_close(a.current_A, b.current_A, 1e-5 * b.locked_A);
        assert_close(a.speed_rad_per_s, b.speed_rad_per_s, 1e-5 * m.emf_V / m.constant_V_s);
        assert_close(b.peak_A, b.locked_A, 1e-12 * b.locked_A);
        assert_close(a.peak_A, b.peak_A, 1e-3 * b.locked_A);
        assert_true(b.peak_s == 0.0 && a.peak_s > 0.0);
    }
}

static void
start_ends_where_the_thruster_runs(void **state)
{
    (void) state;
    test_random_restart(315);
    for (int n = 0; n < 40; n++) {
        StartingMotor m = any_motor();
        const Thruster t = {m.emf_V, m.source_ohm, m.armature_ohm, m.constant_V_s, m.load_Nm_s2};
        MotorStart start;
        ThrusterPoint run;
        assert_int_equal(motor_start(&m, 1e4, &start), VALID);
        assert_int_equal(pm_thruster(&t, t.source_ohm, &run), VALID);
        assert_close(start.current_A, run.current_A, 1e-6 * start.locked_A);
        assert_close(start.speed_rad_per_s, run.speed_rad_per_s, 1e-6 * run.speed_rad_per_s);
        assert_close(start.steady_A, run.current_A, 1e-9 * start.locked_A);
        assert_close(run.thrust_ratio, 1.0, 1e-12);
    }
}

/* A coil so slow that the shaft always keeps up: the current creeps to its end and has no peak before. */
static void
creeping_current_has_no_peak(void **state)
{
    (void) state;
    const StartingMotor m = {12.0, 0.01, 0.02, 1.0, 0.05, 1e-6, 1e-4};
    MotorStart start;
    assert_int_equal(motor_start(&m, NAN, &start), VALID);
    assert_close(start.peak_A, start.steady_A, 1e-9 * start.locked_A);
    assert_true(isnan(start.peak_s) && isnan(start.current_A) && isnan(start.speed_rad_per_s));
}

static void
start_refuses(void **state)
{
    (void) state;
    const StartingMotor good = {12.0, 0.01, 0.02, 5e-5, 0.05, 0.01, 1e-4};
    MotorStart out;
    assert_int_equal(motor_start(&good, 0.0, &out), VALID);
    assert_true(out.current_A == 0.0 && out.speed_rad_per_s == 0.0);
    for (size_t i = 0; i < sizeof good / sizeof(double); i++) {
        const double wild[] = {NAN, -1.0, INFINITY};
        for (int k = 0; k < 3; k++) {
            StartingMotor m = good;
            ((double *) &m)[i] = wild[k];
            assert_int_equal(motor_start(&m, 0.1, &out), REFUSED);
            assert_true(isnan(out.peak_A) && isnan(out.locked_A));
        }
    }
    assert_int_equal(motor_start(&good, -0.1, &out), REFUSED);
}

/* --- permanent magnets ---------------------------------------------------------------------------------------------------- */

static void
motor_keeps_the_energy(void **state)
{
    (void) state;
    test_random_restart(316);
    for (int n = 0; n < 200; n++) {
        double k = test_between(0.01, 1.0);
        const PmMotor m = {k, k, test_between(0.005, 2.0), test_between(0.0, 0.5)};
        double speed = test_between(0.0, 400.0), torque = test_between(0.0, 50.0);
        PmPoint a, b, c;
        assert_int_equal(pm_motor(&m, NAN, speed, torque, &a), VALID);
        double friction = m.friction_Nm * speed,
               heat = a.current_A * a.current_A * m.resistance_ohm;
        assert_close(a.input_W, a.shaft_W + friction + heat, 1e-9 * (1.0 + a.input_W));
        assert_close(a.loss_W, friction + heat, 1e-9 * (1.0 + a.input_W));
        /* All three ways round. */
        assert_int_equal(pm_motor(&m, a.voltage_V, NAN, torque, &b), VALID);
        assert_close(b.speed_rad_per_s, speed, 1e-8 * (1.0 + a.voltage_V / k));
        assert_int_equal(pm_motor(&m, a.voltage_V, speed, NAN, &c), VALID);
        assert_close(c.torque_Nm, torque, 1e-8 * (1.0 + torque));
    }
}

/* Most power at half the no-load speed, and nowhere more. */
static void
motor_power_has_its_top(void **state)
{
    (void) state;
    const PmMotor m = {0.05, 0.05, 0.02, 0.0};
    PmPoint p;
    double most = 0.0;
    for (double share = 0.0; share <= 1.0; share += 0.01) {
        assert_int_equal(pm_motor(&m, 24.0, share * 480.0, NAN, &p), VALID);
        assert_true(p.shaft_W <= p.power_limit_W * (1.0 + 1e-12));
        most = fmax(most, p.shaft_W);
    }
    assert_close(most, p.power_limit_W, 1e-9 * most);
    assert_int_equal(pm_motor(&m, 24.0, NAN, 0.0, &p), VALID);
    assert_close(p.speed_rad_per_s, p.no_load_rad_per_s, 1e-9);
    assert_int_equal(pm_motor(&m, 24.0, 0.0, NAN, &p), VALID);
    assert_close(p.torque_Nm, p.stall_Nm, 1e-9);
    assert_close(p.current_A, p.stall_A, 1e-9);
}

static void
motor_refuses(void **state)
{
    (void) state;
    const PmMotor good = {0.05, 0.05, 0.02, 0.1};
    PmPoint p;
    assert_int_equal(pm_motor(&good, 24.0, NAN, NAN, &p), REFUSED);
    assert_int_equal(pm_motor(&good, 24.0, 100.0, 3.0, &p), REFUSED);
    assert_int_equal(pm_motor(&good, -24.0, 100.0, NAN, &p), REFUSED);
    assert_int_equal(pm_motor(&good, 24.0, -1.0, NAN, &p), REFUSED);
    assert_true(isnan(p.current_A));
    assert_int_equal(pm_motor(&good, 24.0, NAN, 100.0, &p), EXTRAPOLATED); /* driven backwards */
    PmMotor two = good;
    two.torque_constant = 0.06; /* a fifth of its power from nowhere */
    assert_int_equal(pm_motor(&two, 24.0, NAN, 1.0, &p), EXTRAPOLATED);
    two.torque_constant = -0.05;
    assert_int_equal(pm_motor(&two, 24.0, NAN, 1.0, &p), REFUSED);
}

static void
thrust_is_lost_in_the_cable(void **state)
{
    (void) state;
    double last = INFINITY;
    for (double source = 0.0; source < 0.05; source += 0.002) {
        const Thruster t = {12.6, source, 0.005, 0.029, 6.6e-5};
        ThrusterPoint p;
        assert_int_equal(pm_thruster(&t, 0.0, &p), VALID);
        assert_true(p.thrust_ratio < last && p.thrust_ratio <= 1.0);
        last = p.thrust_ratio;
        /* What the motor gets is its copper and its shaft. */
        assert_close(p.motor_V * p.current_A,
                     p.shaft_W + p.current_A * p.current_A * t.armature_ohm, 1e-9 * p.shaft_W);
        assert_close(p.motor_V, 12.6 - source * p.current_A, 1e-12);
    }
    const Thruster t = {12.6, 0.004, 0.0, 0.029, 6.6e-5};
    ThrusterPoint p;
    assert_int_equal(pm_thruster(&t, 0.0, &p), REFUSED);
    assert_true(isnan(p.speed_rad_per_s) && isnan(pm_thruster_speed(12.0, 0.01, NAN, 1e-4)));
}

/* --- series motor ---------------------------------------------------------------------------------------------------------- */

static void
series_motor_keeps_the_energy(void **state)
{
    (void) state;
    test_random_restart(317);
    for (int n = 0; n < 200; n++) {
        double V = test_between(6.0, 28.0), R = test_between(0.005, 0.1),
               k = test_between(1e-5, 1e-3), stall = k * V * V / (R * R),
               torque = stall * test_between(0.001, 1.0);
        SeriesPoint p;
        assert_int_equal(series_motor(V, R, k, torque, &p), VALID);
        assert_close(V * p.current_A, p.current_A * p.current_A * R + torque * p.speed_rad_per_s,
                     1e-9 * V * p.stall_A);
        assert_close(p.stall_Nm, stall, 1e-9 * stall);
        assert_true(p.speed_rad_per_s >= 0.0 && p.current_A <= p.stall_A);
        assert_int_equal(series_motor(V, R, k, 1.0001 * stall, &p), REFUSED);
        assert_int_equal(series_motor(V, R, k, 0.0, &p), REFUSED);
        assert_true(isnan(p.speed_rad_per_s));
    }
}

/* By its plate: the same point as by constants, whatever these are; and the power law follows it. */
static void
thruster_by_its_plate(void **state)
{
    (void) state;
    test_random_restart(316);
    for (int n = 0; n < 60; n++) {
        double r = test_between(0.03, 0.2), U = test_between(10.0, 50.0),
               I = test_between(50.0, 500.0), w = test_between(100.0, 400.0), k = (1.0 - r) * U / w;
        Thruster t = {test_between(0.7, 1.0) * U, 0.0, r * U / I, k, k * I / (w * w)};
        ThrusterPoint point;
        assert_int_equal(pm_thruster(&t, 0.0, &point), VALID);
        double u = t.emf_V / U, share = pm_thruster_share(u, r);
        assert_close(share, point.current_A / I, 1e-12);
        assert_close(pow(u, pm_thruster_exponent(r)), share, 0.02 * share);
    }
    assert_close(pm_thruster_share(1.0, 0.11), 1.0, 1e-15);
    assert_close(pm_thruster_share(0.85, 0.0), 0.7225, 1e-15);
    assert_true(isnan(pm_thruster_share(-0.1, 0.11)) && isnan(pm_thruster_share(1.0, 1.0)));
    assert_close(pow(0.7, pm_thruster_exponent(0.11)), pm_thruster_share(0.7, 0.11), 0.006);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(thruster_by_its_plate),
        cmocka_unit_test(start_agrees_with_runge_kutta),
        cmocka_unit_test(start_keeps_the_energy),
        cmocka_unit_test(start_without_load_in_closed_form),
        cmocka_unit_test(start_without_inductance),
        cmocka_unit_test(start_ends_where_the_thruster_runs),
        cmocka_unit_test(creeping_current_has_no_peak),
        cmocka_unit_test(start_refuses),
        cmocka_unit_test(motor_keeps_the_energy),
        cmocka_unit_test(motor_power_has_its_top),
        cmocka_unit_test(motor_refuses),
        cmocka_unit_test(thrust_is_lost_in_the_cable),
        cmocka_unit_test(series_motor_keeps_the_energy),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
