/* Networks against closed forms, against a dense method of its own (node voltages alone, Newton with one damping for all, LAPACK),
 * and against what must hold of any: power in is power out, what one point does to another the other does to it. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "network_draft.h"
#include "physics/wiring/network_fault.h"

extern void dgesv_(const int *n, const int *nrhs, double *a, const int *lda, int *ipiv, double *b,
                   const int *ldb, int *info);

enum { DENSE = 60 };

static void
solved(Draft *b)
{
    NetworkOutcome outcome = network_solve(&b->net, &b->out);
    if (outcome != NETWORK_SOLVED)
        fail_msg("outcome %d at %zu", (int) outcome, b->out.where);
    double scale, rest = network_imbalance_W(&b->net, &b->out, &scale);
    if (!(fabs(rest) <=
          1e-9 * scale + 1e-11)) /* currents are 12 V over milliohms: the last digit is 1e-12 W */
        fail_msg("%g W of %g W are missing", rest, scale);
}

static void
refused(Draft *b, NetworkOutcome expected, size_t where)
{
    assert_int_equal(network_solve(&b->net, &b->out), expected);
    assert_int_equal(b->out.where, where);
    for (size_t k = 0; k < b->net.nodes; k++)
        assert_true(isnan(b->voltage[k]));
    for (size_t i = 0; i < b->net.n; i++)
        assert_true(isnan(b->current[i]));
    free(b);
}

static void
near(double value, double expected, double share)
{
    if (!(fabs(value - expected) <= share * fmax(fabs(expected), 1e-3)))
        fail_msg("%.15g is not %.15g", value, expected);
}

static void
power_load_is_the_quadratic(void **state)
{
    (void) state;
    const double emf = 12.4, ohm = 0.012, most = emf * emf / (4.0 * ohm);
    static const double shares[] = {0.0, 1e-9, 0.1, 0.5, 0.9, 0.99, 0.9999, 1.0 - 1e-9};
    for (size_t i = 0; i < sizeof shares / sizeof *shares; i++) {
        Draft *b = draft_new(3);
        draft_add(b, BATTERY(1, 0, emf, 0.008));
        draft_add(b, RESISTOR(1, 2, 0.004));
        draft_add(b, POWER(2, 0, shares[i] * most, 0.0));
        solved(b);
        near(b->voltage[2], 0.5 * emf * (1.0 + sqrt(1.0 - shares[i])), 1e-8);
        free(b);
    }
    static const double beyond[] = {1.0 + 1e-6, 1.01, 2.0, 1e3};
    for (size_t i = 0; i < sizeof beyond / sizeof *beyond; i++) {
        Draft *b = draft_new(3);
        draft_add(b, BATTERY(1, 0, emf, 0.008));
        draft_add(b, RESISTOR(1, 2, 0.004));
        draft_add(b, POWER(2, 0, beyond[i] * most, 0.0));
        refused(b, NETWORK_COLLAPSED, 2);
    }
}

/* A load that runs on solar panels alone, one that feeds in, and one on a dead wire. */
static void
odd_power_loads(void **state)
{
    (void) state;
    Draft *b = draft_new(2);
    draft_add(b, POWER(1, 0, -120.0, 0.0));
    draft_add(b, RESISTOR(1, 0, 1.2));
    solved(b);
    near(b->voltage[1], 12.0, 1e-10);
    free(b);
    b = draft_new(3);
    draft_add(b, BATTERY(1, 0, 12.0, 0.1));
    draft_add(b, POWER(1, 0, -100.0, 0.0));
    draft_add(b, RESISTOR(2, 0, 5.0));
    draft_add(b, POWER(2, 0, 0.0, 0.0));
    solved(b);
    near(b->voltage[1], 0.5 * (12.0 + sqrt(144.0 + 4.0 * 0.1 * 100.0)), 1e-12);
    assert_true(b->voltage[2] == 0.0);
    free(b);
    b = draft_new(3);
    draft_add(b, BATTERY(1, 0, 12.0, 0.1));
    draft_add(b, RESISTOR(2, 0, 5.0));
    draft_add(b, POWER(2, 0, 10.0, 0.0));
    refused(b, NETWORK_COLLAPSED, 2);
}

