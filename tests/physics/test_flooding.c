/* Flooding against tetrahedra clipped by the box and by the water, closed forms, and the same boat with the water taken as
 * weight. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>

#include "hulls.h"

#include "physics/afloat/box_bilged.h"
#include "physics/afloat/flooding.h"
#include "physics/afloat/station.h"

static const double deg = M_PI / 180.0;

/* --- tetrahedra ----------------------------------------------------------------------------------------------------- */

typedef struct {
    double x, y, z;
} P3;

typedef struct {
    P3 normal;
    double reach; /* inside where normal . p <= reach */
} Half;

typedef struct {
    Half half[7];
    double v, x, y, z;
} Clip;

static P3
minus(P3 a, P3 b)
{
    return (P3){a.x - b.x, a.y - b.y, a.z - b.z};
}

static double
dot(P3 a, P3 b)
{
    return a.x * b.x + a.y * b.y + a.z * b.z;
}

static double
six_volumes(const P3 t[4])
{
    P3 a = minus(t[1], t[0]), b = minus(t[2], t[0]), c = minus(t[3], t[0]);
    return a.x * (b.y * c.z - b.z * c.y) + a.y * (b.z * c.x - b.x * c.z) +
           a.z * (b.x * c.y - b.y * c.x);
}

static void add_tet(Clip *clip, const P3 t[4], size_t from, double sign);

/* A wedge with triangles a and b, corner to corner. */
static void
add_wedge(Clip *clip, const P3 a[3], const P3 b[3], size_t from, double sign)
{
    const P3 one[4] = {a[0], a[1], a[2], b[2]}, two[4] = {a[0], a[1], b[1], b[2]},
             three[4] = {a[0], b[0], b[1], b[2]};
    add_tet(clip, one, from, sign);
    add_tet(clip, two, from, sign);
    add_tet(clip, three, from, sign);
}

static void
add_tet(Clip *clip, const P3 t[4], size_t from, double sign)
{
    if (from == 7) {
        double v = sign * fabs(six_volumes(t)) / 6.0;
        clip->v += v;
        clip->x += v * (t[0].x + t[1].x + t[2].x + t[3].x) / 4.0;
        clip->y += v * (t[0].y + t[1].y + t[2].y + t[3].y) / 4.0;
        clip->z += v * (t[0].z + t[1].z + t[2].z + t[3].z) / 4.0;
        return;
    }
    const Half *h = &clip->half[from];
    P3 in[4], out[4];
    double f_in[4], f_out[4];
    size_t n = 0, m = 0;
    for (size_t i = 0; i < 4; i++) {
        double f = dot(h->normal, t[i]) - h->reach;
        if (f <= 0.0) {
            f_in[n] = f;
            in[n++] = t[i];
        } else {
            f_out[m] = f;
            out[m++] = t[i];
        }
    }
    P3 cut[4][4];
    for (size_t i = 0; i < n; i++)
        for (size_t k = 0; k < m; k++) {
            double s = f_in[i] / (f_in[i] - f_out[k]);
            cut[i][k] = (P3){in[i].x + s * (out[k].x - in[i].x), in[i].y + s * (out[k].y - in[i].y),
                             in[i].z + s * (out[k].z - in[i].z)};
        }
    if (n == 4) {
        add_tet(clip, t, from + 1, sign);
    } else if (n == 3) {
        const P3 far[3] = {cut[0][0], cut[1][0], cut[2][0]};
        add_wedge(clip, in, far, from + 1, sign);
    } else if (n == 2) {
        const P3 a[3] = {in[0], cut[0][0], cut[0][1]}, b[3] = {in[1], cut[1][0], cut[1][1]};
        add_wedge(clip, a, b, from + 1, sign);
    } else if (n == 1) {
        const P3 a[4] = {in[0], cut[0][0], cut[0][1], cut[0][2]};
        add_tet(clip, a, from + 1, sign);
    }
}

