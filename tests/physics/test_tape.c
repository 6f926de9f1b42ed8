/* Hulls of known lines, leaning ashore, read off with string and plumb line by plain geometry, with noise; what comes back
 * must be the hull. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>
#include <string.h>

#include "hulls.h"

#include "physics/shape/tape.h"

#define RAD(deg) ((deg) *M_PI / 180.0)

enum { MOST = 40, READINGS = 6 };

/* How she stands, and where the strings run. */
typedef struct {
    double list_rad, trim_rad, high_m; /* base line at the stern above the level */
    double slope_rad[2];
} Ashore;

static const Ashore leaning = {RAD(1.6), RAD(-0.9), 0.72, {RAD(0.7), RAD(-0.4)}};

typedef struct {
    double X, Y, Z;
} World;

/* Heel about the fore-and-aft axis (starboard down), then trim about the level athwart axis (bow down). */
static World
world(const Ashore *a, double x, double y, double z)
{
    double across = y * cos(a->list_rad) - z * sin(a->list_rad);
    double up = y * sin(a->list_rad) + z * cos(a->list_rad);
    return (World){x * cos(a->trim_rad) + up * sin(a->trim_rad), across,
                   up * cos(a->trim_rad) - x * sin(a->trim_rad) + a->high_m};
}

/* Place on the ruled hull: u counts columns. */
static void
on_hull(const Loft *hull, double x, double u, double *y, double *z)
{
    double ys[8], zs[8];
    assert_true(hull->points <= 8 && loft_points(hull, x, ys, zs));
    size_t j = u >= (double) hull->points - 1.0 ? hull->points - 2 : (size_t) u;
    double t = u - (double) j;
    *y = ys[j] + t * (ys[j + 1] - ys[j]);
    *z = zs[j] + t * (zs[j + 1] - zs[j]);
}

/* Where the upright plane at X cuts the line u; at the ends of the hull the end itself. */
static World
cut(const Loft *hull, const Ashore *a, double sign, double u, double X)
{
    double low = hull->x_m[0], high = hull->x_m[hull->stations - 1], y, z;
    for (int i = 0; i < 60; i++) {
        double x = 0.5 * (low + high);
        on_hull(hull, x, u, &y, &z);
        if (world(a, x, sign * y, z).X < X)
            low = x;
        else
            high = x;
    }
    on_hull(hull, low, u, &y, &z);
    return world(a, low, sign * y, z);
}

typedef struct {
    TapeSurvey survey;
    TapeStation station[MOST];
    TapeReading reading[MOST][READINGS];
    TapeDiagonal diagonal[8];
} Readings;

static void
add_station(Readings *r, const Loft *hull, const Ashore *a, TapeSide side, double x, size_t n,
            const double u[], size_t knuckle)
{
    double sign = side == TAPE_PORT ? 1.0 : -1.0, last = (double) hull->points - 1.0, y, z;
    TapeString *string = &r->survey.string[side];
    on_hull(hull, x, last, &y, &z);
    double X = world(a, x, sign * y, z).X;
    World rail = cut(hull, a, sign, last, X), far = cut(hull, a, -sign, last, X);
    World keel = cut(hull, a, sign, 0.0, X);
    double slope = a->slope_rad[side], start = -0.7;
    TapeStation *s = &r->station[r->survey.n];
    *s = (TapeStation){.side = side, .along_m = (rail.X - start) / cos(slope), .n = n};
    s->rail_m = rail.Z - (string->aft_m + s->along_m * sin(slope));
    s->beam_m = sign * (rail.Y - far.Y);
    s->keel_m = keel.Z;
    s->keel_forward_m = keel.X - rail.X;
    s->reading = r->reading[r->survey.n];
    for (size_t k = 0; k < n; k++) {
        World p = cut(hull, a, sign, u[k], X);
        r->reading[r->survey.n][k] = (TapeReading){rail.Z - p.Z, sign * (rail.Y - p.Y),
                                                   p.X - rail.X, k == knuckle ? "chine" : NULL};
    }
    r->survey.n++;
}

