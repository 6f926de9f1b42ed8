/* Liquid in tanks: the same volume at every attitude, inside the tank, level, and at the centroid a mesh finds. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>

#include "hulls.h"

#include "physics/afloat/free_surface.h"
#include "physics/afloat/liquid.h"

static Tank
some_tank(void)
{
    double x = test_between(0.0, 10.0), y = test_between(-2.0, 1.0), z = test_between(0.0, 1.0);
    return (Tank){x,
                  x + test_between(0.1, 3.0),
                  y,
                  y + test_between(0.1, 2.0),
                  z,
                  z + test_between(0.1, 1.5),
                  test_between(0.01, 0.99),
                  900.0};
}

/* The box as a hull of the mesh, cut at the level that holds the volume, found by halving. */
static void
mesh_liquid(const Tank *t, double heel, double trim, Immersed *wet)
{
    double half = 0.5 * (t->y_port_m - t->y_stbd_m);
    double x[] = {t->x_aft_m, t->x_fwd_m}, y[] = {half, half, half, half};
    double z[] = {t->z_bottom_m, t->z_top_m, t->z_bottom_m, t->z_top_m};
    const Loft box = {2, 2, x, y, z, 0.5 * (t->y_port_m + t->y_stbd_m)};
    double whole = (t->x_fwd_m - t->x_aft_m) * 2.0 * half * (t->z_top_m - t->z_bottom_m);
    double low = -50.0, high = 50.0;
    for (int i = 0; i < 70; i++) {
        double mid = 0.5 * (low + high);
        mesh_immersed(&box, &(Attitude){mid, heel, trim}, 1, wet);
        *(wet->volume_m3 > t->fill_frac * whole ? &high : &low) = mid;
    }
}

static void
centroid_is_that_of_the_clipped_box(void **state)
{
    (void) state;
    test_random_restart(31);
    for (int i = 0; i < 300; i++) {
        Tank t = some_tank();
        double heel = test_between(-M_PI, M_PI), trim = test_between(-0.5, 0.5);
        if (i % 4 == 0)
            heel = 0.5 * M_PI * (i / 4 % 4);
        if (i % 5 == 0)
            trim = 0.0;
        if (i % 3 == 0) /* nearly level along an edge: where quotients lose digits */
            trim *= pow(10.0, -test_between(0.0, 14.0));
        TankLiquid lies;
        Immersed mesh;
        tank_lies(&t, heel, trim, &lies);
        mesh_liquid(&t, heel, trim, &mesh);
        assert_close(lies.x_m, mesh.x_m4 / mesh.volume_m3, 1e-9);
        assert_close(lies.y_m, mesh.y_m4 / mesh.volume_m3, 1e-9);
        assert_close(lies.z_m, mesh.z_m4 / mesh.volume_m3, 1e-9);
        assert_close(lies.surface_m2, mesh.plane_m2, 1e-8 * (1.0 + mesh.plane_m2));
        assert_close(lies.surface_YY_m4,
                     mesh.plane_YY_m4 - mesh.plane_Y_m3 * mesh.plane_Y_m3 / mesh.plane_m2, 1e-7);
        assert_true(lies.x_m > t.x_aft_m && lies.x_m < t.x_fwd_m);
        assert_true(lies.y_m > t.y_stbd_m && lies.y_m < t.y_port_m);
        assert_true(lies.z_m > t.z_bottom_m && lies.z_m < t.z_top_m);
    }
}

static void
centroid_moves_by_the_surface_it_has(void **state)
{
    (void) state;
    test_random_restart(32);
    for (int i = 0; i < 100; i++) {
        Tank t = some_tank();
        double heel = test_between(-1.2, 1.2), h = 1e-6;
        TankLiquid a, b, m;
        tank_lies(&t, heel - h, 0.0, &a);
        tank_lies(&t, heel + h, 0.0, &b);
        tank_lies(&t, heel, 0.0, &m);
        double volume = tank_liquid_kg(&t) / t.density_kg_per_m3;
        /* Along the horizontal, the centroid moves to the low side by i/v per radian. */
        double move = (b.y_m - a.y_m) * cos(heel) - (b.z_m - a.z_m) * sin(heel);
        assert_close(-move / (2.0 * h), m.surface_YY_m4 / volume,
                     1e-4 * (1.0 + m.surface_YY_m4 / volume));
    }
}

