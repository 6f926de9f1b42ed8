/* Alternating current: phasors, every position of every switch, energy of sharing, times of the standard. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <complex.h>
#include <math.h>

#include "hulls.h"

#include "physics/wiring/ac_load.h"
#include "physics/wiring/ac_state.h"
#include "physics/wiring/disconnection.h"
#include "physics/wiring/fault_loop.h"
#include "physics/wiring/shore_share.h"
#include "physics/wiring/weak_source.h"

/* --- loads ------------------------------------------------------------------------------------------------------------------ */

static AcLoad
any_load(void)
{
    double factor = test_between(0.5, 1.0);
    return (AcLoad){NAN,
                    test_between(10.0, 5000.0),
                    factor,
                    test_between(0.5, 1.0),
                    230.0,
                    test_between(0.0, 40.0),
                    test_between(1.5e-6, 10e-6),
                    test_between(1.0, 8.0),
                    test_between(factor, 1.0),
                    50.0};
}

/* The exact way: source voltage = load voltage + I Z, as phasors. The rule leaves out what is square in the drop. */
static void
drop_agrees_with_phasors(void **state)
{
    (void) state;
    test_random_restart(331);
    for (int n = 0; n < 200; n++) {
        AcLoad l = any_load();
        AcPoint p;
        assert_int_equal(ac_load(&l, &p), VALID);
        double complex current = p.current_A * cexp(-I * acos(l.power_factor));
        double complex line = 2.0 * l.run_m * (0.0225e-6 / l.area_m2 + I * 0.08e-3);
        double exact = cabs(l.voltage_V + current * line) - l.voltage_V;
        double lost = cabs(current * line);
        assert_close(p.drop_V, exact, 0.5 * lost * lost / l.voltage_V + 1e-9);
        assert_close(p.drop_frac * l.voltage_V, p.drop_V, 1e-9);
    }
}

static void
powers_make_a_triangle(void **state)
{
    (void) state;
    test_random_restart(332);
    for (int n = 0; n < 200; n++) {
        AcLoad l = any_load();
        AcPoint p;
        assert_int_equal(ac_load(&l, &p), VALID);
        double real = l.shaft_W / l.efficiency;
        assert_close(hypot(real, p.reactive_VA), p.apparent_VA, 1e-9 * p.apparent_VA);
        /* With the capacitor across it, the load has the factor that was asked for. */
        double left = p.reactive_VA - 2.0 * M_PI * 50.0 * p.capacitance_F * 230.0 * 230.0;
        assert_close(real / hypot(real, left), l.target_factor, 1e-9);
        assert_close(p.start_A, l.start_factor * p.current_A, 1e-9 * p.start_A);
        /* By its current it is the same load. */
        AcLoad same = l;
        AcPoint q;
        same.shaft_W = NAN;
        same.current_A = p.current_A;
        assert_int_equal(ac_load(&same, &q), VALID);
        assert_close(q.capacitance_F, p.capacitance_F, 1e-12);
        assert_close(q.drop_V, p.drop_V, 1e-9);
    }
}

static void
loads_refuse(void **state)
{
    (void) state;
    const AcLoad good = {10.0, NAN, 0.9, 1.0, 230.0, NAN, NAN, NAN, NAN, 50.0};
    AcPoint p;
    assert_int_equal(ac_load(&good, &p), VALID);
    assert_true(isnan(p.drop_V) && isnan(p.start_A) && isnan(p.capacitance_F));
    AcLoad l = good;
    l.shaft_W = 100.0; /* both */
    assert_int_equal(ac_load(&l, &p), REFUSED);
    l = good;
    l.current_A = NAN; /* neither */
    assert_int_equal(ac_load(&l, &p), REFUSED);
    l = good;
    l.power_factor = 1.01;
    assert_int_equal(ac_load(&l, &p), REFUSED);
    l = good;
    l.target_factor = 0.8; /* worse than it is */
    assert_int_equal(ac_load(&l, &p), REFUSED);
    l = good;
    l.run_m = 10000.0;
    l.area_m2 = 1.5e-6;
    assert_int_equal(ac_load(&l, &p), REFUSED);
    l.run_m = -1.0;
    assert_int_equal(ac_load(&l, &p), REFUSED);
    assert_true(isnan(p.current_A));
}

/* --- states ----------------------------------------------------------------------------------------------------------------- */

