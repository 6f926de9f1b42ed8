/* Humid air: there and back, and what must grow. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>

#include "physics/warmth/humid_air.h"

static void
dew_points_there_and_back(void **state)
{
    (void) state;
    for (int set = AIR_SET_WMO; set <= AIR_SET_ISO; set++) {
        double last = 0.0;
        for (double t = 233.15; t <= 333.0; t += 2.5) {
            double e = air_vapour_Pa((AirSet) set, t, 1.0);
            assert_true(e > last);
            assert_true(fabs(air_dew_point_K((AirSet) set, e) - t) < 1e-9);
            last = e;
            for (double humidity = 0.1; humidity < 1.0; humidity += 0.2) {
                HumidAir air, again;
                assert_int_equal(humid_air((AirSet) set, t, humidity, NAN, 101325.0, &air), VALID);
                assert_true(air.dew_point_K < t);
                humid_air((AirSet) set, t, NAN, air.dew_point_K, 101325.0, &again);
                assert_true(fabs(again.humidity - humidity) < 1e-9);
                if (t < 273.15) /* over ice the air holds less */
                    assert_true(air.frost_point_K >= air.dew_point_K - 1e-9);
            }
        }
    }
}

static void
what_air_cannot_be(void **state)
{
    (void) state;
    HumidAir air;
    assert_int_equal(humid_air(AIR_SET_WMO, 293.15, 1.2, NAN, 101325.0, &air), REFUSED);
    assert_int_equal(humid_air(AIR_SET_WMO, 293.15, NAN, 295.0, 101325.0, &air), REFUSED);
    assert_int_equal(humid_air(AIR_SET_WMO, 293.15, 1.0, NAN, 2000.0, &air), REFUSED);
    assert_int_equal(humid_air(AIR_SET_WMO, 0.0, 0.5, NAN, 101325.0, &air), REFUSED);
    assert_true(isnan(air.vapour_Pa));
    assert_int_equal(humid_air(AIR_SET_WMO, 293.15, 0.0, NAN, 101325.0, &air), VALID);
    assert_true(air.vapour_Pa == 0.0 && isnan(air.dew_point_K));
    assert_int_equal(humid_air(AIR_SET_WMO, 338.15, 0.5, NAN, 101325.0, &air), EXTRAPOLATED);
}

/* Warmer steel may only turn no into yes; wetter air only yes into no. */
static void
paint_waits_for_warm_dry_steel(void **state)
{
    (void) state;
    PaintWindow window;
    bool last = false;
    for (double steel = 275.0; steel < 295.0; steel += 0.25) {
        assert_int_equal(paint_window(AIR_SET_WMO, steel, 285.0, 0.8, NAN, &window), VALID);
        assert_true(!last || window.allowed);
        assert_int_equal(window.allowed, window.gap_K >= 3.0);
        last = window.allowed;
    }
    assert_true(last);
    paint_window(AIR_SET_WMO, 320.0, 285.0, 0.86, NAN, &window);
    assert_true(!window.allowed && window.gap_K > 30.0);
    assert_int_equal(paint_window(AIR_SET_WMO, 285.0, NAN, 0.8, NAN, &window), REFUSED);
    assert_int_equal(paint_window(AIR_SET_WMO, 285.0, 285.0, 0.0, NAN, &window), REFUSED);
    assert_true(isnan(window.gap_K) && !window.allowed);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(dew_points_there_and_back),
                                       cmocka_unit_test(what_air_cannot_be),
                                       cmocka_unit_test(paint_waits_for_warm_dry_steel)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