static void
full_and_empty_do_not_move(void **state)
{
    (void) state;
    for (double fill = 0.0; fill <= 1.0; fill += 1.0) {
        const Tank t = {1.0, 3.0, -1.0, 1.0, 0.0, 1.0, fill, 1000.0};
        TankLiquid a, b;
        double i_t, i_l;
        tank_lies(&t, 0.0, 0.0, &a);
        tank_lies(&t, 0.7, 0.2, &b);
        tank_surface(&t, &i_t, &i_l);
        assert_close(a.y_m, b.y_m, 0.0);
        assert_close(a.z_m, b.z_m, 0.0);
        assert_close(b.surface_YY_m4 + i_t + i_l, 0.0, 0.0);
    }
    const Tank t = {1.0, 3.0, -1.0, 1.0, 0.0, 1.0, 0.5, 1000.0};
    assert_close(tank_liquid_kg(&t), 2000.0, 1e-12);
}

/* The share of the box changes over from liquid to air at the half, and any lean and fill gives numbers. */
static void
no_lean_and_no_fill_is_too_small(void **state)
{
    (void) state;
    test_random_restart(33);
    for (int i = 0; i < 2000; i++) {
        Tank t = some_tank();
        double lean = pow(10.0, -test_between(0.0, 320.0)),
               fill = pow(10.0, -test_between(0.0, 300.0));
        t.fill_frac = i % 2 ? fill : 1.0 - fill;
        TankLiquid lies, low, high;
        tank_lies(&t, i % 3 ? lean : 0.5 * M_PI - lean, i % 5 ? lean : 0.3, &lies);
        assert_true(lies.x_m >= t.x_aft_m - 1e-9 && lies.x_m <= t.x_fwd_m + 1e-9);
        assert_true(lies.y_m >= t.y_stbd_m - 1e-9 && lies.y_m <= t.y_port_m + 1e-9);
        assert_true(lies.z_m >= t.z_bottom_m - 1e-9 && lies.z_m <= t.z_top_m + 1e-9);
        assert_true(lies.surface_YY_m4 >= 0.0 && lies.surface_XX_m4 >= 0.0);
        assert_true(isfinite(lies.surface_m2 + lies.surface_XY_m4));
        double heel = test_between(-3.0, 3.0), trim = test_between(-0.5, 0.5);
        t.fill_frac = 0.5 - 1e-9;
        tank_lies(&t, heel, trim, &low);
        t.fill_frac = 0.5 + 1e-9;
        tank_lies(&t, heel, trim, &high);
        assert_close(low.y_m, high.y_m, 1e-7);
        assert_close(low.surface_XY_m4, high.surface_XY_m4, 1e-6);
    }
}

static void
surface_unbroken_follows_the_closed_form(void **state)
{
    (void) state;
    /* docs/methods/float.md 3: y = b^2 tan/(12 d), z = d/2 + b^2 tan^2/(24 d). */
    const Tank t = {0.0, 2.0, -0.6, 0.6, 0.0, 1.0, 0.5, 1000.0};
    for (double heel = -0.6; heel < 0.61; heel += 0.1) {
        TankLiquid lies;
        tank_lies(&t, heel, 0.0, &lies);
        assert_close(lies.y_m, -1.44 * tan(heel) / 6.0, 1e-13);
        assert_close(lies.z_m, 0.25 + 1.44 * tan(heel) * tan(heel) / 12.0, 1e-13);
    }
    TankLever lever;
    assert_int_equal(tank_lever(1.2, 1.0, 0.5, 0.2, &lever), VALID);
    assert_close(lever.lever_m / lever.corrected_m, 1.0 + 0.5 * tan(0.2) * tan(0.2), 1e-12);
    assert_int_equal(tank_lever(1.2, 1.0, 0.0, 0.2, &lever), REFUSED);
    assert_true(isnan(lever.lever_m));
}

static void
faults_are_named(void **state)
{
    (void) state;
    const Tank good = {1.0, 3.0, -1.0, 1.0, 0.0, 1.0, 0.5, 1000.0};
    assert_null(tank_fault(&good));
    Tank t = good;
    t.fill_frac = 1.1;
    assert_non_null(tank_fault(&t));
    t = good;
    t.x_fwd_m = 1.0;
    assert_non_null(tank_fault(&t));
    t = good;
    t.z_top_m = NAN;
    assert_non_null(tank_fault(&t));
    t = good;
    t.density_kg_per_m3 = 0.0;
    assert_non_null(tank_fault(&t));
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(centroid_is_that_of_the_clipped_box),
        cmocka_unit_test(centroid_moves_by_the_surface_it_has),
        cmocka_unit_test(full_and_empty_do_not_move),
        cmocka_unit_test(no_lean_and_no_fill_is_too_small),
        cmocka_unit_test(surface_unbroken_follows_the_closed_form),
        cmocka_unit_test(faults_are_named),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
