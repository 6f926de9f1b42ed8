/* Boats on blocks: balance by a clipped mesh, stability by heeling her on the block, closed forms, the handbook. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>

#include "hulls.h"

#include "physics/afloat/docking.h"
#include "physics/afloat/grounding.h"
#include "physics/afloat/rates.h"
#include "physics/afloat/rest.h"
#include "physics/afloat/station.h"

static const double deg = M_PI / 180.0;
static const Load loaded = {58000.0, 8.3, 0.0, 1.1, 0, NULL};
static const KeelBlock one_block = {2.5, 0.0, NAN}, slip = {2.5, 0.0, 0.0};

static void
block_bears_what_the_water_does_not(void **state)
{
    (void) state;
    Loft *a = hull_load("float-hull-A.csv"), *b = hull_load("float-hull-B.csv");
    const Load light = {14500.0, 5.0, 0.0, 1.0, 0, NULL};
    for (size_t k = 0; k < 10; k++) {
        const Loft *hull = k % 2 ? b : a;
        const Load *load = k % 2 ? &light : &loaded;
        const KeelBlock block = {k % 2 ? 1.0 : 2.5, k % 2 ? 0.05 : 0.0, NAN};
        KeelStep afloat, s;
        double fall = 0.02 * (double) (k / 2 + 1);
        assert_int_equal(keel_on_block(&(Body){.lofts = 1, .loft = hull}, load, 1000.0, &block,
                                       fall, &afloat, &s),
                         VALID);
        const Attitude at = {s.origin_depth_m, 0.0, s.trim_rad};
        Immersed mesh;
        mesh_extrapolated(hull, &at, 8, &mesh);
        assert_close(attitude_height_m(&at, block.x_m, 0.0, block.z_m), -s.depth_m, 1e-12);
        assert_close(s.depth_m, afloat.depth_m - fall, 1e-12);
        assert_close(s.reaction_kg, load->mass_kg - 1000.0 * mesh.volume_m3, 2.0);
        double st = sin(s.trim_rad), ct = cos(s.trim_rad);
        double moment = 1000.0 * (mesh.x_m4 * ct + mesh.z_m4 * st) +
                        s.reaction_kg * (block.x_m * ct + block.z_m * st) -
                        load->mass_kg * (load->lcg_m * ct + load->vcg_m * st);
        assert_close(moment, 0.0, 20.0);
        assert_true(s.reaction_kg > 0.0 && !s.all_along);
        assert_close(s.reaction_x_m, block.x_m, 0.0);
    }
    loft_free(a);
    loft_free(b);
}

/* What is out of balance in trim with the block's point at its depth, heeled; righting moment about the block. */
static double
heeled(const Body *body, const Load *load, const KeelBlock *block, double depth, double heel,
       double trim, double *righting)
{
    double sh = sin(heel), ch = cos(heel), st = sin(trim), ct = cos(trim);
    Attitude at = {depth - block->x_m * st + block->z_m * ch * ct, heel, trim};
    Immersed u;
    body_immersed(body, &at, &u);
    double m = load->mass_kg, r = m - 1000.0 * u.volume_m3;
    double bx = u.x_m4 * ct + (u.y_m4 * sh + u.z_m4 * ch) * st, by = u.y_m4 * ch - u.z_m4 * sh;
    double gx = load->lcg_m * ct + load->vcg_m * ch * st, gy = -load->vcg_m * sh;
    double px = block->x_m * ct + block->z_m * ch * st, py = -block->z_m * sh;
    *righting = m * gy - 1000.0 * by - r * py;
    return 1000.0 * bx + r * px - m * gx;
}