static P3
ring(const Loft *l, size_t i, size_t j)
{
    size_t n = l->points, k = j % (2 * n), p = k < n ? n - 1 - k : k - n;
    return (P3){l->x_m[i], l->y_mid_m + (k < n ? -1.0 : 1.0) * l->y_m[i * n + p],
                l->z_m[i * n + p]};
}

static P3
mix(P3 a, P3 b, double s)
{
    return (P3){a.x + s * (b.x - a.x), a.y + s * (b.y - a.y), a.z + s * (b.z - a.z)};
}

/* Solid angle pieces: the hull is the signed sum of tetrahedra from any point to its surface. */
static void
add_facet(Clip *clip, P3 a, P3 b, P3 c)
{
    const P3 t[4] = {{6.1, 0.1, 0.9}, a, b, c};
    add_tet(clip, t, 0, six_volumes(t) > 0.0 ? 1.0 : -1.0);
}

static void
clip_hull(const Loft *l, const Compartment *c, const Attitude *at, size_t n, double out[4])
{
    double sh = sin(at->heel_rad), ch = cos(at->heel_rad), st = sin(at->trim_rad),
           ct = cos(at->trim_rad);
    Clip clip = {.half = {{{-1, 0, 0}, -c->x_aft_m},
                          {{1, 0, 0}, c->x_fwd_m},
                          {{0, -1, 0}, -c->y_stbd_m},
                          {{0, 1, 0}, c->y_port_m},
                          {{0, 0, -1}, -c->z_bottom_m},
                          {{0, 0, 1}, c->z_top_m},
                          {{-st, sh * ct, ch * ct}, at->origin_depth_m}}};
    size_t points = 2 * l->points, last = l->stations - 1;
    for (size_t i = 0; i < last; i++)
        for (size_t j = 0; j < points; j++)
            for (size_t k = 0; k < n * n; k++) {
                double s = (double) (k / n) / n, t = (double) (k % n) / n, d = 1.0 / n;
                P3 p[2][2];
                for (size_t u = 0; u < 4; u++)
                    p[u / 2][u % 2] =
                        mix(mix(ring(l, i, j), ring(l, i + 1, j), s + (u / 2) * d),
                            mix(ring(l, i, j + 1), ring(l, i + 1, j + 1), s + (u / 2) * d),
                            t + (u % 2) * d);
                add_facet(&clip, p[0][0], p[1][0], p[1][1]);
                add_facet(&clip, p[0][0], p[1][1], p[0][1]);
            }
    for (size_t j = 1; j + 1 < points; j++) {
        add_facet(&clip, ring(l, 0, 0), ring(l, 0, j), ring(l, 0, j + 1));
        add_facet(&clip, ring(l, last, 0), ring(l, last, j + 1), ring(l, last, j));
    }
    double sign = clip.v < 0.0 ? -c->permeability_frac : c->permeability_frac;
    out[0] = sign * clip.v;
    out[1] = sign * clip.x;
    out[2] = sign * clip.y;
    out[3] = sign * clip.z;
}

/* Error of order 1/n^2 on twisted panels, so extrapolated. */
static void
clip_extrapolated(const Loft *l, const Compartment *c, const Attitude *at, size_t n, double out[4])
{
    double fine[4];
    clip_hull(l, c, at, n, out);
    if (n == 1)
        return;
    clip_hull(l, c, at, 2 * n, fine);
    for (size_t k = 0; k < 4; k++)
        out[k] = (4.0 * fine[k] - out[k]) / 3.0;
}

/* --- what a space takes --------------------------------------------------------------------------------------------- */

static Compartment
some_box(double length)
{
    double x = test_between(-1.0, length), y = test_between(-2.5, 2.0), z = test_between(-0.3, 1.5);
    return (Compartment){x,
                         x + test_between(0.3, length / 2.0),
                         y,
                         y + test_between(0.2, 3.5),
                         z,
                         z + test_between(0.2, 2.5),
                         test_between(0.2, 1.0)};
}

