/* Water on deck and in open boats: closed forms of boxes, hulls clipped as a mesh, and the balance of the boat with the
 * water in her by a second way of integrating. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>

#include "hulls.h"

#include "physics/afloat/deck_water.h"
#include "physics/afloat/draining.h"
#include "physics/afloat/station.h"

static const double deg = M_PI / 180.0;

/* A box: closed forms of box_liquid, which shares nothing with the clipping of lofts. */
static void
box_lies_as_a_tank_does(void **state)
{
    (void) state;
    Loft *hull = hull_box(12.0, 4.0, 3.0);
    Loft *well = loft_well(hull, 2.0, 5.0, -1.5, 0.5, 1.0, 2.4, 0.0);
    const Basin basin = basin_of_loft(well);
    assert_close(basin.whole_m3, 3.0 * 2.0 * 1.4, 1e-12);
    test_random_restart(5);
    for (int i = 0; i < 200; i++) {
        double fill = test_between(0.01, 0.99), heel = test_between(-80.0, 80.0) * deg,
               trim = test_between(-20.0, 20.0) * deg, depth;
        const Tank tank = {2.0, 5.0, -1.5, 0.5, 1.0, 2.4, fill, 1000.0, NULL};
        TankLiquid box, lies;
        tank_lies(&tank, heel, trim, &box);
        assert_true(basin_lies(&basin, fill * basin.whole_m3, heel, trim, &lies, &depth));
        assert_close(lies.x_m, box.x_m, 1e-9);
        assert_close(lies.y_m, box.y_m, 1e-9);
        assert_close(lies.z_m, box.z_m, 1e-9);
        assert_close(lies.surface_m2, box.surface_m2, 1e-7);
        assert_close(lies.surface_XX_m4, box.surface_XX_m4, 1e-6);
        assert_close(lies.surface_YY_m4, box.surface_YY_m4, 1e-6);
        assert_close(lies.surface_XY_m4, box.surface_XY_m4, 1e-6);
    }
    loft_free(well);
    loft_free(hull);
}

static void
hull_lies_as_its_mesh_does(void **state)
{
    (void) state;
    Loft *hull = hull_flared(7, 5);
    const Basin basin = basin_of_loft(hull);
    test_random_restart(7);
    for (int i = 0; i < 20; i++) {
        double v = test_between(0.02, 0.6) * basin.whole_m3, heel = test_between(-25.0, 25.0) * deg,
               trim = test_between(-4.0, 4.0) * deg, depth;
        TankLiquid lies;
        Immersed mesh;
        assert_true(basin_lies(&basin, v, heel, trim, &lies, &depth));
        mesh_extrapolated(hull, &(Attitude){depth, heel, trim}, 24, &mesh);
        assert_close(mesh.volume_m3, v, 1e-4 * v);
        assert_close(lies.x_m, mesh.x_m4 / mesh.volume_m3, 1e-3);
        assert_close(lies.y_m, mesh.y_m4 / mesh.volume_m3, 1e-3);
        assert_close(lies.z_m, mesh.z_m4 / mesh.volume_m3, 1e-3);
    }
    loft_free(hull);
}

