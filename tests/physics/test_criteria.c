/* Criteria and closed forms where the cases do not reach: edges, refusals, and what must hold whatever the numbers. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>

#include "hulls.h"

#include "physics/afloat/cfr.h"
#include "physics/afloat/freeboard_inland.h"
#include "physics/afloat/freeboard_uk.h"
#include "physics/afloat/gm_fishing.h"
#include "physics/afloat/intact.h"
#include "physics/afloat/list_angle.h"
#include "physics/afloat/pontoon.h"
#include "physics/afloat/roll_period.h"
#include "physics/afloat/simpson.h"
#include "physics/afloat/smallcraft.h"
#include "physics/afloat/weather.h"
#include "physics/afloat/wind_height.h"

static const double deg = M_PI / 180.0;

static const IntactCurve good = {.area_30 = 0.06,
                                 .area_40 = 0.10,
                                 .area_30_40 = 0.04,
                                 .area_peak = 0.08,
                                 .gz_30_m = 0.25,
                                 .peak_rad = 30.0 * M_PI / 180.0,
                                 .gm_m = 0.5};

static void
a_limit_not_known_is_never_met(void **state)
{
    (void) state;
    IntactResult r;
    assert_int_equal(intact_criteria(INTACT_GENERAL, &good, &r), VALID);
    assert_true(r.meets);
    for (int k = 0; k < 6; k++) {
        IntactCurve c = good;
        double *field[] = {&c.area_30, &c.area_40, &c.area_30_40, &c.gz_30_m, &c.peak_rad, &c.gm_m};
        *field[k] = NAN;
        assert_int_equal(intact_criteria(INTACT_GENERAL, &c, &r), VALID);
        assert_false(r.meets);
        c = good;
        *field[k] *= 0.2;
        intact_criteria(INTACT_GENERAL, &c, &r);
        assert_false(r.meets);
        assert_int_equal(r.governing, r.item[k].which);
    }
}

static void
limits_meet_at_the_ends_of_the_beamy_rule(void **state)
{
    (void) state;
    IntactResult r;
    IntactCurve c = good;
    c.peak_rad = 30.0 * deg;
    intact_criteria(INTACT_BEAMY, &c, &r);
    assert_close(r.area_peak_required, 0.055, 1e-12);
    c.peak_rad = 15.0 * deg;
    assert_int_equal(intact_criteria(INTACT_BEAMY, &c, &r), VALID);
    assert_close(r.area_peak_required, 0.070, 1e-12);
    c.peak_rad = 10.0 * deg;
    assert_int_equal(intact_criteria(INTACT_BEAMY, &c, &r), EXTRAPOLATED);
    assert_false(r.meets);
    c.area_peak = NAN;
    assert_int_equal(intact_criteria(INTACT_BEAMY, &c, &r), REFUSED);
}

/* A triangular curve, 0 to 0.5 m at 40 deg and back to 0 at 80: everything by hand. */
static const double triangle_heel[] = {0.0, 40.0 * M_PI / 180.0, 80.0 * M_PI / 180.0},
                    triangle_gz[] = {0.0, 0.5, 0.0};

static WeatherCase
triangle(void)
{
    return (WeatherCase){.mass_kg = 50000.0,
                         .area_m2 = 40.0,
                         .lever_m = 2.0,
                         .lwl_m = 16.0,
                         .beam_m = 4.0,
                         .draught_m = 1.5,
                         .block = 0.6,
                         .vcg_m = 1.5,
                         .gm_m = 0.7,
                         .bilge = BILGE_ROUND,
                         .n = 3,
                         .heel_rad = triangle_heel,
                         .gz_m = triangle_gz,
                         .flooding_rad = 60.0 * M_PI / 180.0,
                         .pressure_Pa = 504.0};
}

static void
weather_areas_are_those_of_a_triangle(void **state)
{
    (void) state;
    WeatherCase c = triangle();
    Weather w;
    assert_int_equal(weather_criterion(&c, &w), VALID);
    double l1 = 504.0 * 40.0 * 2.0 / (9.81 * 50000.0), l2 = 1.5 * l1, slope = 0.5 / (40.0 * deg);
    assert_close(w.steady_heel_rad, l1 / slope, 1e-12);
    assert_close(w.gust_heel_rad, l2 / slope, 1e-12);
    assert_close(w.gust_heel_2_rad, 80.0 * deg - l2 / slope, 1e-12);
    double reach = l2 / slope - (l1 / slope - w.roll_rad);
    assert_close(w.area_a, 0.5 * slope * reach * reach, 1e-12);
    /* Out to 50 deg: from the gust heel up to 40 deg, then down 10 deg. */
    double up = 0.5 - l2, at_50 = 0.5 * 30.0 / 40.0 - l2;
    double b = 0.5 * up * (40.0 * deg - l2 / slope) + 0.5 * (up + at_50) * 10.0 * deg;
    assert_close(w.area_b, b, 1e-12);
    c.flooding_rad = 45.0 * deg;
    Weather wet;
    assert_int_equal(weather_criterion(&c, &wet), VALID);
    assert_true(wet.area_b < w.area_b);
    assert_close(wet.area_a, w.area_a, 1e-15);
}