static Attitude
some_attitude(void)
{
    return (Attitude){test_between(0.0, 1.6), test_between(-1.6, 1.6), test_between(-0.15, 0.15)};
}

static void
compare_with_clipping(const Loft *l, size_t tries, size_t n, double tolerance)
{
    size_t wet = 0;
    for (size_t i = 0; i < tries; i++) {
        Compartment c = some_box(l->x_m[l->stations - 1]);
        Attitude at = some_attitude();
        double expected[4];
        Immersed lost = {0};
        assert_true(compartment_lost(l, &c, &at, &lost));
        clip_extrapolated(l, &c, &at, n, expected);
        wet += expected[0] > 0.01;
        assert_close(lost.volume_m3, expected[0], tolerance);
        assert_close(lost.x_m4, expected[1], 10.0 * tolerance);
        assert_close(lost.y_m4, expected[2], 3.0 * tolerance);
        assert_close(lost.z_m4, expected[3], 3.0 * tolerance);
    }
    assert_true(wet > tries / 3);
}

static void
lost_is_what_clipping_finds(void **state)
{
    (void) state;
    test_random_restart(11);
    Loft *box = hull_box(20.0, 5.0, 2.5), *a = hull_load("float-hull-A.csv"),
         *b = hull_load("float-hull-B.csv"), *round = hull_flared(6, 5);
    compare_with_clipping(box, 300, 1, 1e-11);
    compare_with_clipping(a, 300, 1, 1e-10);
    compare_with_clipping(b, 30, 8, 3e-4);
    compare_with_clipping(round, 20, 8, 3e-4);
    loft_free(box);
    loft_free(a);
    loft_free(b);
    loft_free(round);
}

/* Cut into twelve spaces, the whole hull is lost: body_immersed knows nothing of boxes. */
static void
spaces_add_up_to_the_hull(void **state)
{
    (void) state;
    test_random_restart(12);
    Loft *hull[] = {hull_box(20.0, 5.0, 2.5), hull_load("float-hull-B.csv"), hull_flared(9, 8),
                    hull_load("float-hull-A.csv")};
    for (size_t k = 0; k < 200; k++) {
        const Loft *l = hull[k % 4];
        Attitude at = some_attitude();
        if (k % 5 == 0)
            at.heel_rad = 0.0;
        if (k % 7 == 0)
            at.trim_rad = 0.0;
        double x[] = {-1.0, test_between(1.0, 6.0), test_between(6.5, 11.0), 30.0};
        double y[] = {-9.0, test_between(-1.0, 1.0), 9.0};
        double z[] = {-9.0, test_between(0.2, 1.5), 9.0};
        Immersed sum = {0}, whole;
        for (size_t i = 0; i < 12; i++) {
            size_t a = i / 4, b = i % 4 / 2, c = i % 2;
            const Compartment box = {x[a], x[a + 1], y[b], y[b + 1], z[c], z[c + 1], 1.0};
            assert_true(compartment_lost(l, &box, &at, &sum));
        }
        body_immersed(&(Body){.lofts = 1, .loft = l}, &at, &whole);
        const double *s = (const double *) &sum, *w = (const double *) &whole;
        for (size_t i = 0; i < sizeof sum / sizeof(double); i++)
            assert_close(s[i], w[i], 2e-10 * (1.0 + fabs(w[i])));
    }
    for (size_t k = 0; k < 4; k++)
        loft_free(hull[k]);
}