static void
begin(Readings *r, const Loft *hull, const Ashore *a)
{
    memset(r, 0, sizeof *r);
    double length = hull->x_m[hull->stations - 1], y, z;
    r->survey.station = r->station;
    r->survey.diagonal = r->diagonal;
    r->survey.list_rad = a->list_rad;
    r->survey.within_m = NAN;
    on_hull(hull, 0.0, (double) hull->points - 1.0, &y, &z);
    World stern = world(a, 0.0, 0.0, z);
    r->survey.stern_height_m = stern.Z;
    for (size_t side = 0; side < 2; side++) {
        TapeString *s = &r->survey.string[side];
        s->length_m = length + 2.0;
        s->aft_m = 1.1;
        s->fore_m = 1.1 + s->length_m * sin(a->slope_rad[side]);
        s->stern_m = (stern.X + 0.7) / cos(a->slope_rad[side]);
        s->out_aft_m = s->out_fore_m = NAN;
    }
    for (size_t k = 0; k < 2; k++) {
        World base = world(a, k == 0 ? 0.3 * length : 0.7 * length, 0.0, 0.0);
        r->survey.base_x_m[k] = base.X - stern.X;
        r->survey.base_height_m[k] = base.Z;
    }
}

static const double at_a[] = {0.0, 1.25, 2.5, 5.0, 8.0, 11.0, 13.5, 15.0, 16.5, 18.0};
static const double at_b[] = {0.0, 1.0, 2.0, 3.0,  4.0,  5.0,  6.0,
                              7.0, 8.0, 9.0, 10.0, 11.0, 11.5, 12.0};
/* From the rail down: side, chine, bottom. */
static const double lines[] = {1.7, 1.35, 1.0, 0.6, 0.3};

static void
read_off(Readings *r, const Loft *hull, const Ashore *a, size_t n, const double x[])
{
    begin(r, hull, a);
    for (size_t i = 0; i < n; i++)
        add_station(r, hull, a, TAPE_PORT, x[i], 5, lines, 2);
}

static void
shake(double *value, double half_width)
{
    *value += 0.5 * half_width * test_normal();
}

/* Every length read errs by itself; 95 % of the errors stay within half_width. */
static void
add_noise(Readings *r, double half_width)
{
    for (size_t i = 0; i < r->survey.n; i++) {
        TapeStation *s = &r->station[i];
        shake(&s->along_m, half_width);
        shake(&s->rail_m, half_width);
        shake(&s->beam_m, half_width);
        shake(&s->keel_m, half_width);
        for (size_t k = 0; k < s->n; k++) {
            shake(&r->reading[i][k].below_m, half_width);
            shake(&r->reading[i][k].inward_m, half_width);
        }
    }
    for (size_t side = 0; side < 2; side++) {
        shake(&r->survey.string[side].aft_m, half_width);
        shake(&r->survey.string[side].fore_m, half_width);
        shake(&r->survey.string[side].stern_m, half_width);
    }
    shake(&r->survey.base_height_m[0], half_width);
    shake(&r->survey.base_height_m[1], half_width);
    shake(&r->survey.list_rad, RAD(0.25));
}

static double
whole_m3(const Loft *hull)
{
    return body_volume_m3(&(Body){.lofts = 1, .loft = hull});
}

static double
below_m3(const Loft *hull, double draught)
{
    Immersed wet;
    body_immersed(&(Body){.lofts = 1, .loft = hull}, &(Attitude){.origin_depth_m = draught}, &wet);
    return wet.volume_m3;
}

