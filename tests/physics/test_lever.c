/* Curves of levers: symmetry, identities, what is read from them, and flooding. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>
#include <stdlib.h>

#include "hulls.h"

#include "physics/afloat/box_barge.h"
#include "physics/afloat/lever.h"
#include "physics/afloat/lever_shift.h"
#include "physics/afloat/rest.h"
#include "physics/afloat/station.h"
#include "physics/afloat/wedge.h"

enum { MOST = 361 };
static const double deg = M_PI / 180.0;

typedef struct {
    LeverCurve curve;
    double cell[4][MOST];
} Curve;

static Curve *
follow(const Body *body, const Load *load, double from, double step, size_t n, Validity expected)
{
    Curve *c = malloc(sizeof *c);
    assert_non_null(c);
    c->curve = (LeverCurve){n, c->cell[0], c->cell[1], c->cell[2], c->cell[3]};
    for (size_t i = 0; i < n; i++)
        c->cell[0][i] = (from + step * i) * deg;
    assert_int_equal(lever_curve(body, load, 1000.0, true, 0.0, &c->curve), expected);
    return c;
}

static void
box_follows_its_closed_form(void **state)
{
    (void) state;
    Loft *hull = hull_box(20.0, 5.0, 2.5);
    const Body body = {.lofts = 1, .loft = hull};
    const double draught[] = {0.3, 0.9, 1.2, 1.7, 2.2};
    for (size_t k = 0; k < 5; k++) {
        const Load load = {100000.0 * draught[k], 10.0, 0.0, 1.3, 0, NULL};
        Curve *c = follow(&body, &load, -90.0, 1.0, 181, VALID);
        for (size_t i = 0; i < 181; i++) {
            BoxBarge box;
            assert_int_equal(box_barge(20.0, 5.0, 2.5, draught[k], 1.3, c->cell[0][i], &box),
                             VALID);
            assert_close(c->cell[1][i], box.gz_m, 1e-10);
            assert_close(c->cell[2][i], 0.0, 1e-10);
        }
        free(c);
    }
    loft_free(hull);
}

static void
wedge_follows_its_closed_form(void **state)
{
    (void) state;
    double t = tan(30.0 * deg), x[] = {0.0, 8.0}, y[] = {0.0, 3.0 * t, 0.0, 3.0 * t},
           z[] = {0.0, 3.0, 0.0, 3.0};
    const Loft loft = {2, 2, x, y, z, 0.0};
    const Body body = {.lofts = 1, .loft = &loft};
    const Load load = {1000.0 * 8.0 * t, 4.0, 0.0, 0.5, 0, NULL};
    Curve *c = follow(&body, &load, 0.0, 2.0, 26, VALID);
    for (size_t i = 0; i < 26; i++) {
        Wedge wedge;
        assert_int_equal(wedge_float(30.0 * deg, 1.0, c->cell[0][i], 0.5, &wedge), VALID);
        assert_close(c->cell[1][i], wedge.gz_m, 1e-10);
    }
    free(c);
}

static void
symmetric_hull_has_an_odd_curve(void **state)
{
    (void) state;
    Loft *hull = hull_flared(12, 10);
    const Body body = {.lofts = 1, .loft = hull};
    const Tank tank = {4.0, 6.0, -1.0, 1.0, 0.4, 1.1, 0.5, 1000.0};
    const Load load = {26000.0, 7.2, 0.0, 1.1, 1, &tank};
    Curve *c = follow(&body, &load, -180.0, 1.0, 361, VALID);
    for (size_t i = 0; i <= 180; i++) {
        assert_close(c->cell[1][i], -c->cell[1][360 - i], 1e-9);
        assert_close(c->cell[2][i], c->cell[2][360 - i], 1e-9);
    }
    assert_close(c->cell[1][180], 0.0, 1e-12);
    free(c);
    loft_free(hull);
}

/* Each heel solved alone from a cold start gives what the warm-started curve gives. */
static void
curve_does_not_remember_how_it_was_walked(void **state)
{
    (void) state;
    Loft *hull = hull_load("float-hull-B.csv");
    const Body body = {.lofts = 1, .loft = hull};
    const Load load = {14500.0, 5.2, 0.03, 1.0, 0, NULL};
    Curve *c = follow(&body, &load, 0.0, 1.0, 181, VALID);
    for (size_t i = 0; i < 181; i += 4) {
        Attitude at = {0.5, 0.0, 0.0};
        double lever;
        assert_int_equal(rest_at_heel(&body, &load, 1000.0, c->cell[0][i], true, &at, &lever),
                         VALID);
        assert_close(lever, c->cell[1][i], 1e-10);
        assert_close(at.trim_rad, c->cell[2][i], 1e-9);
    }
    free(c);
    loft_free(hull);
}

