/* Conductors against second methods: heat balances integrated step by step, and the marks the wire gauge was drawn from. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <math.h>

#include <cmocka.h>

#include "physics/wiring/bank_equalise.h"
#include "physics/wiring/cable_drop.h"
#include "physics/wiring/cable_heating.h"
#include "physics/wiring/cable_withstand.h"
#include "physics/wiring/conductor.h"
#include "physics/wiring/gauge.h"
#include "physics/wiring/overload.h"
#include "physics/wiring/size.h"

static void
near(double value, double expected, double share)
{
    if (!(fabs(value - expected) <= share * fabs(expected)))
        fail_msg("%.12g is not %.12g", value, expected);
}

/* The gauge is the geometric row between 0.46 in (4/0) and 0.005 in (36). */
static void
gauge_meets_its_ends(void **state)
{
    (void) state;
    near(gauge_size(-3).diameter_m, 0.46 * 0.0254, 1e-15);
    near(gauge_size(36).diameter_m, 0.005 * 0.0254, 1e-15);
    near(gauge_size(-3).circular_mils, 460.0 * 460.0, 1e-14);
    for (int n = -3; n < 40; n++)
        near(gauge_size(n).diameter_m / gauge_size(n + 1).diameter_m, pow(92.0, 1.0 / 39.0), 1e-14);
}

static void
sizes_between_rows(void **state)
{
    (void) state;
    static const double area[] = {1.0, 2.0, 4.0, 8.0}, figure[] = {NAN, 2.0, 8.0, 32.0};
    double value;
    assert_int_equal(size_figure(4, area, figure, 2.0 * (1.0 + 1e-12), &value), VALID);
    assert_true(value == 2.0);
    assert_int_equal(size_figure(4, area, figure, 3.0, &value), EXTRAPOLATED);
    near(value, 0.5 * 3.0 * 3.0, 1e-14); /* a power law is met between its rows */
    static const double outside[] = {1.0, 1.9, 8.1, NAN, -1.0, 0.0, INFINITY};
    for (size_t i = 0; i < sizeof outside / sizeof *outside; i++) {
        assert_int_equal(size_figure(4, area, figure, outside[i], &value), REFUSED);
        assert_true(isnan(value));
    }
}

/* 10.75 ohm circular mil per foot is the resistivity of copper at 29 degC (docs/methods/wires.md 1.2). */
static void
short_formula_is_warm_copper(void **state)
{
    (void) state;
    near(drop_abyc_ohm_m, COPPER_RESISTIVITY_OHM_M * conductor_warmth(false, 273.15 + 29.3), 1e-3);
    near(short_formula_drop_V(2.0, 3.0, 5.0, short_formula_area_m2(2.0, 3.0, 5.0, 0.3)), 0.3,
         1e-15);
    near(short_formula_drop_V(2.0, 3.0, short_formula_length_m(2.0, 3.0, 7.0, 0.3), 7.0), 0.3,
         1e-15);
    near(10.0 * (0.002 * drop_length_m(10.0, 0.002, 0.01, 0.3) + 0.01), 0.3, 1e-14);
    assert_true(isnan(drop_length_m(10.0, 0.002, 0.04, 0.3)));
}

/* Rise of one lump of copper warmed by a constant current and cooled in proportion, stepped in time by the midpoint rule. */
static double
stepped_rise_K(const LoadedCable *cable, double rise, double current_A, double time_s)
{
    const double cooling = cable->ampacity_A * cable->ampacity_A * cable->ohm_per_m / 75.0;
    double step = time_s / 20000;
    for (int i = 0; i < 20000; i++) {
        double heat = current_A * current_A * cable->ohm_per_m, capacity = 3.45e6 * cable->area_m2;
        double half = rise + 0.5 * step * (heat - cooling * rise) / capacity;
        rise += step * (heat - cooling * half) / capacity;
    }
    return rise;
}

static void
short_time_ends_at_the_insulation(void **state)
{
    (void) state;
    const LoadedCable cable = {50e-6, 270.0, 378.15, 303.15, 0.393e-3 * 1.334};
    near(stepped_rise_K(&cable, 0.0, cable_short_time_A(&cable, 180.0), 180.0), 75.0, 1e-6);
    near(cable_temperature_K(&cable, 303.15, 270.0), 378.15, 1e-12);
    near(cable_short_time_A(&cable, 1e7), 270.0, 1e-9);
}

