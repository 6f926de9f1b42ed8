/* Surveys afloat: boats of known weight measured with known noise, another library's least squares, closed forms. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <gsl/gsl_multifit.h>
#include <math.h>

#include "hulls.h"

#include "physics/afloat/draught_survey.h"
#include "physics/afloat/floating_survey.h"
#include "physics/afloat/rest.h"
#include "physics/afloat/station.h"
#include "physics/least_squares.h"

static const double deg = M_PI / 180.0;

enum { READINGS = 10 };

/* Deck edge of hull A at five places a side, as she lies at rest. */
static void
measure(const Attitude *at, size_t n, FreeboardReading reading[], double noise)
{
    for (size_t i = 0; i < n; i++) {
        double x = 1.0 + 16.0 * (double) (i / 2) / (double) (n / 2 - 1), y = i % 2 ? 2.1 : -2.1;
        reading[i] =
            (FreeboardReading){x, y, 1.8, attitude_height_m(at, x, y, 1.8) + noise * test_normal()};
    }
}

typedef struct {
    Loft *hull;
    Body body;
    Load load;
    Rest rest;
} Known;

static void
known_boat(Known *k)
{
    k->hull = hull_load("float-hull-A.csv");
    k->body = (Body){.lofts = 1, .loft = k->hull};
    k->load = (Load){58000.0, 8.45, -0.06, 1.1, 0, NULL};
    assert_int_equal(rest_find(&k->body, &k->load, 1000.0, &k->rest), VALID);
}

static const SurveyTerms fresh = {.density_kg_per_m3 = 1000.0, .vcg_m = 1.1};

static void
true_readings_give_the_boat_back(void **state)
{
    (void) state;
    Known k;
    known_boat(&k);
    FreeboardReading reading[READINGS];
    SurveyFit fit;
    FloatingSurvey survey;
    measure(&k.rest.at, READINGS, reading, 0.0);
    assert_int_equal(survey_fit(READINGS, reading, 0.01, false, &fit, NULL), VALID);
    assert_close(fit.at.origin_depth_m, k.rest.at.origin_depth_m, 1e-11);
    assert_close(fit.at.trim_rad, k.rest.at.trim_rad, 1e-12);
    assert_close(fit.at.heel_rad, k.rest.at.heel_rad, 1e-12);
    assert_close(fit.rms_m, 0.0, 1e-12);
    assert_int_equal(fit.suspect, READINGS);
    assert_int_equal(fit.freedom, READINGS - 3);
    assert_int_equal(floating_survey(&k.body, &fit, &fresh, &survey), VALID);
    assert_close(survey.mass_kg, 58000.0, 1e-4);
    assert_close(survey.lcg_m, 8.45, 1e-8);
    assert_close(survey.tcg_m, -0.06, 1e-8);
    loft_free(k.hull);
}

typedef struct {
    int depth, trim, heel, mass, lcg, tcg, alarms;
} Score;

static void
survey_many(const Known *k, int times, double noise, double spread, Score *score)
{
    *score = (Score){0};
    for (int i = 0; i < times; i++) {
        FreeboardReading reading[READINGS];
        SurveyFit fit;
        FloatingSurvey s;
        measure(&k->rest.at, READINGS, reading, noise);
        assert_int_equal(survey_fit(READINGS, reading, spread, false, &fit, NULL), VALID);
        assert_int_equal(floating_survey(&k->body, &fit, &fresh, &s), VALID);
        const Attitude *at = &k->rest.at;
        score->depth += fabs(fit.at.origin_depth_m - at->origin_depth_m) <= fit.depth_spread_m;
        score->trim += fabs(fit.at.trim_rad - at->trim_rad) <= fit.trim_spread_rad;
        score->heel += fabs(fit.at.heel_rad - at->heel_rad) <= fit.heel_spread_rad;
        score->mass += fabs(s.mass_kg - 58000.0) <= s.mass_spread_kg;
        score->lcg += fabs(s.lcg_m - 8.45) <= s.lcg_spread_m;
        score->tcg += fabs(s.tcg_m + 0.06) <= s.tcg_spread_m;
        score->alarms += fit.suspect < READINGS;
        assert_close(s.mass_spread_kg, s.mass_by_readings_kg, 1e-9);
    }
}