static void
slope_at_upright_is_the_metacentric_height(void **state)
{
    (void) state;
    Loft *hull = hull_load("float-hull-A.csv");
    const Body body = {.lofts = 1, .loft = hull};
    const Tank tank = {10.0, 13.0, -1.2, 1.2, 0.1, 1.0, 0.5, 1000.0};
    for (size_t tanks = 0; tanks < 2; tanks++) {
        const Load load = {58000.0, 8.7, 0.0, 1.1, tanks, &tank};
        Rest rest;
        double lever[2];
        assert_int_equal(rest_find(&body, &load, 1000.0, &rest), VALID);
        const double h = 1e-4;
        for (int k = 0; k < 2; k++) {
            Attitude at = rest.at;
            assert_int_equal(rest_at_heel(&body, &load, 1000.0, k ? h : -h, true, &at, &lever[k]),
                             VALID);
        }
        /* Heel turns about the boat's own axis, which is trimmed: the cosine. */
        assert_close((lever[1] - lever[0]) / (2.0 * h), rest.gm_m * cos(rest.at.trim_rad), 1e-7);
    }
    loft_free(hull);
}

static void
levers_for_another_centre_of_gravity(void **state)
{
    (void) state;
    Loft *hull = hull_load("float-hull-A.csv");
    const Body body = {.lofts = 1, .loft = hull};
    const Load low = {58000.0, 8.7, 0.0, 1.1, 0, NULL}, high = {58000.0, 8.7, -0.06, 1.5, 0, NULL};
    for (double heel = -80.0; heel < 81.0; heel += 20.0) {
        Attitude a = {0.9, 0.0, 0.002}, b = {0.9, 0.0, 0.002};
        double gz, other;
        rest_at_heel(&body, &low, 1000.0, heel * deg, false, &a, &gz);
        rest_at_heel(&body, &high, 1000.0, heel * deg, false, &b, &other);
        assert_close(other, lever_shift_m(gz, heel * deg, 1.1, 1.5, 0.0, -0.06), 1e-10);
    }
    loft_free(hull);
}

static void
areas_read_off_and_solved_agree(void **state)
{
    (void) state;
    Loft *hull = hull_load("float-hull-B.csv");
    const Body body = {.lofts = 1, .loft = hull};
    const Load load = {14500.0, 5.2, 0.0, 1.0, 0, NULL};
    Curve *fine = follow(&body, &load, -10.0, 1.0, 151, VALID),
          *coarse = follow(&body, &load, 0.0, 2.5, 41, VALID);
    LeverFacts a, b, c;
    assert_int_equal(lever_facts(&body, &load, 1000.0, true, &fine->curve, INFINITY, true, &a),
                     VALID);
    assert_int_equal(lever_facts(&body, &load, 1000.0, true, &fine->curve, INFINITY, false, &b),
                     VALID);
    assert_int_equal(lever_facts(&body, &load, 1000.0, true, &coarse->curve, INFINITY, false, &c),
                     VALID);
    assert_close(a.area_30, b.area_30, 2e-5);
    assert_close(a.area_40, b.area_40, 2e-5);
    assert_close(a.area_peak, b.area_peak, 2e-5);
    assert_close(a.area_30, c.area_30, 2e-4);
    assert_close(a.max_m, c.max_m, 1e-9);
    assert_close(a.max_rad, c.max_rad, 1e-6);
    assert_close(a.vanishing_rad, c.vanishing_rad, 1e-9);
    assert_close(a.range_rad, a.vanishing_rad, 1e-9);
    assert_close(a.gz_30_m, a.max_m, 1e-12);
    free(fine);
    free(coarse);
    loft_free(hull);
}

