/* Meshes made from hulls of known volume: read in every form, turned every way, with holes and noise. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <glib.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "hulls.h"

#include "physics/afloat/station.h"
#include "physics/shape/mesh_slice.h"

typedef struct {
    double p[3][3];
} Face;

typedef GArray Faces; /* of Face */

static void
add_face(Faces *faces, const double a[3], const double b[3], const double c[3])
{
    Face f;
    memcpy(f.p[0], a, sizeof f.p[0]);
    memcpy(f.p[1], b, sizeof f.p[1]);
    memcpy(f.p[2], c, sizeof f.p[2]);
    g_array_append_val(faces, f);
}

static void
add_quad(Faces *faces, double q[4][3])
{
    add_face(faces, q[0], q[3], q[2]);
    add_face(faces, q[0], q[1], q[3]);
}

/* Point of the ruled shell: station i + s, column j + t, on one side. */
static void
shell_point(const Loft *l, size_t i, double s, size_t j, double t, double side, double out[3])
{
    double y = 0.0, z = 0.0;
    for (size_t a = 0; a < 2; a++)
        for (size_t b = 0; b < 2; b++) {
            size_t at = (i + a) * l->points + j + b;
            double w = (a ? s : 1.0 - s) * (b ? t : 1.0 - t);
            y += w * l->y_m[at];
            z += w * l->z_m[at];
        }
    out[0] = l->x_m[i] + s * (l->x_m[i + 1] - l->x_m[i]);
    out[1] = side * y;
    out[2] = z;
}

/* Station place and column place of a fine grid, as above. */
static void
grid_point(const Loft *l, size_t n, size_t along, size_t up, double side, double out[3])
{
    size_t i = along / n < l->stations - 1 ? along / n : l->stations - 2;
    size_t j = up / n < l->points - 1 ? up / n : l->points - 2;
    shell_point(l, i, (double) (along - i * n) / (double) n, j, (double) (up - j * n) / (double) n,
                side, out);
}

/* Shell, plane ends and level deck, every panel cut n x n; normals outward. */
static Faces *
faces_of(const Loft *l, size_t n, gboolean deck)
{
    Faces *faces = g_array_new(FALSE, FALSE, sizeof(Face));
    size_t along = (l->stations - 1) * n, up = (l->points - 1) * n;
    double q[4][3];
    for (size_t a = 0; a < along; a++) {
        for (size_t b = 0; b < up; b++)
            for (int side = -1; side < 2; side += 2) {
                size_t low = side > 0 ? b : b + 1, high = side > 0 ? b + 1 : b;
                grid_point(l, n, a, low, side, q[0]);
                grid_point(l, n, a, high, side, q[1]);
                grid_point(l, n, a + 1, low, side, q[2]);
                grid_point(l, n, a + 1, high, side, q[3]);
                add_quad(faces, q);
            }
        grid_point(l, n, a, up, 1.0, q[0]);
        grid_point(l, n, a, up, -1.0, q[1]);
        grid_point(l, n, a + 1, up, 1.0, q[2]);
        grid_point(l, n, a + 1, up, -1.0, q[3]);
        if (deck)
            add_quad(faces, q);
    }
    for (size_t b = 0; b < up; b++)
        for (size_t end = 0; end < 2; end++) {
            size_t a = end ? along : 0;
            grid_point(l, n, a, b, end ? 1.0 : -1.0, q[0]);
            grid_point(l, n, a, b + 1, end ? 1.0 : -1.0, q[1]);
            grid_point(l, n, a, b, end ? -1.0 : 1.0, q[2]);
            grid_point(l, n, a, b + 1, end ? -1.0 : 1.0, q[3]);
            add_quad(faces, q);
        }
    return faces;
}

static void
put32(GByteArray *out, uint32_t bits, gboolean big)
{
    for (int k = 0; k < 4; k++) {
        guint8 byte = (guint8) (bits >> (big ? 24 - 8 * k : 8 * k));
        g_byte_array_append(out, &byte, 1);
    }
}

static void
put_float(GByteArray *out, double value, gboolean big)
{
    float single = (float) value;
    uint32_t bits;
    memcpy(&bits, &single, sizeof bits);
    put32(out, bits, big);
}

static void
put_text(GByteArray *out, const char *form, ...)
{
    va_list args;
    va_start(args, form);
    g_autofree char *text = g_strdup_vprintf(form, args);
    va_end(args);
    g_byte_array_append(out, (const guint8 *) text, (guint) strlen(text));
}

