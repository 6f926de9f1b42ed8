/* Slings by moments and by chance; a weight on the davit by two ways. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>

#include "hulls.h"

#include "physics/afloat/davit.h"
#include "physics/afloat/slings.h"
#include "physics/afloat/station.h"

static const double deg = M_PI / 180.0;

static void
slings_carry_the_boat(void **state)
{
    (void) state;
    test_random_restart(61);
    for (int k = 0; k < 200; k++) {
        double x1 = test_between(0.0, 5.0), x2 = x1 + test_between(1.0, 12.0);
        const Sling s[2] = {{x1, 0.1, test_between(0.0, 1.0)}, {x2, 0.1, test_between(0.0, 1.0)}};
        const SlungBoat b = {test_between(1e3, 6e4), 100.0, test_between(x1, x2), 0.05, NAN};
        Slings out;
        assert_int_not_equal(slings(&b, s, &out), REFUSED);
        double weight = b.mass_kg * 9.80665, about = test_between(-50.0, 50.0);
        double f1 = out.sling[0].force_N, f2 = out.sling[1].force_N;
        assert_close(f1 + f2, weight, 1e-9 * weight);
        assert_close(f1 * (x1 - about) + f2 * (x2 - about), weight * (b.lcg_m - about),
                     1e-9 * weight * 60.0);
        for (int i = 0; i < 2; i++) {
            const SlingLoad *l = &out.sling[i];
            /* Two legs: upright parts lift, level parts press on each other. */
            assert_close(2.0 * l->leg_N * cos(s[i].angle_rad), l->force_N, 1e-9 * weight);
            assert_close(l->leg_N * sin(s[i].angle_rad), l->squeeze_N, 1e-9 * weight);
            assert_true(l->force_upper_N > l->force_N && l->leg_upper_N > l->leg_N);
            assert_close(l->leg_upper_N * l->force_N, l->leg_N * l->force_upper_N,
                         1e-9 * weight * weight);
        }
        assert_true(isnan(out.along_N));
    }
}

/* One hook over G: in each leg a pull that points from the sling to the hook. */
static void
one_hook_pulls_along(void **state)
{
    (void) state;
    const Sling s[2] = {{3.0, 0.0, 20.0 * deg}, {10.0, 0.0, 30.0 * deg}};
    const SlungBoat b = {12000.0, 0.0, 6.0, 0.0, 5.0};
    Slings out;
    assert_int_equal(slings(&b, s, &out), VALID);
    assert_close(out.along_N, out.sling[0].force_N * 3.0 / 5.0, 1e-9);
    assert_close(out.along_N, out.sling[1].force_N * 4.0 / 5.0, 1e-9);
    double up = out.sling[0].force_N / 2.0, across = up * tan(20.0 * deg), along = up * 0.6;
    assert_close(out.sling[0].leg_N, sqrt(up * up + across * across + along * along), 1e-9);
    assert_close(out.sling[0].force_N, 12000.0 * 9.80665 * 4.0 / 7.0, 1e-8);
}

/* s: half of the 95 % of mass, centre and both places. */
static void
draw_loads(double mass_s, double centre_s, double aft_s, double fwd_s)
{
    const Sling s[2] = {{2.0, 2.0 * aft_s, 0.0}, {9.0, 2.0 * fwd_s, 0.0}};
    const SlungBoat b = {14000.0, 2.0 * mass_s, 4.0, 2.0 * centre_s, NAN};
    Slings out;
    slings(&b, s, &out);
    double sum[2] = {0};
    enum { TRIES = 20000 };
    for (int k = 0; k < TRIES; k++) {
        double m = 14000.0 + mass_s * test_normal(), x = 4.0 + centre_s * test_normal();
        double x1 = 2.0 + aft_s * test_normal(), x2 = 9.0 + fwd_s * test_normal();
        double f1 = m * 9.80665 * (x2 - x) / (x2 - x1), f2 = m * 9.80665 - f1;
        sum[0] += (f1 - out.sling[0].force_N) * (f1 - out.sling[0].force_N);
        sum[1] += (f2 - out.sling[1].force_N) * (f2 - out.sling[1].force_N);
    }
    for (int i = 0; i < 2; i++) {
        double spread = out.sling[i].force_upper_N - out.sling[i].force_N;
        assert_close(spread, 2.0 * sqrt(sum[i] / TRIES), 0.03 * spread);
    }
}

static void
upper_figure_holds_95(void **state)
{
    (void) state;
    test_random_restart(62);
    draw_loads(700.0, 0.15, 0.1, 0.1);
    draw_loads(1.0, 0.001, 0.1, 0.02);
    draw_loads(1.0, 0.001, 0.02, 0.1);
}