static void
a_run_begins_as_warm_as_what_lasts(void **state)
{
    (void) state;
    const LoadedCable cable = {50e-6, 270.0, 378.15, 303.15, 0.393e-3 * 1.334};
    double warm = 75.0 * (150.0 / 270.0) * (150.0 / 270.0);
    near(stepped_rise_K(&cable, warm, cable_run_A(&cable, 150.0, 180.0), 180.0), 75.0, 1e-6);
    double equal = cable_equal_A(&cable, 150.0, 320.0, 180.0);
    near(stepped_rise_K(&cable, warm, 320.0, 180.0),
         cable_temperature_K(&cable, 303.15, equal) - 303.15, 1e-6);
    near(cable_run_A(&cable, 0.0, 180.0), cable_short_time_A(&cable, 180.0), 1e-15);
    assert_true(cable_run_A(&cable, 271.0, 180.0) == 0.0);
    assert_true(isnan(cable_run_A(&cable, -1.0, 180.0)) && isnan(cable_run_A(&cable, 1.0, 0.0)));
}

/* The printed constants against copper of 17.241e-6 ohm mm and 3.45e-3 J/(K mm3), warmed step by step. */
static void
short_circuit_ends_at_its_temperature(void **state)
{
    (void) state;
    for (int jacket = JACKET_PVC_70; jacket <= JACKET_PVC_70_APART; jacket++) {
        CableConstant k;
        assert_int_equal(cable_constant(METAL_COPPER, (ConductorJacket) jacket, &k), VALID);
        near(k.computed, k.constant, 0.006);
        double temperature_C = k.before_C, step = 1e-5 * k.computed * k.computed;
        for (int i = 0; i < 100000; i++) { /* I^2 t / S^2 from 0 to k^2 */
            double ohm_mm = 17.241e-6 * (234.5 + temperature_C) / 254.5;
            temperature_C += step * ohm_mm / 3.45e-3;
        }
        near(temperature_C - k.before_C, k.after_C - k.before_C, 0.006);
    }
    CableConstant none;
    assert_int_equal(cable_constant(METAL_STEEL, JACKET_RUBBER_60, &none), REFUSED);
    assert_true(isnan(none.constant) && isnan(none.computed));
    near(withstand_A2s(115.0, withstand_area_m2(115.0, 2000.0, 0.4)), 2000.0 * 2000.0 * 0.4, 1e-14);
}

/* A machine whose rise in the end is p^2 times the rated one. */
static void
overload_ends_at_the_rated_rise(void **state)
{
    (void) state;
    for (double p = 1.001; p < 50.0; p *= 1.3) {
        double time_s;
        assert_int_equal(overload_time(720.0, p, &time_s), VALID);
        near(-p * p * expm1(-time_s / 720.0), 1.0, 1e-11);
    }
    static const double none[] = {1.0, 0.5, 0.0, -2.0, NAN, INFINITY};
    for (size_t i = 0; i < sizeof none / sizeof *none; i++) {
        double time_s;
        assert_int_equal(overload_time(720.0, none[i], &time_s), REFUSED);
        assert_true(isnan(time_s));
    }
}

/* Charge is kept, and the current falls as the two capacitors say; joined the other way round all of it turns over. */
static void
joined_banks_keep_their_charge(void **state)
{
    (void) state;
    const RestingBank a = {12.75, 220 * 3600.0}, b = {12.10, 90 * 3600.0};
    BankEqualise there, back;
    assert_int_equal(bank_equalise(&a, &b, 0.012, 0.76, &there), VALID);
    assert_int_equal(bank_equalise(&b, &a, 0.012, 0.76, &back), VALID);
    near(there.current_A, -back.current_A, 1e-14);
    near(there.final_voltage_V, back.final_voltage_V, 1e-14);
    near(there.charge_moved_As, -back.charge_moved_As, 1e-12);
    near(there.charge_moved_As, there.current_A * there.time_constant_s, 1e-12);
    near(a.capacity_As / 0.76 * (a.voltage_V - there.final_voltage_V), there.charge_moved_As, 1e-9);
    near(b.capacity_As / 0.76 * (there.final_voltage_V - b.voltage_V), there.charge_moved_As, 1e-9);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(gauge_meets_its_ends),
        cmocka_unit_test(sizes_between_rows),
        cmocka_unit_test(short_formula_is_warm_copper),
        cmocka_unit_test(short_time_ends_at_the_insulation),
        cmocka_unit_test(a_run_begins_as_warm_as_what_lasts),
        cmocka_unit_test(short_circuit_ends_at_its_temperature),
        cmocka_unit_test(overload_ends_at_the_rated_rise),
        cmocka_unit_test(joined_banks_keep_their_charge),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