/* By hand: below its cut-off a load is a resistance; the lowest goes first and may save the others. */
static void
cut_outs_go_one_at_a_time(void **state)
{
    (void) state;
    Draft *b = draft_new(2);
    draft_add(b, BATTERY(1, 0, 12.0, 0.05));
    draft_add(b, POWER(1, 0, 400.0, 11.0));
    draft_add(b, POWER(1, 0, 100.0, 10.0));
    solved(b);
    assert_int_equal(b->state[1], STATE_CUT_OUT);
    assert_int_equal(b->state[2], STATE_ON);
    assert_true(b->current[1] == 0.0);
    near(b->voltage[1], 0.5 * (12.0 + sqrt(144.0 - 4.0 * 0.05 * 100.0)), 1e-12);
    free(b);
    b = draft_new(2);
    draft_add(b, BATTERY(1, 0, 12.0, 0.05));
    draft_add(b, POWER(1, 0, 5000.0, 9.0)); /* alone past collapse: it cuts out instead */
    draft_add(b, POWER(1, 0, 100.0, 0.0));  /* no cut-off: saved by the other's */
    solved(b);
    assert_int_equal(b->state[1], STATE_CUT_OUT);
    near(b->current[2] * b->voltage[1], 100.0, 1e-12);
    free(b);
    b = draft_new(3);
    draft_add(b, RESISTOR(2, 0, 1.0));
    draft_add(b, POWER(2, 0, 50.0, 10.0)); /* on a dead wire */
    draft_add(b, BATTERY(1, 0, 12.0, 0.05));
    solved(b);
    assert_int_equal(b->state[1], STATE_CUT_OUT);
    free(b);
}

static void
chargers_share_by_hand(void **state)
{
    (void) state;
    Draft *b = draft_new(2);
    draft_add(b, CHARGER(1, 0, 14.4, 0.01, 40.0));
    draft_add(b, CHARGER(1, 0, 13.2, 0.01, 40.0));
    draft_add(b, CHARGER(1, 0, 13.9, 0.0, INFINITY)); /* stiff: it holds the node */
    draft_add(b, BATTERY(1, 0, 12.6, 0.02));
    solved(b);
    near(b->voltage[1], 13.9, 1e-13);
    assert_int_equal(b->state[0], STATE_LIMITED);
    assert_int_equal(b->state[1], STATE_OFF);
    assert_int_equal(b->state[2], STATE_HOLDING);
    near(b->current[0], 40.0, 1e-13);
    assert_true(b->current[1] == 0.0);
    near(b->current[2], 65.0 - 40.0, 1e-12);
    near(b->current[3], -65.0, 1e-12);
    free(b);
    /* 300 of them against one bank, set voltages spread: every state holds its law */
    b = draft_new(2);
    uint64_t seed = 5;
    for (int i = 0; i < 300; i++) {
        seed = seed * 6364136223846793005u + 1442695040888963407u;
        double u = (double) (seed >> 11) / 9007199254740992.0;
        draft_add(b, CHARGER(1, 0, 12.0 + 3.0 * u, 0.005 + 0.05 * u, 5.0 + 20.0 * u));
    }
    draft_add(b, BATTERY(1, 0, 11.0, 0.001));
    solved(b);
    for (size_t i = 0; i < 300; i++) {
        const NetworkElement *e = &b->element[i];
        double free_A = (e->voltage_V - b->voltage[1]) / e->ohm;
        near(b->current[i], fmax(0.0, fmin(e->current_A, free_A)), 1e-6);
    }
    free(b);
}

