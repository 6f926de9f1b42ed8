/* Weld metal: limits of the shapes, and masses that add up. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>

#include "physics/steel/weld.h"

static void
shapes_meet(void **state)
{
    (void) state;
    WeldArea weld, other;
    /* no angle: a square butt; root face as thick as the plate: the angle does nothing */
    assert_int_equal(weld_butt(&(ButtWeld){0.006, 0.002, 0.0, 0.0, 0.0}, &weld), VALID);
    assert_true(fabs(weld.area_m2 - 12e-6) < 1e-15 && fabs(weld.top_width_m - 0.002) < 1e-15);
    weld_butt(&(ButtWeld){0.006, 0.002, 1.0, 0.006, 0.0}, &other);
    assert_true(fabs(other.area_m2 - weld.area_m2) < 1e-15);
    /* V of 90 degrees without gap: half the square of the depth times two */
    weld_butt(&(ButtWeld){0.006, 0.0, 1.5707963267948966, 0.0, 0.0}, &other);
    assert_true(fabs(other.area_m2 - 36e-6) < 1e-12);
    weld_butt(&(ButtWeld){0.006, 0.002, 1.0, 0.001, 0.001}, &other);
    assert_true(other.area_m2 > other.bare_m2);
    assert_int_equal(weld_fillet(0.005, 0.0, &weld), VALID);
    assert_true(weld.area_m2 == weld.bare_m2);
    assert_int_equal(weld_fillet(0.0, 0.0, &weld), REFUSED);
    assert_int_equal(weld_butt(&(ButtWeld){0.006, 0.0, 1.0, 0.007, 0.0}, &weld), REFUSED);
    assert_int_equal(weld_butt(&(ButtWeld){0.006, 0.0, 3.2, 0.0, 0.0}, &weld), REFUSED);
    assert_true(isnan(weld.area_m2));
}

static void
metal_is_kept(void **state)
{
    (void) state;
    WeldRun run = {9e-6, 12.0, 5e-4, 0.3, 0.0, 2e-4, 7850.0};
    WeldConsumption found;
    double least = INFINITY;
    for (int process = WELD_SUBMERGED; process <= WELD_ELECTRODE_300; process++) {
        run.efficiency = weld_efficiency((WeldProcess) process);
        assert_int_equal(weld_consumption(&run, &found), VALID);
        assert_true(fabs(found.filler_kg * run.efficiency - found.metal_kg) < 1e-12);
        assert_true(run.efficiency <= least && found.elapsed_s > found.arc_s);
        assert_true(fabs(found.arc_s * run.rate_kg_per_s - found.metal_kg) < 1e-12);
        least = run.efficiency;
    }
    run.operating_factor = 0.0;
    assert_int_equal(weld_consumption(&run, &found), REFUSED);
    assert_true(isnan(found.gas_m3));
}

int
main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(shapes_meet),
                                       cmocka_unit_test(metal_is_kept)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