static GByteArray *
write_mesh(const Faces *faces, MeshFormat format, gboolean big)
{
    GByteArray *out = g_byte_array_new();
    if (format == MESH_STL_BINARY) {
        const guint8 head[80] = "made for a test";
        g_byte_array_append(out, head, 80);
        put32(out, faces->len, FALSE);
    } else if (format == MESH_STL_TEXT) {
        put_text(out, "solid made for a test\n");
    } else if (format == MESH_OBJ) {
        put_text(out, "# made for a test\no hull\n");
    } else {
        put_text(out,
                 "ply\nformat %s 1.0\ncomment made for a test\nelement vertex %u\nproperty float "
                 "x\nproperty float y\n"
                 "property float z\nproperty uchar red\nelement face %u\nproperty list uchar int "
                 "vertex_indices\n"
                 "end_header\n",
                 format == MESH_PLY_TEXT ? "ascii"
                 : big                   ? "binary_big_endian"
                                         : "binary_little_endian",
                 3 * faces->len, faces->len);
    }
    for (guint i = 0; i < faces->len; i++) {
        const Face *f = &g_array_index(faces, Face, i);
        if (format == MESH_STL_TEXT)
            put_text(out, "facet normal 0 0 0\n outer loop\n");
        for (int k = 0; format == MESH_STL_BINARY && k < 3; k++)
            put_float(out, 0.0, FALSE);
        for (int k = 0; k < 3; k++) {
            const double *p = f->p[k];
            if (format == MESH_STL_TEXT)
                put_text(out, "  vertex %.9e %.9e %.9e\n", p[0], p[1], p[2]);
            else if (format == MESH_OBJ)
                put_text(out, "v %.9g %.9g %.9g\n", p[0], p[1], p[2]);
            else if (format == MESH_PLY_TEXT)
                put_text(out, "%.9g %.9g %.9g 200\n", p[0], p[1], p[2]);
            else
                for (int j = 0; j < 3; j++)
                    put_float(out, p[j], big);
            if (format == MESH_PLY_BINARY)
                g_byte_array_append(out, (const guint8[]){200}, 1);
        }
        if (format == MESH_STL_TEXT)
            put_text(out, " endloop\nendfacet\n");
        else if (format == MESH_STL_BINARY)
            g_byte_array_append(out, (const guint8[]){0, 0}, 2);
        else if (format == MESH_OBJ)
            put_text(out, i % 2 ? "f -3 -2 -1\n" : "f %u/1/1 %u/1/1 %u//1\n", 3 * i + 1, 3 * i + 2,
                     3 * i + 3);
    }
    for (guint i = 0; i < faces->len && format >= MESH_PLY_TEXT; i++) {
        if (format == MESH_PLY_TEXT)
            put_text(out, "3 %u %u %u\n", 3 * i, 3 * i + 1, 3 * i + 2);
        else
            g_byte_array_append(out, (const guint8[]){3}, 1);
        for (guint k = 0; format == MESH_PLY_BINARY && k < 3; k++)
            put32(out, 3 * i + k, big);
    }
    if (format == MESH_STL_TEXT)
        put_text(out, "endsolid made for a test\n");
    return out;
}

/* What the owner sees of a file: everything found, in one go. */
typedef struct {
    Mesh *mesh;
    MeshLook look;
    MeshPose pose;
    MeshHull hull;
    Validity posed, made;
} Seen;

static Seen
see(const Faces *faces, MeshFormat format, const MeshHints *hints, size_t stations)
{
    Seen s = {0};
    GByteArray *bytes = write_mesh(faces, format, FALSE);
    MeshFault fault;
    s.mesh = mesh_parse(bytes->data, bytes->len, &fault);
    if (s.mesh == NULL)
        print_error("line %zu: %s\n", fault.line, fault.why);
    assert_non_null(s.mesh);
    assert_int_equal(s.mesh->format, format);
    assert_true(mesh_look(s.mesh, &s.look, &fault));
    s.posed = mesh_propose(s.mesh, &s.look, hints, &s.pose);
    s.made = mesh_hull(s.mesh, &s.look, &s.pose, stations, 0, &s.hull);
    g_byte_array_unref(bytes);
    return s;
}

static void
forget(Seen *s)
{
    mesh_hull_free(&s->hull);
    mesh_look_free(&s->look);
    mesh_free(s->mesh);
}

static double
whole_m3(const Loft *l)
{
    return body_volume_m3(&(Body){.lofts = 1, .loft = l});
}

static void
every_form_of_file_is_the_same_mesh(void **state)
{
    (void) state;
    Loft *l = hull_load("float-hull-B.csv");
    Faces *faces = faces_of(l, 4, TRUE);
    for (MeshFormat format = MESH_STL_TEXT; format <= MESH_PLY_BINARY; format++)
        for (gboolean big = FALSE; big <= (format == MESH_PLY_BINARY); big++) {
            GByteArray *bytes = write_mesh(faces, format, big);
            MeshFault fault;
            MeshLook look;
            Mesh *mesh = mesh_parse(bytes->data, bytes->len, &fault);
            assert_non_null(mesh);
            assert_null(fault.why);
            assert_int_equal(mesh->format, format);
            /* Two triangles at the keel of every end have no area: the section starts in a point there. */
            assert_int_equal(mesh->triangles + mesh->dropped, faces->len);
            assert_true(mesh_look(mesh, &look, &fault));
            assert_int_equal(look.shells, 1);
            assert_int_equal(look.open_edges, 0);
            assert_int_equal(look.many_edges, 0);
            assert_int_equal(look.turned, 0);
            assert_int_equal(look.holes, 0);
            assert_false(look.shell[0].inside_out);
            /* Cut into 4 x 4 the twisted panels hold what the ruled ones do to a few parts in ten thousand. */
            assert_close(look.shell[0].volume, whole_m3(l), 1e-3 * whole_m3(l));
            mesh_look_free(&look);
            mesh_free(mesh);
            g_byte_array_unref(bytes);
        }
    g_array_unref(faces);
    loft_free(l);
}

static Loft *
loft_from(size_t stations, size_t points, const double x[], const double y[], const double z[])
{
    Station station[8];
    StationPoint point[8][8];
    for (size_t i = 0; i < stations; i++) {
        station[i] = (Station){x[i], points, point[i]};
        for (size_t j = 0; j < points; j++)
            point[i][j] = (StationPoint){y[i * points + j], z[i * points + j], false, NULL};
    }
    return loft_join(stations, station);
}