/* A diode and a resistance: the exact current by the Lambert function, found here by bisection. */
static void
diode_is_the_exponential(void **state)
{
    (void) state;
    static const double emfs[] = {0.05, 0.3, 0.7, 2.0, 12.0, 48.0, -3.0, -12.0};
    for (size_t i = 0; i < sizeof emfs / sizeof *emfs; i++) {
        Draft *b = draft_new(3);
        draft_add(b, BATTERY(1, 0, emfs[i], 0.01));
        draft_add(b, DIODE(1, 2, 2e-7, 1.5));
        draft_add(b, RESISTOR(2, 0, 0.5));
        solved(b);
        double unit = 1.5 * 1.380649e-23 * 300.15 / 1.602176634e-19, low = -20.0, high = 2.0;
        for (int step = 0; step < 200; step++) {
            double v = 0.5 * (low + high);
            double current = 2e-7 * expm1(v / unit) + 1e-12 * v;
            if (v + 0.51 * current < emfs[i])
                low = v;
            else
                high = v;
        }
        near(b->current[1], 2e-7 * expm1(low / unit) + 1e-12 * low, 1e-9);
        free(b);
    }
}

static void
hostile_networks(void **state)
{
    (void) state;
    Draft *b = draft_new(2);
    draft_add(b, BATTERY(1, 0, 12.0, 0.005));
    draft_add(b, RESISTOR(1, 0, 0.0)); /* shorted */
    solved(b);
    near(b->current[0], 2400.0, 1e-13);
    near(b->current[1], 2400.0, 1e-13);
    free(b);
    b = draft_new(2);
    draft_add(b, BATTERY(1, 0, 12.0, 0.0));
    draft_add(b, RESISTOR(1, 0, 0.0));
    refused(b, NETWORK_CONTRADICTS, 2);
    b = draft_new(3);
    draft_add(b, BATTERY(1, 0, 12.0, 0.005));
    draft_add(
        b,
        RESISTOR(1, 2, 0.0)); /* two zero-length cables side by side: nobody knows how they share */
    draft_add(b, RESISTOR(1, 2, 0.0));
    draft_add(b, CURRENT(2, 0, 1.0));
    refused(b, NETWORK_CONTRADICTS, 3);
    b = draft_new(3);
    draft_add(b, BATTERY(1, 0, 12.0, 0.005));
    draft_add(b, POWER(2, 1, 5.0, 0.0)); /* an island behind a load */
    refused(b, NETWORK_FLOATS, 2);
    b = draft_new(2);
    draft_add(b, BATTERY(1, 0, 12.0, 0.005));
    draft_add(b, RESISTOR(1, 0, -1.0));
    refused(b, NETWORK_BAD, 1);
    b = draft_new(2);
    draft_add(b, BATTERY(1, 0, NAN, 0.005));
    refused(b, NETWORK_BAD, 0);
    b = draft_new(2);
    draft_add(b, BATTERY(1, 7, 12.0, 0.005));
    refused(b, NETWORK_BAD, 0);
    b = draft_new(2);
    draft_add(b, BATTERY(1, 0, 12.0, 0.005));
    draft_add(b, RESISTOR(1, 1, 0.4)); /* from a node to itself */
    draft_add(b, RESISTOR(1, 0, 1.0));
    solved(b);
    near(b->voltage[1], 12.0 / 1.005, 1e-13);
    assert_true(b->current[1] == 0.0);
    free(b);
    b = draft_new(2);
    draft_add(b, BATTERY(1, 0, 12.0, 0.001));
    for (int i = 0; i < 1000; i++)
        draft_add(b, RESISTOR(1, 0, 100.0));
    solved(b);
    near(b->current[0], 12.0 / 0.101, 1e-12);
    near(b->current[777], 0.012 / 0.101, 1e-12);
    free(b);
    b = draft_new(1);
    solved(b);
    free(b);
}