static void
without_noise_the_hull_comes_back(void **state)
{
    (void) state;
    const struct {
        const char *name;
        size_t n;
        const double *x;
        double tolerance;
    } hulls[] = {{"float-hull-A.csv", 10, at_a, 1e-3}, {"float-hull-B.csv", 14, at_b, 1e-3}};
    for (size_t h = 0; h < 2; h++) {
        Loft *hull = hull_load(hulls[h].name);
        double length = hull->x_m[hull->stations - 1];
        Readings r;
        Tape tape;
        read_off(&r, hull, &leaning, hulls[h].n, hulls[h].x);
        assert_int_equal(tape_solve(&r.survey, &tape), VALID);
        assert_close(tape.volume_m3, whole_m3(hull), hulls[h].tolerance * whole_m3(hull));
        for (size_t i = 0; i < tape.shape->n; i++) {
            const Station *s = &tape.shape->station[i];
            double y, z;
            assert_close(s->x_m, hulls[h].x[i], 0.04);
            for (size_t k = 0; k < 5; k++) {
                on_hull(hull, fmin(fmax(s->x_m, 0.0), length), lines[4 - k], &y, &z);
                assert_close(s->point[k + 1].y_m, y, 6e-3);
                assert_close(s->point[k + 1].z_m, z, 6e-3);
            }
        }
        for (double d = 0.4; d < 1.5; d += 0.35) {
            double volume, spread;
            assert_int_equal(tape_volume(&r.survey, d, &volume, &spread), VALID);
            assert_close(volume, below_m3(hull, d), fmin(spread, 0.004 * volume));
        }
        tape_free(&tape);
        loft_free(hull);
    }
}

/* 95 % of the errors within 10 mm (a standard deviation of 5 mm), the list within a quarter of a degree. */
static void
noise_stays_inside_the_spread(void **state)
{
    (void) state;
    enum { TRIALS = 100 };
    for (size_t h = 0; h < 2; h++) {
        Loft *hull = hull_load(h == 0 ? "float-hull-A.csv" : "float-hull-B.csv");
        double truth = whole_m3(hull), square = 0.0, by_readings = 0.0;
        int inside = 0, false_alarms = 0;
        test_random_restart(77);
        for (int i = 0; i < TRIALS; i++) {
            Readings r;
            Tape tape;
            read_off(&r, hull, &leaning, h == 0 ? 10 : 14, h == 0 ? at_a : at_b);
            add_noise(&r, 0.010);
            assert_int_not_equal(tape_solve(&r.survey, &tape), REFUSED);
            inside += fabs(tape.volume_m3 - truth) <= tape.spread_m3;
            square += (tape.volume_m3 - truth) * (tape.volume_m3 - truth) / TRIALS;
            by_readings += tape.readings_m3 / TRIALS;
            false_alarms += tape.suspects > 0;
            tape_free(&tape);
        }
        assert_true(inside >= 95);
        assert_true(false_alarms <= 2);
        /* Nor is the spread a cushion: what the readings cause is twice the deviation that is seen, within the
         * fifth that a hundred trials leave open. */
        assert_close(by_readings / (2.0 * sqrt(square)), 1.0, 0.2);
        assert_true(by_readings < 0.01 * truth);
        loft_free(hull);
    }
}

/* The squares grow with the square of what a reading is good for; the list is as sure as it was. */
static void
spread_follows_the_readings(void **state)
{
    (void) state;
    Loft *hull = hull_load("float-hull-B.csv");
    Readings r;
    Tape tape[3];
    read_off(&r, hull, &leaning, 14, at_b);
    for (size_t k = 0; k < 3; k++) {
        r.survey.within_m = 0.005 * (double) (1 << k);
        assert_int_equal(tape_solve(&r.survey, &tape[k]), VALID);
    }
    double first = pow(tape[1].readings_m3, 2.0) - pow(tape[0].readings_m3, 2.0);
    double second = pow(tape[2].readings_m3, 2.0) - pow(tape[1].readings_m3, 2.0);
    assert_true(first > 0.0);
    assert_close(second / first, 4.0, 0.1);
    assert_true(tape[2].half_breadth_m > tape[1].half_breadth_m);
    double share = 0.0;
    for (size_t i = 0; i < tape[1].steps; i++) {
        assert_true(tape[1].step[i].share >= 0.0);
        share += tape[1].step[i].share;
    }
    assert_true(share > 0.1 && share < 1.0);
    for (size_t k = 0; k < 3; k++)
        tape_free(&tape[k]);
    loft_free(hull);
}

