/* Batteries that are drawn from: laws against their own limits, curves through their own points, tables against the sheet. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>
#include <string.h>

#include "hulls.h"

#include "base/csv.h"
#include "physics/wiring/cold_battery.h"
#include "physics/wiring/discharge_curve.h"
#include "physics/wiring/peukert.h"
#include "physics/wiring/rest_voltage.h"
#include "physics/wiring/two_point.h"

/* --- Peukert --------------------------------------------------------------------------------------------------------- */

/* At the rated current every exponent gives the rated time; below it nothing is won. */
static void
rated_time_at_the_rated_current(void **state)
{
    (void) state;
    test_random_restart(301);
    for (int i = 0; i < 200; i++) {
        const PeukertBattery b = {test_between(1e5, 4e6), test_between(1.8e4, 3.6e5),
                                  test_between(1.0, 1.5)};
        double rated = b.capacity_As / b.rate_s, time, last = INFINITY;
        assert_int_equal(peukert_time(&b, rated, &time), VALID);
        assert_close(time, b.rate_s, 1e-9 * b.rate_s);
        for (double I = 0.1 * rated; I < 20.0 * rated; I *= 1.3) {
            assert_int_equal(peukert_time(&b, I, &time), VALID);
            assert_true(time < last);
            assert_true(I * time <= b.capacity_As * (1.0 + 1e-12));
            last = time;
        }
    }
}

/* A load for just as long as the battery lasts empties it, whole or in pieces. */
static void
depth_agrees_with_time(void **state)
{
    (void) state;
    const PeukertBattery b = {220.0 * 3600.0, 72000.0, 1.24};
    double current[4], duration[4], depth, plain;
    test_random_restart(302);
    for (int k = 0; k < 100; k++) {
        for (int i = 0; i < 4; i++) {
            current[i] = test_between(12.0, 200.0);
            peukert_time(&b, current[i], &duration[i]);
            duration[i] *= 0.25;
        }
        assert_int_equal(peukert_depth(&b, 4, current, duration, &depth, &plain), VALID);
        assert_close(depth, 1.0, 1e-12);
        assert_close(plain, 1.0, 1e-12); /* all above the rated 11 A */
    }
    const double gentle[] = {2.0, 0.0}, long_time[] = {36000.0, 36000.0};
    assert_int_equal(peukert_depth(&b, 2, gentle, long_time, &depth, &plain), VALID);
    assert_close(depth, 20.0 / 220.0, 1e-12);
    assert_true(plain < depth);
}

static void
exponent_comes_back(void **state)
{
    (void) state;
    test_random_restart(303);
    for (int i = 0; i < 100; i++) {
        const PeukertBattery b = {test_between(1e5, 4e6), 72000.0, test_between(1.001, 1.499)};
        double rated = b.capacity_As / b.rate_s, I1 = rated * test_between(1.0, 2.0),
               I2 = rated * test_between(3.0, 20.0), t1, t2, k;
        peukert_time(&b, I1, &t1);
        peukert_time(&b, I2, &t2);
        assert_int_equal(peukert_exponent(I1, t1, I2, t2, &k), VALID);
        assert_close(k, b.exponent, 1e-9);
        assert_int_equal(peukert_exponent(I2, t2, I1, t1, &k), VALID);
        assert_close(k, b.exponent, 1e-9);
    }
}

static void
peukert_refuses(void **state)
{
    (void) state;
    const PeukertBattery good = {3.6e5, 72000.0, 1.2};
    const double wild[] = {NAN, -1.0, INFINITY};
    double x, y;
    for (int i = 0; i < 3; i++) {
        PeukertBattery b = good;
        b.capacity_As = wild[i];
        assert_int_equal(peukert_time(&b, 5.0, &x), REFUSED);
        assert_true(isnan(x));
        b = good;
        b.exponent = wild[i];
        assert_int_equal(peukert_time(&b, 5.0, &x), REFUSED);
        assert_int_equal(peukert_time(&good, wild[i], &x), REFUSED);
        const double current[] = {5.0, wild[i]}, duration[] = {1.0, 1.0};
        assert_int_equal(peukert_depth(&good, 2, current, duration, &x, &y), REFUSED);
        assert_int_equal(peukert_depth(&good, 2, duration, current, &x, &y), REFUSED);
        assert_true(isnan(x) && isnan(y));
        assert_int_equal(peukert_exponent(5.0, wild[i], 10.0, 1.0, &x), REFUSED);
    }
    assert_int_equal(peukert_time(&good, 0.0, &x), VALID);
    assert_true(isinf(x));
    assert_int_equal(peukert_exponent(5.0, 10.0, 5.0, 9.0, &x), REFUSED);
    assert_int_equal(peukert_exponent(5.0, 10.0, 10.0, 12.0, &x), REFUSED);
    /* 100 Ah at 20 h, 110 Ah at 5 h: one of the ratings is wrong. */
    assert_int_equal(peukert_exponent(5.0, 20.0, 22.0, 5.0, &x), EXTRAPOLATED);
}