/* Sides that fall in, and a box keel that makes the section hollow. */
static Loft *
hull_hollow(void)
{
    static const double x[] = {0.0, 4.0, 9.0, 12.0};
    static const double y[] = {0.0, 0.10, 0.10, 1.5, 1.9, 1.7, 0.0, 0.12, 0.12, 1.8, 2.2, 1.9,
                               0.0, 0.12, 0.12, 1.5, 2.0, 1.8, 0.0, 0.04, 0.04, 0.2, 0.4, 0.5};
    static const double z[] = {0.0, 0.0, 0.5, 0.7, 1.2, 1.9, 0.0, 0.0, 0.4, 0.5, 1.0, 1.8,
                               0.0, 0.0, 0.4, 0.6, 1.1, 1.9, 0.6, 0.6, 0.8, 1.0, 1.6, 2.2};
    return loft_from(4, 6, x, y, z);
}

static Loft *
hull_number(int which)
{
    switch (which) {
    case 0:
        return hull_load("float-hull-A.csv");
    case 1:
        return hull_load("float-hull-B.csv");
    case 2:
        return hull_flared(31, 25);
    case 3:
        return hull_hollow();
    case 4:
        return hull_wigley(10.0, 1.0, 0.625, 20, 10);
    default:
        return hull_box(20.0, 5.0, 2.5);
    }
}

enum { HULLS = 6 };

/* With and without deck, the usual number of stations and a plenty of them. */
static void
stations_hold_what_the_mesh_holds(void **state)
{
    (void) state;
    for (int which = 0; which < HULLS; which++)
        for (int deck = 0; deck < 2; deck++)
            for (size_t stations = 31; stations < 200; stations += 100) {
                Loft *l = hull_number(which);
                Faces *faces = faces_of(l, which < 4 ? 16 : 2, deck);
                Seen s = see(faces, MESH_STL_BINARY, NULL, stations);
                double tolerance = stations == 31 ? 0.005 : 0.002;
                assert_int_equal(s.made, VALID);
                assert_close(s.hull.mesh_m3, whole_m3(l), 1e-3 * whole_m3(l));
                assert_close(s.hull.volume_m3, s.hull.mesh_m3, tolerance * s.hull.mesh_m3);
                assert_close(s.hull.volume_m3, whole_m3(l), tolerance * whole_m3(l));
                assert_close(s.hull.above_deck_m3, 0.0, 1e-3 * whole_m3(l));
                assert_close(s.pose.length_m, l->x_m[l->stations - 1], 1e-5);
                assert_int_equal(s.look.holes, deck ? 0 : 1);
                assert_int_equal(s.hull.shape->n, stations);
                Loft *made = loft_join(s.hull.shape->n, s.hull.shape->station);
                assert_non_null(made);
                assert_null(loft_fault(made));
                assert_int_equal(made->points, 40);
                loft_free(made);
                forget(&s);
                g_array_unref(faces);
                loft_free(l);
            }
}

static void
the_chine_becomes_a_knuckle(void **state)
{
    (void) state;
    Loft *l = hull_load("float-hull-B.csv");
    Faces *faces = faces_of(l, 16, TRUE);
    Seen s = see(faces, MESH_PLY_TEXT, NULL, 0);
    assert_int_equal(s.hull.knuckles, 1);
    for (size_t i = 0; i < s.hull.shape->n; i++) {
        const Station *station = &s.hull.shape->station[i];
        double y[3], z[3];
        size_t knuckles = 0;
        assert_true(loft_points(l, fmin(station->x_m, 12.0), y, z));
        for (size_t j = 0; j < station->points; j++) {
            const StationPoint *p = &station->point[j];
            knuckles += p->knuckle;
            if (!p->knuckle)
                continue;
            assert_string_equal(p->name, "knuckle-1");
            if (station->x_m < 10.5) {
                assert_close(p->y_m, y[1], 0.01);
                assert_close(p->z_m, z[1], 0.01);
            }
        }
        assert_int_equal(knuckles, 1);
        assert_close(station->point[0].y_m, 0.0, 0.0);
        assert_close(station->point[station->points - 1].y_m, y[2], 0.01);
        assert_close(station->point[station->points - 1].z_m, z[2], 0.01);
    }
    forget(&s);
    g_array_unref(faces);
    loft_free(l);
}

/* q = scale * R p + shift */
static void
move_faces(Faces *faces, double r[3][3], double scale, const double shift[3])
{
    for (guint i = 0; i < faces->len; i++)
        for (int c = 0; c < 3; c++) {
            double *p = g_array_index(faces, Face, i).p[c], q[3];
            for (int k = 0; k < 3; k++)
                q[k] = scale * (r[k][0] * p[0] + r[k][1] * p[1] + r[k][2] * p[2]) + shift[k];
            memcpy(p, q, sizeof q);
        }
}

static double
determinant(double r[3][3])
{
    return r[0][0] * (r[1][1] * r[2][2] - r[1][2] * r[2][1]) -
           r[0][1] * (r[1][0] * r[2][2] - r[1][2] * r[2][0]) +
           r[0][2] * (r[1][0] * r[2][1] - r[1][1] * r[2][0]);
}

/* The stations of a hull that was turned are those of the hull as it was. */
static void
assert_same_hull(const Seen *a, const Seen *b, double near_m)
{
    assert_close(a->hull.volume_m3, b->hull.volume_m3, 0.003 * b->hull.volume_m3);
    assert_int_equal(a->hull.shape->n, b->hull.shape->n);
    for (size_t i = 0; i < a->hull.shape->n; i++) {
        const Station *p = &a->hull.shape->station[i], *q = &b->hull.shape->station[i];
        assert_close(p->x_m, q->x_m, near_m);
        assert_close(p->point[p->points - 1].y_m, q->point[q->points - 1].y_m, near_m);
        assert_close(p->point[p->points - 1].z_m, q->point[q->points - 1].z_m, near_m);
    }
}

