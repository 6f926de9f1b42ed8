/* Inclining tests on boats whose height is known, with known noise and known faults. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <gsl/gsl_fit.h>
#include <math.h>

#include "hulls.h"

#include "physics/afloat/inclining.h"
#include "physics/afloat/inclining_pattern.h"
#include "physics/afloat/rest.h"
#include "physics/afloat/station.h"

static const double deg = M_PI / 180.0;

enum { MOVES = 9 };
static const double pattern[MOVES] = {0, 1, 2, 1, 0, -1, -2, -1, 0};

typedef struct {
    double moment[MOVES], one[MOVES], two[MOVES];
} Test;

/* GM 1.2 m, 20 t, 0.4 t m a step, a list to begin with; noise on every tangent. */
static void
take_test(Test *t, double noise)
{
    for (size_t i = 0; i < MOVES; i++) {
        t->moment[i] = 400.0 * pattern[i];
        double tangent = 0.003 + t->moment[i] / (20000.0 * 1.2);
        t->one[i] = 2.0 * (tangent + noise * test_normal());
        t->two[i] = 1.3 * (tangent + noise * test_normal());
    }
}

static const InclineTerms sure = {.mass_kg = 20000.0, .km_m = NAN};

static void
line_agrees_with_another_library(void **state)
{
    (void) state;
    test_random_restart(41);
    for (int k = 0; k < 50; k++) {
        Test t;
        double tangent[MOVES], c0, c1, v00, v01, v11, sum;
        take_test(&t, 0.002);
        for (size_t i = 0; i < MOVES; i++)
            tangent[i] = t.one[i] / 2.0;
        gsl_fit_linear(tangent, 1, t.moment, 1, MOVES, &c0, &c1, &v00, &v01, &v11, &sum);
        const Pendulum p[2] = {{2.0, 0.0, t.one}, {0}};
        Inclining out;
        InclineReading reading[MOVES];
        assert_int_equal(inclining(MOVES, t.moment, p, &sure, &out, reading), VALID);
        assert_close(out.slope_kgm, c1, 1e-8);
        assert_close(out.intercept_kgm, c0, 1e-8);
        assert_close(out.slope_error_kgm, sqrt(v11), 1e-8);
        assert_close(out.gm_m, c1 / 20000.0, 1e-12);
        assert_true(isnan(out.gm_2_m) && isnan(out.vcg_solid_m));
        /* One left out: the same fit on the other eight. */
        double m8[MOVES], t8[MOVES];
        size_t n = 0, gone = (size_t) k % MOVES;
        for (size_t i = 0; i < MOVES; i++)
            if (i != gone) {
                m8[n] = t.moment[i];
                t8[n++] = tangent[i];
            }
        gsl_fit_linear(t8, 1, m8, 1, n, &c0, &c1, &v00, &v01, &v11, &sum);
        assert_close(reading[gone].gm_without_m, c1 / 20000.0, 1e-10);
        double predicted = t.moment[gone] - c0 - c1 * tangent[gone], var, y;
        gsl_fit_linear_est(tangent[gone], c0, c1, v00, v01, v11, &y, &var);
        assert_close(reading[gone].normalised, predicted / sqrt(sum / (double) (n - 2) + var * var),
                     1e-6);
    }
}

static void
exact_readings_give_the_height(void **state)
{
    (void) state;
    Test t;
    take_test(&t, 0.0);
    const Pendulum p[2] = {{2.0, 0.0, t.one}, {1.3, 0.0, t.two}};
    InclineTerms terms = sure;
    terms.km_m = 2.5;
    terms.free_surface_kgm = 1000.0;
    Inclining out;
    assert_int_equal(inclining(MOVES, t.moment, p, &terms, &out, NULL), VALID);
    assert_close(out.gm_m, 1.2, 1e-12);
    assert_close(out.gm_1_m, 1.2, 1e-12);
    assert_close(out.gm_2_m, 1.2, 1e-12);
    assert_close(out.vcg_solid_m, 2.5 - 1.2 - 0.05, 1e-12);
    assert_close(out.intercept_kgm, -0.003 * 24000.0, 1e-8);
    assert_close(out.gm_spread_m, 0.0, 1e-9);
    assert_close(out.pendulums_ratio, 0.0, 1e-9);
    assert_int_equal(out.suspect, MOVES);
    assert_close(out.most_heel_rad, 800.0 / 24000.0, 1e-5);
}