/* What floats may be held instead: it is dead, the rest is as if it were not there. */
static void
floating_parts_may_be_held(void **state)
{
    (void) state;
    Draft *b = draft_new(4);
    b->net.hold_floating = true;
    draft_add(b, BATTERY(1, 0, 12.0, 0.5));
    draft_add(b, RESISTOR(1, 0, 5.5));
    draft_add(b, BATTERY(2, 3, 12.0, 0.0));
    draft_add(b, RESISTOR(2, 3, 1.0));
    draft_add(b, POWER(2, 1, 5.0, 0.0));
    solved(b);
    near(b->voltage[1], 11.0, 1e-13);
    assert_true(b->voltage[2] == 0.0 && b->voltage[3] == 0.0 && b->current[4] == 0.0);
    assert_true(b->current[2] == 0.0 && b->current[3] == 0.0);
    free(b);
}

/* ---- a method of its own ---- */

static double
law(const NetworkElement *e, double v, double *slope)
{
    const double unit = e->ideality * 1.380649e-23 * 300.15 / 1.602176634e-19;
    double current;
    switch (e->kind) {
    case ELEMENT_CURRENT_LOAD:
        *slope = 0.0;
        return e->current_A;
    case ELEMENT_POWER_LOAD:
        *slope = -e->power_W / (v * v);
        return e->power_W / v;
    case ELEMENT_POWER_LAW:
        *slope = e->coefficient * e->exponent * pow(fabs(v), e->exponent - 1.0);
        return copysign(e->coefficient * pow(fabs(v), e->exponent), v);
    case ELEMENT_DIODE:
        *slope = e->saturation_A / unit * exp(v / unit) + 1e-12;
        return e->saturation_A * expm1(v / unit) + 1e-12 * v;
    case ELEMENT_CHARGER:
        current = (v - e->voltage_V) / e->ohm;
        *slope = current > 0.0 || current < -e->current_A ? 0.0 : 1.0 / e->ohm;
        return fmax(fmin(current, 0.0), -e->current_A);
    case ELEMENT_RESISTOR:
        *slope = 1.0 / e->ohm;
        return v / e->ohm;
    default:
        *slope = 1.0 / e->ohm;
        return (v - e->voltage_V) / e->ohm;
    }
}

/* Node voltages alone; false when it does not come to rest in 4000 damped steps. */
static bool
dense_solve(const Network *net, double v[])
{
    int n = (int) net->nodes - 1, one = 1, pivot[DENSE], info;
    for (int step = 0; step < 4000; step++) {
        double jacobian[DENSE * DENSE] = {0}, f[DENSE] = {0}, most = 0.0;
        for (size_t i = 0; i < net->n; i++) {
            const NetworkElement *e = &net->element[i];
            double g, current = law(e, v[e->from] - v[e->to], &g);
            const size_t ends[2] = {e->from, e->to};
            for (int p = 0; p < 2; p++) {
                if (ends[p] == 0)
                    continue;
                f[ends[p] - 1] -= p == 0 ? current : -current;
                for (int q = 0; q < 2; q++)
                    if (ends[q] > 0)
                        jacobian[(ends[q] - 1) * (size_t) n + ends[p] - 1] += p == q ? g : -g;
            }
        }
        dgesv_(&n, &one, jacobian, &n, pivot, f, &n, &info);
        for (int k = 0; k < n; k++)
            most = fmax(most, fabs(f[k]));
        if (info != 0 || !isfinite(most))
            return false;
        for (int k = 0; k < n; k++)
            v[k + 1] += fmin(1.0, 0.1 / most) * f[k];
        if (most < 1e-11)
            return true;
    }
    return false;
}

static void
agrees_with_a_dense_method(void **state)
{
    (void) state;
    uint64_t seed = 2024;
    int compared = 0;
    for (int round = 0; round < 250; round++) {
        Draft *b = draft_boat(&seed, 25, 1.0, WITH_CURVES | WITH_CHARGERS | SMALLER_TOO);
        solved(b);
        double v[DENSE] = {0};
        for (size_t k = 1; k < b->net.nodes; k++)
            v[k] = k <= b->net.nodes / 2 ? 12.6 : 0.0;
        if (dense_solve(&b->net, v)) {
            compared++;
            for (size_t k = 0; k < b->net.nodes; k++)
                near(b->voltage[k], v[k], 1e-8);
        }
        free(b);
    }
    assert_true(compared >= 240);
}