static void
all_24_ways_to_lie_in_a_file(void **state)
{
    (void) state;
    Loft *l = hull_load("float-hull-B.csv");
    Faces *upright = faces_of(l, 4, TRUE);
    Seen as_is = see(upright, MESH_STL_BINARY, NULL, 31);
    assert_int_equal(as_is.posed, VALID);
    int ways = 0;
    for (int a = 0; a < 3; a++)
        for (int b = 0; b < 3; b++)
            for (int signs = 0; signs < 8 && a != b; signs++) {
                double r[3][3] = {{0.0}};
                r[a][0] = signs & 1 ? -1.0 : 1.0;
                r[b][1] = signs & 2 ? -1.0 : 1.0;
                r[3 - a - b][2] = signs & 4 ? -1.0 : 1.0;
                if (determinant(r) < 0.0)
                    continue;
                for (int deck = 0; deck < 2; deck++) {
                    Faces *faces = faces_of(l, 4, deck);
                    move_faces(faces, r, 1.0, (const double[]){3.0, -70.0, 11.0});
                    Seen s = see(faces, MESH_OBJ, NULL, 31);
                    assert_int_equal(s.posed, VALID);
                    assert_same_hull(&s, &as_is, 1e-4);
                    forget(&s);
                    g_array_unref(faces);
                }
                ways++;
            }
    assert_int_equal(ways, 24);
    forget(&as_is);
    g_array_unref(upright);
    loft_free(l);
}

static void
rotation(double r[3][3], double yaw, double pitch, double roll)
{
    double a = cos(yaw), b = sin(yaw), c = cos(pitch), d = sin(pitch), e = cos(roll), f = sin(roll);
    const double m[3][3] = {{a * c, a * d * f - b * e, a * d * e + b * f},
                            {b * c, b * d * f + a * e, b * d * e - a * f},
                            {-d, c * f, c * e}};
    memcpy(r, m, sizeof m);
}

/* As a scanner leaves it: askew in space, in millimetres, far from the origin. */
static void
a_scan_that_lies_askew_is_levelled(void **state)
{
    (void) state;
    Loft *l = hull_hollow();
    Faces *upright = faces_of(l, 8, TRUE);
    Seen as_is = see(upright, MESH_STL_BINARY, NULL, 31);
    assert_int_equal(as_is.posed, VALID);
    const double turns[][3] = {{0.6, 0.1, -0.2},
                               {-2.2, 0.4, 0.1},
                               {1.1, -0.7, 2.9},
                               {0.02, 0.03, -0.04},
                               {0.0, 0.06, 0.0}};
    for (size_t i = 0; i < sizeof turns / sizeof turns[0]; i++) {
        Faces *faces = faces_of(l, 8, TRUE);
        double r[3][3];
        rotation(r, turns[i][0], turns[i][1], turns[i][2]);
        move_faces(faces, r, 1000.0, (const double[]){52000.0, -8000.0, 3000.0});
        Seen s = see(faces, MESH_STL_TEXT, NULL, 31);
        assert_string_equal(s.pose.unit, "mm");
        assert_int_equal(s.posed, VALID);
        assert_close(s.pose.length_m, 12.0, 0.06);
        assert_same_hull(&s, &as_is, 0.06);
        forget(&s);
        g_array_unref(faces);
    }
    forget(&as_is);
    g_array_unref(upright);
    loft_free(l);
}

static void
units_are_guessed_and_doubted(void **state)
{
    (void) state;
    const struct {
        double scale, stated_m, unit_m, found_m;
        gboolean sure;
    } cases[] = {
        {1.0, NAN, NAN, 1.0, TRUE},
        {1000.0, NAN, NAN, 0.001, TRUE},
        {100.0, 12.0, NAN, 0.01, TRUE},
        {1.0 / 0.3048, 12.2, NAN, 0.3048, TRUE},
        {1.0 / 0.0254, 12.0, NAN, 0.0254, TRUE},
        {1.0 / 0.3048, NAN, NAN, 1.0, FALSE},
        {1000.0, NAN, 1.0, 1.0, FALSE}, /* millimetres taken for metres */
        {1000.0, 12.0, 1.0, 1.0, FALSE},
        {1000.0, 12.0, 0.001, 0.001, TRUE},
        {5.0, 12.0, NAN, 0.2, FALSE}, /* a model to no unit's scale */
        {0.001, NAN, NAN, 1.0, FALSE},
    };
    Loft *l = hull_load("float-hull-B.csv");
    double r[3][3];
    rotation(r, 0.0, 0.0, 0.0);
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        Faces *faces = faces_of(l, 2, TRUE);
        move_faces(faces, r, cases[i].scale, (const double[]){0.0, 0.0, 0.0});
        const MeshHints hints = {.length_m = cases[i].stated_m, .unit_m = cases[i].unit_m};
        Seen s = see(faces, MESH_STL_BINARY, &hints, 31);
        assert_close(s.pose.unit_m, cases[i].found_m, 1e-6 * cases[i].found_m);
        assert_int_equal(s.pose.unit_reason.sure, cases[i].sure);
        assert_int_equal(s.posed, cases[i].sure ? VALID : EXTRAPOLATED);
        assert_non_null(s.pose.unit_reason.because);
        forget(&s);
        g_array_unref(faces);
    }
    loft_free(l);
}

