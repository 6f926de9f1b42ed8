/* Volume and water plane of lofts against a clipped mesh, closed forms and their own derivatives. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>
#include <string.h>

#include "hulls.h"

#include "physics/afloat/station.h"
#include "physics/afloat/wigley.h"

static void
compare(const Loft *loft, const Attitude *at, size_t n, double tolerance)
{
    const Body body = {.lofts = 1, .loft = loft};
    Immersed exact, mesh;
    body_immersed(&body, at, &exact);
    mesh_extrapolated(loft, at, n, &mesh);
    double v = 1.0 + mesh.volume_m3, length = loft->x_m[loft->stations - 1];
    assert_close(exact.volume_m3, mesh.volume_m3, tolerance * v);
    assert_close(exact.x_m4, mesh.x_m4, tolerance * v * length);
    assert_close(exact.y_m4, mesh.y_m4, tolerance * v * 3.0);
    assert_close(exact.z_m4, mesh.z_m4, tolerance * v * 3.0);
    double a = 1.0 + mesh.plane_m2;
    assert_close(exact.plane_m2, mesh.plane_m2, 10.0 * tolerance * a);
    assert_close(exact.plane_X_m3, mesh.plane_X_m3, 10.0 * tolerance * a * length);
    assert_close(exact.plane_Y_m3, mesh.plane_Y_m3, 10.0 * tolerance * a * 3.0);
    assert_close(exact.plane_XX_m4, mesh.plane_XX_m4, 10.0 * tolerance * a * length * length);
    assert_close(exact.plane_YY_m4, mesh.plane_YY_m4, 10.0 * tolerance * a * 9.0);
    assert_close(exact.plane_XY_m4, mesh.plane_XY_m4, 10.0 * tolerance * a * length * 3.0);
}

static Attitude
some_attitude(double depth)
{
    return (Attitude){test_between(0.1, depth), test_between(-M_PI, M_PI),
                      test_between(-0.12, 0.12)};
}

static void
plane_panels_agree_with_a_mesh(void **state)
{
    (void) state;
    Loft *hull = hull_load("float-hull-A.csv");
    test_random_restart(11);
    for (int i = 0; i < 60; i++) {
        Attitude at = some_attitude(2.0);
        compare(hull, &at, 1, 1e-12);
    }
    loft_free(hull);
}

static void
twisted_panels_agree_with_a_fine_mesh(void **state)
{
    (void) state;
    Loft *hull[] = {hull_load("float-hull-B.csv"), hull_load("float-hull-wigley.csv"),
                    hull_flared(9, 6)};
    const double depth[] = {1.7, 0.6, 2.2};
    test_random_restart(12);
    for (size_t k = 0; k < 3; k++) {
        for (int i = 0; i < 12; i++) {
            Attitude at = some_attitude(depth[k]);
            compare(hull[k], &at, 24, 3e-6);
        }
        loft_free(hull[k]);
    }
}

static void
mesh_itself_meets_the_sheet(void **state)
{
    (void) state;
    /* docs/methods/float.md 2.1: triangles on the raw stations of hull B along one diagonal, and refined. */
    Loft *hull = hull_load("float-hull-B.csv");
    Immersed mesh;
    mesh_immersed(hull, &(Attitude){.origin_depth_m = 0.70}, 1, &mesh);
    double one_side = fabs(mesh.volume_m3 - 13.0829);
    assert_true(one_side < 0.45 && one_side > 1e-3);
    mesh_extrapolated(hull, &(Attitude){.origin_depth_m = 0.70}, 32, &mesh);
    assert_close(mesh.volume_m3, 13.0829, 5e-5);
    loft_free(hull);
}