/* Of 1000 intervals that hold 95 %, 927 to 973 hold the truth but once in a thousand. */
static void
truth_lies_within_the_spread(void **state)
{
    (void) state;
    test_random_restart(42);
    int readings = 0, all = 0, differ = 0, alarms = 0;
    for (int k = 0; k < 1000; k++) {
        Test t;
        Inclining out;
        take_test(&t, 0.0007);
        Pendulum p[2] = {{2.0, 0.0, t.one}, {1.3, 0.0, t.two}};
        inclining(MOVES, t.moment, p, &sure, &out, NULL);
        readings += fabs(out.gm_m - 1.2) <= out.gm_spread_m;
        differ += out.pendulums_ratio > 1.0;
        alarms += out.suspect < MOVES;
        assert_close(out.gm_spread_m, out.by_readings_m, 1e-12);

        /* What the surveyor believes of displacement, masses and lengths is off by chance. */
        const InclineTerms doubtful = {.mass_kg = 20000.0 * (1.0 + 0.01 * test_normal()),
                                       .mass_spread_kg = 400.0,
                                       .moment_spread_frac = 0.016,
                                       .km_m = 2.5};
        double masses = 1.0 + 0.008 * test_normal();
        for (size_t i = 0; i < MOVES; i++)
            t.moment[i] *= masses;
        p[0] = (Pendulum){2.0 * (1.0 + 0.01 * test_normal()), 0.04, t.one};
        p[1] = (Pendulum){1.3 * (1.0 + 0.01 * test_normal()), 0.026, t.two};
        inclining(MOVES, t.moment, p, &doubtful, &out, NULL);
        all += fabs(out.gm_m - 1.2) <= out.gm_spread_m;
        assert_close(out.vcg_spread_m, out.gm_spread_m, 1e-12);
    }
    assert_in_range(readings, 927, 973);
    assert_in_range(all, 927,
                    980); /* Student's factor on one of four parts errs to the safe side */
    assert_true(differ < 60);
    assert_in_range(alarms, 20, 80);
}

static void
wrong_reading_is_found(void **state)
{
    (void) state;
    test_random_restart(43);
    int found = 0;
    for (int k = 0; k < 400; k++) {
        Test t;
        Inclining out;
        size_t wrong = (size_t) (test_random() * MOVES);
        take_test(&t, 0.0003);
        t.one[wrong] += k % 2 ? 0.02 : -0.02;
        const Pendulum p[2] = {{2.0, 0.0, t.one}, {0}};
        inclining(MOVES, t.moment, p, &sure, &out, NULL);
        found += out.suspect == wrong;
    }
    assert_true(found > 385);
}

static void
pendulum_of_the_wrong_length(void **state)
{
    (void) state;
    test_random_restart(44);
    int noticed = 0;
    for (int k = 0; k < 100; k++) {
        Test t;
        Inclining out;
        take_test(&t, 0.0002);
        const Pendulum p[2] = {{2.0, 0.004, t.one}, {1.2, 0.004, t.two}};
        inclining(MOVES, t.moment, p, &sure, &out, NULL);
        noticed += out.pendulums_ratio > 1.0;
        assert_close(out.gm_2_m, 1.2 * 1.2 / 1.3, 0.05);
    }
    assert_true(noticed > 95);
}

/* --- boats ---------------------------------------------------------------------------------------------------------- */

/* Moves a mass across and reads the tangents of the heel she comes to. */
static void
incline_boat(const Loft *hull, const Load *load, double step_kgm, double moment[MOVES],
             double tangent[MOVES])
{
    const Body body = {.lofts = 1, .loft = hull};
    for (size_t i = 0; i < MOVES; i++) {
        Load moved = *load;
        Rest rest;
        moment[i] = step_kgm * pattern[i];
        moved.tcg_m -= moment[i] / load->mass_kg; /* to starboard */
        assert_int_equal(rest_find(&body, &moved, 1000.0, &rest), VALID);
        tangent[i] = tan(rest.at.heel_rad);
    }
}