static void
hints_decide(void **state)
{
    (void) state;
    Loft *l = hull_box(20.0, 5.0, 2.5);
    Faces *faces = faces_of(l, 2, TRUE);
    Seen s = see(faces, MESH_STL_BINARY, NULL, 31);
    assert_false(s.pose.up.sure || s.pose.bow.sure);
    assert_int_equal(s.posed, EXTRAPOLATED);
    forget(&s);
    const MeshHints stern_first = {20.0, NAN, -3, -1};
    s = see(faces, MESH_STL_BINARY, &stern_first, 31);
    assert_int_equal(s.posed, VALID);
    assert_close(s.pose.turn[0][0], -1.0, 1e-12);
    assert_close(s.pose.turn[2][2], -1.0, 1e-12);
    assert_close(determinant(s.pose.turn), 1.0, 1e-12);
    assert_close(s.hull.volume_m3, 250.0, 1e-6);
    forget(&s);
    MeshFault fault;
    GByteArray *bytes = write_mesh(faces, MESH_STL_BINARY, FALSE);
    Mesh *mesh = mesh_parse(bytes->data, bytes->len, &fault);
    MeshLook look;
    MeshPose pose;
    MeshHull hull;
    assert_true(mesh_look(mesh, &look, &fault));
    const MeshHints bad[] = {{NAN, NAN, 3, -3},
                             {NAN, NAN, 4, 0},
                             {-1.0, NAN, 0, 0},
                             {NAN, 0.0, 0, 0},
                             {INFINITY, NAN, 0, 0}};
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        assert_int_equal(mesh_propose(mesh, &look, &bad[i], &pose), REFUSED);
        assert_non_null(pose.fault);
        assert_int_equal(mesh_hull(mesh, &look, &pose, 0, 0, &hull), REFUSED);
        assert_non_null(hull.fault);
    }
    mesh_propose(mesh, &look, NULL, &pose);
    const size_t sizes[][2] = {{4, 40}, {202, 40}, {41, 4}, {41, 201}};
    for (size_t i = 0; i < 4; i++) {
        assert_int_equal(mesh_hull(mesh, &look, &pose, sizes[i][0], sizes[i][1], &hull), REFUSED);
        assert_true(isnan(hull.volume_m3) && hull.shape == NULL && hull.section == NULL);
    }
    mesh_look_free(&look);
    mesh_free(mesh);
    g_byte_array_unref(bytes);
    g_array_unref(faces);
    loft_free(l);
}

static void
swap_corners(Face *f)
{
    double kept[3];
    memcpy(kept, f->p[1], sizeof kept);
    memcpy(f->p[1], f->p[2], sizeof kept);
    memcpy(f->p[2], kept, sizeof kept);
}

static void
normals_are_set_right(void **state)
{
    (void) state;
    Loft *l = hull_load("float-hull-B.csv");
    test_random_restart(9);
    for (int kind = 0; kind < 3; kind++) { /* all inward, a third inward, and that without a deck */
        Faces *faces = faces_of(l, 6, kind < 2);
        size_t turned = 0;
        for (guint i = 0; i < faces->len; i++)
            if (kind == 0 || test_random() < 0.33) {
                swap_corners(&g_array_index(faces, Face, i));
                turned++;
            }
        Seen s = see(faces, MESH_STL_BINARY, NULL, 41);
        if (kind == 0) {
            assert_true(s.look.shell[0].inside_out);
            assert_int_equal(s.look.turned, 0);
        } else {
            assert_true(s.look.turned > turned / 2);
        }
        assert_close(s.hull.mesh_m3, whole_m3(l), 1e-3 * whole_m3(l));
        assert_close(s.hull.volume_m3, whole_m3(l), 0.004 * whole_m3(l));
        assert_int_equal(s.posed, VALID);
        assert_int_equal(s.made, VALID);
        forget(&s);
        g_array_unref(faces);
    }
    loft_free(l);
}

/* Round holes of 300 mm all over the bottom and sides. */
static void
holes_are_bridged_and_told(void **state)
{
    (void) state;
    Loft *l = hull_load("float-hull-B.csv");
    Faces *faces = faces_of(l, 24, TRUE);
    test_random_restart(3);
    for (int hole = 0; hole < 12; hole++) {
        double middle[3];
        shell_point(l, (size_t) test_between(1.0, 5.99), test_random(),
                    (size_t) test_between(0.0, 1.99), test_between(0.2, 0.8), hole % 2 ? 1.0 : -1.0,
                    middle);
        for (guint i = faces->len; i-- > 0;) {
            const double *p = g_array_index(faces, Face, i).p[0];
            if (hypot(hypot(p[0] - middle[0], p[1] - middle[1]), p[2] - middle[2]) < 0.15)
                g_array_remove_index_fast(faces, i);
        }
    }
    Seen s = see(faces, MESH_STL_BINARY, NULL, 61);
    size_t gaps = 0;
    double widest = 0.0;
    for (size_t i = 0; i < s.hull.sections; i++) {
        gaps += s.hull.section[i].gaps;
        widest = fmax(widest, s.hull.section[i].widest_gap_m);
    }
    assert_true(s.look.holes >= 8 && s.look.open_edges > 80);
    assert_true(gaps >= 8);
    assert_true(widest > 0.2 && widest < 0.45);
    assert_int_equal(s.made, EXTRAPOLATED);
    assert_close(s.hull.mesh_m3, whole_m3(l), 2e-3 * whole_m3(l));
    assert_close(s.hull.volume_m3, whole_m3(l), 5e-3 * whole_m3(l));
    forget(&s);
    g_array_unref(faces);
    loft_free(l);
}

/* Every vertex moves by itself, all its triangles with it. */
static void
shake_faces(Faces *faces, double deviation)
{
    for (guint i = 0; i < faces->len; i++)
        for (int c = 0; c < 3; c++) {
            double *p = g_array_index(faces, Face, i).p[c], q[3];
            for (int k = 0; k < 3; k++) {
                /* A number that hangs on the place alone. */
                double u =
                    sin(p[0] * 12.9898 + p[1] * 78.233 + p[2] * 37.719 + 11.0 * k) * 43758.5453;
                q[k] = p[k] + deviation * sqrt(12.0) * (u - floor(u) - 0.5);
            }
            memcpy(p, q, sizeof q);
        }
}

