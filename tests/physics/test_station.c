/* Stations joined to lofts, houses on decks, side views. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>

#include "hulls.h"

#include "physics/afloat/profile.h"
#include "physics/afloat/station.h"

static const StationPoint aft[] = {{0.0, 0.4, false, NULL},
                                   {1.5, 0.6, true, "chine"},
                                   {1.7, 1.6, true, NULL},
                                   {1.6, 2.0, false, NULL}};
static const StationPoint mid[] = {{0.0, 0.0, false, NULL},
                                   {1.9, 0.3, true, "chine"},
                                   {2.1, 1.4, true, NULL},
                                   {2.0, 1.9, false, NULL}};
static const StationPoint fore[] = {{0.0, 0.2, false, NULL},
                                    {0.8, 0.7, true, "chine"},
                                    {1.3, 1.7, true, NULL},
                                    {1.4, 2.3, false, NULL}};
static const Station hull[] = {{0.0, 4, aft}, {5.0, 4, mid}, {11.0, 4, fore}};

static void
assert_same_body(const Loft *a, const Loft *b)
{
    const Body one = {.lofts = 1, .loft = a}, two = {.lofts = 1, .loft = b};
    test_random_restart(61);
    for (int i = 0; i < 40; i++) {
        const Attitude at = {test_between(0.2, 1.5), test_between(-1.5, 1.5),
                             test_between(-0.1, 0.1)};
        Immersed p, q;
        body_immersed(&one, &at, &p);
        body_immersed(&two, &at, &q);
        assert_close(p.volume_m3, q.volume_m3, 1e-10);
        assert_close(p.x_m4, q.x_m4, 1e-9);
        assert_close(p.y_m4, q.y_m4, 1e-10);
        assert_close(p.plane_XX_m4, q.plane_XX_m4, 1e-8);
    }
}

static void
stations_that_correspond_stay_as_they_are(void **state)
{
    (void) state;
    Loft *loft = loft_join(3, hull);
    assert_non_null(loft);
    assert_int_equal(loft->points, 4);
    for (size_t i = 0; i < 3; i++)
        for (size_t j = 0; j < 4; j++) {
            assert_close(loft->y_m[i * 4 + j], hull[i].point[j].y_m, 0.0);
            assert_close(loft->z_m[i * 4 + j], hull[i].point[j].z_m, 0.0);
        }
    assert_null(loft_fault(loft));
    loft_free(loft);
}

/* One point more on a straight piece of one station. */
static void
a_point_on_a_straight_piece_changes_nothing(void **state)
{
    (void) state;
    Loft *plain = loft_join(3, hull);
    for (int piece = 0; piece < 3; piece++)
        for (int which = 0; which < 3; which++) {
            StationPoint more[3][6];
            Station stations[3];
            for (int i = 0; i < 3; i++) {
                size_t n = 0;
                for (int j = 0; j < 4; j++) {
                    more[i][n++] = hull[i].point[j];
                    if (j == piece && which == i) {
                        double t = 0.2 + 0.25 * i;
                        const StationPoint *a = &hull[i].point[j], *b = a + 1;
                        more[i][n++] = (StationPoint){a->y_m + t * (b->y_m - a->y_m),
                                                      a->z_m + t * (b->z_m - a->z_m), false, NULL};
                    }
                }
                stations[i] = (Station){hull[i].x_m, n, more[i]};
            }
            Loft *loft = loft_join(3, stations);
            assert_non_null(loft);
            assert_int_equal(loft->points, 5);
            assert_same_body(plain, loft);
            loft_free(loft);
        }
    loft_free(plain);
}

static void
knuckles_join_by_name_wherever_they_stand(void **state)
{
    (void) state;
    /* The middle station has two points more below its chine: the chine stays a straight line in the loft. */
    const StationPoint round[] = {{0.0, 0.0, false, NULL},  {0.7, 0.02, false, NULL},
                                  {1.4, 0.12, false, NULL}, {1.9, 0.3, true, "chine"},
                                  {2.1, 1.4, true, NULL},   {2.0, 1.9, false, NULL}};
    const Station stations[] = {{0.0, 4, aft}, {5.0, 6, round}, {11.0, 4, fore}};
    Loft *loft = loft_join(3, stations);
    assert_non_null(loft);
    assert_int_equal(loft->points, 6);
    double y[6], z[6];
    assert_true(loft_points(loft, 2.5, y, z));
    assert_close(y[3], 0.5 * (1.5 + 1.9), 1e-12);
    assert_close(z[3], 0.5 * (0.6 + 0.3), 1e-12);
    /* Every measured point is still there. */
    for (size_t j = 0; j < 6; j++) {
        assert_close(loft->y_m[6 + j], round[j].y_m, 1e-12);
        assert_close(loft->z_m[6 + j], round[j].z_m, 1e-12);
    }
    loft_free(loft);
}

