/* Start of a motor, in numbers without units: x = i R/E, y = w k/E, time in J R/k^2. Invariant: both stay finite and
 * come to rest at the steady point. */
#include "physics/wiring/motor_start.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_odeiv2.h>

#include "physics/bracket.h"
#include "physics/domain.h"
#include "physics/wiring/pm_thruster.h"

#define SHEET                                                                                      \
    {                                                                                              \
        "circuit and shaft; docs/methods/wires.md 2.5", STANDING_DERIVED                           \
    }
const Method motor_start_current_method = {"Rise of the current",
                                           "L * di_dt = E - R * i - k * omega", SHEET};
const Method motor_start_speed_method = {"Rise of the speed", "J * domega_dt = k * i - c * omega^2",
                                         SHEET};
const Method motor_start_locked_method = {"Current when held fast", "I_locked = E / R", SHEET};
const Method motor_start_steady_method = {"Speed it settles at",
                                          "R * c / k * omega^2 + k * omega = E", SHEET};
const Method motor_start_trough_method = {"Lowest voltage of the supply",
                                          "U_min = E - R_s * i_peak", SHEET};

enum { STEPS_MAX = 100000, HALVINGS = 60 };
static const double settled = 1e-9, precision = 1e-11, apart = 100.0, horizon = 1e12;

typedef struct {
    double rho;   /* electrical over mechanical time */
    double gamma; /* load */
    double end_x, end_y;
} Run;

typedef struct {
    double t, x, y;
} Moment;

static int
slope(double t, const double state[], double change[], void *data)
{
    (void) t;
    const Run *r = data;
    change[0] = (1.0 - state[0] - state[1]) / r->rho;
    change[1] = state[0] - r->gamma * state[1] * state[1];
    return GSL_SUCCESS;
}

static int
curvature(double t, const double state[], double *by_state, double by_time[], void *data)
{
    (void) t;
    const Run *r = data;
    by_state[0] = by_state[1] = -1.0 / r->rho;
    by_state[2] = 1.0;
    by_state[3] = -2.0 * r->gamma * state[1];
    by_time[0] = by_time[1] = 0.0;
    return GSL_SUCCESS;
}

static double
rising(const Moment *m)
{
    return 1.0 - m->x - m->y;
}

typedef struct {
    gsl_odeiv2_system system;
    gsl_odeiv2_step *step;
    gsl_odeiv2_control *control;
    gsl_odeiv2_evolve *evolve;
} Solver;

/* Prince and Dormand's steps of high order; Bader and Deuflhard's implicit ones where the winding is a hundred times quicker
 * or slower than the shaft, or the load holds it so hard. */
static void
solver_start(Solver *s, Run *run)
{
    s->system = (gsl_odeiv2_system){slope, curvature, 2, run};
    bool stiff = !is_within(run->rho, 1.0 / apart, apart) || run->gamma > apart;
    s->step = gsl_odeiv2_step_alloc(stiff ? gsl_odeiv2_step_bsimp : gsl_odeiv2_step_rk8pd, 2);
    s->control = gsl_odeiv2_control_y_new(precision, precision);
    s->evolve = gsl_odeiv2_evolve_alloc(2);
}

static void
solver_end(Solver *s)
{
    gsl_odeiv2_evolve_free(s->evolve);
    gsl_odeiv2_control_free(s->control);
    gsl_odeiv2_step_free(s->step);
}

/* One step of at most *h towards `to`. */
static bool
advance(Solver *s, Moment *m, double to, double *h)
{
    double state[2] = {m->x, m->y};
    if (gsl_odeiv2_evolve_apply(s->evolve, s->control, s->step, &s->system, &m->t, to, h, state) !=
        GSL_SUCCESS)
        return false;
    m->x = state[0];
    m->y = state[1];
    return isfinite(m->x) && isfinite(m->y);
}

static bool
carry(Solver *s, const Moment *from, double to, Moment *m)
{
    double h = to - from->t;
    *m = *from;
    gsl_odeiv2_evolve_reset(s->evolve);
    gsl_odeiv2_step_reset(s->step);
    for (int i = 0; i < STEPS_MAX && m->t < to; i++)
        if (!advance(s, m, to, &h))
            return false;
    return m->t >= to;
}