static const TapeStep *
suspect_of(const Tape *tape)
{
    const TapeStep *found = NULL;
    for (size_t i = 0; i < tape->steps; i++)
        if (tape->step[i].suspect)
            found = &tape->step[i];
    return found;
}

/* 200 mm in each inward distance of each station in turn: named where it is promised, and nothing else is. */
static void
a_blunder_is_named(void **state)
{
    (void) state;
    for (size_t h = 0; h < 2; h++) {
        Loft *hull = hull_load(h == 0 ? "float-hull-A.csv" : "float-hull-B.csv");
        size_t n = h == 0 ? 10 : 14, elsewhere = 0, kept = 0;
        test_random_restart(5);
        for (size_t i = 0; i < n; i++)
            for (size_t k = 0; k < 3; k++) {
                Readings r;
                Tape clean, tape;
                read_off(&r, hull, &leaning, n, h == 0 ? at_a : at_b);
                add_noise(&r, 0.010);
                tape_solve(&r.survey, &clean);
                assert_int_equal(clean.suspects, 0);
                r.reading[i][k].inward_m += k == 1 ? -0.2 : 0.2;
                Validity validity = tape_solve(&r.survey, &tape);
                assert_int_equal(validity, tape.suspects > 0 ? EXTRAPOLATED : VALID);
                const TapeStep *s = suspect_of(&tape), *at = &clean.step[i * 7 + 1 + k];
                assert_true(at->station == i && at->reading == (int) k);
                if (at->named_from_m < 0.17) {
                    assert_non_null(s);
                    assert_int_equal(tape.suspects, 1);
                    assert_int_equal(s->station, i);
                    assert_int_equal(s->reading, k);
                    /* The side leans, so a little less than what was misread stands out. */
                    assert_close(fabs(s->out_m), 0.2, 0.05);
                    assert_true((s->out_m > 0.0) == (k == 1));
                    kept++;
                } else if (s != NULL) {
                    elsewhere += s->station != i || s->reading != (int) k;
                }
                tape_free(&clean);
                tape_free(&tape);
            }
        /* Where the lines bend little that is most places; where it is not promised it may be missed, hardly ever
         * laid at another door. */
        assert_true(kept >= 20);
        assert_true(elsewhere <= 1);
        loft_free(hull);
    }
}

static void
a_wrong_rail_is_named_and_not_all_that_hangs_from_it(void **state)
{
    (void) state;
    Loft *hull = hull_load("float-hull-A.csv");
    Readings r;
    Tape tape;
    read_off(&r, hull, &leaning, 10, at_a);
    r.station[4].rail_m += 0.2;
    assert_int_equal(tape_solve(&r.survey, &tape), EXTRAPOLATED);
    assert_int_equal(tape.suspects, 1);
    const TapeStep *s = suspect_of(&tape);
    assert_int_equal(s->station, 4);
    assert_int_equal(s->reading, TAPE_RAIL);
    assert_close(s->out_m, 0.2, 0.02);
    tape_free(&tape);
    r.station[4].rail_m -= 0.2;
    r.station[5].keel_m -= 0.2;
    assert_int_equal(tape_solve(&r.survey, &tape), EXTRAPOLATED);
    s = suspect_of(&tape);
    assert_non_null(s);
    assert_int_equal(s->station, 5);
    assert_int_equal(s->reading, TAPE_KEEL);
    tape_free(&tape);
    loft_free(hull);
}