static void
the_noise_of_a_scanner_does_not_matter(void **state)
{
    (void) state;
    for (int which = 0; which < 4; which++) {
        Loft *l = hull_number(which);
        Faces *faces = faces_of(l, which == 2 ? 4 : 40, FALSE);
        shake_faces(faces, 0.005);
        Seen s = see(faces, MESH_STL_BINARY, NULL, 41);
        assert_close(s.hull.volume_m3, whole_m3(l), 5e-3 * whole_m3(l));
        assert_close(s.hull.mesh_m3, whole_m3(l), 2e-3 * whole_m3(l));
        assert_int_equal(s.made, VALID);
        assert_true(s.hull.within_m < 0.03);
        forget(&s);
        g_array_unref(faces);
        loft_free(l);
    }
}

/* Drawings often hold only one side. */
static void
half_a_boat_is_mirrored(void **state)
{
    (void) state;
    for (int which = 0; which < 4; which++)
        for (int side = -1; side < 2; side += 2)
            for (int deck = 0; deck < 2; deck++) {
                Loft *l = hull_number(which);
                Faces *all = faces_of(l, 8, FALSE),
                      *faces = g_array_new(FALSE, FALSE, sizeof(Face));
                for (guint i = 0; i < all->len; i++) {
                    Face f = g_array_index(all, Face, i);
                    gboolean end = f.p[0][0] == f.p[1][0] && f.p[0][0] == f.p[2][0];
                    if (!end && side * (f.p[0][1] + f.p[1][1] + f.p[2][1]) > 0.0)
                        g_array_append_val(faces, f);
                }
                /* Deck and ends of one side: from the shell to the middle. */
                size_t along = (l->stations - 1) * 8, up = (l->points - 1) * 8;
                for (size_t a = 0; deck && a < along; a++) {
                    double q[4][3];
                    grid_point(l, 8, a, up, side, q[0]);
                    grid_point(l, 8, a + 1, up, side, q[2]);
                    memcpy(q[1], q[0], sizeof q[1]);
                    memcpy(q[3], q[2], sizeof q[3]);
                    q[1][1] = q[3][1] = 0.0;
                    add_quad(faces, q);
                }
                for (size_t b = 0; b < up; b++)
                    for (size_t a = 0; a <= along; a += along) {
                        double q[4][3];
                        grid_point(l, 8, a, b, side, q[0]);
                        grid_point(l, 8, a, b + 1, side, q[2]);
                        memcpy(q[1], q[0], sizeof q[1]);
                        memcpy(q[3], q[2], sizeof q[3]);
                        q[1][1] = q[3][1] = 0.0;
                        add_quad(faces, q);
                    }
                /* Half the decked barge could as well be a whole one on her side, open at the deck: up has to be said. */
                const MeshHints hints = {l->x_m[l->stations - 1], NAN, which == 0 ? 3 : 0, 0};
                Seen s = see(faces, MESH_STL_BINARY, &hints, 41);
                assert_true(s.pose.half);
                assert_close(s.hull.mesh_m3, whole_m3(l), 1e-3 * whole_m3(l));
                assert_close(s.hull.volume_m3, whole_m3(l), 5e-3 * whole_m3(l));
                assert_close(s.hull.above_deck_m3, 0.0, 2e-3 * whole_m3(l));
                forget(&s);
                g_array_unref(all);
                g_array_unref(faces);
                loft_free(l);
            }
}

static void
add_box(Faces *faces, double x0, double x1, double y0, double y1, double z0, double z1)
{
    Loft *box = hull_box(x1 - x0, y1 - y0, z1 - z0);
    Faces *more = faces_of(box, 1, TRUE);
    double r[3][3];
    rotation(r, 0.0, 0.0, 0.0);
    move_faces(more, r, 1.0, (const double[]){x0, 0.5 * (y0 + y1), z0});
    g_array_append_vals(faces, more->data, more->len);
    g_array_unref(more);
    loft_free(box);
}

static void
fittings_are_left_out(void **state)
{
    (void) state;
    Loft *l = hull_load("float-hull-B.csv");
    Faces *faces = faces_of(l, 12, TRUE);
    add_box(faces, -0.5, -0.1, -0.03, 0.03, 0.0, 0.8); /* rudder */
    add_box(faces, 5.0, 7.0, -0.8, 0.8, 0.7, 1.2);     /* tank inside */
    Seen s = see(faces, MESH_STL_BINARY, NULL, 41);
    assert_int_equal(s.look.shells, 3);
    assert_true(s.look.shell[0].kept && !s.look.shell[1].kept && !s.look.shell[2].kept);
    assert_non_null(strstr(s.look.shell[1].because, "inside"));
    assert_non_null(strstr(s.look.shell[2].because, "fitting"));
    assert_close(s.look.shell[1].volume, 2.0 * 1.6 * 0.5, 1e-5);
    assert_close(s.pose.length_m, 12.0, 1e-5);
    assert_close(s.hull.volume_m3, whole_m3(l), 4e-3 * whole_m3(l));
    assert_int_equal(s.made, VALID);
    forget(&s);
    g_array_unref(faces);
    loft_free(l);
}