/* As loads grow together, the last that can be borne is found by halving; voltages fall all the way, and past it the answer is
 * collapse and never another root. */
static void
loads_grow_to_collapse(void **state)
{
    (void) state;
    uint64_t seed = 11;
    for (int round = 0; round < 12; round++) {
        uint64_t same = seed;
        double low = 0.0, high = 4096.0, last_V = INFINITY;
        for (int step = 0; step < 40; step++) {
            double share = 0.5 * (low + high);
            same = seed;
            Draft *b = draft_boat(&same, 25, share, SMALLER_TOO);
            NetworkOutcome outcome = network_solve(&b->net, &b->out);
            assert_true(outcome == NETWORK_SOLVED || outcome == NETWORK_COLLAPSED);
            if (outcome == NETWORK_SOLVED)
                low = share;
            else
                high = share;
            free(b);
        }
        for (int step = 0; step <= 20; step++) {
            same = seed;
            Draft *b = draft_boat(&same, 25, low * step / 20.0, SMALLER_TOO);
            solved(b);
            double sum_V = 0.0;
            for (size_t i = 0; i < b->net.n; i++)
                if (b->element[i].kind == ELEMENT_POWER_LOAD)
                    sum_V += b->voltage[b->element[i].from] - b->voltage[b->element[i].to];
            assert_true(step == 0 || sum_V <= last_V);
            last_V = sum_V;
            free(b);
        }
        for (double share = high * 1.0001; share < high * 1e3; share *= 1.5) {
            same = seed;
            Draft *b = draft_boat(&same, 25, share, SMALLER_TOO);
            bool loaded = false;
            for (size_t i = 0; i < b->net.n; i++)
                loaded |= b->element[i].kind == ELEMENT_POWER_LOAD;
            if (loaded)
                assert_int_equal(network_solve(&b->net, &b->out), NETWORK_COLLAPSED);
            free(b);
        }
        seed = same;
    }
}

/* One ampere in at a, read at c, is one ampere in at c, read at a; and the same answer gives the supply's resistance. */
static void
reciprocity_and_thevenin(void **state)
{
    (void) state;
    uint64_t seed = 77;
    for (int round = 0; round < 40; round++) {
        Draft *b = draft_boat(&seed, 25, 0.0, SMALLER_TOO), *dead = draft_new(b->net.nodes);
        for (size_t i = 0; i < b->net.n; i++) {
            NetworkElement e = b->element[i];
            if (e.kind == ELEMENT_POWER_LOAD || e.kind == ELEMENT_CURRENT_LOAD)
                continue;
            e.voltage_V = 0.0;
            draft_add(dead, e);
        }
        size_t a = 2, c = b->net.nodes / 2, back = b->net.nodes - 1, n = dead->net.n;
        draft_add(dead, CURRENT(back, a, 1.0));
        solved(dead);
        double there = dead->voltage[c] - dead->voltage[back],
               own = dead->voltage[a] - dead->voltage[back];
        dead->element[n] = CURRENT(back, c, 1.0);
        solved(dead);
        near(dead->voltage[a] - dead->voltage[back], there, 1e-10);
        NetworkFault fault;
        assert_int_equal(network_fault(&b->net, a, back, &fault, &b->out), NETWORK_SOLVED);
        assert_true(fault.linear);
        near(fault.source_ohm, own, 1e-9);
        near(fault.power_limit_W, 0.25 * fault.open_V * fault.open_V / own, 1e-9);
        near(b->voltage[a], b->voltage[back], 1e-9);
        free(dead);
        free(b);
    }
}