/* Of 1000 intervals that hold 95 %, 927 to 973 hold the truth but once in a thousand. */
static void
assert_holds_95(const Score *s)
{
    const int count[] = {s->depth, s->trim, s->heel, s->mass, s->lcg, s->tcg};
    for (size_t i = 0; i < sizeof count / sizeof *count; i++)
        assert_in_range(count[i], 927, 973);
    assert_in_range(s->alarms, 20, 80);
}

static void
truth_lies_within_the_spread(void **state)
{
    (void) state;
    Known k;
    Score score;
    known_boat(&k);
    test_random_restart(31);
    survey_many(&k, 1000, 0.005, 0.010, &score);
    assert_holds_95(&score);
    survey_many(&k, 1000, 0.005, NAN, &score);
    assert_holds_95(&score);
    loft_free(k.hull);
}

/* Twice the scatter that was stated is noticed, and the spreads grow. */
static void
misfit_is_noticed(void **state)
{
    (void) state;
    Known k;
    known_boat(&k);
    test_random_restart(32);
    int noticed = 0, held = 0;
    for (int i = 0; i < 400; i++) {
        FreeboardReading reading[READINGS];
        SurveyFit fit;
        measure(&k.rest.at, READINGS, reading, 0.015);
        survey_fit(READINGS, reading, 0.010, false, &fit, NULL);
        noticed += fit.misfit;
        held += fabs(fit.at.origin_depth_m - k.rest.at.origin_depth_m) <= fit.depth_spread_m;
    }
    assert_true(noticed > 390);
    assert_true(held > 360);
    loft_free(k.hull);
}

static void
blunder_is_found(void **state)
{
    (void) state;
    Known k;
    known_boat(&k);
    test_random_restart(33);
    for (int stated = 0; stated < 2; stated++) {
        int found = 0;
        for (int i = 0; i < 400; i++) {
            FreeboardReading reading[READINGS];
            ReadingFit each[READINGS];
            SurveyFit fit;
            size_t wrong = (size_t) (test_random() * READINGS);
            measure(&k.rest.at, READINGS, reading, 0.005);
            reading[wrong].freeboard_m += i % 2 ? 0.1 : -0.1;
            survey_fit(READINGS, reading, stated ? 0.010 : NAN, false, &fit, each);
            found += fit.suspect == wrong;
            if (fit.suspect == wrong)
                assert_close(each[wrong].without_m, i % 2 ? 0.1 : -0.1, 0.04);
        }
        assert_true(found > 380);
    }
    loft_free(k.hull);
}

/* One wrong of four corners warps the plane alike from any of them. */
static void
four_corners_cannot_tell_which(void **state)
{
    (void) state;
    const Attitude at = {0.9, 0.02, 0.01};
    FreeboardReading reading[4];
    ReadingFit each[4];
    SurveyFit fit;
    measure(&at, 4, reading, 0.0);
    reading[2].freeboard_m += 0.08;
    assert_int_equal(survey_fit(4, reading, 0.010, false, &fit, each), VALID);
    assert_true(fit.misfit);
    assert_true(fit.suspect < 4);
    assert_int_equal(fit.rivals, 3);
    assert_close(fabs(each[0].misfit_m), 0.02, 1e-5);
    assert_close(fabs(each[2].without_m), 0.08, 1e-4);
    survey_fit(4, reading, NAN, false, &fit, NULL);
    assert_true(isnan(fit.suspect_ratio)); /* nothing left to judge by */
    assert_true(fit.depth_spread_m > 0.1); /* one degree of freedom: 12.7 standard errors */
    survey_fit(3, reading, NAN, false, &fit, each);
    assert_true(isnan(fit.depth_spread_m));
    assert_true(isnan(each[0].without_m) && isnan(each[0].normalised));
    survey_fit(3, reading, 0.010, false, &fit, NULL);
    assert_true(fit.depth_spread_m > 0.005 && fit.depth_spread_m < 0.02);
}

