/* Charging: step by step against the closed form, hydrogen from Faraday's law, loads by counting. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>

#include "hulls.h"

#include "physics/wiring/alternator.h"
#include "physics/wiring/charging.h"
#include "physics/wiring/cycle_life.h"
#include "physics/wiring/hydrogen.h"
#include "physics/wiring/load_balance.h"

/* --- charge ---------------------------------------------------------------------------------------------------------------- */

/* Charge per second at a state of charge. */
static double
rate(const Charge *c, double s)
{
    double tail = fmin(c->current_A, c->acceptance_A) * (1.0 - s) / (1.0 - c->bulk_to);
    return c->efficiency * (s < c->bulk_to ? c->current_A : tail) / c->capacity_As;
}

/* Time from one state of charge to the next one, in small steps of charge, by the middle of each. */
static double
stepped(const Charge *c, double from, double to)
{
    enum { PARTS = 20000 };
    double time = 0.0, part = (to - from) / PARTS;
    for (int i = 0; i < PARTS; i++)
        time += part / rate(c, from + (i + 0.5) * part);
    return time;
}

static void
charge_step_by_step(void **state)
{
    (void) state;
    test_random_restart(321);
    for (int n = 0; n < 60; n++) {
        double from = test_between(0.0, 0.95), to = test_between(from, 0.99);
        const Charge c = {.capacity_As = test_between(1e5, 4e6),
                          .current_A = test_between(5.0, 100.0),
                          .acceptance_A = test_between(5.0, 100.0),
                          .efficiency = test_between(0.7, 1.0),
                          .from = from,
                          .to = to,
                          .bulk_to = test_between(0.5, 0.97)};
        double turn = fmin(fmax(from, c.bulk_to), to);
        ChargeTime t;
        assert_int_equal(charge_time(&c, &t), VALID);
        assert_close(t.bulk_s, stepped(&c, from, turn), 1e-6 * t.total_s + 1e-9);
        assert_close(t.absorption_s, stepped(&c, turn, to), 1e-5 * t.total_s + 1e-9);
        assert_close(t.total_s, t.bulk_s + t.absorption_s, 1e-9);
        assert_true(t.bulk_s >= 0.0 && t.absorption_s >= 0.0);
    }
}

/* In pieces as in one go, and none for nothing. */
static void
charge_in_pieces(void **state)
{
    (void) state;
    Charge c = {792000.0, 40.0, 44.0, 0.9, 0.3, 0.98, 0.8};
    ChargeTime whole, part;
    charge_time(&c, &whole);
    double sum = 0.0;
    const double stops[] = {0.3, 0.5, 0.8, 0.9, 0.98};
    for (int i = 0; i < 4; i++) {
        c.from = stops[i];
        c.to = stops[i + 1];
        assert_int_equal(charge_time(&c, &part), VALID);
        sum += part.total_s;
    }
    assert_close(sum, whole.total_s, 1e-6);
    c.from = c.to = 0.6;
    assert_int_equal(charge_time(&c, &part), VALID);
    assert_true(part.total_s == 0.0);
    c.to = 1.0;
    assert_int_equal(charge_time(&c, &part), REFUSED);
    c.to = 0.5;
    assert_int_equal(charge_time(&c, &part), REFUSED);
    assert_true(isnan(part.total_s) && isnan(part.tau_s));
    c.to = 0.9;
    c.efficiency = 0.0;
    assert_int_equal(charge_time(&c, &part), REFUSED);
    c.efficiency = NAN;
    assert_int_equal(charge_time(&c, &part), REFUSED);
}

/* --- cycles ---------------------------------------------------------------------------------------------------------------- */

static void
cycles_go_through_both_points(void **state)
{
    (void) state;
    double b, n, last = INFINITY;
    assert_int_equal(cycle_life(0.8, 225.0, 0.5, 750.0, 0.8, &b, &n), VALID);
    assert_close(n, 225.0, 1e-9);
    assert_int_equal(cycle_life(0.8, 225.0, 0.5, 750.0, 0.5, &b, &n), VALID);
    assert_close(n, 750.0, 1e-9);
    for (int i = 1; i <= 20; i++) {
        double depth = i / 20.0;
        Validity validity = cycle_life(0.5, 750.0, 0.8, 225.0, depth, &b, &n);
        assert_int_equal(validity, i >= 10 && i <= 16 ? VALID : EXTRAPOLATED);
        assert_true(n < last);
        last = n;
    }
    assert_int_equal(cycle_life(0.5, 225.0, 0.8, 750.0, 0.6, &b, &n), REFUSED);
    assert_int_equal(cycle_life(0.5, 225.0, 0.5, 750.0, 0.6, &b, &n), REFUSED);
    assert_int_equal(cycle_life(0.5, 750.0, 0.8, 225.0, 0.0, &b, &n), REFUSED);
    assert_int_equal(cycle_life(0.5, 750.0, 0.8, NAN, 0.6, &b, &n), REFUSED);
    assert_true(isnan(b) && isnan(n));
}

