/* Positions of rest: balance checked by the mesh, derivatives by differences, outcomes by their meaning. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>

#include "hulls.h"

#include "physics/afloat/poise.h"
#include "physics/afloat/rest.h"
#include "physics/afloat/station.h"

static const double deg = M_PI / 180.0;
static const Tank slack[] = {{3.0, 4.5, -1.6, -0.4, 0.4, 1.2, 0.55, 1000.0},
                             {9.0, 11.0, -0.9, 0.9, 0.5, 1.0, 0.3, 850.0}};

static void
derivatives_are_those_of_the_residuals(void **state)
{
    (void) state;
    Loft *hull = hull_flared(12, 10);
    const Body body = {.lofts = 1, .loft = hull};
    const Load load = {26000.0, 7.2, 0.05, 1.1, 2, slack};
    Floater floater;
    assert_int_equal(floater_make(&body, &load, 1000.0, &floater), REST_FOUND);
    test_random_restart(21);
    for (int i = 0; i < 50; i++) {
        Attitude at = {test_between(0.5, 1.2), test_between(-2.0, 2.0), test_between(-0.1, 0.1)};
        Poise mid;
        poise_at(&floater, &at, &mid);
        for (int k = 0; k < 3; k++) {
            const double h = 1e-6;
            Attitude a = at, b = at;
            double *pa[] = {&a.origin_depth_m, &a.trim_rad, &a.heel_rad};
            double *pb[] = {&b.origin_depth_m, &b.trim_rad, &b.heel_rad};
            *pa[k] -= h;
            *pb[k] += h;
            Poise low, high;
            poise_at(&floater, &a, &low);
            poise_at(&floater, &b, &high);
            for (int r = 0; r < 3; r++)
                assert_close((high.r[r] - low.r[r]) / (2.0 * h), mid.j[r][k],
                             2e-4 * (1.0 + fabs(mid.j[r][k])));
        }
    }
    loft_free(hull);
}

/* Volume right, and the mesh's centre of buoyancy plumb under the centre of gravity. */
static void
assert_balanced(const Loft *hull, const Load *load, double density, const Rest *rest,
                double tolerance)
{
    Immersed mesh;
    mesh_extrapolated(hull, &rest->at, 24, &mesh);
    assert_close(mesh.volume_m3 * density, load->mass_kg, tolerance * load->mass_kg);
    double g[3] = {load->mass_kg * load->lcg_m, load->mass_kg * load->tcg_m,
                   load->mass_kg * load->vcg_m};
    for (size_t i = 0; i < load->tanks; i++) {
        double a[3], b[3], m = tank_liquid_kg(&load->tank[i]);
        tank_centroid(&load->tank[i], 0.0, 0.0, &a[0], &a[1], &a[2]);
        tank_centroid(&load->tank[i], rest->at.heel_rad, rest->at.trim_rad, &b[0], &b[1], &b[2]);
        for (int k = 0; k < 3; k++)
            g[k] += m * (b[k] - a[k]);
    }
    /* Horizontal offset of B from G: the vertical in body axes crossed with the way between them. */
    double n[3] = {-sin(rest->at.trim_rad), sin(rest->at.heel_rad) * cos(rest->at.trim_rad),
                   cos(rest->at.heel_rad) * cos(rest->at.trim_rad)};
    double d[3] = {mesh.x_m4 / mesh.volume_m3 - g[0] / load->mass_kg,
                   mesh.y_m4 / mesh.volume_m3 - g[1] / load->mass_kg,
                   mesh.z_m4 / mesh.volume_m3 - g[2] / load->mass_kg};
    assert_close(d[1] * n[2] - d[2] * n[1], 0.0, 20.0 * tolerance);
    assert_close(d[2] * n[0] - d[0] * n[2], 0.0, 200.0 * tolerance);
}