/* One factor for all points gives what each point solved alone gives. */
static void
faults_everywhere(void **state)
{
    (void) state;
    uint64_t seed = 99;
    for (int round = 0; round < 20; round++) {
        Draft *b = draft_boat(&seed, 25, 1.0,
                              (round % 2 == 1 ? WITH_CURVES | WITH_CHARGERS : 0) | SMALLER_TOO);
        size_t at[DENSE], back[DENSE], n = 0;
        double all_A[DENSE];
        for (size_t k = 0; k < b->net.nodes; k++) {
            at[n] = k;
            back[n++] = round % 3 == 0 ? 0 : (k * 7 + 3) % b->net.nodes;
        }
        assert_int_equal(network_faults(&b->net, n, at, back, all_A), NETWORK_SOLVED);
        for (size_t k = 0; k < n; k++) {
            NetworkFault one;
            if (at[k] == back[k])
                assert_true(isnan(all_A[k]));
            else if (network_fault(&b->net, at[k], back[k], &one, &b->out) == NETWORK_SOLVED)
                near(all_A[k], one.fault_A, 1e-9);
            else
                assert_true(isnan(all_A[k]));
        }
        free(b);
    }
}

static void
faults_without_supply(void **state)
{
    (void) state;
    Draft *b = draft_new(3);
    NetworkFault fault;
    draft_add(b, BATTERY(1, 0, 12.0, 0.01));
    draft_add(b, POWER(1, 2, 10.0, 0.0));
    draft_add(b, FAN(2, 0, 0.1, 2.0));
    assert_int_equal(network_fault(&b->net, 2, 0, &fault, &b->out), NETWORK_FLOATS);
    assert_int_equal(b->out.where, 2);
    assert_true(isnan(fault.fault_A) && isnan(fault.open_V));
    assert_int_equal(network_fault(&b->net, 1, 0, &fault, &b->out), NETWORK_SOLVED);
    near(fault.fault_A, 1200.0, 1e-13);
    near(b->current[0], 1200.0, 1e-13);
    assert_true(b->current[1] == 0.0 && b->current[2] == 0.0);
    static const size_t at[] = {1, 2, 0, 1}, back[] = {0, 0, 1, 1};
    double all_A[4];
    assert_int_equal(network_faults(&b->net, 4, at, back, all_A), NETWORK_SOLVED);
    near(all_A[0], 1200.0, 1e-13);
    near(all_A[2], -1200.0, 1e-13);
    assert_true(isnan(all_A[1]) && isnan(all_A[3]));
    free(b);
    b = draft_new(2); /* nothing limits the current of a stiff source */
    draft_add(b, BATTERY(1, 0, 12.0, 0.0));
    assert_int_equal(network_faults(&b->net, 1, at, back, all_A), NETWORK_SOLVED);
    assert_true(isnan(all_A[0]));
    b->element[0].ohm = -1.0;
    assert_int_equal(network_faults(&b->net, 1, at, back, all_A), NETWORK_BAD);
    free(b);
}

static bool
is_load(ElementKind kind)
{
    return kind == ELEMENT_CURRENT_LOAD || kind == ELEMENT_POWER_LOAD || kind == ELEMENT_POWER_LAW;
}

/* A load that is off may be left out, or stand there and draw 0 A: in the first case what leads to it carries nothing. */
static void
ends_that_carry_nothing(void **state)
{
    (void) state;
    uint64_t seed = 77;
    size_t left_out = 0;
    for (int i = 0; i < 60; i++) {
        Draft *b = draft_boat(&seed, 20, 1.0, WITH_CURVES | WITH_CHARGERS | SMALLER_TOO);
        Draft *bare = draft_new(b->net.nodes);
        size_t place[DRAFT_MOST], n = b->net.n;
        for (size_t k = 0; k < n; k++) {
            bool off = is_load(b->element[k].kind) && draft_draw(&seed) < 0.7;
            place[k] = off ? SIZE_MAX : bare->net.n;
            if (off)
                b->element[k] = CURRENT(b->element[k].from, b->element[k].to, 0.0);
            else
                draft_add(bare, b->element[k]);
            left_out += off;
        }
        if (network_solve(&b->net, &b->out) == NETWORK_SOLVED) {
            solved(bare);
            for (size_t k = 0; k < b->net.nodes; k++)
                near(bare->voltage[k], b->voltage[k], 1e-9);
            for (size_t k = 0; k < n; k++)
                if (place[k] != SIZE_MAX)
                    assert_true(fabs(bare->current[place[k]] - b->current[k]) <= 1e-7);
        }
        free(b);
        free(bare);
    }
    assert_true(left_out > 300);
}