static void
stability_is_that_of_the_boat_heeled_on_the_block(void **state)
{
    (void) state;
    Loft *hull = hull_load("float-hull-B.csv");
    const Body body = {.lofts = 1, .loft = hull};
    const Load load = {14500.0, 5.0, 0.0, 1.0, 0, NULL};
    const KeelBlock block = {1.0, 0.05, NAN};
    for (double fall = 0.0; fall < 0.16; fall += 0.03) {
        KeelStep s;
        const double heel = 2e-3;
        assert_int_equal(keel_on_block(&body, &load, 1000.0, &block, fall, NULL, &s), VALID);
        double low = s.trim_rad - 0.02, high = s.trim_rad + 0.02, righting;
        for (int i = 0; i < 60; i++) {
            double mid = 0.5 * (low + high);
            *(heeled(&body, &load, &block, s.depth_m, heel, mid, &righting) > 0.0 ? &high : &low) =
                mid;
        }
        heeled(&body, &load, &block, s.depth_m, heel, low, &righting);
        /* Heel turns her about her own length; what counts of it is the part about the level. */
        assert_close(righting / (load.mass_kg * sin(heel) * cos(s.trim_rad)), s.gm_a_m, 1e-5);
        if (fall > 0.0)
            assert_close(s.gm_b_m * (load.mass_kg - s.reaction_kg), s.gm_a_m * load.mass_kg, 1e-6);
    }
    loft_free(hull);
}

static void
box_loses_her_stability_where_the_closed_form_says(void **state)
{
    (void) state;
    Loft *box = hull_box(20.0, 5.0, 2.5);
    const Body body = {.lofts = 1, .loft = box};
    const Load load = {120000.0, 10.0, 0.0, 2.0, 0, NULL};
    const KeelBlock middle = {10.0, 0.0, 0.0};
    BoxOnBlock closed;
    KeelStep stop, first;
    assert_int_equal(box_on_block(5.0, 1.2, 2.0, &closed), VALID);
    assert_int_equal(keel_on_block(&body, &load, 1000.0, &middle, 0.0, NULL, &first), VALID);
    assert_close(first.gm_a_m, closed.gm_afloat_m, 1e-10);
    assert_int_equal(keel_stop(&body, &load, 1000.0, &middle, 0.0, &stop), VALID);
    assert_close(stop.depth_m, closed.critical_depth_m, 1e-10);
    assert_close(stop.reaction_kg, 100000.0 * (1.2 - closed.critical_depth_m), 1e-4);
    loft_free(box);
}

static void
keel_comes_down_all_along(void **state)
{
    (void) state;
    Loft *hull = hull_load("float-hull-A.csv");
    const Body body = {.lofts = 1, .loft = hull};
    enum { STEPS = 60 };
    KeelStep step[STEPS], landing, before, after;
    assert_int_equal(keel_landing(&body, &loaded, 1000.0, &slip, &landing), VALID);
    assert_close(landing.trim_rad, 0.0, 0.0);
    assert_true(landing.all_along);
    assert_close(landing.reaction_x_m, 2.5, 0.0);
    keel_on_block(&body, &loaded, 1000.0, &slip, landing.fall_m - 1e-7, NULL, &before);
    keel_on_block(&body, &loaded, 1000.0, &slip, landing.fall_m + 1e-7, NULL, &after);
    assert_true(!before.all_along && after.all_along);
    assert_close(before.reaction_kg, landing.reaction_kg, 0.05);
    assert_close(after.reaction_kg, landing.reaction_kg, 0.05);
    assert_close(before.gm_a_m, after.gm_a_m, 1e-5);
    assert_close(after.reaction_x_m, 2.5, 1e-3);

    /* Down to the dry slip: the whole boat, under her own centre of gravity. */
    assert_int_equal(keel_steps(&body, &loaded, 1000.0, &slip, 1.05, STEPS, step), VALID);
    for (size_t i = 1; i < STEPS; i++) {
        assert_true(step[i].reaction_kg >= step[i - 1].reaction_kg);
        assert_true(step[i].gm_a_m <= step[i - 1].gm_a_m + 1e-12);
        assert_true(step[i].all_along == (step[i].fall_m > landing.fall_m));
        assert_close(step[i].fall_m, 1.05 * (double) i / (STEPS - 1), 1e-12);
    }
    const KeelStep *dry = &step[STEPS - 1];
    assert_close(dry->reaction_kg, 58000.0, 1e-6);
    assert_close(dry->reaction_x_m, 8.3, 1e-9);
    assert_close(dry->gm_a_m, -1.1, 1e-9);
    assert_true(isnan(dry->gm_b_m) && isnan(dry->km_m));
    loft_free(hull);
}