/* --- alternator ------------------------------------------------------------------------------------------------------------ */

static void
alternator_runs_along_its_curve(void **state)
{
    (void) state;
    const double speed[] = {60.0, 100.0, 200.0, 500.0}, current[] = {0.0, 20.0, 40.0, 50.0};
    AlternatorPoint p, geared;
    for (int i = 0; i < 4; i++) {
        assert_int_equal(alternator_at(4, speed, current, speed[i], 1.0, 14.0, 0.55, &p), VALID);
        assert_close(p.current_A, current[i], 1e-12);
        assert_close(p.belt_W * 0.55, p.output_W, 1e-9);
        assert_close(p.output_W, 14.0 * current[i], 1e-9);
        assert_int_equal(alternator_at(4, speed, current, speed[i] / 2.5, 2.5, 14.0, 0.55, &geared),
                         VALID);
        assert_close(geared.current_A, current[i], 1e-9);
    }
    assert_int_equal(alternator_at(4, speed, current, 150.0, 1.0, 14.0, 0.55, &p), VALID);
    assert_close(p.current_A, 30.0, 1e-12);
    assert_int_equal(alternator_at(4, speed, current, 59.0, 1.0, 14.0, 0.55, &p), REFUSED);
    assert_int_equal(alternator_at(4, speed, current, 501.0, 1.0, 14.0, 0.55, &p), REFUSED);
    assert_int_equal(alternator_at(4, current, speed, NAN, 1.0, 14.0, 0.55, &p), REFUSED);
    assert_int_equal(alternator_at(1, speed, current, 60.0, 1.0, 14.0, 0.55, &p), REFUSED);
    assert_int_equal(alternator_at(4, speed, current, 100.0, 1.0, 14.0, 1.1, &p), REFUSED);
    const double same[] = {60.0, 100.0, 100.0, 500.0};
    assert_int_equal(alternator_at(4, same, current, 80.0, 1.0, 14.0, 0.55, &p), REFUSED);
    assert_true(isnan(p.current_A) && isnan(p.belt_W));
}

/* --- hydrogen --------------------------------------------------------------------------------------------------------------- */

/* Two electrons a molecule: what the gas current makes stays below a fifth of 4 % of the air (EN 62485-2: five times),
 * as near as the rule's rounded 0.05 stands to 24 x 0.42e-3 x 5 = 0.0504. */
static void
air_thins_the_hydrogen(void **state)
{
    (void) state;
    const double faraday = 96485.33, gas = 8.314462618, zero_C = 273.15, atmosphere = 101325.0;
    test_random_restart(322);
    for (int n = 0; n < 100; n++) {
        double cells = floor(test_between(1.0, 25.0)), current = test_between(0.1, 50.0);
        Hydrogen air;
        assert_int_equal(hydrogen_ventilation(current, cells, NAN, &air), VALID);
        double made = cells * current / (2.0 * faraday) * gas * zero_C / atmosphere;
        assert_close(made / air.airflow_m3_per_s, 0.04 / 5.0, 0.06 * 0.04 / 5.0);
        /* Through each opening at 0.1 m/s. */
        assert_close(air.airflow_m3_per_s / air.opening_m2, 0.1, 0.001);
        assert_true(isnan(air.by_charge_m3_per_s));
        /* The ball around the vent holds as much as the gas of so many cells: twice the radius, eight times the current. */
        Hydrogen more;
        hydrogen_ventilation(8.0 * current, cells, 10.0, &more);
        assert_close(more.spark_m, 2.0 * air.spark_m, 1e-12);
        assert_close(more.by_charge_m3_per_s, 6e-5 * cells, 1e-15);
    }
}