static void
box_is_exact(void **state)
{
    (void) state;
    Loft *hull = hull_box(20.0, 5.0, 2.5);
    const Body body = {.lofts = 1, .loft = hull};
    Immersed u;
    body_immersed(&body, &(Attitude){.origin_depth_m = 1.2}, &u);
    assert_close(u.volume_m3, 120.0, 1e-12);
    assert_close(u.x_m4, 1200.0, 1e-10);
    assert_close(u.y_m4, 0.0, 1e-12);
    assert_close(u.z_m4, 72.0, 1e-12);
    assert_close(u.plane_m2, 100.0, 1e-12);
    assert_close(u.plane_YY_m4, 20.0 * 125.0 / 12.0, 1e-10);
    assert_close(u.plane_XX_m4, 5.0 * 8000.0 / 3.0, 1e-9);
    assert_close(body_volume_m3(&body), 250.0, 1e-12);
    assert_close(body_wetted_m2(&body, &(Attitude){.origin_depth_m = 1.2}), 100.0 + 50.0 * 1.2,
                 1e-10);
    /* On her side: half of her, the plane as wide as she is deep. */
    body_immersed(&body, &(Attitude){0.0, 0.5 * M_PI, 0.0}, &u);
    assert_close(u.volume_m3, 125.0, 1e-10);
    assert_close(u.plane_m2, 50.0, 1e-10);
    loft_free(hull);
}

static void
cylinder_of_chords_is_exact(void **state)
{
    (void) state;
    /* Half circle of n chords, 10 m long: area n R^2 sin(pi/n)/2. The deck is its diameter. */
    enum { CHORDS = 40 };
    double x[2] = {0.0, 10.0}, y[2 * (CHORDS / 2 + 1)], z[2 * (CHORDS / 2 + 1)];
    for (int i = 0; i < 2; i++)
        for (int j = 0; j <= CHORDS / 2; j++) {
            double t = M_PI * j / CHORDS;
            y[i * (CHORDS / 2 + 1) + j] = 2.0 * sin(t);
            z[i * (CHORDS / 2 + 1) + j] = 2.0 - 2.0 * cos(t);
        }
    const Loft loft = {2, CHORDS / 2 + 1, x, y, z, 0.0};
    const Body body = {.lofts = 1, .loft = &loft};
    assert_close(body_volume_m3(&body), 10.0 * CHORDS * 4.0 * sin(M_PI / CHORDS) / 2.0, 1e-10);
    Immersed u;
    body_immersed(&body, &(Attitude){.origin_depth_m = 2.0}, &u);
    assert_close(u.volume_m3, 10.0 * CHORDS * 4.0 * sin(M_PI / CHORDS) / 2.0, 1e-10);
    /* Heeled about its axis by two chords it is the same body until the deck goes under: take a lower depth. */
    double heel = 2.0 * M_PI / CHORDS;
    Immersed h;
    body_immersed(&body, &(Attitude){.origin_depth_m = 1.0}, &u);
    body_immersed(&body, &(Attitude){2.0 * cos(heel) - 1.0, heel, 0.0}, &h);
    assert_close(h.volume_m3, u.volume_m3, 1e-10);
    assert_close(h.plane_YY_m4 - h.plane_Y_m3 * h.plane_Y_m3 / h.plane_m2, u.plane_YY_m4, 1e-9);
}

static void
wigley_of_straight_lines_is_the_exact_one_times_a_factor(void **state)
{
    (void) state;
    const size_t n[] = {10, 20, 40}, m[] = {5, 10, 20};
    Wigley exact;
    wigley_hull(10.0, 1.0, 0.625, &exact);
    for (size_t k = 0; k < 3; k++) {
        Loft *hull = hull_wigley(10.0, 1.0, 0.625, n[k], m[k]);
        const Body body = {.lofts = 1, .loft = hull};
        Immersed u;
        body_immersed(&body, &(Attitude){.origin_depth_m = 0.625}, &u);
        double along = 1.0 - 1.0 / (double) (n[k] * n[k]),
               down = 1.0 - 0.25 / (double) (m[k] * m[k]);
        assert_close(u.volume_m3, exact.volume_m3 * along * down, 1e-12);
        assert_close(u.plane_m2, exact.waterplane_m2 * along, 1e-12);
        loft_free(hull);
    }
}