static void
boat_that_is_floated(void **state)
{
    (void) state;
    Loft *hull = hull_load("float-hull-A.csv");
    const Body body = {.lofts = 1, .loft = hull};
    const Load load = {58000.0, 8.7, 0.0, 1.1, 0, NULL};
    double moment[MOVES], tangent[MOVES];
    Rest rest;
    Inclining out;
    InclinePattern shape;
    rest_find(&body, &load, 1000.0, &rest);
    incline_boat(hull, &load, 900.0, moment, tangent);
    const Pendulum p[2] = {{1.0, 0.0, tangent}, {0}};
    InclineTerms terms = {.mass_kg = 58000.0, .km_m = rest.km_m};
    assert_int_equal(inclining(MOVES, moment, p, &terms, &out, NULL), VALID);
    assert_true(out.gm_m > rest.gm_m);
    assert_true(out.gm_m - rest.gm_m < 0.5 * rest.bm_m * pow(tan(1.45 * deg), 2.0));
    assert_close(out.vcg_solid_m, 1.1, 1e-3);
    assert_int_equal(inclining_pattern(MOVES, moment, tangent, &shape), VALID);
    assert_int_equal(shape.likeliest, INCLINE_STRAIGHT); /* sure of the bend, and how small it is */
    assert_true(shape.probability[INCLINE_BENDS] < 1e-6);
    assert_true(shape.size_frac[INCLINE_BENDS] < 1e-3);
    loft_free(hull);
}

/* A wide tank with 30 mm in it: level at first, heaped in the corner soon. */
static void
shallow_tank_bends_the_line(void **state)
{
    (void) state;
    Loft *hull = hull_load("float-hull-A.csv");
    const Tank tank = {6.0, 12.0, -1.9, 1.9, 0.05, 1.0, 0.03 / 0.95, 1000.0};
    const Load load = {58000.0, 8.7, 0.0, 1.1, 1, &tank};
    double moment[MOVES], tangent[MOVES];
    InclinePattern shape;
    incline_boat(hull, &load, 1500.0, moment, tangent);
    assert_int_equal(inclining_pattern(MOVES, moment, tangent, &shape), VALID);
    assert_int_equal(shape.likeliest, INCLINE_BENDS);
    assert_true(shape.size_frac[INCLINE_BENDS] > 0.02);
    loft_free(hull);
}

/* --- faults made by hand -------------------------------------------------------------------------------------------- */

typedef enum { SOUND, BOTTOM, FRICTION, RAIN } Fault;

static InclineShape
blame(Fault fault, double noise, InclinePattern *shape)
{
    double moment[MOVES], tangent[MOVES], last = 0.0;
    for (size_t i = 0; i < MOVES; i++) {
        moment[i] = 400.0 * pattern[i];
        double t = moment[i] / 24000.0;
        if (fault == BOTTOM && t > 0.010) /* the bilge sits down: half as far for the same moment */
            t = 0.010 + 0.5 * (t - 0.010);
        if (fault == FRICTION) /* a line holds her back by 40 kg m */
            t = fmax(fmin(last, t + 40.0 / 24000.0), t - 40.0 / 24000.0);
        if (fault == RAIN)
            t += 0.0006 * (double) i;
        last = t;
        tangent[i] = t + noise * test_normal();
    }
    assert_int_equal(inclining_pattern(MOVES, moment, tangent, shape), VALID);
    return shape->likeliest;
}

static void
faults_are_told_from_chance(void **state)
{
    (void) state;
    test_random_restart(45);
    InclinePattern shape;
    int sound = 0, bottom = 0, friction = 0, rain = 0;
    for (int k = 0; k < 500; k++) {
        sound += blame(SOUND, 0.0006, &shape) == INCLINE_STRAIGHT;
        bottom += blame(BOTTOM, 0.0003, &shape) == INCLINE_ONE_SIDED && shape.side == 1;
        friction += blame(FRICTION, 0.0003, &shape) == INCLINE_LAGS;
        rain += blame(RAIN, 0.0003, &shape) == INCLINE_DRIFTS;
    }
    print_message("sound %d, bottom %d, line %d, rain %d of 500\n", sound, bottom, friction, rain);
    assert_true(sound > 470);
    assert_true(bottom > 450);
    assert_true(friction > 450);
    assert_true(rain > 450);
    assert_int_equal(blame(SOUND, 0.0, &shape), INCLINE_STRAIGHT);
}