static void
stop_is_the_first_fall_with_that_height(void **state)
{
    (void) state;
    Loft *hull = hull_load("float-hull-A.csv");
    const Body body = {.lofts = 1, .loft = hull};
    KeelStep stop, a, b;
    for (double least = 0.3; least < 1.2; least += 0.2) {
        assert_int_equal(keel_stop(&body, &loaded, 1000.0, &slip, least, &stop), VALID);
        assert_close(stop.gm_a_m, least, 1e-10);
        keel_on_block(&body, &loaded, 1000.0, &slip, stop.fall_m - 0.01, NULL, &a);
        keel_on_block(&body, &loaded, 1000.0, &slip, stop.fall_m + 0.01, NULL, &b);
        assert_true(a.gm_a_m > least && b.gm_a_m < least);
    }
    assert_int_equal(keel_stop(&body, &loaded, 1000.0, &slip, 1.5, &stop), REFUSED);
    assert_true(isnan(stop.fall_m) && isnan(stop.gm_a_m));
    /* Her flat bottom keeps a water plane to the last: I / (m / rho) - KG is 0.24 m. */
    assert_int_equal(keel_stop(&body, &loaded, 1000.0, &slip, 0.2, &stop), REFUSED);
    assert_int_equal(keel_stop(&body, &loaded, 1000.0, &slip, -2.0, &stop), REFUSED);
    loft_free(hull);
}

static void
slack_tank_takes_its_part(void **state)
{
    (void) state;
    Loft *hull = hull_load("float-hull-A.csv");
    const Body body = {.lofts = 1, .loft = hull};
    const Tank tank = {10.0, 13.0, -1.2, 1.2, 0.1, 1.0, 0.5, 1000.0};
    const Load wet = {58000.0, 8.3, 0.0, 1.1, 1, &tank};
    KeelStep with, without;
    keel_on_block(&body, &loaded, 1000.0, &one_block, 0.05, NULL, &without);
    assert_int_equal(keel_on_block(&body, &wet, 1000.0, &one_block, 0.05, NULL, &with), VALID);
    assert_close(without.gm_a_m - with.gm_a_m, 3.0 * 2.4 * 2.4 * 2.4 / 12.0 / 58.0, 1e-3);
    assert_true(fabs(with.trim_rad) > fabs(without.trim_rad)); /* the liquid runs to the low end */
    loft_free(hull);
}

/* For a small trim the handbook is the first term of the exact balance. */
static void
handbook_agrees_for_a_small_trim(void **state)
{
    (void) state;
    Loft *hull = hull_load("float-hull-A.csv");
    const Body body = {.lofts = 1, .loft = hull};
    const Load load = {58000.0, 8.6, 0.0, 1.1, 0, NULL};
    Rest rest;
    Rates rates;
    KeelStep landing, later;
    Docking d;
    rest_find(&body, &load, 1000.0, &rest);
    displacement_rates(rest.volume_m3, rest.waterplane_m2, 1000.0, rest.gm_l_m, 18.0, NAN, NAN,
                       &rates);
    assert_int_equal(keel_landing(&body, &load, 1000.0, &slip, &landing), VALID);
    double trim = 18.0 * tan(rest.at.trim_rad);
    assert_true(trim < 0.0); /* by the stern, and the block stands abaft the centre of flotation */
    assert_int_equal(docking(58000.0, rest.km_m, 1.1, rates.mct_kgm_per_m, trim, 2.5 - rest.lcf_m,
                             rates.tpc_kg_per_m, 0.0, 0.0, &d),
                     VALID);
    assert_close(d.reaction_kg, landing.reaction_kg, 0.03 * landing.reaction_kg);
    assert_close(d.gm_a_m, landing.gm_a_m, 0.05);
    keel_on_block(&body, &load, 1000.0, &slip, landing.fall_m + 0.02, NULL, &later);
    docking(58000.0, rest.km_m, 1.1, rates.mct_kgm_per_m, trim, 2.5 - rest.lcf_m,
            rates.tpc_kg_per_m, 0.02, 0.0, &d);
    assert_close(d.reaction_kg, later.reaction_kg, 0.03 * later.reaction_kg);
    assert_close(d.gm_a_m * 58000.0, d.gm_b_m * (58000.0 - d.reaction_kg), 1e-6);
    loft_free(hull);
}