static void
the_working_adds_up(void **state)
{
    (void) state;
    Loft *hull = hull_load("float-hull-B.csv");
    Readings r;
    Tape tape;
    read_off(&r, hull, &leaning, 14, at_b);
    assert_int_equal(tape_solve(&r.survey, &tape), VALID);
    assert_close(tape.trim_rad, leaning.trim_rad, 1e-9);
    for (size_t i = 0; i < tape.steps; i++) {
        const TapeStep *s = &tape.step[i];
        assert_close(s->plain_x_m + s->slope_x_m + s->trim_x_m, s->x_m, 1e-12);
        assert_close(s->plain_y_m + s->list_y_m + s->trim_y_m, s->y_m, 1e-12);
        assert_close(s->plain_z_m + s->slope_z_m + s->list_z_m + s->trim_z_m, s->z_m, 1e-12);
        const StationPoint *p =
            &tape.shape->station[s->station].point[s->reading == TAPE_KEEL   ? 0
                                                   : s->reading == TAPE_RAIL ? 6
                                                                             : 5 - s->reading];
        assert_close(s->y_m + s->moved_y_m, p->y_m, 1e-12);
        assert_close(s->z_m + s->moved_z_m, p->z_m, 1e-12);
    }
    tape_free(&tape);
    /* Level string, upright boat: nothing to correct. */
    const Ashore level = {0.0, 0.0, 0.5, {0.0, 0.0}};
    read_off(&r, hull, &level, 14, at_b);
    assert_int_equal(tape_solve(&r.survey, &tape), VALID);
    for (size_t i = 0; i < tape.steps; i++) {
        const TapeStep *s = &tape.step[i];
        assert_close(fabs(s->slope_z_m) + fabs(s->list_y_m) + fabs(s->trim_z_m), 0.0, 1e-12);
    }
    assert_close(tape.volume_m3, whole_m3(hull), 1e-9 * tape.volume_m3);
    tape_free(&tape);
    loft_free(hull);
}

/* Both sides at three places: their list is found from the rails, and a fat side is seen. */
static void
both_sides_judge_each_other(void **state)
{
    (void) state;
    Loft *hull = hull_load("float-hull-B.csv");
    Readings r;
    Tape tape;
    read_off(&r, hull, &leaning, 14, at_b);
    for (size_t k = 3; k < 9; k += 2)
        add_station(&r, hull, &leaning, TAPE_STARBOARD, at_b[k], 5, lines, 2);
    r.survey.list_rad = NAN;
    assert_int_equal(tape_solve(&r.survey, &tape), VALID);
    assert_int_equal(tape.pairs, 3);
    assert_int_equal(tape.shape->n, 14);
    assert_false(tape.list_assumed);
    assert_close(tape.list_rad, leaning.list_rad, RAD(0.05));
    assert_close(tape.asymmetry_m, 0.0, 5e-3);
    assert_true(tape.asymmetry_most_m < 0.02);
    assert_close(tape.volume_m3, whole_m3(hull), 2e-3 * tape.volume_m3);
    tape_free(&tape);
    for (size_t i = 14; i < r.survey.n; i++)
        for (size_t k = 0; k < 5; k++)
            r.reading[i][k].inward_m += 0.08; /* dented, all along starboard */
    assert_int_not_equal(tape_solve(&r.survey, &tape), REFUSED);
    assert_close(tape.asymmetry_m, 0.08 * 5.0 / 7.0, 0.01);
    assert_close(tape.asymmetry_most_m, 0.08, 0.02);
    tape_free(&tape);
    loft_free(hull);
}