/* A boat bent by a parabola, floated and measured; the survey knows only the straight one. */
static void
hog_is_found_and_weighed(void **state)
{
    (void) state;
    Known k;
    known_boat(&k);
    double z[12];
    for (size_t i = 0; i < 12; i++) {
        double s = (k.hull->x_m[i / 3] - 9.0) / 8.0;
        z[i] = k.hull->z_m[i] + 0.05 * (1.0 - s * s);
    }
    const Loft bent = {4, 3, k.hull->x_m, k.hull->y_m, z, 0.0};
    const Body body = {.lofts = 1, .loft = &bent};
    const Attitude at = {0.9, 1.2 * deg, -0.3 * deg};
    FreeboardReading reading[READINGS];
    for (size_t i = 0; i < READINGS; i++) {
        double x = 1.0 + 4.0 * (double) (i / 2), s = (x - 9.0) / 8.0, y = i % 2 ? 2.1 : -2.1;
        reading[i] =
            (FreeboardReading){x, y, 1.8, attitude_height_m(&at, x, y, 1.8 + 0.05 * (1.0 - s * s))};
    }
    SurveyFit fit, straight;
    FloatingSurvey survey;
    Immersed under;
    assert_int_equal(survey_fit(READINGS, reading, 0.01, true, &fit, NULL), VALID);
    assert_close(fit.hog_m, 0.05, 1e-9);
    assert_close(fit.at.origin_depth_m, 0.9, 1e-9);
    assert_true(fit.hog_spread_m > 0.0);
    assert_int_equal(floating_survey(&k.body, &fit, &fresh, &survey), VALID);
    body_immersed(&body, &at, &under);
    assert_close(survey.volume_m3, under.volume_m3, 1e-7);
    survey_fit(READINGS, reading, 0.01, false, &straight, NULL);
    assert_true(straight.misfit);
    assert_int_equal(survey_fit(5, reading, 0.01, true, &fit, NULL), REFUSED);
    loft_free(k.hull);
}

/* --- spreads that readings do not bring ----------------------------------------------------------------------------- */

static void
hull_errors_against_chance(void **state)
{
    (void) state;
    Known k;
    known_boat(&k);
    test_random_restart(34);
    FreeboardReading reading[READINGS];
    SurveyFit fit;
    FloatingSurvey survey;
    SurveyTerms terms = fresh;
    terms.within_m = 0.02;
    measure(&k.rest.at, READINGS, reading, 0.0);
    survey_fit(READINGS, reading, 0.0, false, &fit, NULL);
    assert_close(fit.depth_spread_m, 0.0, 1e-9);
    floating_survey(&k.body, &fit, &terms, &survey);
    double sum[4] = {0};
    enum { TRIES = 4000 };
    for (int t = 0; t < TRIES; t++) {
        double y[12], z[12];
        for (size_t i = 0; i < 4; i++) {
            double wide = 0.01 * test_normal(), high = 0.01 * test_normal();
            for (size_t j = 3 * i; j < 3 * i + 3; j++) {
                y[j] = k.hull->y_m[j] > 0.0 ? k.hull->y_m[j] + wide : 0.0;
                z[j] = k.hull->z_m[j] + high;
            }
        }
        const Loft off = {4, 3, k.hull->x_m, y, z, 0.0};
        Immersed u;
        body_immersed(&(Body){.lofts = 1, .loft = &off}, &fit.at, &u);
        double m = 1000.0 * u.volume_m3, x = u.x_m4 / u.volume_m3 - survey.lcb_m;
        sum[0] += (m - survey.mass_kg) * (m - survey.mass_kg);
        sum[1] += x * x;
    }
    assert_close(survey.mass_by_hull_kg, 2.0 * sqrt(sum[0] / TRIES), 0.05 * survey.mass_by_hull_kg);
    assert_close(survey.lcg_spread_m, 2.0 * sqrt(sum[1] / TRIES), 0.06 * survey.lcg_spread_m);
    loft_free(k.hull);
}