static void
water_plane_is_the_change_of_volume(void **state)
{
    (void) state;
    test_random_restart(13);
    Loft *l = hull_load("float-hull-B.csv");
    for (size_t i = 0; i < 60; i++) {
        Compartment c = some_box(12.0);
        Attitude at = some_attitude(), up = at, down = at;
        const double h = 1e-5;
        up.origin_depth_m -= h;
        down.origin_depth_m += h;
        Immersed mid = {0}, a = {0}, b = {0};
        compartment_lost(l, &c, &at, &mid);
        compartment_lost(l, &c, &up, &a);
        compartment_lost(l, &c, &down, &b);
        assert_close(mid.plane_m2, (b.volume_m3 - a.volume_m3) / (2.0 * h), 1e-4);
        double sh = sin(at.heel_rad), ch = cos(at.heel_rad), st = sin(at.trim_rad),
               ct = cos(at.trim_rad);
        double dx = b.x_m4 - a.x_m4, dy = b.y_m4 - a.y_m4, dz = b.z_m4 - a.z_m4;
        assert_close(mid.plane_X_m3, (dx * ct + (dy * sh + dz * ch) * st) / (2.0 * h), 1e-3);
        assert_close(mid.plane_Y_m3, (dy * ch - dz * sh) / (2.0 * h), 1e-3);
    }
    loft_free(l);
}

static void
volume_of_a_space(void **state)
{
    (void) state;
    Loft *box = hull_box(20.0, 5.0, 2.5), *b = hull_load("float-hull-B.csv");
    const Compartment wing = {7.0, 11.0, -2.5, -1.2, 0.0, 9.0, 0.85},
                      all = {-1, 99, -9, 9, -9, 9, 1};
    assert_close(compartment_volume_m3(box, &wing), 0.85 * 4.0 * 1.3 * 2.5, 1e-12);
    assert_close(compartment_volume_m3(b, &all), body_volume_m3(&(Body){.lofts = 1, .loft = b}),
                 1e-11);
    loft_free(box);
    loft_free(b);
}

/* --- where she comes to rest ---------------------------------------------------------------------------------------- */

/* What is left by clipping, in balance with the load; and the boat with the same water as frozen weight has no lever there. */
static void
assert_balanced(const Loft *l, const Load *load, const Compartment *c, const Rest *rest)
{
    const Body body = {.lofts = 1, .loft = l};
    const Compartment everything = {-99, 999, -99, 99, -99, 99, 1.0};
    double all[4], lost[4];
    clip_extrapolated(l, &everything, &rest->at, 8, all);
    clip_extrapolated(l, c, &rest->at, 8, lost);
    double v = all[0] - lost[0];
    assert_close(v, load->mass_kg / 1000.0, 2e-3);
    double sh = sin(rest->at.heel_rad), ch = cos(rest->at.heel_rad), st = sin(rest->at.trim_rad),
           ct = cos(rest->at.trim_rad);
    double x = (all[1] - lost[1]) / v - load->lcg_m, y = (all[2] - lost[2]) / v - load->tcg_m,
           z = (all[3] - lost[3]) / v - load->vcg_m;
    assert_close(x * ct + (y * sh + z * ch) * st, 0.0, 3e-4);
    assert_close(y * ch - z * sh, 0.0, 3e-4);

    Immersed water = {0};
    assert_true(compartment_lost(l, c, &rest->at, &water));
    double w = 1000.0 * water.volume_m3, m = load->mass_kg + w;
    const Load wet = {m,
                      (load->mass_kg * load->lcg_m + 1000.0 * water.x_m4) / m,
                      (load->mass_kg * load->tcg_m + 1000.0 * water.y_m4) / m,
                      (load->mass_kg * load->vcg_m + 1000.0 * water.z_m4) / m,
                      0,
                      NULL};
    Attitude at = rest->at;
    double lever;
    assert_int_equal(rest_at_heel(&body, &wet, 1000.0, at.heel_rad, true, &at, &lever), VALID);
    assert_close(lever, 0.0, 1e-8);
    assert_close(at.origin_depth_m, rest->at.origin_depth_m, 1e-7);
    assert_close(at.trim_rad, rest->at.trim_rad, 1e-8);
}