/* The current is highest where it stops rising, between two moments. */
static bool
find_peak(Solver *s, const Moment *before, const Moment *after, Moment *peak)
{
    Bracket k = {before->t, after->t, rising(before), rising(after), 0};
    *peak = *after;
    for (int i = 0; i < HALVINGS && k.b - k.a > 1e-14 * k.b && rising(peak) != 0.0; i++) {
        double t = bracket_next(&k);
        if (!(t > k.a && t < k.b))
            break;
        if (!carry(s, before, t, peak))
            return false;
        bracket_narrow(&k, t, rising(peak));
    }
    return true;
}

/* Paths in the plane of x and y do not cross, so they wind inwards and the first peak is the highest: once it is found and
 * the moment asked for has passed, no more need be followed. */
static bool
follow(Run *run, double until, Moment *peak, Moment *at)
{
    Solver s;
    Moment now = {0.0, 0.0, 0.0};
    double h = 1e-4 * fmin(1.0, run->rho);
    bool fine = true, peaked = false, there = isnan(until), rest = false;
    const Moment end = {INFINITY, run->end_x, run->end_y};
    *peak = *at = end;
    solver_start(&s, run);
    for (int i = 0; i < STEPS_MAX && fine && !rest && !(peaked && there); i++) {
        Moment before = now;
        fine = advance(&s, &now, horizon, &h);
        if (fine && !peaked && rising(&now) <= 0.0) {
            fine = find_peak(&s, &before, &now, peak);
            peaked = true;
        }
        if (fine && !there && now.t >= until) {
            fine = carry(&s, &before, until, at);
            there = true;
        }
        rest = fabs(now.x - run->end_x) < settled && fabs(now.y - run->end_y) < settled;
    }
    solver_end(&s);
    return fine && (rest || (peaked && there));
}

/* Without inductance the current is at its peak at once: y' = 1 - y - gamma y^2 in closed form. */
static void
follow_at_once(const Run *run, double until, Moment *peak, Moment *at)
{
    double s = sqrt(1.0 + 4.0 * run->gamma), fast = tanh(0.5 * s * until);
    double y = 2.0 * fast / (s + fast);
    *peak = (Moment){0.0, 1.0, 0.0};
    *at = (Moment){until, 1.0 - y, y};
}

static bool
usable(const StartingMotor *m, double time_s)
{
    return is_positive(m->emf_V) && is_not_negative(m->source_ohm) &&
           is_positive(m->armature_ohm) && is_not_negative(m->inductance_H) &&
           is_positive(m->constant_V_s) && is_positive(m->inertia_kgm2) &&
           is_not_negative(m->load_Nm_s2) && (isnan(time_s) || is_not_negative(time_s));
}

Validity
motor_start(const StartingMotor *motor, double time_s, MotorStart *out)
{
    const StartingMotor *m = motor;
    *out = (MotorStart){NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN};
    if (!usable(m, time_s))
        return REFUSED;
    double R = m->source_ohm + m->armature_ohm, E = m->emf_V, k = m->constant_V_s;
    double locked = E / R, unit_s = m->inertia_kgm2 * R / (k * k);
    double w = pm_thruster_speed(E, R, k, m->load_Nm_s2);
    Run run = {m->inductance_H / R / unit_s, m->load_Nm_s2 * E * R / (k * k * k), 1.0 - k * w / E,
               k * w / E};
    Moment peak, at;
    if (run.rho == 0.0)
        follow_at_once(&run, time_s / unit_s, &peak, &at);
    else if (!follow(&run, time_s / unit_s, &peak, &at))
        return REFUSED;
    bool asked = !isnan(time_s);
    *out = (MotorStart){.peak_A = locked * peak.x,
                        .peak_s = isfinite(peak.t) ? peak.t * unit_s : NAN,
                        .lowest_V = E - m->source_ohm * locked * peak.x,
                        .current_A = asked ? locked * at.x : NAN,
                        .speed_rad_per_s = asked ? at.y * E / k : NAN,
                        .steady_rad_per_s = w,
                        .steady_A = locked * run.end_x,
                        .locked_A = locked};
    return VALID;
}