/* --- two loads --------------------------------------------------------------------------------------------------------- */

static void
two_loads_give_the_battery_back(void **state)
{
    (void) state;
    test_random_restart(304);
    for (int i = 0; i < 200; i++) {
        double E = test_between(10.0, 60.0), R = test_between(5e-4, 0.1);
        double I1 = test_between(-20.0, 5.0), I2 = test_between(10.0, 100.0);
        TwoPoint b, same;
        assert_int_equal(two_point(E - R * I1, I1, E - R * I2, I2, &b), VALID);
        assert_close(b.emf_V, E, 1e-9 * E);
        assert_close(b.resistance_ohm, R, 1e-9);
        /* Shorted, nothing of the voltage is left. */
        assert_close(E - R * b.short_circuit_A, 0.0, 1e-6);
        assert_int_equal(two_point(E - R * I2, I2, E - R * I1, I1, &same), VALID);
        assert_close(same.emf_V, E, 1e-9 * E);
    }
    TwoPoint b;
    assert_int_equal(two_point(12.0, 10.0, 12.0, 20.0, &b), REFUSED);
    assert_int_equal(two_point(12.0, 10.0, 12.5, 20.0, &b), REFUSED);
    assert_int_equal(two_point(12.0, 10.0, 11.5, 10.0, &b), REFUSED);
    assert_int_equal(two_point(NAN, 10.0, 11.5, 20.0, &b), REFUSED);
    assert_true(isnan(b.emf_V) && isnan(b.resistance_ohm) && isnan(b.short_circuit_A));
}

/* --- rest voltage ------------------------------------------------------------------------------------------------------- */

static double
cell(const Csv *csv, size_t row, const char *column)
{
    const char *text = csv_cell(csv, row, (size_t) csv_column(csv, column));
    return *text != '\0' ? g_ascii_strtod(text, NULL) : NAN;
}

/* Every row of docs/methods/wires-ocv-soc.csv, in 12 V and in twice and four times that. */
static void
rest_voltages_are_those_of_the_sheet(void **state)
{
    (void) state;
    g_autoptr(GError) error = NULL;
    g_autoptr(Csv) csv = csv_load(METHODS "/wires-ocv-soc.csv", &error);
    assert_null(error);
    assert_int_equal(csv_rows(csv), 13);
    for (size_t i = 0; i < csv_rows(csv); i++) {
        bool lfp = strncmp(csv_cell(csv, i, 0), "LFP", 3) == 0;
        RestChemistry chemistry = lfp ? CHEMISTRY_LFP : CHEMISTRY_FLOODED_LEAD;
        double soc = cell(csv, i, "soc"), volt = cell(csv, i, "ocv_V");
        for (double times = 1.0; times < 5.0; times *= 2.0) {
            RestState at, read;
            assert_int_equal(rest_voltage_at(chemistry, 12.0 * times, soc, &at), VALID);
            assert_close(at.rest_V, volt * times, 1e-12 * times);
            bool plateau = lfp && soc > 0.2 && soc < 0.9;
            assert_int_equal(rest_voltage_read(chemistry, 12.0 * times, volt * times, &read),
                             plateau ? REFUSED : VALID);
            if (!plateau)
                assert_close(read.state_of_charge, soc, 1e-12);
            assert_true(lfp == isnan(at.specific_gravity) && lfp == isnan(at.freezing_K));
            if (!lfp) {
                assert_close(at.specific_gravity, cell(csv, i, "specific_gravity"), 1e-12);
                assert_close(at.freezing_K, cell(csv, i, "freezing_point_C") + 273.15, 1e-9);
            }
        }
    }
}

static void
charge_and_voltage_rise_together(void **state)
{
    (void) state;
    double last = 0.0, colder = 400.0;
    for (double soc = 0.0; soc <= 1.0; soc += 0.01) {
        RestState at, back;
        assert_int_equal(rest_voltage_at(CHEMISTRY_FLOODED_LEAD, 12.0, soc, &at), VALID);
        assert_true(at.rest_V > last && at.freezing_K < colder);
        last = at.rest_V;
        colder = at.freezing_K;
        assert_int_equal(rest_voltage_read(CHEMISTRY_FLOODED_LEAD, 12.0, at.rest_V, &back), VALID);
        assert_close(back.state_of_charge, soc, 1e-12);
    }
}