static void
weather_refuses_what_it_cannot_judge(void **state)
{
    (void) state;
    WeatherCase c = triangle();
    Weather w;
    c.gm_m = 0.0;
    assert_int_equal(weather_criterion(&c, &w), REFUSED);
    assert_true(isnan(w.roll_rad) && !w.meets);
    c = triangle();
    c.area_m2 = 4000.0; /* gust above the whole curve */
    assert_int_equal(weather_criterion(&c, &w), REFUSED);
    c = triangle();
    c.n = 2; /* the curve ends at 40 deg, before the area b does */
    assert_int_equal(weather_criterion(&c, &w), EXTRAPOLATED);
    c = triangle();
    c.n = 0;
    assert_int_equal(weather_criterion(&c, &w), VALID);
    assert_true(isfinite(w.roll_rad) && isnan(w.area_a) && !w.meets);
    c = triangle();
    c.beam_m = 1.5 * 3.6;
    assert_int_equal(weather_criterion(&c, &w), EXTRAPOLATED);
    c = triangle();
    c.flooding_rad = 1.0 * deg; /* water is in before the gust heel */
    assert_int_equal(weather_criterion(&c, &w), VALID);
    assert_false(w.meets);
}

static void
keels_damp_more_than_sharp_bilges_allow(void **state)
{
    (void) state;
    WeatherCase c = triangle();
    Weather round, keels;
    weather_criterion(&c, &round);
    c.bilge = BILGE_KEELS;
    c.keel_area_m2 = 0.0;
    weather_criterion(&c, &keels);
    assert_close(keels.roll_rad, round.roll_rad, 1e-15);
    c.keel_area_m2 = 0.02 * c.lwl_m * c.beam_m;
    weather_criterion(&c, &keels);
    assert_close(keels.k, 0.88, 1e-12);
}

static void
list_satisfies_its_own_equation(void **state)
{
    (void) state;
    test_random_restart(71);
    for (int i = 0; i < 500; i++) {
        double gm = test_between(-0.5, 1.0), bm = test_between(0.2, 5.0),
               moment = test_between(-1e5, 1e5);
        ListAngle list;
        assert_int_equal(list_angle(50000.0, gm, bm, moment, &list), VALID);
        double t = tan(list.list_rad);
        assert_close(gm * t + 0.5 * bm * t * t * t, moment / 50000.0, 1e-10);
        assert_true(list.gm_at_list_m >= -1e-9); /* the stable one */
        assert_true(moment == 0.0 || (list.list_rad > 0.0) == (moment > 0.0));
    }
    ListAngle list;
    assert_int_equal(list_angle(1.0, -0.1, 0.0, 0.0, &list), REFUSED);
    assert_int_equal(list_angle(1.0, 0.0, 2.0, 0.0, &list), VALID);
    assert_close(list.list_rad, 0.0, 1e-12);
    assert_true(isnan(list.linear_rad));
}

static void
simple_rules_refuse_nonsense(void **state)
{
    (void) state;
    static const double odd[] = {0.0, -1.0, NAN, INFINITY, 1e300};
    for (int i = 0; i < 5; i++) {
        double x = odd[i], heel, gm, f;
        WindGm w;
        Pontoon p;
        ProofTest t;
        SmallcraftLimits limits;
        InlandFreeboard inland;
        assert_int_equal(wind_gm(x, 40, 2, 35000, 0.7, 4, WATERS_EXPOSED, &w), REFUSED);
        assert_true(isnan(w.gm_m));
        assert_int_equal(passenger_gm(1000, x, 1.6, 1.0, &heel, &gm), REFUSED);
        assert_int_equal(proof_test(900, x, 30, 1.7, 0.8, WATERS_EXPOSED, 12, 3, &t), REFUSED);
        assert_int_equal(pontoon_criterion(20, x, 1.3, 40, 1.8, 120000, &p), REFUSED);
        assert_int_equal(smallcraft_limits(x, CATEGORY_B, &limits), REFUSED);
        assert_int_equal(freeboard_uk(x, DECK_OPEN, &f), REFUSED);
        assert_int_equal(freeboard_inland(x, 4.2, 0, NULL, 0, 0, 0, 0, &inland), REFUSED);
        assert_int_equal(gm_fishing(16, x, 2.5, 0.6, 4.8, &gm), REFUSED);
        assert_true(isnan(hook_moment_kgm(x, 1, 1, 1)));
        assert_true(isnan(roll_period_s(0.4, 4.0, x)));
    }
    ProofTest t;
    assert_int_equal(proof_test(900, 3.6, 30, 1.7, 0.8, WATERS_EXPOSED, NAN, 3, &t), REFUSED);
    assert_int_equal(proof_test(900, 3.6, 30, 1.7, 0.8, WATERS_EXPOSED, 2, 3, &t), REFUSED);
    assert_int_equal(proof_test(900, 3.6, 30, 1.7, 0.8, WATERS_EXPOSED, NAN, 0, &t), VALID);
    assert_close(t.immersion_m, 0.4, 1e-12);
}