/* Deck edge at 2.5 m all along; a bulwark of half a metre over 8 m holds its length times the beam times its height. */
static void
bulwarks_hold_what_stands_between_them(void **state)
{
    (void) state;
    Loft *hull = hull_box(20.0, 5.0, 2.5);
    Loft *strip = loft_bulwarked(hull, 4.0, 12.0, 0.5);
    const Basin basin = basin_of_loft(strip);
    const Attitude level = {0.0, 0.0, 0.0}, heeled = {0.0, 10.0 * deg, 0.0};
    assert_close(basin.whole_m3, 8.0 * 5.0 * 0.5, 1e-12);
    assert_close(basin_opening_m2(&basin), 40.0, 1e-12);
    assert_close(basin_rim_m(&basin, &level), 3.0, 1e-12);
    assert_close(basin_floor_m(&basin, &level), 2.5, 1e-12);
    assert_close(basin_rim_m(&basin, &heeled), 3.0 * cos(10.0 * deg) - 2.5 * sin(10.0 * deg),
                 1e-12);
    assert_null(loft_bulwarked(hull, 21.0, 25.0, 0.5));
    assert_null(loft_bulwarked(hull, 4.0, 12.0, 0.0));
    loft_free(strip);

    Loft *raised = loft_raised(hull, 0.4);
    Basin hold = {raised, {5.0, 9.0, -2.0, 2.0, 0.3, 50.0, 0.5}, 0.0};
    hold.whole_m3 = basin_volume_m3(&hold);
    assert_close(hold.whole_m3, 0.5 * 4.0 * 4.0 * 2.6, 1e-9);
    assert_close(basin_opening_m2(&hold), 16.0, 1e-12);
    assert_close(basin_floor_m(&hold, &level), 0.3, 1e-12);
    assert_close(basin_rim_m(&hold, &level), 2.9, 1e-12);
    loft_free(raised);
    loft_free(hull);
}

/* A deck with sheer is a floor with sheer: what lies in its hollow is a prism of triangles. */
static void
water_gathers_in_the_sheer(void **state)
{
    (void) state;
    const double x[] = {0.0, 5.0, 10.0}, y[] = {2.0, 2.0, 2.0, 2.0, 2.0, 2.0},
                 z[] = {0.0, 2.0, 0.0, 1.5, 0.0, 2.0};
    const Loft hull = {3, 2, x, y, z, 0.0};
    Loft *strip = loft_bulwarked(&hull, 0.0, 10.0, 0.6);
    const Basin basin = basin_of_loft(strip);
    TankLiquid lies;
    double depth;
    /* 0.2 m deep amidships: two triangles of 2 m by 0.2 m over a beam of 4 m. */
    assert_true(basin_lies(&basin, 2.0 * 0.5 * 2.0 * 0.2 * 4.0, 0.0, 0.0, &lies, &depth));
    assert_close(depth, 1.7, 1e-9);
    assert_close(lies.surface_m2, 16.0, 1e-6);
    assert_close(lies.x_m, 5.0, 1e-9);
    assert_close(lies.z_m, 1.5 + 2.0 / 3.0 * 0.2, 1e-9);
    loft_free(strip);
}

/* --- the boat with it --------------------------------------------------------------------------- */

static Loft *
box_well(const Loft *hull)
{
    return loft_well(hull, 8.0, 12.0, -2.0, 2.0, 2.0, NAN, 0.0);
}

static void
well_of_a_box_barge(void **state)
{
    (void) state;
    Loft *l = hull_box(20.0, 5.0, 2.5), *well = box_well(l);
    const Body body = {.lofts = 1, .loft = l};
    const Basin basin = basin_of_loft(well);
    const Load load = {120000.0, 10.0, 0.0, 1.5, 0, NULL};
    DeckWater w;
    assert_int_equal(deck_water(&body, &load, 1000.0, &basin, 1000.0, 1.6, &w), VALID);
    double m = 121.6, T = m / 100.0, kg = (120.0 * 1.5 + 1.6 * 2.05) / m;
    assert_close(w.water_kg, 1600.0, 1e-9);
    assert_close(w.wet.at.origin_depth_m, T, 1e-9);
    assert_close(w.wet.gm_m, T / 2.0 + 25.0 / (12.0 * T) - kg - 4.0 * 64.0 / 12.0 / m, 1e-8);
    assert_close(w.depth_m, 2.1, 1e-9);
    assert_close(w.holds_m3, 8.0, 1e-8);
    assert_int_equal(deck_water_brim(&body, &load, 1000.0, &basin, 1000.0, &w), VALID);
    assert_close(w.water_m3, 8.0, 0.009);
    /* What spills from an open well as she heels takes as much as what runs to one side. */
    T = (120.0 + w.water_m3) / 100.0;
    kg = (180.0 + w.water_m3 * (2.0 + w.water_m3 / 32.0)) / (100.0 * T);
    assert_close(w.wet.gm_m, T / 2.0 + 25.0 / (12.0 * T) - kg - 4.0 * 64.0 / 12.0 / (100.0 * T),
                 1e-8);
    loft_free(well);
    loft_free(l);
}