/* A box 10 x 4: its diagonals are known without any of this. */
static void
diagonals_tell_how_she_is_racked(void **state)
{
    (void) state;
    Loft *hull = hull_box(10.0, 4.0, 1.5);
    const Ashore level = {0.0, 0.0, 0.5, {0.0, 0.0}};
    const double at[] = {0.0, 3.0, 7.0, 10.0}, box_lines[] = {1.5, 1.0, 0.5};
    Readings r;
    Tape tape;
    begin(&r, hull, &level);
    for (size_t i = 0; i < 4; i++)
        add_station(&r, hull, &level, TAPE_PORT, at[i], 3, box_lines, 1);
    r.survey.diagonals = 2;
    r.diagonal[0] = (TapeDiagonal){0, 3, TAPE_PORT, hypot(10.0, 4.0)};
    r.diagonal[1] = (TapeDiagonal){0, 3, TAPE_STARBOARD, hypot(10.0, 4.0)};
    assert_int_equal(tape_solve(&r.survey, &tape), VALID);
    assert_close(tape.diagonal_most_m, 0.0, 1e-9);
    assert_close(tape.skew_m, 0.0, 1e-9);
    assert_close(tape.volume_m3, 60.0, 1e-9);
    tape_free(&tape);
    /* Port pushed 60 mm forward of starboard. */
    r.diagonal[0].length_m = hypot(10.0 - 0.06, 4.0);
    r.diagonal[1].length_m = hypot(10.0 + 0.06, 4.0);
    assert_int_equal(tape_solve(&r.survey, &tape), VALID);
    assert_close(tape.skew_m, 0.06, 1e-9);
    assert_close(tape.diagonal_most_m, hypot(10.06, 4.0) - hypot(10.0, 4.0), 1e-9);
    tape_free(&tape);
    loft_free(hull);
}

/* Where the upright plane square off a skew string cuts the line u: at `level` along the string from its aft end. */
typedef struct {
    double X, Y, sin, cos; /* aft end, direction */
} Skew;

static double
along_skew(const Skew *k, World p)
{
    return (p.X - k->X) * k->cos + (p.Y - k->Y) * k->sin;
}

static World
cut_square(const Loft *hull, const Ashore *a, double u, const Skew *k, double level)
{
    double low = hull->x_m[0], high = hull->x_m[hull->stations - 1], y, z;
    for (int i = 0; i < 60; i++) {
        double x = 0.5 * (low + high);
        on_hull(hull, x, u, &y, &z);
        *(along_skew(k, world(a, x, y, z)) < level ? &low : &high) = x;
    }
    on_hull(hull, low, u, &y, &z);
    return world(a, low, y, z);
}

/* The same hull with distances square off the plane of a string that is not parallel to her: one degree, then two. */
static void
distances_from_a_skew_string_serve_as_well(void **state)
{
    (void) state;
    Loft *hull = hull_load("float-hull-B.csv");
    for (double spreads_out = 0.25; spreads_out < 0.6; spreads_out += 0.25) {
        Readings r;
        Tape tape;
        read_off(&r, hull, &leaning, 14, at_b);
        TapeString *string = &r.survey.string[TAPE_PORT];
        double slope = leaning.slope_rad[TAPE_PORT], skew_sin;
        string->out_aft_m = 2.4;
        string->out_fore_m = 2.4 + spreads_out;
        skew_sin = spreads_out / (string->length_m * cos(slope));
        const Skew k = {-0.7, 2.4, skew_sin, sqrt(1.0 - skew_sin * skew_sin)};
        string->stern_m /= k.cos;
        for (size_t i = 0; i < r.survey.n; i++) {
            TapeStation *s = &r.station[i];
            double y, z;
            on_hull(hull, at_b[i], 2.0, &y, &z);
            double level = along_skew(&k, world(&leaning, at_b[i], y, z));
            World rail = cut_square(hull, &leaning, 2.0, &k, level);
            World keel = cut_square(hull, &leaning, 0.0, &k, level);
            s->along_m = level / cos(slope);
            s->rail_m = rail.Z - (string->aft_m + s->along_m * sin(slope));
            s->from_string = true;
            s->beam_m = NAN;
            double X = k.X + level * k.cos, Y = k.Y + level * k.sin;
            s->rail_inward_m = (Y - rail.Y) / k.cos;
            s->keel_m = keel.Z;
            s->keel_forward_m = keel.X - (X + Y * k.sin / k.cos);
            for (size_t j = 0; j < s->n; j++) {
                World p = cut_square(hull, &leaning, lines[j], &k, level);
                r.reading[i][j].below_m = rail.Z - p.Z;
                r.reading[i][j].forward_m = along_skew(&k, p) - level;
                r.reading[i][j].inward_m = (X - p.X) * -k.sin + (Y - p.Y) * k.cos;
            }
        }
        assert_int_equal(tape_solve(&r.survey, &tape), VALID);
        assert_close(tape.volume_m3, whole_m3(hull), 1e-3 * tape.volume_m3);
        for (size_t i = 0; i < tape.shape->n; i++)
            for (size_t j = 0; j < 5; j++) {
                const Station *s = &tape.shape->station[i];
                double y, z;
                on_hull(hull, fmin(fmax(s->x_m, 0.0), 12.0), lines[4 - j], &y, &z);
                assert_close(s->point[j + 1].y_m, y, 8e-3);
                assert_close(s->point[j + 1].z_m, z, 8e-3);
            }
        assert_true(tape.readings_m3 > 0.0);
        tape_free(&tape);
    }
    loft_free(hull);
}