static void
hostile_tests_are_refused(void **state)
{
    (void) state;
    Test t;
    take_test(&t, 0.0);
    Inclining out;
    InclinePattern shape;
    InclineReading reading[MOVES];
    const Pendulum good[2] = {{2.0, 0.0, t.one}, {0}};
    InclineTerms terms = sure;
    assert_int_equal(inclining(2, t.moment, good, &terms, &out, reading), REFUSED);
    assert_true(isnan(out.gm_m) && isnan(out.gm_spread_m) && isnan(reading[0].misfit_kgm));
    assert_int_equal(out.suspect, 2);
    const double wild[] = {0.0, -1.0, NAN, INFINITY};
    for (size_t i = 0; i < 4; i++) {
        terms.mass_kg = wild[i];
        assert_int_equal(inclining(MOVES, t.moment, good, &terms, &out, NULL), REFUSED);
        const Pendulum p[2] = {{wild[i], 0.0, t.one}, {0}}, q[2] = {good[0], {wild[i], 0.0, t.two}};
        assert_int_equal(inclining(MOVES, t.moment, p, &sure, &out, NULL), REFUSED);
        assert_int_equal(inclining(MOVES, t.moment, q, &sure, &out, NULL), REFUSED);
    }
    double same[MOVES], against[MOVES], wrong[MOVES];
    for (size_t i = 0; i < MOVES; i++) {
        same[i] = 0.01;
        against[i] = -t.one[i];
        wrong[i] = i == 4 ? NAN : t.one[i];
    }
    const double *bad[] = {same, against, wrong};
    for (size_t i = 0; i < 3; i++) {
        const Pendulum p[2] = {{2.0, 0.0, bad[i]}, {0}};
        assert_int_equal(inclining(MOVES, t.moment, p, &sure, &out, NULL), REFUSED);
        assert_true(isnan(out.gm_m));
    }
    const Pendulum steep[2] = {{0.2, 0.0, t.one}, {0}}, none[2] = {{2.0, 0.0, NULL}, {0}};
    assert_int_equal(inclining(MOVES, t.moment, steep, &sure, &out, NULL), EXTRAPOLATED);
    assert_int_equal(inclining(MOVES, t.moment, none, &sure, &out, NULL), REFUSED);

    assert_int_equal(inclining_pattern(5, t.moment, t.one, &shape), REFUSED);
    assert_int_equal(inclining_pattern(MOVES, t.moment, wrong, &shape), REFUSED);
    assert_int_equal(inclining_pattern(MOVES, t.moment, same, &shape), REFUSED);
    assert_true(isnan(shape.probability[INCLINE_BENDS]));
    InclineSingle s;
    assert_int_equal(inclining_single(300, 3, 20000, -0.08, 1, NAN, &s), REFUSED);
    assert_int_equal(inclining_single(300, 3, 20000, 0.0, 1, NAN, &s), REFUSED);
    assert_int_equal(inclining_single(300, 3, 0, 0.08, 1, NAN, &s), REFUSED);
    assert_int_equal(inclining_single(300, 3, 20000, 0.08, NAN, NAN, &s), REFUSED);
    assert_true(isnan(s.gm_m) && isnan(s.heel_rad));
    assert_int_equal(inclining_single(-300, 3, 20000, -0.08, 1, 2.0, &s), VALID);
    assert_close(s.gm_m, 0.5625, 1e-12);
    assert_close(s.vcg_m, 1.4375, 1e-12);
    assert_int_equal(inclining_single(300, 3, 20000, 0.3, 1, 2.0, &s), EXTRAPOLATED);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(line_agrees_with_another_library),
        cmocka_unit_test(exact_readings_give_the_height),
        cmocka_unit_test(truth_lies_within_the_spread),
        cmocka_unit_test(wrong_reading_is_found),
        cmocka_unit_test(pendulum_of_the_wrong_length),
        cmocka_unit_test(boat_that_is_floated),
        cmocka_unit_test(shallow_tank_bends_the_line),
        cmocka_unit_test(faults_are_told_from_chance),
        cmocka_unit_test(hostile_tests_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