static void
volume_grows_with_depth_at_the_rate_of_the_plane(void **state)
{
    (void) state;
    Loft *hull[] = {hull_load("float-hull-A.csv"), hull_load("float-hull-B.csv"),
                    hull_flared(12, 10)};
    test_random_restart(13);
    for (size_t k = 0; k < 3; k++) {
        const Body body = {.lofts = 1, .loft = hull[k]};
        for (int i = 0; i < 40; i++) {
            Attitude at = some_attitude(1.5);
            Immersed low, mid, high;
            double before = -1.0;
            for (double depth = -4.0; depth < 5.0; depth += 0.3) {
                at.origin_depth_m = depth;
                body_immersed(&body, &at, &mid);
                assert_true(mid.volume_m3 >= before - 1e-12);
                assert_true(mid.plane_m2 >= -1e-12);
                before = mid.volume_m3;
            }
            assert_close(before, body_volume_m3(&body), 1e-9);
            at.origin_depth_m = test_between(0.2, 1.2);
            const double h = 1e-5;
            body_immersed(&body, &at, &mid);
            at.origin_depth_m -= h;
            body_immersed(&body, &at, &low);
            at.origin_depth_m += 2.0 * h;
            body_immersed(&body, &at, &high);
            assert_close((high.volume_m3 - low.volume_m3) / (2.0 * h), mid.plane_m2,
                         2e-3 * (1.0 + mid.plane_m2));
        }
        loft_free(hull[k]);
    }
}

/* An edge nearly parallel to the water has a denominator near zero: the rule must not lose it. */
static void
edges_that_almost_lie_in_the_water_are_integrated(void **state)
{
    (void) state;
    for (double tilt = 1e-1; tilt > 1e-13; tilt *= 0.1) {
        double x[2] = {0.0, 1.0}, y[6] = {0.0, 1.0, 1.0, 0.0, 1.0, 1.0};
        double z[6] = {0.0, tilt, 1.0, 0.0, -0.5 * tilt, 1.0};
        const Loft loft = {2, 3, x, y, z, 0.0};
        const Attitude at = {.origin_depth_m = 0.3 * tilt};
        const Body body = {.lofts = 1, .loft = &loft};
        Immersed exact, mesh;
        body_immersed(&body, &at, &exact);
        mesh_extrapolated(&loft, &at, 64, &mesh);
        assert_close(exact.volume_m3 / tilt, mesh.volume_m3 / tilt, 2e-4);
        assert_close(exact.plane_m2, mesh.plane_m2, 2e-2);
        Immersed up, down;
        const double h = 1e-4 * tilt;
        body_immersed(&body, &(Attitude){.origin_depth_m = 0.3 * tilt + h}, &up);
        body_immersed(&body, &(Attitude){.origin_depth_m = 0.3 * tilt - h}, &down);
        assert_close((up.volume_m3 - down.volume_m3) / (2.0 * h), exact.plane_m2, 1e-5);
    }
}

static void
wetted_surface_is_that_of_the_wigley_hull(void **state)
{
    (void) state;
    Wigley exact;
    wigley_hull(10.0, 1.0, 0.625, &exact);
    double error[2];
    for (size_t k = 0; k < 2; k++) {
        Loft *hull = hull_wigley(10.0, 1.0, 0.625, 20 << k, 10 << k);
        const Body body = {.lofts = 1, .loft = hull};
        error[k] = exact.wetted_m2 - body_wetted_m2(&body, &(Attitude){.origin_depth_m = 0.625});
        loft_free(hull);
    }
    assert_true(error[0] > 0.0 && error[0] < 1e-3 * exact.wetted_m2);
    assert_close(error[0] / error[1], 4.0,
                 0.3); /* straight lines fall short by the square of their length */
}