static void
hostile_blocks_are_refused(void **state)
{
    (void) state;
    Loft *hull = hull_load("float-hull-A.csv");
    const Body body = {.lofts = 1, .loft = hull};
    KeelStep s, first, many[3];
    const double wild[] = {NAN, INFINITY, -INFINITY, 1e300};
    for (size_t i = 0; i < 4; i++) {
        const KeelBlock x = {wild[i], 0.0, NAN}, z = {2.5, wild[i], NAN};
        assert_int_equal(keel_on_block(&body, &loaded, 1000.0, &x, 0.05, &first, &s), REFUSED);
        assert_true(isnan(s.reaction_kg) && isnan(s.gm_a_m) && isnan(first.trim_rad));
        assert_int_equal(keel_on_block(&body, &loaded, 1000.0, &z, 0.05, NULL, &s), REFUSED);
        assert_int_equal(keel_on_block(&body, &loaded, wild[i], &slip, 0.05, NULL, &s), REFUSED);
        assert_int_equal(keel_on_block(&body, &loaded, 1000.0, &slip, wild[i], NULL, &s), REFUSED);
    }
    assert_int_equal(keel_on_block(&body, &loaded, 1000.0, &slip, -0.01, NULL, &s), REFUSED);
    const Load heavy = {580000.0, 8.3, 0.0, 1.1, 0, NULL};
    assert_int_equal(keel_on_block(&body, &heavy, 1000.0, &slip, 0.01, NULL, &s), REFUSED);
    const KeelBlock away = {2.5, 0.0, -3.0 * deg}, steep = {2.5, 0.0, 1.5};
    assert_int_equal(keel_on_block(&body, &loaded, 1000.0, &away, 0.05, NULL, &s), REFUSED);
    assert_int_equal(keel_on_block(&body, &loaded, 1000.0, &steep, 0.05, NULL, &s), REFUSED);
    assert_int_equal(keel_landing(&body, &loaded, 1000.0, &one_block, &s), REFUSED);
    assert_int_equal(keel_steps(&body, &loaded, 1000.0, &slip, 0.05, 1, many), REFUSED);
    assert_int_equal(keel_steps(&body, &loaded, 1000.0, &slip, NAN, 3, many), REFUSED);
    assert_true(isnan(many[2].gm_a_m));
    assert_int_equal(keel_stop(&body, &loaded, 1000.0, &slip, NAN, &s), REFUSED);

    Docking d;
    assert_int_equal(docking(3e6, 6, 5.5, NAN, 1.2, 48, 0, 0, 0, &d), REFUSED);
    assert_int_equal(docking(3e6, 6, 5.5, 4e6, 1.2, 0, 0, 0, 0, &d), REFUSED);
    assert_int_equal(docking(3e6, 6, 5.5, 4e6, 1.2, -48, 0, 0, 0, &d), REFUSED);
    assert_int_equal(docking(3e6, 6, 5.5, NAN, 0, NAN, 1e6, 3, 0, &d), REFUSED);
    assert_true(isnan(d.gm_a_m));
    assert_int_equal(docking(3e6, 6, 5.5, NAN, 0, NAN, 1e6, 0.3, 0, &d), VALID);
    BoxOnBlock b;
    assert_int_equal(box_on_block(5, 1.2, 2.5, &b), REFUSED); /* not stable afloat */
    assert_int_equal(box_on_block(5, 1.2, 1.5, &b), REFUSED); /* stable down to dry blocks */
    assert_int_equal(box_on_block(5, NAN, 2, &b), REFUSED);
    assert_true(isnan(b.critical_depth_m));
    loft_free(hull);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(block_bears_what_the_water_does_not),
        cmocka_unit_test(stability_is_that_of_the_boat_heeled_on_the_block),
        cmocka_unit_test(box_loses_her_stability_where_the_closed_form_says),
        cmocka_unit_test(keel_comes_down_all_along),
        cmocka_unit_test(stop_is_the_first_fall_with_that_height),
        cmocka_unit_test(slack_tank_takes_its_part),
        cmocka_unit_test(handbook_agrees_for_a_small_trim),
        cmocka_unit_test(hostile_blocks_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