static void
random_loads_lie_in_balance(void **state)
{
    (void) state;
    Loft *hull = hull_load("float-hull-A.csv"), *flared = hull_flared(9, 5);
    test_random_restart(22);
    int found = 0;
    for (int i = 0; i < 120; i++) {
        const Loft *loft = i % 2 ? flared : hull;
        const Body body = {.lofts = 1, .loft = loft};
        double most = body_volume_m3(&body) * 1000.0;
        Load load = {most * test_between(0.2, 0.8),
                     test_between(0.4, 0.6) * loft->x_m[loft->stations - 1],
                     test_between(-0.4, 0.4),
                     test_between(0.4, 2.2),
                     i % 3 ? 2 : 0,
                     slack};
        Rest rest;
        if (rest_find(&body, &load, 1000.0, &rest) == REFUSED)
            continue;
        found++;
        assert_balanced(loft, &load, 1000.0, &rest, i % 2 ? 1e-5 : 1e-8);
        assert_true(rest.gm_l_m > 0.0);
        assert_true(fabs(rest.at.heel_rad) <= 90.0 * deg);
    }
    assert_true(found > 60);
    loft_free(hull);
    loft_free(flared);
}

static void
rest_is_the_nearest_stable_position(void **state)
{
    (void) state;
    Loft *hull = hull_box(20.0, 5.0, 2.5);
    const Body body = {.lofts = 1, .loft = hull};
    Rest rest;
    /* Negative GM: the loll tan^2 = -2 GM/BM, to starboard on the centreline, else to the nearer side. */
    double bm = 25.0 / 14.4, kg = 0.6 + bm + 0.05, loll = atan(sqrt(0.1 / bm));
    Load load = {120000.0, 10.0, 0.0, kg, 0, NULL};
    assert_int_equal(rest_find(&body, &load, 1000.0, &rest), VALID);
    assert_close(rest.at.heel_rad, loll, 1e-9);
    assert_true(rest.gm_m > 0.0);
    load.tcg_m = -1e-4; /* starboard side heavier: the port loll is the smaller angle */
    assert_int_equal(rest_find(&body, &load, 1000.0, &rest), VALID);
    assert_true(rest.at.heel_rad < 0.0 && rest.at.heel_rad > -loll);
    load.tcg_m = -0.05; /* too heavy on that side: no position to port is left */
    assert_int_equal(rest_find(&body, &load, 1000.0, &rest), VALID);
    assert_true(rest.at.heel_rad > loll);
    /* Zero GM: she lies upright, held by the next term only. */
    load = (Load){120000.0, 10.0, 0.0, 0.6 + bm, 0, NULL};
    assert_int_equal(rest_find(&body, &load, 1000.0, &rest), VALID);
    assert_close(rest.at.heel_rad, 0.0, 1e-4);
    /* List by the wall-sided cubic. */
    load = (Load){120000.0, 10.0, -0.2, 1.5, 0, NULL};
    assert_int_equal(rest_find(&body, &load, 1000.0, &rest), VALID);
    double t = tan(rest.at.heel_rad);
    assert_close((0.6 + bm - 1.5) * t + 0.5 * bm * t * t * t, 0.2, 1e-9);
    loft_free(hull);
}

static void
mirrored_loads_lie_mirrored(void **state)
{
    (void) state;
    Loft *hull = hull_flared(12, 10);
    const Body body = {.lofts = 1, .loft = hull};
    for (double y = 0.01; y < 0.3; y += 0.04) {
        Load s = {26000.0, 7.2, -y, 1.1, 0, NULL}, p = {26000.0, 7.2, y, 1.1, 0, NULL};
        Rest a, b;
        assert_int_equal(rest_find(&body, &s, 1000.0, &a), VALID);
        assert_int_equal(rest_find(&body, &p, 1000.0, &b), VALID);
        assert_true(a.at.heel_rad > 0.0);
        assert_close(a.at.heel_rad, -b.at.heel_rad, 1e-10);
        assert_close(a.at.trim_rad, b.at.trim_rad, 1e-10);
        assert_close(a.gm_m, b.gm_m, 1e-9);
    }
    loft_free(hull);
}