static void
density_and_height_of_g(void **state)
{
    (void) state;
    Known k;
    known_boat(&k);
    FreeboardReading reading[READINGS];
    SurveyFit fit;
    FloatingSurvey low, high, both;
    SurveyTerms terms = fresh;
    measure(&k.rest.at, READINGS, reading, 0.0);
    survey_fit(READINGS, reading, 0.0, false, &fit, NULL);
    terms.vcg_m = 1.0;
    floating_survey(&k.body, &fit, &terms, &low);
    terms.vcg_m = 1.2;
    floating_survey(&k.body, &fit, &terms, &high);
    terms.vcg_m = 1.1;
    terms.vcg_spread_m = 0.1;
    terms.density_spread_kg_per_m3 = 5.0;
    floating_survey(&k.body, &fit, &terms, &both);
    assert_close(both.lcg_spread_m, fabs(high.lcg_m - low.lcg_m) / 2.0, 1e-9);
    assert_close(both.tcg_spread_m, fabs(high.tcg_m - low.tcg_m) / 2.0, 1e-9);
    assert_true(both.tcg_spread_m > 1e-4);
    assert_close(both.mass_spread_kg, 5.0 * 58.0, 1e-5);
    loft_free(k.hull);
}

/* --- least squares -------------------------------------------------------------------------------------------------- */

static void
least_squares_agree_with_another_library(void **state)
{
    (void) state;
    test_random_restart(35);
    for (int t = 0; t < 100; t++) {
        size_t n = 6 + (size_t) (test_random() * 10.0), p = 1 + (size_t) (test_random() * 4.0);
        double row[80], aim[20], residual[20], leverage[20], chi2, sum = 0.0;
        gsl_matrix *x = gsl_matrix_alloc(n, p), *cov = gsl_matrix_alloc(p, p);
        gsl_vector *y = gsl_vector_alloc(n), *c = gsl_vector_alloc(p);
        gsl_multifit_linear_workspace *work = gsl_multifit_linear_alloc(n, p);
        for (size_t i = 0; i < n; i++) {
            for (size_t k = 0; k < p; k++) {
                row[i * p + k] = k == 0 ? 1.0 : test_between(5.0, 20.0);
                gsl_matrix_set(x, i, k, row[i * p + k]);
            }
            aim[i] = test_between(-3.0, 3.0);
            gsl_vector_set(y, i, aim[i]);
        }
        LeastSquares ls;
        assert_true(least_squares(n, p, row, aim, &ls, residual, leverage));
        gsl_multifit_linear(x, y, c, cov, &chi2, work);
        assert_close(ls.sum_squares, chi2, 1e-9);
        double s2 = chi2 / (double) (n - p);
        for (size_t i = 0; i < p; i++) {
            assert_close(ls.value[i], gsl_vector_get(c, i), 1e-9);
            for (size_t k = 0; k < p; k++)
                assert_close(s2 * ls.inverse[i][k], gsl_matrix_get(cov, i, k), 1e-8);
        }
        for (size_t i = 0; i < n; i++)
            sum += leverage[i];
        assert_close(sum, (double) p, 1e-12); /* trace of a projection */
        gsl_multifit_linear_free(work);
        gsl_matrix_free(x);
        gsl_matrix_free(cov);
        gsl_vector_free(y);
        gsl_vector_free(c);
    }
    const double twins[] = {1.0, 2.0, 1.0, 2.0, 1.0, 2.0}, aim[] = {1.0, 2.0, 3.0};
    LeastSquares ls;
    assert_false(least_squares(3, 2, twins, aim, &ls, NULL, NULL));
    assert_false(least_squares(1, 2, twins, aim, &ls, NULL, NULL));
    assert_close(student_95(7), 2.364624, 1e-6); /* Fisher and Yates, table III */
    assert_close(student_95(1), 12.706205, 1e-6);
    assert_true(isnan(student_95(0)));
    assert_close(largest_by_chance(1, 0), 1.959964, 1e-6);
}