static void
hydrogen_refuses(void **state)
{
    (void) state;
    Hydrogen air;
    assert_int_equal(hydrogen_ventilation(1.0, 6.5, NAN, &air), REFUSED);
    assert_int_equal(hydrogen_ventilation(1.0, 0.0, NAN, &air), REFUSED);
    assert_int_equal(hydrogen_ventilation(0.0, 6.0, NAN, &air), REFUSED);
    assert_int_equal(hydrogen_ventilation(NAN, 6.0, NAN, &air), REFUSED);
    assert_int_equal(hydrogen_ventilation(1.0, 6.0, -1.0, &air), REFUSED);
    assert_true(isnan(air.airflow_m3_per_s) && isnan(air.spark_m));
    assert_true(isnan(hydrogen_current_A(GASSING_VRLA, STAGE_FLOAT, 0.0)));
    for (int kind = GASSING_VENTED_LEAD; kind <= GASSING_NICD; kind++)
        assert_true(hydrogen_current_A((GassingKind) kind, STAGE_BOOST, 1.0) >
                    hydrogen_current_A((GassingKind) kind, STAGE_FLOAT, 1.0));
}

/* --- loads ------------------------------------------------------------------------------------------------------------------ */

static void
loads_add_up(void **state)
{
    (void) state;
    test_random_restart(323);
    const DaySupply day = {24.0, 0.0, 86400.0, 0.8, 2.0};
    for (int n = 0; n < 50; n++) {
        DayLoad load[6];
        double energy = 0.0, most = 0.0, start = 0.0;
        for (int i = 0; i < 6; i++) {
            load[i] = (DayLoad){test_between(0.0, 500.0),  test_between(0.0, 86400.0),
                                test_between(0.0, 1.0),    test_between(0.5, 1.0),
                                test_between(0.0, 2000.0), test_random() < 0.5};
            LoadBalance one;
            assert_int_equal(load_balance(1, &load[i], &day, &one), VALID);
            energy += one.energy_J;
            most += load[i].power_W;
            start = fmax(start, load[i].start_W);
        }
        LoadBalance all;
        assert_int_equal(load_balance(6, load, &day, &all), VALID);
        assert_close(all.energy_J, energy, 1e-6);
        assert_close(all.average_W * 86400.0, energy, 1e-6);
        assert_close(all.charge_As * 24.0, energy, 1e-6);
        assert_close(all.capacity_As * 0.8 / 2.0, all.charge_As, 1e-6);
        assert_true(all.peak_W >= start && all.peak_W <= most + start);
    }
}

static void
loads_refuse(void **state)
{
    (void) state;
    const DayLoad good = {60.0, 3600.0, 0.5, 0.9, 0.0, false};
    const DaySupply day = {12.0, 0.5, 86400.0, 0.5, 1.0};
    LoadBalance out;
    assert_int_equal(load_balance(1, &good, &day, &out), VALID);
    const DayLoad bad[] = {
        {-1.0, 3600.0, 0.5, 0.9, 0.0, false}, {60.0, 86401.0, 0.5, 0.9, 0.0, false},
        {60.0, 3600.0, 1.1, 0.9, 0.0, false}, {60.0, 3600.0, 0.5, 0.0, 0.0, false},
        {60.0, 3600.0, 0.5, 0.9, NAN, false}, {NAN, 3600.0, 0.5, 0.9, 0.0, false}};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
        assert_int_equal(load_balance(1, &bad[i], &day, &out), REFUSED);
    assert_true(isnan(out.energy_J) && isnan(out.peak_W));
    const DaySupply nights[] = {{0.0, 0.5, 86400.0, 0.5, 1.0},
                                {12.0, -0.5, 86400.0, 0.5, 1.0},
                                {12.0, 0.5, 86400.0, 1.5, 1.0},
                                {12.0, 0.5, 86400.0, 0.5, NAN}};
    for (size_t i = 0; i < sizeof nights / sizeof *nights; i++)
        assert_int_equal(load_balance(1, &good, &nights[i], &out), REFUSED);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(charge_step_by_step),
        cmocka_unit_test(charge_in_pieces),
        cmocka_unit_test(cycles_go_through_both_points),
        cmocka_unit_test(alternator_runs_along_its_curve),
        cmocka_unit_test(air_thins_the_hydrogen),
        cmocka_unit_test(hydrogen_refuses),
        cmocka_unit_test(loads_add_up),
        cmocka_unit_test(loads_refuse),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