static void
sheer_aft_never_counts_for_more_than_forward(void **state)
{
    (void) state;
    InlandFreeboard a, b;
    freeboard_inland(18, 4.2, 0, NULL, 0.05, 0.4, 4.5, 4.5, &a);
    freeboard_inland(18, 4.2, 0, NULL, 0.05, 0.05, 4.5, 4.5, &b);
    assert_close(a.freeboard_m, b.freeboard_m, 1e-15);
    const Superstructure low = {PLACE_MID, 6.0, 2.0,
                                2.0}; /* narrower than 0.6 of the beam: counts nothing */
    freeboard_inland(18, 4.2, 1, &low, 0, 0, 0, 0, &a);
    assert_close(a.freeboard_m, 0.15, 1e-15);
    const Superstructure whole = {PLACE_FORE, 18.0, 4.2, 2.0};
    assert_int_equal(freeboard_inland(18, 4.2, 1, &whole, 0, 0, 0, 0, &a), EXTRAPOLATED);
    assert_close(a.freeboard_m, 0.0, 1e-15);
}

static void
period_and_height_invert_each_other(void **state)
{
    (void) state;
    double c = roll_coefficient(4.2, 0.9, 17.0);
    for (double gm = 0.1; gm < 3.0; gm += 0.3)
        assert_close(roll_gm_m(c, 4.2, roll_period_s(c, 4.2, gm)), gm, 1e-12);
}

static void
wind_near_the_water_is_calm(void **state)
{
    (void) state;
    const WindArea low = {10.0, 0.001, 1.0}, usual = {10.0, 2.0, 1.0};
    double lever;
    assert_int_equal(wind_lever(1, &low, 58000.0, false, NULL, &lever), VALID);
    assert_close(lever, 0.0, 0.0);
    assert_int_equal(wind_lever(1, &usual, 58000.0, false, NULL, &lever), VALID);
    assert_true(lever > 0.0);
    assert_int_equal(wind_lever(0, &usual, 58000.0, false, NULL, &lever), REFUSED);
}

static void
simpson_is_exact_for_cubics(void **state)
{
    (void) state;
    double x[] = {0, 0.5, 1, 3, 5}, a[5], volume, lcb;
    for (int i = 0; i < 5; i++)
        a[i] = 1.0 + 2.0 * x[i] + x[i] * x[i] * x[i];
    assert_int_equal(simpson_volume(5, x, a, &volume, &lcb), VALID);
    assert_close(volume, 5.0 + 25.0 + 625.0 / 4.0, 1e-12);
    x[3] = 3.1;
    assert_int_equal(simpson_volume(5, x, a, &volume, &lcb), REFUSED);
    assert_int_equal(simpson_volume(4, x, a, &volume, &lcb), REFUSED);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_limit_not_known_is_never_met),
        cmocka_unit_test(limits_meet_at_the_ends_of_the_beamy_rule),
        cmocka_unit_test(weather_areas_are_those_of_a_triangle),
        cmocka_unit_test(weather_refuses_what_it_cannot_judge),
        cmocka_unit_test(keels_damp_more_than_sharp_bilges_allow),
        cmocka_unit_test(list_satisfies_its_own_equation),
        cmocka_unit_test(simple_rules_refuse_nonsense),
        cmocka_unit_test(sheer_aft_never_counts_for_more_than_forward),
        cmocka_unit_test(period_and_height_invert_each_other),
        cmocka_unit_test(wind_near_the_water_is_calm),
        cmocka_unit_test(simpson_is_exact_for_cubics),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