/* --- draughts ------------------------------------------------------------------------------------------------------- */

static void
draughts_of_a_box(void **state)
{
    (void) state;
    Loft *box = hull_box(20.0, 5.0, 2.5);
    const Body body = {.lofts = 1, .loft = box};
    DraughtSurvey d;
    assert_int_equal(draught_survey(&body, 2.0, 1.0, 16.0, 1.35, 0.01, 1025.0, 2.0, &d), VALID);
    double at_middle = 1.0 + 8.0 * 0.35 / 14.0,
           v = 100.0 * at_middle; /* a box weighs by its middle draught */
    assert_close(d.draught_lcf_m, at_middle, 1e-12);
    assert_close(d.mass_kg, 1025.0 * v, 1e-8);
    assert_close(d.volume_mid_m3, 117.5, 1e-10);
    assert_close(d.mass_spread_kg, hypot(1025.0, 2.0 * v), 1e-9);
    assert_int_equal(draught_survey(&body, 2.0, 2.4, 16.0, 2.5, 0.01, 1025.0, 2.0, &d), VALID);
    assert_int_equal(draught_survey(&body, 2.0, 2.5, 16.0, 2.6, 0.01, 1025.0, 2.0, &d), REFUSED);
    loft_free(box);
}

static void
draughts_of_a_boat(void **state)
{
    (void) state;
    Known k;
    known_boat(&k);
    for (double lcg = 8.3; lcg < 9.0; lcg += 0.1) {
        const Load load = {58000.0, lcg, 0.0, 1.1, 0, NULL};
        Rest rest;
        DraughtSurvey d;
        rest_find(&k.body, &load, 1000.0, &rest);
        draught_survey(&k.body, 1.0, attitude_draught_m(&rest.at, 1.0), 17.0,
                       attitude_draught_m(&rest.at, 17.0), 0.0, 1000.0, 0.0, &d);
        assert_close(d.mass_kg, 58000.0, 150.0); /* second order in a trim of up to a degree */
        assert_true(fabs(d.mass_kg - 58000.0) <= fabs(1000.0 * d.volume_mid_m3 - 58000.0) + 1e-6);
    }
    DraughtSurvey d;
    assert_int_equal(draught_survey(&k.body, 1.0, 1.9, 17.0, 1.9, 0.0, 1000.0, 0.0, &d), REFUSED);
    Loft *sheer = hull_flared(9, 8);
    const Body body = {.lofts = 1, .loft = sheer};
    assert_int_equal(draught_survey(&body, 1.0, 2.4, 14.0, 2.4, 0.0, 1000.0, 0.0, &d),
                     EXTRAPOLATED);
    loft_free(sheer);
    loft_free(k.hull);
}