/* Where the line hangs from a batten the distances are longer, and the hull is the same. */
static void
a_batten_over_the_rail_changes_nothing(void **state)
{
    (void) state;
    Loft *hull = hull_load("float-hull-A.csv");
    Readings r;
    Tape at_rail, on_batten;
    read_off(&r, hull, &leaning, 10, at_a);
    assert_int_equal(tape_solve(&r.survey, &at_rail), VALID);
    for (size_t i = 0; i < r.survey.n; i++) {
        r.station[i].rail_inward_m = 0.15;
        r.station[i].beam_m += 0.30;
        for (size_t k = 0; k < 5; k++)
            r.reading[i][k].inward_m += 0.15;
    }
    assert_int_equal(tape_solve(&r.survey, &on_batten), VALID);
    assert_close(on_batten.volume_m3, at_rail.volume_m3, 1e-9 * at_rail.volume_m3);
    assert_true(on_batten.readings_m3 > at_rail.readings_m3);
    tape_free(&at_rail);
    tape_free(&on_batten);
    loft_free(hull);
}

static void
what_was_not_taken_costs_spread(void **state)
{
    (void) state;
    Loft *hull = hull_load("float-hull-A.csv");
    Readings r;
    Tape all, tape;
    read_off(&r, hull, &leaning, 10, at_a);
    assert_int_equal(tape_solve(&r.survey, &all), VALID);
    for (size_t i = 3; i < 7; i++)
        r.station[i].keel_m = NAN; /* straight there */
    assert_int_equal(tape_solve(&r.survey, &tape), VALID);
    assert_close(tape.volume_m3, whole_m3(hull), 1e-3 * tape.volume_m3);
    assert_true(tape.readings_m3 > all.readings_m3);
    tape_free(&tape);
    const Ashore nearly = {RAD(0.6), RAD(-0.9), 0.72, {RAD(0.7), RAD(-0.4)}};
    read_off(&r, hull, &nearly, 10, at_a);
    r.survey.list_rad = NAN;
    assert_int_equal(tape_solve(&r.survey, &tape), EXTRAPOLATED);
    assert_true(tape.list_assumed);
    assert_close(tape.volume_m3, whole_m3(hull), tape.spread_m3);
    tape_free(&tape);
    tape_free(&all);
    loft_free(hull);
}