static void
well_runs_over(void **state)
{
    (void) state;
    Loft *l = hull_box(20.0, 5.0, 2.5), *well = box_well(l);
    const Body body = {.lofts = 1, .loft = l};
    const Basin basin = basin_of_loft(well);
    const Load load = {120000.0, 10.0, -0.1, 1.5, 0, NULL}; /* listed to starboard */
    DeckWater w;
    assert_int_equal(deck_water(&body, &load, 1000.0, &basin, 1000.0, 7.9, &w), EXTRAPOLATED);
    double t = tan(w.wet.at.heel_rad);
    assert_true(t > 0.1);
    assert_close(w.holds_m3, t < 0.125 ? 8.0 - 4.0 * 8.0 * t : 4.0 * 0.5 * 0.25 / t, 1e-6);
    assert_int_equal(deck_water(&body, &load, 1000.0, &basin, 1000.0, 8.1, &w), REFUSED);
    assert_true(isnan(w.wet.gm_m) && isnan(w.water_kg) && isnan(w.holds_m3));
    assert_int_equal(deck_water(&body, &load, 1000.0, &basin, 1000.0, NAN, &w), REFUSED);
    assert_int_equal(deck_water(&body, &load, 1000.0, &basin, 1000.0, -1.0, &w), REFUSED);
    assert_int_equal(deck_water(&body, &load, NAN, &basin, 1000.0, 1.0, &w), REFUSED);
    assert_int_equal(deck_water_brim(&body, &load, 1000.0, &(Basin){l, {0}, 1.0}, 1000.0, &w),
                     REFUSED);
    loft_free(well);
    loft_free(l);
}

/* Full to the brim as she then lies: the wedge that ran out stands over the rim of a level well. */
static void
brim_of_a_listed_barge(void **state)
{
    (void) state;
    Loft *l = hull_box(20.0, 5.0, 2.5), *well = box_well(l);
    const Body body = {.lofts = 1, .loft = l};
    const Basin basin = basin_of_loft(well);
    const Load load = {120000.0, 10.0, -0.02, 1.2, 0, NULL};
    DeckWater w;
    assert_int_equal(deck_water_brim(&body, &load, 1000.0, &basin, 1000.0, &w), VALID);
    double t = tan(w.wet.at.heel_rad);
    assert_true(t > 0.005 && t < 0.125);
    assert_close(w.water_m3, 8.0 - 4.0 * 8.0 * t, 1e-5);
    assert_close(w.holds_m3, w.water_m3, 1e-5);
    loft_free(well);
    loft_free(l);
}

/* An open box of steel: rain to the depth of her dry side puts the gunwale under, for then what rains in weighs what she
 * could still displace; her weight low, so that she stays upright in spite of the free surface. */
static void
rain_as_deep_as_her_side(void **state)
{
    (void) state;
    Loft *l = hull_box(10.0, 3.0, 1.0);
    const Body body = {.lofts = 1, .loft = l};
    const Basin boat = basin_of_loft(l);
    const Load load = {15000.0, 5.0, 0.0, 0.05, 0, NULL}; /* floats at 0.5 m, so 0.5 m of side */
    DeckWater w;
    assert_close(basin_opening_m2(&boat), 30.0, 1e-12);
    for (double rain = 0.05; rain < 0.48; rain += 0.05) {
        assert_int_equal(deck_water(&body, &load, 1000.0, &boat, 1000.0, 30.0 * rain, &w), VALID);
        assert_close(1.0 - w.wet.at.origin_depth_m, 0.5 - rain, 1e-9);
        assert_close(w.depth_m, rain, 1e-9);
        /* The water inside is as broad as the water plane: it takes all of BM. */
        double m = 15.0 + 30.0 * rain, kg = (15.0 * 0.05 + 30.0 * rain * rain / 2.0) / m;
        assert_close(w.wet.gm_m, m / 30.0 / 2.0 - kg, 1e-8);
    }
    assert_int_equal(deck_water(&body, &load, 1000.0, &boat, 1000.0, 30.0 * 0.51, &w), REFUSED);
    assert_int_equal(w.wet.outcome, REST_SINKS);
    assert_int_equal(deck_water_brim(&body, &load, 1000.0, &boat, 1000.0, &w), REFUSED);
    loft_free(l);
}