static void
hostile_readings_are_refused(void **state)
{
    (void) state;
    Known k;
    known_boat(&k);
    const Attitude at = {0.9, 0.02, 0.01};
    FreeboardReading good[READINGS], bad[READINGS];
    ReadingFit each[READINGS];
    SurveyFit fit;
    FloatingSurvey survey;
    measure(&at, READINGS, good, 0.0);
    const double wild[] = {NAN, INFINITY, -INFINITY, 1e300, 1e5};
    for (size_t i = 0; i < 5; i++)
        for (size_t f = 0; f < 4; f++) {
            for (size_t r = 0; r < READINGS; r++)
                bad[r] = good[r];
            double *field[] = {&bad[3].x_m, &bad[3].y_m, &bad[3].z_m, &bad[3].freeboard_m};
            *field[f] = wild[i];
            assert_int_equal(survey_fit(READINGS, bad, 0.01, false, &fit, each), REFUSED);
            assert_true(isnan(fit.at.heel_rad) && isnan(each[0].misfit_m));
            assert_int_equal(floating_survey(&k.body, &fit, &fresh, &survey), REFUSED);
            assert_true(isnan(survey.mass_kg));
        }
    assert_int_equal(survey_fit(2, good, 0.01, false, &fit, NULL), REFUSED);
    assert_int_equal(survey_fit(READINGS, good, -0.01, false, &fit, NULL), REFUSED);
    for (size_t r = 0; r < READINGS; r++) {
        bad[r] = good[r];
        bad[r].y_m = 0.5 * bad[r].x_m; /* slantwise over the deck, one line all the same */
    }
    assert_int_equal(survey_fit(READINGS, bad, 0.01, false, &fit, NULL), REFUSED);
    for (size_t r = 0; r < READINGS; r++)
        bad[r] = good[0];
    assert_int_equal(survey_fit(READINGS, bad, 0.01, false, &fit, NULL), REFUSED);
    for (size_t r = 0; r < READINGS; r++) {
        bad[r] = good[r];
        bad[r].x_m = r % 2 ? 3.0 : 9.0; /* two frames show no bend */
        bad[r].y_m = (double) r - 5.0;
    }
    assert_int_equal(survey_fit(READINGS, bad, 0.01, true, &fit, NULL), REFUSED);

    assert_int_equal(survey_fit(READINGS, good, 0.01, false, &fit, NULL), VALID);
    SurveyTerms terms = fresh;
    terms.density_kg_per_m3 = 0.0;
    assert_int_equal(floating_survey(&k.body, &fit, &terms, &survey), REFUSED);
    terms = fresh;
    terms.within_m = NAN;
    assert_int_equal(floating_survey(&k.body, &fit, &terms, &survey), REFUSED);
    for (size_t r = 0; r < READINGS; r++) {
        bad[r] = good[r];
        bad[r].freeboard_m += 5.0; /* flies */
    }
    assert_int_equal(survey_fit(READINGS, bad, 0.01, false, &fit, NULL), VALID);
    assert_int_equal(floating_survey(&k.body, &fit, &fresh, &survey), REFUSED);
    DraughtSurvey d;
    assert_int_equal(draught_survey(&k.body, 17, 1, 1, 1, 0, 1000, 0, &d), REFUSED);
    assert_int_equal(draught_survey(&k.body, 1, NAN, 17, 1, 0, 1000, 0, &d), REFUSED);
    assert_int_equal(draught_survey(&k.body, 1, 1, 17, 1, -1, 1000, 0, &d), REFUSED);
    assert_int_equal(draught_survey(&k.body, 1, -1, 17, -1, 0, 1000, 0, &d), REFUSED);
    assert_true(isnan(d.mass_kg));
    loft_free(k.hull);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(true_readings_give_the_boat_back),
        cmocka_unit_test(truth_lies_within_the_spread),
        cmocka_unit_test(misfit_is_noticed),
        cmocka_unit_test(blunder_is_found),
        cmocka_unit_test(four_corners_cannot_tell_which),
        cmocka_unit_test(hog_is_found_and_weighed),
        cmocka_unit_test(hull_errors_against_chance),
        cmocka_unit_test(density_and_height_of_g),
        cmocka_unit_test(least_squares_agree_with_another_library),
        cmocka_unit_test(draughts_of_a_box),
        cmocka_unit_test(draughts_of_a_boat),
        cmocka_unit_test(hostile_readings_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