static void
nonsense_is_refused_with_a_reason(void **state)
{
    (void) state;
    Loft *hull = hull_load("float-hull-A.csv");
    for (int k = 0; k < 17; k++) {
        Readings r;
        read_off(&r, hull, &leaning, 10, at_a);
        r.survey.diagonals = 1;
        r.diagonal[0] = (TapeDiagonal){0, 9, TAPE_PORT, 18.4};
        double *const bad[] = {&r.survey.string[0].length_m, &r.survey.string[0].aft_m,
                               &r.station[3].along_m,        &r.station[3].rail_m,
                               &r.station[3].beam_m,         &r.reading[3][2].below_m,
                               &r.reading[3][2].inward_m,    &r.survey.base_x_m[0],
                               &r.survey.base_height_m[1],   &r.diagonal[0].length_m};
        if (k < 10)
            *bad[k] = k % 2 == 0 ? NAN : INFINITY;
        else if (k == 10)
            r.survey.n = 1;
        else if (k == 11)
            r.survey.string[0].fore_m += 15.0;
        else if (k == 12)
            r.survey.base_x_m[1] = r.survey.base_x_m[0];
        else if (k == 13)
            r.station[9].keel_m = NAN;
        else if (k == 14)
            r.station[4].along_m = r.station[3].along_m;
        else if (k == 15)
            r.station[2].n = 101;
        else
            r.diagonal[0].to = 10;
        Tape tape;
        double volume, spread;
        assert_int_equal(tape_solve(&r.survey, &tape), REFUSED);
        assert_non_null(tape.fault);
        assert_null(tape.shape);
        assert_null(tape.step);
        assert_true(isnan(tape.volume_m3) && isnan(tape.spread_m3));
        if (k >= 2 && k < 7)
            assert_int_equal(tape.fault_station, 3);
        assert_int_equal(tape_volume(&r.survey, 1.0, &volume, &spread), REFUSED);
        assert_true(isnan(volume) && isnan(spread));
    }
    loft_free(hull);
}

/* One reading after the other replaced by anything: refused with a reason, or finite numbers. */
static void
any_reading_may_be_wrong(void **state)
{
    (void) state;
    static const double odd[] = {NAN, INFINITY, -INFINITY, 0.0, -3.0, 900.0, 1e12, 1e-300};
    Loft *hull = hull_load("float-hull-A.csv");
    test_random_restart(21);
    size_t solved = 0;
    for (int trial = 0; trial < 400; trial++) {
        Readings r;
        Tape tape;
        read_off(&r, hull, &leaning, 10, at_a);
        size_t i = (size_t) test_between(0.0, 10.0), k = (size_t) test_between(0.0, 5.0);
        TapeStation *s = &r.station[i];
        double *const any[] = {&s->along_m,
                               &s->rail_m,
                               &s->beam_m,
                               &s->keel_m,
                               &s->rail_inward_m,
                               &s->keel_forward_m,
                               &r.reading[i][k].below_m,
                               &r.reading[i][k].inward_m,
                               &r.reading[i][k].forward_m,
                               &r.survey.string[0].aft_m,
                               &r.survey.string[0].stern_m,
                               &r.survey.stern_height_m,
                               &r.survey.list_rad,
                               &r.survey.within_m,
                               &r.survey.base_x_m[0]};
        *any[(size_t) test_between(0.0, 15.0)] = odd[(size_t) test_between(0.0, 8.0)];
        if (tape_solve(&r.survey, &tape) == REFUSED) {
            assert_non_null(tape.fault);
            continue;
        }
        assert_true(isfinite(tape.volume_m3) && tape.volume_m3 > 0.0 && isfinite(tape.spread_m3));
        for (size_t m = 0; m < tape.steps; m++)
            assert_true(isfinite(tape.step[m].x_m) && isfinite(tape.step[m].y_m) &&
                        isfinite(tape.step[m].z_m) && isfinite(tape.step[m].share));
        tape_free(&tape);
        solved++;
    }
    assert_true(solved > 50);
    loft_free(hull);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(without_noise_the_hull_comes_back),
        cmocka_unit_test(noise_stays_inside_the_spread),
        cmocka_unit_test(spread_follows_the_readings),
        cmocka_unit_test(a_blunder_is_named),
        cmocka_unit_test(a_wrong_rail_is_named_and_not_all_that_hangs_from_it),
        cmocka_unit_test(the_working_adds_up),
        cmocka_unit_test(both_sides_judge_each_other),
        cmocka_unit_test(diagonals_tell_how_she_is_racked),
        cmocka_unit_test(distances_from_a_skew_string_serve_as_well),
        cmocka_unit_test(a_batten_over_the_rail_changes_nothing),
        cmocka_unit_test(what_was_not_taken_costs_spread),
        cmocka_unit_test(nonsense_is_refused_with_a_reason),
        cmocka_unit_test(any_reading_may_be_wrong),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