static void
no_charge_is_made_up(void **state)
{
    (void) state;
    RestState s;
    /* Just charged, or a load still on: not at rest. */
    assert_int_equal(rest_voltage_read(CHEMISTRY_FLOODED_LEAD, 12.0, 12.66, &s), REFUSED);
    assert_int_equal(rest_voltage_read(CHEMISTRY_FLOODED_LEAD, 12.0, 11.8, &s), REFUSED);
    for (int centivolt = 1281; centivolt < 1340; centivolt++)
        assert_int_equal(rest_voltage_read(CHEMISTRY_LFP, 12.0, centivolt / 100.0, &s), REFUSED);
    /* The label of four lithium cells says 12.8 V; they are counted as 12 V. */
    assert_int_equal(rest_voltage_at(CHEMISTRY_LFP, 12.8, 0.4, &s), REFUSED);
    assert_true(isnan(s.rest_V) && isnan(s.state_of_charge));
    assert_int_equal(rest_voltage_at(CHEMISTRY_FLOODED_LEAD, 12.0, 1.01, &s), REFUSED);
    assert_int_equal(rest_voltage_at(CHEMISTRY_FLOODED_LEAD, 12.0, NAN, &s), REFUSED);
    assert_int_equal(rest_voltage_at(CHEMISTRY_FLOODED_LEAD, 0.0, 0.5, &s), REFUSED);
    assert_int_equal(rest_voltage_at(CHEMISTRY_FLOODED_LEAD, NAN, 0.5, &s), REFUSED);
    assert_int_equal(rest_voltage_read(CHEMISTRY_FLOODED_LEAD, -12.0, -12.3, &s), REFUSED);
    assert_int_equal(rest_voltage_read(CHEMISTRY_FLOODED_LEAD, 12.0, NAN, &s), REFUSED);
}

/* --- discharge curve ---------------------------------------------------------------------------------------------------- */

static DischargeCurve
any_curve(CurveForm form)
{
    double Q = test_between(1e4, 1e6), E0 = test_between(3.0, 13.0);
    double K = form == FORM_2007 ? test_between(0.001, 0.01) * E0
                                 : test_between(0.001, 0.01) * E0 * 3600.0 / Q;
    return (DischargeCurve){form,
                            Q,
                            test_between(1e-4, 1e-2),
                            E0,
                            K,
                            test_between(0.02, 0.1) * E0,
                            3.0 / (test_between(0.1, 0.3) * Q)};
}

/* Points taken off a curve give that curve back (2009); the 2007 extraction meets its first and its nominal point. */
static void
curves_go_through_their_points(void **state)
{
    (void) state;
    test_random_restart(305);
    for (int k = 0; k < 200; k++) {
        CurveForm form = k % 2 == 0 ? FORM_2007 : FORM_2009;
        DischargeCurve c = any_curve(form), found = c;
        DischargePoints p = {.test_A = test_between(0.05, 0.5) * c.capacity_As / 3600.0,
                             .exponential_As = 3.0 / c.b_per_As,
                             .nominal_As = test_between(0.6, 0.9) * c.capacity_As};
        p.full_V = c.e0_V - c.resistance_ohm * p.test_A + c.a_V -
                   (form == FORM_2007 ? c.polarisation : 0.0);
        assert_int_equal(discharge_curve_voltage(&c, p.test_A, p.exponential_As, &p.exponential_V),
                         VALID);
        assert_int_equal(discharge_curve_voltage(&c, p.test_A, p.nominal_As, &p.nominal_V), VALID);
        assert_int_equal(discharge_curve_fit(&p, &found), VALID);
        double volt;
        assert_int_equal(discharge_curve_voltage(&found, p.test_A, p.nominal_As, &volt), VALID);
        assert_close(volt, p.nominal_V, 1e-9);
        if (form == FORM_2009) {
            assert_close(found.e0_V, c.e0_V, 1e-7);
            assert_close(found.a_V, c.a_V, 1e-7);
            assert_close(found.polarisation / c.polarisation, 1.0, 1e-6);
        } else {
            assert_int_equal(discharge_curve_voltage(&found, p.test_A, 0.0, &volt), VALID);
            assert_close(volt, p.full_V, 1e-9);
        }
    }
}