static void
water_coming_in_ends_the_curve(void **state)
{
    (void) state;
    Loft *hull = hull_load("float-hull-B.csv");
    const Body body = {.lofts = 1, .loft = hull};
    const Load load = {14500.0, 5.2, -0.05, 1.0, 0, NULL};
    Curve *c = follow(&body, &load, -20.0, 1.0, 161, VALID);
    LeverFacts dry, wet, early;
    assert_int_equal(lever_facts(&body, &load, 1000.0, true, &c->curve, INFINITY, true, &dry),
                     VALID);
    assert_int_equal(lever_facts(&body, &load, 1000.0, true, &c->curve, 35.0 * deg, true, &wet),
                     VALID);
    assert_int_equal(lever_facts(&body, &load, 1000.0, true, &c->curve, 25.0 * deg, true, &early),
                     VALID);
    Rest rest;
    assert_int_equal(rest_find(&body, &load, 1000.0, &rest), VALID);
    assert_close(dry.range_rad, dry.vanishing_rad - rest.at.heel_rad, 1e-9);
    assert_close(wet.range_rad, 35.0 * deg - rest.at.heel_rad, 1e-9);
    assert_true(wet.area_40 < dry.area_40);
    assert_close(wet.area_30, dry.area_30, 1e-12);
    assert_true(wet.gz_30_m < dry.gz_30_m);
    assert_close(early.gz_30_m, 0.0, 0.0);
    assert_true(early.area_30_40 < 0.0 || early.area_40 <= early.area_30);
    free(c);
    loft_free(hull);
}

static void
point_comes_under_where_its_height_is_zero(void **state)
{
    (void) state;
    Loft *hull = hull_load("float-hull-A.csv");
    const Body body = {.lofts = 1, .loft = hull};
    const Load load = {58000.0, 8.7, 0.02, 1.1, 0, NULL};
    Curve *s = follow(&body, &load, 0.0, 1.0, 91, VALID),
          *p = follow(&body, &load, -90.0, 1.0, 91, VALID);
    test_random_restart(51);
    for (int i = 0; i < 60; i++) {
        double x = test_between(1.0, 17.0), y = test_between(-2.0, 2.0), z = test_between(1.9, 3.5);
        int side;
        double heel = point_floods_rad(&body, &load, 1000.0, &s->curve, &p->curve, x, y, z,
                                       0.5 * M_PI, &side);
        if (side == 0) {
            assert_true(isnan(heel));
            continue;
        }
        Attitude at = {0.9, 0.0, 0.0};
        double lever;
        rest_at_heel(&body, &load, 1000.0, side * heel, true, &at, &lever);
        assert_close(attitude_height_m(&at, x, y, z), 0.0, 1e-9);
        at = (Attitude){0.9, 0.0, 0.0};
        rest_at_heel(&body, &load, 1000.0, -side * (heel - 1e-3), true, &at, &lever);
        assert_true(attitude_height_m(&at, x, y, z) > 0.0); /* the other side is not sooner */
    }
    int side;
    assert_close(point_floods_rad(&body, &load, 1000.0, &s->curve, &p->curve, 9.0, 0.0, 0.3,
                                  0.5 * M_PI, &side),
                 0.0, 0.0);
    assert_true(isnan(point_floods_rad(&body, &load, 1000.0, &s->curve, &p->curve, 9.0, -1.6, 2.4,
                                       40.0 * deg, &side)));
    assert_int_equal(side, 0);
    free(s);
    free(p);
    loft_free(hull);
}

static void
a_load_that_sinks_has_no_curve(void **state)
{
    (void) state;
    Loft *hull = hull_load("float-hull-A.csv");
    const Body body = {.lofts = 1, .loft = hull};
    const Load load = {580000.0, 8.7, 0.0, 1.1, 0, NULL};
    Curve *c = follow(&body, &load, 0.0, 10.0, 10, REFUSED);
    LeverFacts facts;
    for (size_t i = 0; i < 10; i++)
        assert_true(isnan(c->cell[1][i]));
    assert_int_equal(lever_facts(&body, &load, 1000.0, true, &c->curve, 1.5, true, &facts),
                     REFUSED);
    assert_true(isnan(facts.max_m) && isnan(facts.area_30));
    free(c);
    loft_free(hull);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(box_follows_its_closed_form),
        cmocka_unit_test(wedge_follows_its_closed_form),
        cmocka_unit_test(symmetric_hull_has_an_odd_curve),
        cmocka_unit_test(curve_does_not_remember_how_it_was_walked),
        cmocka_unit_test(slope_at_upright_is_the_metacentric_height),
        cmocka_unit_test(levers_for_another_centre_of_gravity),
        cmocka_unit_test(areas_read_off_and_solved_agree),
        cmocka_unit_test(water_coming_in_ends_the_curve),
        cmocka_unit_test(point_comes_under_where_its_height_is_zero),
        cmocka_unit_test(a_load_that_sinks_has_no_curve),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