/* Ends of the sections: coaming all along, and a house that is part of the same skin. */
static void
what_stands_above_the_deck_is_told_apart(void **state)
{
    (void) state;
    static const double x[] = {0.0, 3.0, 9.0, 12.0};
    static const double y[] = {0.0, 1.8, 2.0, 1.2, 1.1, 0.0, 0.0, 1.8, 2.0, 1.2, 1.1, 0.0,
                               0.0, 1.8, 2.0, 1.2, 1.1, 0.0, 0.0, 0.6, 1.0, 0.3, 0.2, 0.0};
    static const double z[] = {0.1, 0.3, 1.5, 1.55, 2.3, 2.4, 0.0, 0.2, 1.5, 1.55, 2.3, 2.4,
                               0.0, 0.2, 1.5, 1.55, 2.3, 2.4, 0.5, 0.8, 1.6, 1.65, 2.3, 2.4};
    Loft *whole = loft_from(4, 6, x, y, z);
    Station hull[4];
    StationPoint point[4][3];
    for (size_t i = 0; i < 4; i++) {
        hull[i] = (Station){x[i], 3, point[i]};
        for (size_t j = 0; j < 3; j++)
            point[i][j] = (StationPoint){y[6 * i + j], z[6 * i + j], false, NULL};
    }
    Loft *below = loft_join(4, hull);
    Faces *faces = faces_of(whole, 12, FALSE); /* its top already meets in the middle */
    const MeshHints hints = {12.0, NAN, 3, 1};
    Seen s = see(faces, MESH_STL_BINARY, &hints, 61);
    assert_close(s.hull.mesh_m3, whole_m3(whole), 1e-3 * whole_m3(whole));
    assert_close(s.hull.volume_m3, whole_m3(below), 5e-3 * whole_m3(below));
    assert_close(s.hull.above_deck_m3, whole_m3(whole) - whole_m3(below), 5e-3 * whole_m3(whole));
    assert_int_equal(s.made, VALID);
    forget(&s);
    g_array_unref(faces);
    loft_free(whole);
    loft_free(below);
}

static void
a_lopsided_hull_is_told(void **state)
{
    (void) state;
    Loft *l = hull_load("float-hull-A.csv");
    Faces *faces = faces_of(l, 12, TRUE);
    for (guint i = 0; i < faces->len; i++)
        for (int c = 0; c < 3; c++) {
            double *p = g_array_index(faces, Face, i).p[c];
            if (p[1] > 0.0 && p[0] > 5.0 && p[0] < 12.0) /* pushed in amidships, port only */
                p[1] *= 1.0 - 0.2 * pow(sin(M_PI * (p[0] - 5.0) / 7.0), 2.0);
        }
    Seen s = see(faces, MESH_STL_BINARY, NULL, 61);
    assert_int_equal(s.made, EXTRAPOLATED);
    /* 0.42 m at the deck edge and the bilge, nothing at the keel. */
    assert_true(s.hull.asymmetry_m > 0.25 && s.hull.asymmetry_m < 0.43);
    assert_close(s.hull.volume_m3, s.hull.mesh_m3, 5e-3 * s.hull.mesh_m3);
    forget(&s);
    g_array_unref(faces);
    loft_free(l);
}

/* A bulkhead welded into the shell: its edges have three triangles. */
static void
edges_with_three_faces_are_told(void **state)
{
    (void) state;
    Loft *l = hull_load("float-hull-A.csv");
    Faces *faces = faces_of(l, 4, TRUE);
    for (size_t b = 0; b < 8; b++) {
        double q[4][3];
        grid_point(l, 4, 6, b, -1.0, q[0]);
        grid_point(l, 4, 6, b + 1, -1.0, q[1]);
        grid_point(l, 4, 6, b, 1.0, q[2]);
        grid_point(l, 4, 6, b + 1, 1.0, q[3]);
        add_quad(faces, q);
    }
    Seen s = see(faces, MESH_STL_BINARY, NULL, 41);
    assert_true(s.look.many_edges >= 16);
    assert_int_equal(s.look.shells, 1);
    assert_close(s.hull.volume_m3, whole_m3(l), 5e-3 * whole_m3(l));
    forget(&s);
    g_array_unref(faces);
    loft_free(l);
}

static void
refused(const void *bytes, size_t size, const char *part_of_why)
{
    MeshFault fault = {0};
    Mesh *mesh = mesh_parse(bytes, size, &fault);
    if (mesh != NULL || fault.why == NULL || strstr(fault.why, part_of_why) == NULL)
        print_error("not refused for \"%s\" but \"%s\"\n", part_of_why, fault.why);
    assert_null(mesh);
    assert_non_null(fault.why);
    assert_non_null(strstr(fault.why, part_of_why));
}

static void
refused_text(const char *text, size_t line, const char *part_of_why)
{
    MeshFault fault;
    refused(text, strlen(text), part_of_why);
    mesh_parse(text, strlen(text), &fault);
    assert_int_equal(fault.line, line);
}

#define PLY(counts, rest)                                                                          \
    "ply\nformat ascii 1.0\nelement vertex " counts                                                \
    "\nproperty float x\nproperty float y\nproperty float z\nelement face 1\n"                     \
    "property list uchar int vertex_indices\nend_header\n" rest