static void
ball_behaves_like_a_sphere(void **state)
{
    (void) state;
    const Ball ball = {3.0, 0.5, -0.4, 4.0 / 3.0 * M_PI};
    const Body body = {.balls = 1, .ball = &ball};
    Immersed u;
    Attitude at = {0.0, 0.3, 0.1};
    at.origin_depth_m = attitude_height_m(&at, 3.0, 0.5, -0.4); /* centre in the water plane */
    body_immersed(&body, &at, &u);
    assert_close(u.volume_m3, 2.0 / 3.0 * M_PI, 1e-12);
    assert_close(u.plane_m2, M_PI, 1e-12);
    double below =
        attitude_height_m(&at, u.x_m4 / u.volume_m3, u.y_m4 / u.volume_m3, u.z_m4 / u.volume_m3);
    assert_close(below, -3.0 / 8.0, 1e-12);
    at.origin_depth_m += 2.0;
    body_immersed(&body, &at, &u);
    assert_close(u.volume_m3, 4.0 / 3.0 * M_PI, 1e-12);
    assert_close(u.plane_m2, 0.0, 0.0);
    at.origin_depth_m -= 4.0;
    body_immersed(&body, &at, &u);
    assert_close(u.volume_m3, 0.0, 0.0);
}

static void
faults_are_named(void **state)
{
    (void) state;
    double x[2] = {0.0, 1.0}, y[4] = {0.0, 1.0, 0.0, 1.0}, z[4] = {0.0, 1.0, 0.0, 1.0};
    Loft loft = {2, 2, x, y, z, 0.0};
    assert_null(loft_fault(&loft));
    y[2] = -0.1;
    assert_non_null(strstr(loft_fault(&loft), "negative"));
    y[2] = NAN;
    assert_non_null(loft_fault(&loft));
    y[2] = 0.0;
    x[1] = 0.0;
    assert_non_null(strstr(loft_fault(&loft), "forward"));
    x[1] = INFINITY;
    assert_non_null(loft_fault(&loft));
    x[1] = 1.0;
    loft.stations = 1;
    assert_non_null(strstr(loft_fault(&loft), "two stations"));
}

/* No rounding may make one side the weaker when both are alike. */
static void
heeled_the_other_way_is_the_same_to_the_last_digit(void **state)
{
    (void) state;
    Loft *hull = hull_flared(9, 7);
    const Body body = {.lofts = 1, .loft = hull};
    test_random_restart(17);
    for (int i = 0; i < 200; i++) {
        Attitude at = some_attitude(2.5);
        Immersed one, other;
        body_immersed(&body, &at, &one);
        at.heel_rad = -at.heel_rad;
        body_immersed(&body, &at, &other);
        assert_close(one.volume_m3, other.volume_m3, 0.0);
        assert_close(one.x_m4, other.x_m4, 0.0);
        assert_close(one.y_m4, -other.y_m4, 0.0);
        assert_close(one.z_m4, other.z_m4, 0.0);
        assert_close(one.plane_m2, other.plane_m2, 0.0);
        assert_close(one.plane_X_m3, other.plane_X_m3, 0.0);
        assert_close(one.plane_Y_m3, -other.plane_Y_m3, 0.0);
        assert_close(one.plane_XX_m4, other.plane_XX_m4, 0.0);
        assert_close(one.plane_YY_m4, other.plane_YY_m4, 0.0);
        assert_close(one.plane_XY_m4, -other.plane_XY_m4, 0.0);
    }
    loft_free(hull);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(mesh_itself_meets_the_sheet),
        cmocka_unit_test(plane_panels_agree_with_a_mesh),
        cmocka_unit_test(twisted_panels_agree_with_a_fine_mesh),
        cmocka_unit_test(box_is_exact),
        cmocka_unit_test(cylinder_of_chords_is_exact),
        cmocka_unit_test(wigley_of_straight_lines_is_the_exact_one_times_a_factor),
        cmocka_unit_test(volume_grows_with_depth_at_the_rate_of_the_plane),
        cmocka_unit_test(edges_that_almost_lie_in_the_water_are_integrated),
        cmocka_unit_test(heeled_the_other_way_is_the_same_to_the_last_digit),
        cmocka_unit_test(wetted_surface_is_that_of_the_wigley_hull),
        cmocka_unit_test(ball_behaves_like_a_sphere),
        cmocka_unit_test(faults_are_named),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