static void
voltage_falls_with_charge_and_current(void **state)
{
    (void) state;
    test_random_restart(306);
    for (int k = 0; k < 100; k++) {
        DischargeCurve c = any_curve(k % 2 == 0 ? FORM_2007 : FORM_2009);
        double last = INFINITY, one_C = c.capacity_As / 3600.0;
        for (double drawn = 0.0; drawn < 0.9; drawn += 0.05) {
            double volt, more;
            if (discharge_curve_voltage(&c, 0.2 * one_C, drawn * c.capacity_As, &volt) != VALID)
                break;
            assert_true(volt < last && volt > 0.0);
            last = volt;
            if (discharge_curve_voltage(&c, 0.4 * one_C, drawn * c.capacity_As, &more) == VALID)
                assert_true(more < volt);
        }
        assert_true(isfinite(last));
    }
}

static void
curves_refuse(void **state)
{
    (void) state;
    test_random_restart(307);
    const DischargeCurve c = any_curve(FORM_2009);
    double volt;
    assert_int_equal(discharge_curve_voltage(&c, 1.0, c.capacity_As, &volt), REFUSED);
    assert_true(isnan(volt));
    assert_int_equal(discharge_curve_voltage(&c, 1.0, 0.999999 * c.capacity_As, &volt), REFUSED);
    assert_int_equal(discharge_curve_voltage(&c, -1.0, 0.0, &volt), REFUSED);
    assert_int_equal(discharge_curve_voltage(&c, 1.0, NAN, &volt), REFUSED);
    DischargeCurve bad = c;
    bad.a_V = -0.1;
    assert_int_equal(discharge_curve_voltage(&bad, 1.0, 0.0, &volt), REFUSED);
    /* Points out of order. */
    const DischargePoints wrong[] = {{1.39, 1.28, 22500, 1.18, 4680, 1.3},
                                     {1.28, 1.39, 4680, 1.18, 22500, 1.3},
                                     {1.39, 1.28, 4680, 1.18, 25200, 1.3},
                                     {1.39, 1.28, 4680, 1.18, 22500, NAN}};
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
        DischargeCurve none = {FORM_2009, 25200.0, 0.002, 1, 1, 1, 1};
        assert_int_equal(discharge_curve_fit(&wrong[i], &none), REFUSED);
        assert_true(isnan(none.e0_V) && isnan(none.a_V) && isnan(none.b_per_As));
    }
}

/* The two figures each form was drawn through, and nothing gained by warmth. */
static void
cold_meets_its_marks(void **state)
{
    (void) state;
    assert_true(fabs(cold_battery_factor(263.15) - 1.75) < 1e-12);
    assert_true(fabs(cold_battery_factor(298.15) - 1.0) < 1e-12);
    assert_true(fabs(cold_battery_factor(313.15) - 1.0) < 1e-12);
    assert_true(fabs(cold_battery_cranking_factor(255.15) - 1.0) < 1e-12);
    assert_true(fabs(cold_battery_cranking_factor(298.15) - 0.55) < 1e-12);
    assert_true(fabs(cold_battery_cranking_factor(320.0) - 0.55) < 1e-12);
    assert_true(cold_battery_cranking_factor(245.0) > 1.0);
    /* 0.024 V in 10 degF, below 80 degF */
    assert_true(fabs(cold_battery_rest_V(12.0, 299.82 - 50.0 / 9.0) + 0.024) < 1e-9);
    assert_true(fabs(cold_battery_rest_V(24.0, 299.82 - 50.0 / 9.0) + 0.048) < 1e-9);
    assert_true(cold_battery_rest_V(12.0, 310.0) == 0.0);
    assert_true(isnan(cold_battery_factor(NAN)) && isnan(cold_battery_rest_V(12.0, -1.0)));
    /* both forms say the same of how far it rises between warm and deep frost, to what is recalled of either */
    double one = cold_battery_factor(255.15), other = 1.0 / 0.55;
    assert_true(fabs(one / other - 1.0) < 0.15);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(cold_meets_its_marks),
        cmocka_unit_test(rated_time_at_the_rated_current),
        cmocka_unit_test(depth_agrees_with_time),
        cmocka_unit_test(exponent_comes_back),
        cmocka_unit_test(peukert_refuses),
        cmocka_unit_test(two_loads_give_the_battery_back),
        cmocka_unit_test(rest_voltages_are_those_of_the_sheet),
        cmocka_unit_test(charge_and_voltage_rise_together),
        cmocka_unit_test(no_charge_is_made_up),
        cmocka_unit_test(curves_go_through_their_points),
        cmocka_unit_test(voltage_falls_with_charge_and_current),
        cmocka_unit_test(curves_refuse),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