/* One bond in whatever is live, never two sources, the pass output only with a supply. */
static void
every_position_of_every_switch(void **state)
{
    (void) state;
    for (int i = 0; i < 96; i++) {
        const AcSwitches s = {.shore_live = i & 1,
                              .generator_runs = i & 2,
                              .inverter_on = i & 4,
                              .battery_charged = i & 8,
                              .isolation_transformer = i & 16,
                              .transfer = (AcTransfer) (i / 32)};
        AcState a = ac_state(&s);
        bool supply = (s.transfer == TRANSFER_SHORE && s.shore_live) ||
                      (s.transfer == TRANSFER_GENERATOR && s.generator_runs);
        bool inverts = !supply && s.inverter_on && s.battery_charged;
        assert_true(a.in_live == supply && a.pass_live == supply && a.charger_on == supply);
        assert_true(a.kept_live == (supply || inverts));
        assert_true((a.source == AC_FROM_INVERTER) == inverts);
        assert_true((a.source == AC_FROM_NONE) == !a.kept_live);
        bool ashore = a.source == AC_FROM_SHORE && !s.isolation_transformer;
        assert_int_equal(a.bonds_aboard + (ashore ? 1 : 0), a.kept_live ? 1 : 0);
        assert_true((a.bond_at == BOND_AT_SHORE) == ashore);
        assert_true((a.bond_at == BOND_NONE) == !a.kept_live);
    }
}

/* --- sharing ---------------------------------------------------------------------------------------------------------------- */

static void
sharing_keeps_the_energy(void **state)
{
    (void) state;
    test_random_restart(333);
    for (int n = 0; n < 200; n++) {
        const SharedSupply s = {test_between(0.0, 32.0),
                                230.0,
                                test_between(0.0, 6000.0),
                                test_between(11.0, 56.0),
                                test_between(0.8, 1.0),
                                test_between(0.8, 1.0),
                                n % 3 == 0 ? NAN : test_between(0.0, 2000.0)};
        ShoreShare out;
        assert_int_equal(shore_share(&s, &out), VALID);
        assert_close(out.shore_W + out.help_W, s.load_W + out.charger_W, 1e-9);
        assert_true(out.shore_W <= s.shore_A * s.shore_V + 1e-9);
        assert_true(out.help_W == 0.0 || out.charger_W == 0.0); /* never both ways at once */
        assert_true(isnan(s.charger_W) || out.charger_W <= s.charger_W);
        /* The battery gives more than arrives, and gets less than is sent. */
        assert_close(out.help_A * s.battery_V * s.inverter_efficiency, out.help_W, 1e-9);
        assert_close(out.charge_A * s.battery_V, out.charger_W * s.charger_efficiency, 1e-9);
    }
    ShoreShare out;
    const SharedSupply bad[] = {{-1.0, 230.0, 0.0, 12.0, 0.9, 0.9, NAN},
                                {16.0, 0.0, 0.0, 12.0, 0.9, 0.9, NAN},
                                {16.0, 230.0, NAN, 12.0, 0.9, 0.9, NAN},
                                {16.0, 230.0, 0.0, 12.0, 1.1, 0.9, NAN},
                                {16.0, 230.0, 0.0, 12.0, 0.9, 0.9, -1.0}};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
        assert_int_equal(shore_share(&bad[i], &out), REFUSED);
    assert_true(isnan(out.shore_W) && isnan(out.charge_A));
}

/* --- faults ----------------------------------------------------------------------------------------------------------------- */

static void
loops_only_grow(void **state)
{
    (void) state;
    LoopCable chain[5];
    double last = INFINITY;
    test_random_restart(334);
    for (size_t n = 0; n <= 5; n++) {
        double ohm, fault, colder, more;
        assert_int_equal(fault_loop(0.3, n, chain, 1.2, 230.0, 0.95, &ohm, &fault), VALID);
        assert_close(ohm * fault, 0.95 * 230.0, 1e-9);
        assert_true(fault < last);
        last = fault;
        assert_int_equal(fault_loop(0.3, n, chain, 1.0, 230.0, 0.95, &colder, &more), VALID);
        assert_close((ohm - 0.3) / 1.2, colder - 0.3, 1e-12); /* the supply is not ours to heat */
        if (n < 5)
            chain[n] = (LoopCable){test_between(1.0, 30.0), test_between(1e-3, 2e-2),
                                   test_between(1e-3, 2e-2)};
    }
    double ohm, fault;
    chain[0].run_m = -1.0;
    assert_int_equal(fault_loop(0.3, 5, chain, 1.2, 230.0, 1.0, &ohm, &fault), REFUSED);
    assert_int_equal(fault_loop(0.0, 0, chain, 1.2, 230.0, 1.0, &ohm, &fault), REFUSED);
    assert_int_equal(fault_loop(0.3, 0, chain, 0.9, 230.0, 1.0, &ohm, &fault), REFUSED);
    assert_int_equal(fault_loop(NAN, 0, chain, 1.2, 230.0, 1.0, &ohm, &fault), REFUSED);
    assert_true(isnan(ohm) && isnan(fault));
}