static void
rest_is_in_balance(void **state)
{
    (void) state;
    test_random_restart(14);
    Loft *b = hull_load("float-hull-B.csv"), *round = hull_flared(8, 6);
    size_t found = 0;
    for (size_t i = 0; i < 24; i++) {
        const Loft *l = i % 2 ? b : round;
        const Body body = {.lofts = 1, .loft = l};
        const Load load = {i % 2 ? 14500.0 : 24000.0,
                           i % 2 ? 5.2 : 7.2,
                           test_between(-0.03, 0.03),
                           test_between(0.8, 1.2),
                           0,
                           NULL};
        double x = test_between(1.0, 8.0);
        bool across = i % 3 == 0;
        const Compartment c = {x,
                               x + test_between(0.8, 2.5),
                               across ? -9.0 : test_between(-1.5, 0.3),
                               across ? 9.0 : test_between(0.6, 3.0),
                               -1.0,
                               test_between(0.4, 3.0),
                               test_between(0.6, 1.0)};
        Rest rest;
        if (flooded_rest(&body, &load, 1, &c, 1000.0, &rest) == REFUSED)
            continue;
        found++;
        assert_balanced(l, &load, &c, &rest);
        Attitude at = rest.at;
        double in, out;
        flooded_lever(&body, &load, 1, &c, 1000.0, rest.at.heel_rad - 0.01, &at, &in);
        flooded_lever(&body, &load, 1, &c, 1000.0, rest.at.heel_rad + 0.01, &at, &out);
        assert_true(in < 0.0 && out > 0.0);
    }
    assert_true(found >= 20);
    loft_free(b);
    loft_free(round);
}

static void
no_compartment_is_no_flooding(void **state)
{
    (void) state;
    Loft *l = hull_load("float-hull-B.csv");
    const Body body = {.lofts = 1, .loft = l};
    const Load load = {14500.0, 5.2, 0.03, 1.0, 0, NULL};
    const Compartment above = {2.0, 6.0, -3.0, 3.0, 1.2, 3.0, 1.0}; /* stays dry */
    Rest intact, none, dry;
    assert_int_equal(rest_find(&body, &load, 1000.0, &intact), VALID);
    assert_int_equal(flooded_rest(&body, &load, 0, NULL, 1000.0, &none), VALID);
    assert_int_equal(flooded_rest(&body, &load, 1, &above, 1000.0, &dry), VALID);
    assert_close(none.at.heel_rad, intact.at.heel_rad, 1e-10);
    assert_close(none.gm_m, intact.gm_m, 1e-9);
    assert_close(none.gm_l_m, intact.gm_l_m, 1e-8);
    assert_close(none.km_m, intact.km_m, 1e-9);
    assert_close(none.tcf_m, intact.tcf_m, 1e-9);
    assert_close(dry.at.trim_rad, intact.at.trim_rad, 1e-10);
    loft_free(l);
}

/* Without a hole it is the question that rest_find answers by other code, loll and capsizing included. */
static void
intact_boats_lie_where_rest_finds_them(void **state)
{
    (void) state;
    test_random_restart(15);
    Loft *l = hull_flared(12, 8);
    const Body body = {.lofts = 1, .loft = l};
    size_t found = 0, refused = 0;
    for (size_t i = 0; i < 400; i++) {
        const Load load = {pow(10.0, test_between(2.0, 5.0)),
                           test_between(2.0, 13.0),
                           i % 3 ? test_between(-0.5, 0.5) : 0.0,
                           test_between(-1.0, 4.0),
                           0,
                           NULL};
        Rest flooded, rest;
        Validity validity = rest_find(&body, &load, 1000.0, &rest);
        assert_int_equal(flooded_rest(&body, &load, 0, NULL, 1000.0, &flooded), validity);
        assert_int_equal(flooded.outcome, rest.outcome);
        found += validity == VALID;
        refused += validity == REFUSED;
        if (validity == VALID)
            assert_close(flooded.at.heel_rad, rest.at.heel_rad, 1e-8);
    }
    assert_true(found > 100 && refused > 20);
    loft_free(l);
}