static void
outcomes_say_why(void **state)
{
    (void) state;
    Loft *hull = hull_load("float-hull-A.csv");
    const Body body = {.lofts = 1, .loft = hull};
    Rest rest;
    assert_int_equal(rest_find(&body, &(Load){200000.0, 8.7, 0.0, 1.1, 0, NULL}, 1000.0, &rest),
                     REFUSED);
    assert_int_equal(rest.outcome, REST_SINKS);
    assert_true(isnan(rest.gm_m) && isnan(rest.at.origin_depth_m));
    assert_int_equal(rest_find(&body, &(Load){58000.0, 8.7, 0.0, 60.0, 0, NULL}, 1000.0, &rest),
                     REFUSED);
    assert_true(rest.outcome == REST_UNSTABLE || rest.outcome == REST_PITCHES);
    assert_int_equal(rest_find(&body, &(Load){0.0, 8.7, 0.0, 1.1, 0, NULL}, 1000.0, &rest),
                     REFUSED);
    assert_int_equal(rest.outcome, REST_NO_PLANE);
    loft_free(hull);
}

/* Whatever comes in, the search ends, and what it calls found is a set of numbers. */
static void
hostile_numbers_end(void **state)
{
    (void) state;
    static const double odd[] = {0.0, -1.0, 1e-300, 1e-9,     1.0,       8.7, 58000.0,
                                 1e9, 1e14, 1e300,  INFINITY, -INFINITY, NAN, -1e5};
    enum { N = sizeof odd / sizeof *odd };
    Loft *hull[] = {hull_load("float-hull-A.csv"), hull_box(1e-3, 1e-4, 1e-4),
                    hull_box(9e3, 1e-3, 5e3), hull_box(20.0, 5.0, 0.0)};
    test_random_restart(23);
    for (int i = 0; i < 1500; i++) {
        const Body body = {.lofts = 1, .loft = hull[i % 4]};
#define ODD (odd[(int) (test_random() * N)])
        Load load = {i % 5 ? 58000.0 * pow(10.0, test_between(-14.0, 4.0)) : ODD,
                     i % 3 ? 8.7 : ODD,
                     i % 7 ? 0.0 : ODD,
                     i % 2 ? 1.1 : ODD,
                     0,
                     NULL};
        Rest rest;
        double density = i % 11 ? 1000.0 : ODD, lever;
        Validity validity = rest_find(&body, &load, density, &rest);
        if (validity != REFUSED) {
            assert_true(isfinite(rest.at.origin_depth_m) && isfinite(rest.at.heel_rad) &&
                        isfinite(rest.at.trim_rad));
            assert_true(isfinite(rest.gm_m) && isfinite(rest.lcb_m));
            assert_close(rest.volume_m3, load.mass_kg / density, 1e-6 * load.mass_kg / density);
        }
        Attitude at = {ODD, 0.0, 0.0};
        validity = rest_at_heel(&body, &load, density, ODD, true, &at, &lever);
        assert_true(validity == REFUSED ? isnan(lever) : isfinite(lever));
    }
    for (int k = 0; k < 4; k++)
        loft_free(hull[k]);
}

static void
lever_at_rest_is_zero(void **state)
{
    (void) state;
    Loft *hull = hull_flared(12, 10);
    const Body body = {.lofts = 1, .loft = hull};
    const Load load = {26000.0, 7.2, 0.06, 1.1, 2, slack};
    Rest rest;
    double lever;
    assert_int_equal(rest_find(&body, &load, 1000.0, &rest), VALID);
    Attitude at = rest.at;
    assert_int_equal(rest_at_heel(&body, &load, 1000.0, rest.at.heel_rad, true, &at, &lever),
                     VALID);
    assert_close(lever, 0.0, 1e-10);
    assert_close(at.trim_rad, rest.at.trim_rad, 1e-10);
    loft_free(hull);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(derivatives_are_those_of_the_residuals),
        cmocka_unit_test(random_loads_lie_in_balance),
        cmocka_unit_test(rest_is_the_nearest_stable_position),
        cmocka_unit_test(mirrored_loads_lie_mirrored),
        cmocka_unit_test(lever_at_rest_is_zero),
        cmocka_unit_test(outcomes_say_why),
        cmocka_unit_test(hostile_numbers_end),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