static void
places_that_bear_alike(void **state)
{
    (void) state;
    SlingPlaces p = slings_alike(5.2, 6.0), q = slings_alike_with(5.2, 9.0);
    assert_close(p.x_aft_m, 2.2, 1e-12);
    assert_close(p.x_fwd_m, 8.2, 1e-12);
    assert_close(q.x_aft_m, 1.4, 1e-12);
    assert_close(q.x_fwd_m, 9.0, 1e-12);
    const SlungBoat b = {14000.0, 0.0, 5.2, 0.0, NAN};
    const Sling s[2] = {{q.x_aft_m, 0.0, 0.0}, {q.x_fwd_m, 0.0, 0.0}};
    Slings out;
    slings(&b, s, &out);
    assert_close(out.sling[0].force_N, out.sling[1].force_N, 1e-8);
    assert_true(isnan(slings_alike(5.2, 0.0).x_aft_m) && isnan(slings_alike(NAN, 6.0).x_fwd_m));
    assert_true(isnan(slings_alike_with(5.2, 5.2).x_aft_m));
}

static void
boats_that_tip_are_refused(void **state)
{
    (void) state;
    const Sling s[2] = {{2.0, 0.0, 0.3}, {9.0, 0.0, 0.3}};
    const SlungBoat good = {14000.0, 500.0, 5.0, 0.3, NAN};
    SlungBoat b = good;
    Slings out;
    b.lcg_m = 9.01;
    assert_int_equal(slings(&b, s, &out), REFUSED);
    assert_true(isnan(out.sling[0].force_N) && isnan(out.sling[1].leg_upper_N));
    b.lcg_m = 1.99;
    assert_int_equal(slings(&b, s, &out), REFUSED);
    b.lcg_m = 8.8;
    assert_int_equal(slings(&b, s, &out), EXTRAPOLATED);
    const double wild[] = {NAN, INFINITY, -1.0};
    for (int i = 0; i < 3; i++) {
        b = good;
        b.mass_kg = wild[i];
        assert_int_equal(slings(&b, s, &out), REFUSED);
        b = good;
        b.mass_spread_kg = wild[i];
        assert_int_equal(slings(&b, s, &out), REFUSED);
        b = good;
        b.lcg_spread_m = wild[i];
        assert_int_equal(slings(&b, s, &out), REFUSED);
        const Sling angle[2] = {s[0], {9.0, 0.0, wild[i]}}, place[2] = {s[0], {wild[i], 0.0, 0.3}};
        assert_int_equal(slings(&good, angle, &out), REFUSED);
        assert_int_equal(slings(&good, place, &out), REFUSED);
    }
    b = good;
    b.hook_above_m = 0.0;
    assert_int_equal(slings(&b, s, &out), REFUSED);
    const Sling swapped[2] = {s[1], s[0]}, same[2] = {{5, 0, 0}, {5, 0, 0}};
    assert_int_equal(slings(&good, swapped, &out), REFUSED);
    assert_int_equal(slings(&good, same, &out), REFUSED);
}

/* --- davit ---------------------------------------------------------------------------------------------------------- */

static void
weight_on_the_hook_of_a_box(void **state)
{
    (void) state;
    Loft *box = hull_box(20.0, 5.0, 2.5);
    const Body body = {.lofts = 1, .loft = box};
    const Load load = {120000.0, 10.0, 0.0, 1.5, 0, NULL};
    const HungWeight hung = {.w_kg = 1000.0, .x_m = 10.0, .y_m = -3.2, .z_m = 4.5};
    Rest rest;
    assert_int_equal(davit_rest(&body, &load, 1000.0, &hung, &rest), VALID);
    /* Wall-sided: tan(heel) (GM + BM tan^2 / 2) = lever, draught of the whole mass. */
    double T = 1.21, kg = (120.0 * 1.5 + 4.5) / 121.0, bm = 25.0 / (12.0 * T),
           gm = T / 2.0 + bm - kg, t = tan(rest.at.heel_rad);
    assert_true(t > 0.01);
    assert_close(t * (gm + bm * t * t / 2.0), 3.2 / 121.0, 1e-9);

    DavitHeel fixed;
    assert_int_equal(davit_heel(120000.0, 0.0, 1.5, T / 2.0 + bm, 0.0, &hung, &fixed), VALID);
    assert_close(fixed.moment_kgm, 3200.0, 1e-9);
    assert_close(fixed.gm_m, gm, 1e-12);
    assert_close(fixed.vcg_m, kg, 1e-12);
    assert_close(tan(fixed.heel_rad), 3.2 / 121.0 / gm, 1e-12);
    assert_close(fixed.heel_rad, rest.at.heel_rad, 1e-4);
    assert_true(fixed.heel_rad > rest.at.heel_rad); /* the wedges at her sides stiffen her */
    loft_free(box);
}