/* IEC 60364-4-41 Table 41.1, and its edges. */
static void
times_are_those_of_the_standard(void **state)
{
    (void) state;
    static const struct {
        double volt, tn, tt;
    } rows[] = {{50.1, 0.8, 0.3},   {120.0, 0.8, 0.3},  {120.1, 0.4, 0.2},  {230.0, 0.4, 0.2},
                {230.1, 0.2, 0.07}, {400.0, 0.2, 0.07}, {400.1, 0.1, 0.04}, {1000.0, 0.1, 0.04}};
    double t;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        disconnection_time(EARTHING_TN, CURRENT_ALTERNATING, CIRCUIT_FINAL, rows[i].volt, &t);
        assert_close(t, rows[i].tn, 1e-12);
        disconnection_time(EARTHING_TT, CURRENT_ALTERNATING, CIRCUIT_FINAL, rows[i].volt, &t);
        assert_close(t, rows[i].tt, 1e-12);
        disconnection_time(EARTHING_TN, CURRENT_ALTERNATING, CIRCUIT_DISTRIBUTION, rows[i].volt,
                           &t);
        assert_close(t, 5.0, 1e-12);
    }
    assert_int_equal(disconnection_time(EARTHING_TT, CURRENT_DIRECT, CIRCUIT_FINAL, 230.0, &t),
                     VALID);
    assert_close(t, 0.4, 1e-12);
    const double none[] = {120.0, 230.1, NAN, -230.0, INFINITY};
    for (int i = 0; i < 5; i++)
        assert_int_equal(
            disconnection_time(EARTHING_TN, CURRENT_DIRECT, CIRCUIT_FINAL, none[i], &t), REFUSED);
    assert_int_equal(disconnection_time(EARTHING_TN, CURRENT_ALTERNATING, CIRCUIT_FINAL, 50.0, &t),
                     REFUSED);
    assert_true(isnan(t));
    assert_close(electrode_limit_ohm(0.03, 50.0) * 0.03, 50.0, 1e-9);
    assert_true(isnan(electrode_limit_ohm(0.0, 50.0)) && isnan(electrode_limit_ohm(0.03, NAN)));
    RcdTimes quick = rcd_times(RCD_GENERAL), slow = rcd_times(RCD_SELECTIVE);
    assert_true(quick.at_1_s > quick.at_2_s && quick.at_2_s > quick.at_5_s);
    assert_true(isnan(slow.at_1_s) && slow.at_2_s > quick.at_2_s && slow.at_5_s > quick.at_5_s);
}

/* The largest breaker trips at that very current, by its own multiple; the limit goes before the reactance. */
static void
breakers_trip_on_what_there_is(void **state)
{
    (void) state;
    WeakMachine m = {5000.0, 230.0, 0.15, 0.20, 2.5, NAN};
    WeakSource s;
    assert_int_equal(weak_source(&m, &s), VALID);
    assert_true(s.subtransient_A > s.transient_A && s.transient_A > s.permanent_A);
    assert_true(s.permanent_A < s.rated_A); /* less than its own rating: nothing trips in the end */
    assert_close(5.0 * s.breaker_b_A, s.transient_A, 1e-9);
    assert_close(20.0 * s.breaker_d_A, s.transient_A, 1e-9);
    m.limit = 2.0;
    assert_int_equal(weak_source(&m, &s), VALID);
    assert_close(10.0 * s.breaker_c_A, s.limited_A, 1e-9);
    m = (WeakMachine){5000.0, 230.0, NAN, NAN, NAN, NAN};
    assert_int_equal(weak_source(&m, &s), VALID);
    assert_true(isnan(s.breaker_b_A) && isnan(s.transient_A) && s.rated_A > 21.7);
    m.transient = 0.0;
    assert_int_equal(weak_source(&m, &s), REFUSED);
    m.transient = NAN;
    m.voltage_V = -230.0;
    assert_int_equal(weak_source(&m, &s), REFUSED);
    assert_true(isnan(s.rated_A));
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(drop_agrees_with_phasors),
        cmocka_unit_test(powers_make_a_triangle),
        cmocka_unit_test(loads_refuse),
        cmocka_unit_test(every_position_of_every_switch),
        cmocka_unit_test(sharing_keeps_the_energy),
        cmocka_unit_test(loops_only_grow),
        cmocka_unit_test(times_are_those_of_the_standard),
        cmocka_unit_test(breakers_trip_on_what_there_is),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