static void
both_sides_are_alike(void **state)
{
    (void) state;
    Loft *l = hull_load("float-hull-B.csv");
    const Body body = {.lofts = 1, .loft = l};
    const Load load = {14500.0, 5.2, 0.0, 1.0, 0, NULL};
    const Compartment both[] = {{3.0, 5.0, -9.0, -0.5, 0.0, 3.0, 0.9},
                                {3.0, 5.0, 0.5, 9.0, 0.0, 3.0, 0.9}};
    Rest s, p, two;
    assert_int_equal(flooded_rest(&body, &load, 1, &both[0], 1000.0, &s), VALID);
    assert_int_equal(flooded_rest(&body, &load, 1, &both[1], 1000.0, &p), VALID);
    assert_int_equal(flooded_rest(&body, &load, 2, both, 1000.0, &two), VALID);
    assert_true(s.at.heel_rad > 1.0 * deg);
    assert_close(s.at.heel_rad, -p.at.heel_rad, 1e-9);
    assert_close(s.gm_m, p.gm_m, 1e-9);
    assert_close(two.at.heel_rad, 0.0, 1e-9);
    assert_true(two.at.origin_depth_m > s.at.origin_depth_m);
    loft_free(l);
}

static void
bilged_box_agrees(void **state)
{
    (void) state;
    Loft *l = hull_box(40.0, 6.0, 4.0);
    const Body body = {.lofts = 1, .loft = l};
    const Load load = {480000.0, 20.0, 0.0, 1.9, 0, NULL};
    for (double mu = 0.25; mu <= 1.0; mu += 0.25) {
        const Compartment c = {15.0, 25.0, -3.0, 3.0, 0.0, 4.0, mu};
        BoxBilged closed;
        Rest rest;
        assert_int_equal(box_bilged(40.0, 6.0, 2.0, 10.0, mu, 1.9, &closed), VALID);
        assert_int_equal(flooded_rest(&body, &load, 1, &c, 1000.0, &rest), VALID);
        assert_close(rest.at.origin_depth_m, closed.draught_m, 1e-10);
        assert_close(rest.gm_m, closed.gm_m, 1e-10);
        assert_close(rest.km_m, closed.km_m, 1e-10);
        /* The righting lever's own slope is that height. */
        Attitude at = rest.at;
        double lever;
        flooded_lever(&body, &load, 1, &c, 1000.0, 1e-4, &at, &lever);
        assert_close(lever / 1e-4, rest.gm_m, 1e-6);
    }
    loft_free(l);
}

/* A hair above and below the height at which the bilged box lolls; between vertical sides tan^2 = -2 GM / BM. */
static void
bilged_box_lolls(void **state)
{
    (void) state;
    Loft *l = hull_box(40.0, 6.0, 4.0);
    const Body body = {.lofts = 1, .loft = l};
    const Compartment c = {15.0, 25.0, -3.0, 3.0, 0.0, 4.0, 1.0};
    for (double gm = -0.02; gm < 0.03; gm += 0.04) {
        BoxBilged closed;
        Rest rest;
        box_bilged(40.0, 6.0, 2.0, 10.0, 1.0, NAN, &closed);
        const Load load = {480000.0, 20.0, 0.0, closed.km_m - gm, 0, NULL};
        assert_int_equal(flooded_rest(&body, &load, 1, &c, 1000.0, &rest), VALID);
        double loll = gm < 0.0 ? atan(sqrt(-2.0 * gm / closed.bm_m)) : 0.0;
        assert_close(rest.at.heel_rad, loll, 1e-8);
    }
    loft_free(l);
}