/* Lifted from her own deck: as if the boat without it took it from ashore, and as heavy as before. */
static void
weight_from_her_own_deck(void **state)
{
    (void) state;
    Loft *hull = hull_load("float-hull-B.csv");
    const Body body = {.lofts = 1, .loft = hull};
    const Load bare = {14000.0, 5.2, 0.0, 1.0, 0, NULL};
    const HungWeight ashore = {.w_kg = 200.0, .x_m = 2.0, .y_m = 2.6, .z_m = 3.5};
    HungWeight deck = ashore;
    deck.from_deck = true;
    deck.deck_x_m = 4.0;
    deck.deck_y_m = -0.5;
    deck.deck_z_m = 1.5;
    const Load aboard = {14200.0,
                         (14000.0 * 5.2 + 200.0 * 4.0) / 14200.0,
                         -0.5 * 200.0 / 14200.0,
                         (14000.0 * 1.0 + 200.0 * 1.5) / 14200.0,
                         0,
                         NULL};
    Rest one, two;
    DavitHeel a, b;
    assert_int_equal(davit_rest(&body, &bare, 1000.0, &ashore, &one), VALID);
    assert_int_equal(davit_rest(&body, &aboard, 1000.0, &deck, &two), VALID);
    assert_true(one.at.heel_rad < -1.0 * deg); /* to port */
    assert_close(one.at.heel_rad, two.at.heel_rad, 1e-10);
    assert_close(one.at.trim_rad, two.at.trim_rad, 1e-10);
    davit_heel(14000.0, 0.0, 1.0, 2.9, 300.0, &ashore, &a);
    davit_heel(14200.0, aboard.tcg_m, aboard.vcg_m, 2.9, 300.0, &deck, &b);
    assert_close(a.heel_rad, b.heel_rad, 1e-12);
    assert_close(a.gm_m, b.gm_m, 1e-12);
    loft_free(hull);
}

static void
hostile_weights_are_refused(void **state)
{
    (void) state;
    Loft *hull = hull_load("float-hull-B.csv");
    const Body body = {.lofts = 1, .loft = hull};
    const Load load = {14000.0, 5.2, 0.0, 1.0, 0, NULL};
    Rest rest;
    DavitHeel out;
    const HungWeight bad[] = {{.w_kg = NAN, .y_m = 2.0},
                              {.w_kg = -5.0, .y_m = 2.0},
                              {.w_kg = 0.0, .y_m = 2.0},
                              {.w_kg = 200.0, .y_m = INFINITY},
                              {.w_kg = 200.0, .z_m = NAN},
                              {.w_kg = 14000.0, .from_deck = true},
                              {.w_kg = 200.0, .from_deck = true, .deck_y_m = NAN}};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        assert_int_equal(davit_rest(&body, &load, 1000.0, &bad[i], &rest), REFUSED);
        assert_true(isnan(rest.gm_m));
        assert_int_equal(davit_heel(14000.0, 0.0, 1.0, 2.9, 0.0, &bad[i], &out), REFUSED);
        assert_true(isnan(out.heel_rad) && isnan(out.gm_m));
    }
    const HungWeight high = {.w_kg = 3000.0, .y_m = 1.0, .z_m = 15.0};
    assert_int_equal(davit_heel(14000.0, 0.0, 1.0, 2.9, 0.0, &high, &out), VALID);
    assert_true(out.gm_m < 0.0 && isnan(out.heel_rad));
    const HungWeight far = {.w_kg = 3000.0, .y_m = 9.0, .z_m = 5.0};
    assert_int_equal(davit_rest(&body, &load, 1000.0, &far, &rest), REFUSED);
    assert_int_equal(rest.outcome, REST_UNSTABLE);
    assert_int_equal(davit_heel(14000.0, 0.0, 1.0, 2.9, -1.0, &far, &out), REFUSED);
    loft_free(hull);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(slings_carry_the_boat),      cmocka_unit_test(one_hook_pulls_along),
        cmocka_unit_test(upper_figure_holds_95),      cmocka_unit_test(places_that_bear_alike),
        cmocka_unit_test(boats_that_tip_are_refused), cmocka_unit_test(weight_on_the_hook_of_a_box),
        cmocka_unit_test(weight_from_her_own_deck),   cmocka_unit_test(hostile_weights_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