static void
hostile_files_are_refused_with_a_reason(void **state)
{
    (void) state;
    refused("", 0, "too short");
    refused_text("hello, this is no mesh at all", 1, "neither STL nor OBJ nor PLY");
    refused_text("solid x\nendsolid x\nsolid y\n", 0, "no triangle");
    refused_text("solid x\nfacet normal 0 0 1\nouter loop\nvertex 0 0 nan\n", 4,
                 "not three numbers");
    refused_text("solid x\nfacet normal 0 0 1\nouter loop\nvertex 0 0\nvertex", 4,
                 "not three numbers");
    refused_text("solid x\nfacet normal 0 0 1\nouter loop\nvertex 0 0 1\nendloop", 5,
                 "not written as STL");
    refused_text("solid x\nfacet normal 0 0 1\nouter loop\nvertex 0 0 1", 4, "ends within");
    refused_text("solid x\nfacet normal 0 0 1\nouter loop\nvertex 0 0 1e12\n", 4, "below 1e9");
    refused_text("solid x\nfacet normal 0 0 1\nouter loop\nvertex 0 0 1e999\n", 4,
                 "not three numbers");
    refused_text("v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 4\n", 4, "not there");
    refused_text("v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 0\n", 4, "not there");
    refused_text("v 0 0 0\nv 1 0 0\nv 0 1 0\nf -4 2 3\n", 4, "not there");
    refused_text("v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2\n", 4, "fewer than three");
    refused_text("v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 x\n", 4, "not made of numbers");
    refused_text("v 0 0\nv 1 0 0\nv 0 1 0\n", 1, "not three numbers");
    refused_text("v 0 0 0\nv 1 0 0\nv 0 1 0\n", 0, "no triangle");
    refused_text("ply\nformat ascii 1.0\nelement vertex 3\nproperty float x\n", 5, "does not end");
    refused_text("ply\nformat ascii 1.0\nelement vertex 3\nproperty half x\nend_header\n", 4,
                 "type that is not known");
    refused_text("ply\nformat ascii 1.0\nproperty float x\nend_header\n0 0 0\n", 3,
                 "before any element");
    refused_text("ply\nformat mixed 1.0\nend_header\n0 0 0 0 0\n", 2, "neither ascii nor binary");
    refused_text("ply\nelement vertex -3\nend_header\n0 0 0\n", 2, "no count");
    refused_text(PLY("99999999", "0 0 0\n"), 3, "12 million");
    refused_text(PLY("3", "0 0 0\n1 0 0\n0 1 0\n3 0 1 3\n"), 13, "not there");
    refused_text(PLY("3", "0 0 0\n1 0 0\n0 1 0\n3 0 1 1.5\n"), 13, "not there");
    refused_text(PLY("3", "0 0 0\n1 0 0\n0 1 0\n2 0 1\n"), 13, "fewer than 3");
    refused_text(PLY("3", "0 0 0\n1 0 0\n0 1 0\n3 0 1\n"), 14, "ends before");
    refused_text(PLY("3", "0 0 0\n1 0 zero\n0 1 0\n3 0 1 2\n"), 11, "should stand a number");
    refused_text(PLY("9000000", "0 0 0\n"), 10, "ends before");
    char binary[200] = "no text here";
    memcpy(binary + 80, "\xff\xff\xff\x7f", 4);
    refused(binary, sizeof binary, "more than 4 million");
    memcpy(binary + 80, "\x64\x00\x00\x00", 4);
    refused(binary, sizeof binary, "ends before");
    memcpy(binary + 80, "\x02\x00\x00\x00", 4);
    memset(binary + 84, 0xff, 100); /* not-a-numbers */
    refused(binary, 184, "below 1e9");
}

/* Every prefix of a good file is a mesh or is refused; so is a file with any one byte changed. */
static void
cut_and_broken_files_do_no_harm(void **state)
{
    (void) state;
    Loft *l = hull_load("float-hull-A.csv");
    Faces *faces = faces_of(l, 1, TRUE);
    test_random_restart(12);
    for (MeshFormat format = MESH_STL_TEXT; format <= MESH_PLY_BINARY; format++) {
        GByteArray *bytes = write_mesh(faces, format, FALSE);
        for (size_t trial = 0; trial < 300; trial++) {
            size_t n = trial < 150 ? (size_t) test_between(0.0, bytes->len) : bytes->len;
            guint8 *copy = g_memdup2(bytes->data, n > 0 ? n : 1);
            if (trial >= 150)
                copy[(size_t) test_between(0.0, (double) n)] = (guint8) test_between(0.0, 256.0);
            MeshFault fault;
            MeshLook look;
            MeshPose pose;
            MeshHull hull;
            Mesh *mesh = mesh_parse(copy, n, &fault);
            assert_true((mesh == NULL) == (fault.why != NULL));
            if (mesh != NULL && mesh_look(mesh, &look, &fault)) {
                mesh_propose(mesh, &look, NULL, &pose);
                Validity made = mesh_hull(mesh, &look, &pose, 11, 12, &hull);
                assert_true((made == REFUSED) == (hull.fault != NULL));
                assert_true(made == REFUSED ||
                            (isfinite(hull.volume_m3) && isfinite(hull.mesh_m3)));
                mesh_hull_free(&hull);
                mesh_look_free(&look);
            }
            mesh_free(mesh);
            g_free(copy);
        }
        g_byte_array_unref(bytes);
    }
    g_array_unref(faces);
    loft_free(l);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_form_of_file_is_the_same_mesh),
        cmocka_unit_test(stations_hold_what_the_mesh_holds),
        cmocka_unit_test(the_chine_becomes_a_knuckle),
        cmocka_unit_test(all_24_ways_to_lie_in_a_file),
        cmocka_unit_test(a_scan_that_lies_askew_is_levelled),
        cmocka_unit_test(units_are_guessed_and_doubted),
        cmocka_unit_test(hints_decide),
        cmocka_unit_test(normals_are_set_right),
        cmocka_unit_test(holes_are_bridged_and_told),
        cmocka_unit_test(the_noise_of_a_scanner_does_not_matter),
        cmocka_unit_test(half_a_boat_is_mirrored),
        cmocka_unit_test(fittings_are_left_out),
        cmocka_unit_test(what_stands_above_the_deck_is_told_apart),
        cmocka_unit_test(a_lopsided_hull_is_told),
        cmocka_unit_test(edges_with_three_faces_are_told),
        cmocka_unit_test(hostile_files_are_refused_with_a_reason),
        cmocka_unit_test(cut_and_broken_files_do_no_harm),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