static void
barge_that_cannot_live(void **state)
{
    (void) state;
    Loft *l = hull_box(40.0, 6.0, 4.0);
    const Body body = {.lofts = 1, .loft = l};
    const Load load = {480000.0, 20.0, 0.0, 1.9, 0, NULL},
               high = {480000.0, 20.0, 0.0, 4.6, 0, NULL};
    const Compartment half = {0.0, 21.0, -3.0, 3.0, 0.0, 4.0, 1.0},
                      end = {0.0, 14.0, -3.0, 3.0, 0.0, 4.0, 1.0},
                      mid = {15.0, 25.0, -3.0, 3.0, 0.0, 4.0, 0.95};
    Rest rest;
    assert_int_equal(flooded_rest(&body, &load, 1, &half, 1000.0, &rest), REFUSED);
    assert_int_equal(rest.outcome, REST_SINKS);
    assert_int_equal(flooded_rest(&body, &load, 1, &end, 1000.0, &rest), REFUSED);
    assert_true(rest.outcome == REST_PITCHES || rest.outcome == REST_UNSTABLE);
    assert_int_equal(flooded_rest(&body, &high, 1, &mid, 1000.0, &rest), REFUSED);
    assert_int_equal(rest.outcome, REST_UNSTABLE);
    assert_true(isnan(rest.gm_m) && isnan(rest.at.heel_rad) && isnan(rest.volume_m3));
    loft_free(l);
}

static void
hostile_spaces_are_refused(void **state)
{
    (void) state;
    Loft *l = hull_load("float-hull-A.csv");
    const Body body = {.lofts = 1, .loft = l};
    const Load load = {58000.0, 8.7, 0.0, 1.1, 0, NULL};
    const Compartment bad[] = {{3, 2, -1, 1, 0, 1, 1},     {2, 3, 1, -1, 0, 1, 1},
                               {2, 3, -1, 1, 1, 0, 1},     {2, 3, -1, 1, 0, 1, 0},
                               {2, 3, -1, 1, 0, 1, 1.01},  {2, 3, -1, 1, 0, 1, NAN},
                               {NAN, 3, -1, 1, 0, 1, 1},   {2, INFINITY, -1, 1, 0, 1, 1},
                               {2, 3, -1, 1e300, 0, 1, 1}, {2, 2, -1, 1, 0, 1, 1}};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        Rest rest;
        assert_non_null(compartment_fault(&bad[i]));
        assert_int_equal(flooded_rest(&body, &load, 1, &bad[i], 1000.0, &rest), REFUSED);
        assert_true(isnan(rest.gm_m));
    }
    const Compartment twice[] = {{2, 5, -1, 1, 0, 1, 0.5}, {4, 6, -1, 1, 0, 1, 0.5}};
    const Compartment beside[] = {{2, 5, -1, 1, 0, 1, 0.5}, {5, 6, -1, 1, 0, 1, 0.5}};
    Rest rest;
    assert_true(compartments_overlap(&twice[0], &twice[1]));
    assert_false(compartments_overlap(&beside[0], &beside[1]));
    assert_int_equal(flooded_rest(&body, &load, 2, twice, 1000.0, &rest), REFUSED);
    assert_int_equal(flooded_rest(&body, &load, 2, beside, 1000.0, &rest), VALID);
    assert_int_equal(flooded_rest(&body, &load, 1, beside, NAN, &rest), REFUSED);
    BoxBilged b;
    assert_int_equal(box_bilged(40, 6, 2, 40, 1, 1, &b), REFUSED);
    assert_int_equal(box_bilged(40, 6, NAN, 10, 1, 1, &b), REFUSED);
    assert_int_equal(box_bilged(40, 6, 2, 10, 1.2, 1, &b), REFUSED);
    assert_true(isnan(b.km_m));
    assert_int_equal(box_bilged(40, 6, 2, 10, 1, NAN, &b), VALID);
    assert_true(isnan(b.gm_m) && isfinite(b.km_m));
    loft_free(l);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lost_is_what_clipping_finds),
        cmocka_unit_test(spaces_add_up_to_the_hull),
        cmocka_unit_test(water_plane_is_the_change_of_volume),
        cmocka_unit_test(volume_of_a_space),
        cmocka_unit_test(rest_is_in_balance),
        cmocka_unit_test(no_compartment_is_no_flooding),
        cmocka_unit_test(intact_boats_lie_where_rest_finds_them),
        cmocka_unit_test(both_sides_are_alike),
        cmocka_unit_test(bilged_box_agrees),
        cmocka_unit_test(bilged_box_lolls),
        cmocka_unit_test(barge_that_cannot_live),
        cmocka_unit_test(hostile_spaces_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