/* Dangling chains, one of them through a joint without resistance, and a loop at an end. */
static void
chains_hang_on_it(void **state)
{
    (void) state;
    Draft *b = draft_new(9);
    draft_add(b, BATTERY(1, 0, 12.0, 0.01));
    draft_add(b, RESISTOR(1, 2, 0.02));
    draft_add(b, RESISTOR(2, 0, 1.17));
    draft_add(b, RESISTOR(4, 3, 0.0));
    draft_add(b, RESISTOR(3, 2, 0.5));
    draft_add(b, RESISTOR(4, 5, 0.5));
    draft_add(b, RESISTOR(1, 6, 0.5)); /* to a ring */
    draft_add(b, RESISTOR(6, 7, 0.5));
    draft_add(b, RESISTOR(7, 8, 0.5));
    draft_add(b, RESISTOR(8, 6, 0.5));
    solved(b);
    near(b->voltage[2], 11.7, 1e-13);
    for (size_t k = 3; k <= 5; k++)
        assert_true(b->voltage[k] == b->voltage[2]);
    for (size_t k = 6; k <= 8; k++)
        near(b->voltage[k], 11.9, 1e-12);
    for (size_t k = 3; k <= 5; k++)
        assert_true(b->current[k] == 0.0);
    free(b);
}

/* Solved again from where it was: as if it were new, also when a load grows until nothing holds it, and shrinks again. */
static void
again_is_as_anew(void **state)
{
    (void) state;
    uint64_t seed = 4711;
    int collapsed = 0, solved_again = 0;
    for (int i = 0; i < 40; i++) {
        Draft *b = draft_boat(&seed, 20, 1.0, WITH_CURVES | WITH_CHARGERS | SMALLER_TOO);
        NetworkSolver *solver = network_solver_new(&b->net);
        double *anew = calloc(b->net.nodes, sizeof *anew);
        for (int round = 0; round < 12; round++) {
            for (size_t k = 0; k < b->net.n; k++) {
                NetworkElement *e = &b->element[k];
                if (e->kind == ELEMENT_RESISTOR && e->ohm > 1e-5)
                    e->ohm *= 0.9 + 0.2 * draft_draw(&seed);
                if (e->kind == ELEMENT_POWER_LOAD)
                    e->power_W *= round < 6 ? 2.5 : 0.4;
            }
            NetworkOutcome first = network_solve(&b->net, &b->out);
            memcpy(anew, b->voltage, b->net.nodes * sizeof *anew);
            assert_int_equal(network_solver_run(solver, &b->out), first);
            collapsed += first == NETWORK_COLLAPSED;
            solved_again += first == NETWORK_SOLVED;
            for (size_t k = 0; k < b->net.nodes && first == NETWORK_SOLVED; k++)
                near(b->voltage[k], anew[k], 1e-9);
        }
        free(anew);
        network_solver_free(solver);
        free(b);
    }
    assert_true(collapsed > 20 && solved_again > 200);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(power_load_is_the_quadratic),
        cmocka_unit_test(odd_power_loads),
        cmocka_unit_test(cut_outs_go_one_at_a_time),
        cmocka_unit_test(chargers_share_by_hand),
        cmocka_unit_test(diode_is_the_exponential),
        cmocka_unit_test(hostile_networks),
        cmocka_unit_test(floating_parts_may_be_held),
        cmocka_unit_test(agrees_with_a_dense_method),
        cmocka_unit_test(loads_grow_to_collapse),
        cmocka_unit_test(reciprocity_and_thevenin),
        cmocka_unit_test(faults_everywhere),
        cmocka_unit_test(faults_without_supply),
        cmocka_unit_test(ends_that_carry_nothing),
        cmocka_unit_test(chains_hang_on_it),
        cmocka_unit_test(again_is_as_anew),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