static void
a_knuckle_that_not_all_have_is_a_plain_point(void **state)
{
    (void) state;
    const StationPoint other[] = {{0.0, 0.0, false, NULL},
                                  {1.0, 0.1, true, "spray-rail"},
                                  {1.9, 0.3, true, "chine"},
                                  {2.1, 1.4, true, NULL},
                                  {2.0, 1.9, false, NULL}};
    const Station stations[] = {{0.0, 4, aft}, {5.0, 5, other}, {11.0, 4, fore}};
    Loft *loft = loft_join(3, stations);
    assert_non_null(loft);
    assert_int_equal(loft->points, 5);
    assert_close(loft->y_m[5 + 2], 1.9, 1e-12);
    assert_close(loft->y_m[2], 1.5, 1e-12);
    loft_free(loft);
    assert_null(loft_join(1, stations));
    const Station backwards[] = {{5.0, 4, aft}, {5.0, 4, mid}};
    assert_null(loft_join(2, backwards));
    const Station thin[] = {{0.0, 1, aft}, {5.0, 4, mid}};
    assert_null(loft_join(2, thin));
}

static void
many_odd_points_stay_affordable(void **state)
{
    (void) state;
    enum { STATIONS = 30, MOST = 40 };
    static StationPoint point[STATIONS][MOST];
    Station stations[STATIONS];
    double measured = 0.0;
    for (int i = 0; i < STATIONS; i++) {
        size_t n = (size_t) (8 + i);
        for (size_t j = 0; j < n; j++) {
            double t = 0.5 * M_PI * j / (n - 1.0);
            point[i][j] = (StationPoint){2.0 * sin(t), 2.0 - 2.0 * cos(t), false, NULL};
        }
        stations[i] = (Station){0.5 * i, n, point[i]};
    }
    Loft *loft = loft_join(STATIONS, stations);
    assert_non_null(loft);
    assert_true(loft->points <= 50);
    const Body body = {.lofts = 1, .loft = loft};
    measured = body_volume_m3(&body);
    assert_close(measured / (14.5 * 2.0 * M_PI), 1.0, 0.01);
    loft_free(loft);
}

static void
a_section_that_crosses_itself_is_found(void **state)
{
    (void) state;
    size_t a, b;
    const StationPoint bad[] = {{0.0, 0.0, false, NULL},
                                {2.0, 1.0, false, NULL},
                                {2.0, 0.0, false, NULL},
                                {0.5, 1.5, false, NULL}};
    assert_true(station_crosses(&(Station){0.0, 4, bad}, &a, &b));
    assert_int_equal(a, 0);
    assert_int_equal(b, 2);
    assert_false(station_crosses(&hull[1], &a, &b));
}

static void
house_stands_on_a_sheered_deck(void **state)
{
    (void) state;
    /* Deck edge falls from 2.0 at x = 0 to 1.0 at x = 10; house from 2 to 8, 3 m wide, up to 1.6; floor wanted at 1.2. */
    double x[] = {0.0, 10.0}, y[] = {0.0, 2.0, 0.0, 2.0}, z[] = {0.0, 2.0, 0.0, 1.0};
    const Loft deck = {2, 2, x, y, z, 0.0};
    Loft *house = loft_house(&deck, 2.0, 8.0, -1.0, 2.0, 1.2, 1.6);
    assert_non_null(house);
    assert_null(loft_fault(house));
    const Body body = {.lofts = 1, .loft = house};
    /* Deck passes 1.6 at x = 4; it meets 1.2 at x = 8. Triangle 4 m long, 0.4 m high. */
    assert_close(body_volume_m3(&body), 3.0 * 0.5 * 4.0 * 0.4, 1e-12);
    Immersed u;
    body_immersed(&body, &(Attitude){.origin_depth_m = 3.0}, &u);
    assert_close(u.y_m4 / u.volume_m3, 0.5, 1e-12);
    assert_close(u.x_m4 / u.volume_m3, 8.0 - 4.0 / 3.0, 1e-12);
    loft_free(house);
    /* Floor above the deck at the low end only. */
    house = loft_house(&deck, 5.0, 10.0, -1.0, 1.0, 1.3, 2.0);
    const Body high = {.lofts = 1, .loft = house};
    assert_close(body_volume_m3(&high), 2.0 * (5.0 * 0.7 - 0.5 * 2.0 * 0.2), 1e-12);
    loft_free(house);
    assert_null(loft_house(&deck, 1.0, 3.0, -1.0, 1.0, 0.2, 1.5));
    assert_null(loft_house(&deck, 3.0, 1.0, -1.0, 1.0, 0.2, 1.5));
}