/* Outside and inside integrated as meshes: weight and buoyancy are in balance, upright and leaning. */
static void
wet_boat_is_in_balance(void **state)
{
    (void) state;
    Loft *l = hull_flared(7, 5);
    const Body body = {.lofts = 1, .loft = l};
    Basin boat = basin_of_loft(l);
    double whole = boat.whole_m3;
    for (int i = 1; i < 8; i++) {
        const Load load = {
            0.25 * whole * 1025.0, 0.5 * l->x_m[l->stations - 1], -0.01, 0.3, 0, NULL};
        double v = 0.03 * i * whole;
        DeckWater w;
        assert_int_not_equal(deck_water(&body, &load, 1025.0, &boat, 1000.0, v, &w), REFUSED);
        Attitude in = w.wet.at;
        in.origin_depth_m = w.depth_m;
        Immersed out, inside;
        mesh_extrapolated(l, &w.wet.at, 24, &out);
        mesh_extrapolated(l, &in, 24, &inside);
        double m = load.mass_kg + 1000.0 * inside.volume_m3;
        assert_close(1025.0 * out.volume_m3, m, 2e-4 * m);
        double x = load.mass_kg * load.lcg_m + 1000.0 * inside.x_m4 - 1025.0 * out.x_m4,
               y = load.mass_kg * load.tcg_m + 1000.0 * inside.y_m4 - 1025.0 * out.y_m4,
               z = load.mass_kg * load.vcg_m + 1000.0 * inside.z_m4 - 1025.0 * out.z_m4;
        double heel = w.wet.at.heel_rad, trim = w.wet.at.trim_rad;
        assert_close(x * cos(trim) + (y * sin(heel) + z * cos(heel)) * sin(trim), 0.0, 1e-3 * m);
        assert_close(y * cos(heel) - z * sin(heel), 0.0, 1e-3 * m);
    }
    loft_free(l);
}

/* --- draining ----------------------------------------------------------------------------------- */

static void
well_empties(void **state)
{
    (void) state;
    double time, h = 0.4, t = 0.0, area = 2.0, holes = 0.0022, step = 0.01;
    assert_int_equal(draining_time_s(area * h, h, holes, &time), VALID);
    while (h > 1e-7) { /* midpoint rule on dh/dt = -C a sqrt(2 g h) / A */
        double half = h - 0.5 * step * 0.6 * holes * sqrt(2.0 * 9.80665 * h) / area;
        h -= step * 0.6 * holes * sqrt(2.0 * 9.80665 * fmax(half, 0.0)) / area;
        t += step;
    }
    assert_close(time, t, 0.5);
    double wide;
    assert_int_equal(draining_time_s(area * 0.4, 0.4, 2.0 * holes, &wide), VALID);
    assert_close(wide, time / 2.0, 1e-9);
    assert_int_equal(draining_time_s(NAN, 0.4, holes, &wide), REFUSED);
    assert_int_equal(draining_time_s(1.0, 0.4, 0.0, &wide), REFUSED);
    assert_true(isnan(wide));
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(box_lies_as_a_tank_does),
        cmocka_unit_test(hull_lies_as_its_mesh_does),
        cmocka_unit_test(bulwarks_hold_what_stands_between_them),
        cmocka_unit_test(water_gathers_in_the_sheer),
        cmocka_unit_test(well_of_a_box_barge),
        cmocka_unit_test(well_runs_over),
        cmocka_unit_test(brim_of_a_listed_barge),
        cmocka_unit_test(rain_as_deep_as_her_side),
        cmocka_unit_test(wet_boat_is_in_balance),
        cmocka_unit_test(well_empties),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