static void
side_view_counts_nothing_twice(void **state)
{
    (void) state;
    Loft *box = hull_box(20.0, 5.0, 2.5);
    SideView bare, twice;
    const Attitude level = {.origin_depth_m = 1.2};
    side_view(box, &level, 0, NULL, &bare);
    assert_close(bare.above_m2, 26.0, 1e-12);
    assert_close(bare.above_height_m, 0.65, 1e-12);
    assert_close(bare.above_x_m, 10.0, 1e-12);
    assert_close(bare.below_m2, 24.0, 1e-12);
    assert_close(bare.below_depth_m, 0.6, 1e-12);
    assert_close(bare.waterline_m, 20.0, 1e-12);
    assert_close(bare.beam_m, 5.0, 1e-12);
    assert_close(bare.least_freeboard_m, 1.3, 1e-12);
    assert_int_equal(bare.least_freeboard_side, 0);
    assert_close(bare.deck_edge_rad, atan(1.3 / 2.5), 1e-12);
    /* A house partly below deck, another overlapping it, a keel below. */
    const SideRectangle part[] = {
        {5.0, 10.0, 2.0, 4.0}, {8.0, 12.0, 3.0, 5.0}, {2.0, 18.0, -0.5, 0.3}};
    side_view(box, &level, 3, part, &twice);
    assert_close(twice.above_m2, 26.0 + 5.0 * 1.5 + 4.0 * 2.0 - 2.0 * 1.0, 1e-10);
    assert_close(twice.below_m2, 24.0 + 16.0 * 0.5, 1e-10);
    loft_free(box);
}

static void
side_view_follows_trim_and_heel(void **state)
{
    (void) state;
    Loft *box = hull_box(20.0, 5.0, 2.5);
    SideView view;
    /* Trimmed by the bow by 0.06: draught 0.6 aft, 1.8 forward. */
    const double t = atan(0.06);
    const Attitude bow = {0.6 * cos(t), 0.0, t};
    assert_close(attitude_draught_m(&bow, 0.0), 0.6, 1e-12);
    assert_close(attitude_draught_m(&bow, 20.0), 1.8, 1e-12);
    side_view(box, &bow, 0, NULL, &view);
    assert_close(view.below_m2, 24.0, 1e-10);
    assert_close(view.least_freeboard_m, 0.7 * cos(t), 1e-12);
    assert_close(view.least_freeboard_x_m, 20.0, 0.0);
    assert_close(view.deck_edge_rad, atan(0.7 / 2.5), 1e-12);
    /* Listed to starboard: that edge is the lower, and nearer. */
    const Attitude list = {1.2, 0.1, 0.0};
    side_view(box, &list, 0, NULL, &view);
    assert_int_equal(view.least_freeboard_side, 1);
    assert_close(view.least_freeboard_m, 2.5 * cos(0.1) - 2.5 * sin(0.1) - 1.2, 1e-12);
    assert_close(view.deck_edge_rad, atan((2.5 - 1.2 / cos(0.1)) / 2.5) - 0.1, 1e-12);
    assert_close(view.beam_m, 5.0 / cos(0.1), 1e-12);
    loft_free(box);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(stations_that_correspond_stay_as_they_are),
        cmocka_unit_test(a_point_on_a_straight_piece_changes_nothing),
        cmocka_unit_test(knuckles_join_by_name_wherever_they_stand),
        cmocka_unit_test(a_knuckle_that_not_all_have_is_a_plain_point),
        cmocka_unit_test(many_odd_points_stay_affordable),
        cmocka_unit_test(a_section_that_crosses_itself_is_found),
        cmocka_unit_test(house_stands_on_a_sheered_deck),
        cmocka_unit_test(side_view_counts_nothing_twice),
        cmocka_unit_test(side_view_follows_trim_and_heel),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
