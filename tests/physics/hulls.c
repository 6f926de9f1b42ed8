/* Shared hulls and the mesh they are checked against. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <glib.h>
#include <math.h>
#include <stdlib.h>

#include "hulls.h"

#include "base/csv.h"

static Loft *
new_loft(size_t stations, size_t points)
{
    Loft *loft = malloc(sizeof *loft);
    double *x = calloc(stations, sizeof *x), *y = calloc(stations * points, sizeof *y);
    double *z = calloc(stations * points, sizeof *z);
    assert_non_null(loft);
    assert_true(x != NULL && y != NULL && z != NULL);
    *loft = (Loft){stations, points, x, y, z, 0.0};
    return loft;
}

static void
put(Loft *loft, size_t i, size_t j, double x, double y, double z)
{
    ((double *) loft->x_m)[i] = x;
    ((double *) loft->y_m)[i * loft->points + j] = y;
    ((double *) loft->z_m)[i * loft->points + j] = z;
}

Loft *
hull_load(const char *file_name)
{
    g_autofree char *path = g_build_filename(CASES, file_name, NULL);
    g_autoptr(GError) error = NULL;
    g_autoptr(Csv) csv = csv_load(path, &error);
    assert_non_null(csv);
    size_t n = csv_rows(csv), points = 1;
    while (points < n && g_str_equal(csv_cell(csv, points, 0), csv_cell(csv, 0, 0)))
        points++;
    Loft *loft = new_loft(n / points, points);
    for (size_t i = 0; i < n; i++)
        put(loft, i / points, i % points, g_ascii_strtod(csv_cell(csv, i, 0), NULL),
            g_ascii_strtod(csv_cell(csv, i, 1), NULL), g_ascii_strtod(csv_cell(csv, i, 2), NULL));
    return loft;
}

Loft *
hull_box(double length, double beam, double depth)
{
    Loft *loft = new_loft(2, 3);
    for (size_t i = 0; i < 2; i++) {
        put(loft, i, 0, i * length, 0.0, 0.0);
        put(loft, i, 1, i * length, 0.5 * beam, 0.0);
        put(loft, i, 2, i * length, 0.5 * beam, depth);
    }
    return loft;
}

Loft *
hull_flared(size_t stations, size_t points)
{
    Loft *loft = new_loft(stations, points);
    for (size_t i = 0; i < stations; i++) {
        double s = 2.0 * i / (stations - 1.0) - 1.0,
               fine = 1.0 - 0.9 * s * s * (s > 0.0 ? 1.0 : 0.4);
        for (size_t j = 0; j < points; j++) {
            double t = j / (points - 1.0);
            put(loft, i, j, 15.0 * i / (stations - 1.0), 2.2 * fine * pow(sin(0.5 * M_PI * t), 0.7),
                0.3 * s * s + 2.3 * t * t * (1.0 + 0.1 * s * s));
        }
    }
    return loft;
}

Loft *
hull_wigley(double length, double beam, double draught, size_t intervals, size_t waterlines)
{
    Loft *loft = new_loft(intervals + 1, waterlines + 1);
    for (size_t i = 0; i <= intervals; i++)
        for (size_t j = 0; j <= waterlines; j++) {
            double x = 2.0 * i / intervals - 1.0, u = 1.0 - (double) j / waterlines;
            put(loft, i, j, 0.5 * length * (1.0 + x), 0.5 * beam * (1.0 - x * x) * (1.0 - u * u),
                draught * (1.0 - u));
        }
    return loft;
}

/* --- the mesh ------------------------------------------------------------------------------------------------------- */

typedef struct {
    double x, y, z; /* earth axes: along, to port, height above the water */
} P3;

typedef struct {
    double sh, ch, st, ct, depth;
    Immersed *out; /* moments in earth axes until the end */
} Mesh;

/* Rotation written out from the axes themselves, not from the formulas under test: heel about the fore-and-aft axis
 * (starboard down), then trim about the level transverse axis (bow down). */
static P3
to_earth(const Mesh *m, double x, double y, double z)
{
    double across = y * m->ch - z * m->sh, up = y * m->sh + z * m->ch;
    return (P3){x * m->ct + up * m->st, across, up * m->ct - x * m->st - m->depth};
}

static P3
cut(P3 a, P3 b)
{
    double t = a.z / (a.z - b.z);
    return (P3){a.x + t * (b.x - a.x), a.y + t * (b.y - a.y), 0.0};
}

static void
add_tetrahedron(Mesh *m, P3 a, P3 b, P3 c)
{
    double v = (a.x * (b.y * c.z - b.z * c.y) + a.y * (b.z * c.x - b.x * c.z) +
                a.z * (b.x * c.y - b.y * c.x)) /
               6.0;
    m->out->volume_m3 += v;
    m->out->x_m4 += v * (a.x + b.x + c.x) / 4.0;
    m->out->y_m4 += v * (a.y + b.y + c.y) / 4.0;
    m->out->z_m4 += v * (a.z + b.z + c.z) / 4.0;
}

/* Water plane by Green's theorem over the cut edges. */
static void
add_cut_edge(Mesh *m, P3 p, P3 q)
{
    Immersed *o = m->out;
    double cr = p.x * q.y - q.x * p.y;
    o->plane_m2 += cr / 2.0;
    o->plane_X_m3 += (p.x + q.x) * cr / 6.0;
    o->plane_Y_m3 += (p.y + q.y) * cr / 6.0;
    o->plane_XX_m4 += (p.x * p.x + p.x * q.x + q.x * q.x) * cr / 12.0;
    o->plane_YY_m4 += (p.y * p.y + p.y * q.y + q.y * q.y) * cr / 12.0;
    o->plane_XY_m4 += cr * (p.x * (2.0 * p.y + q.y) + q.x * (p.y + 2.0 * q.y)) / 24.0;
}

static void
add_triangle(Mesh *m, P3 a, P3 b, P3 c)
{
    const P3 in[3] = {a, b, c};
    P3 wet[4], edge[2];
    size_t n = 0, edges = 0;
    for (size_t i = 0; i < 3; i++) {
        P3 p = in[i], q = in[(i + 1) % 3];
        if (p.z < 0.0)
            wet[n++] = p;
        if ((p.z < 0.0) != (q.z < 0.0)) {
            P3 r = cut(p, q);
            wet[n++] = r;
            edge[edges++] = r;
            if (edges == 2 &&
                p.z < 0.0) { /* leaving: the edge runs from where it left to where it came in */
                P3 t = edge[0];
                edge[0] = edge[1];
                edge[1] = t;
            }
        }
    }
    for (size_t i = 1; i + 1 < n; i++)
        add_tetrahedron(m, wet[0], wet[i], wet[i + 1]);
    if (edges == 2)
        add_cut_edge(m, edge[0], edge[1]);
}

static P3
patch(const Mesh *m, double c[4][3], double s, double t)
{
    double r[3];
    for (int k = 0; k < 3; k++)
        r[k] = (1.0 - s) * ((1.0 - t) * c[0][k] + t * c[1][k]) +
               s * ((1.0 - t) * c[2][k] + t * c[3][k]);
    return to_earth(m, r[0], r[1], r[2]);
}

/* c: aft point, aft next point, forward point, forward next point. */
static void
add_patch(Mesh *m, double c[4][3], size_t n)
{
    for (size_t i = 0; i < n; i++)
        for (size_t j = 0; j < n; j++) {
            double s0 = (double) i / n, s1 = (i + 1.0) / n, t0 = (double) j / n, t1 = (j + 1.0) / n;
            P3 a = patch(m, c, s0, t0), b = patch(m, c, s0, t1), d = patch(m, c, s1, t0),
               e = patch(m, c, s1, t1);
            /* Which way round does not matter as long as it is the same everywhere: the sign is set at the end. */
            add_triangle(m, a, d, e);
            add_triangle(m, a, e, b);
        }
}

static void
ring(const Loft *l, size_t i, size_t j, double r[3])
{
    size_t n = l->points, k = j % (2 * n), p = k < n ? n - 1 - k : k - n;
    r[0] = l->x_m[i];
    r[1] = l->y_mid_m + (k < n ? -1.0 : 1.0) * l->y_m[i * n + p];
    r[2] = l->z_m[i * n + p];
}

/* Plane end section as a fan about its first point; the two ends face opposite ways. */
static void
add_end(Mesh *m, const Loft *l, size_t i, gboolean along)
{
    double a[3], b[3], c[3];
    ring(l, i, 0, a);
    for (size_t j = 1; j + 1 < 2 * l->points; j++) {
        ring(l, i, j, b);
        ring(l, i, j + 1, c);
        P3 pa = to_earth(m, a[0], a[1], a[2]), pb = to_earth(m, b[0], b[1], b[2]),
           pc = to_earth(m, c[0], c[1], c[2]);
        if (along)
            add_triangle(m, pa, pb, pc);
        else
            add_triangle(m, pa, pc, pb);
    }
}

void
mesh_immersed(const Loft *l, const Attitude *at, size_t n, Immersed *out)
{
    *out = (Immersed){0};
    Mesh m = {sin(at->heel_rad), cos(at->heel_rad),  sin(at->trim_rad),
              cos(at->trim_rad), at->origin_depth_m, out};
    for (size_t i = 0; i + 1 < l->stations; i++)
        for (size_t j = 0; j < 2 * l->points; j++) {
            double c[4][3];
            ring(l, i, j, c[0]);
            ring(l, i, j + 1, c[1]);
            ring(l, i + 1, j, c[2]);
            ring(l, i + 1, j + 1, c[3]);
            add_patch(&m, c, n);
        }
    add_end(&m, l, 0, TRUE);
    add_end(&m, l, l->stations - 1, FALSE);
    double *all = (double *) out;
    if (out->volume_m3 < 0.0)
        for (size_t k = 0; k < sizeof *out / sizeof(double); k++)
            all[k] = -all[k];
    if (out->plane_m2 < 0.0)
        for (double *p = &out->plane_m2; p < all + sizeof *out / sizeof(double); p++)
            *p = -*p;
    /* Back from earth to body axes: the transposed rotation. */
    double X = out->x_m4, Y = out->y_m4, up = out->z_m4 + m.depth * out->volume_m3;
    double q = X * m.st + up * m.ct;
    out->x_m4 = X * m.ct - up * m.st;
    out->y_m4 = Y * m.ch + q * m.sh;
    out->z_m4 = q * m.ch - Y * m.sh;
}

void
mesh_extrapolated(const Loft *loft, const Attitude *at, size_t n, Immersed *out)
{
    Immersed coarse, fine;
    mesh_immersed(loft, at, n, &coarse);
    mesh_immersed(loft, at, 2 * n, &fine);
    const double *a = (const double *) &coarse, *b = (const double *) &fine;
    double *o = (double *) out;
    for (size_t k = 0; k < sizeof *out / sizeof(double); k++)
        o[k] = (4.0 * b[k] - a[k]) / 3.0;
}

static unsigned long long state = 1;

void
test_random_restart(unsigned long long start)
{
    state = start;
}

double
test_random(void)
{
    state = state * 6364136223846793005ULL + 1442695040888963407ULL;
    return (double) (state >> 11) / 9007199254740992.0;
}

double
test_between(double low, double high)
{
    return low + (high - low) * test_random();
}

double
test_normal(void)
{
    return sqrt(-2.0 * log(1.0 - test_random())) * cos(2.0 * M_PI * test_random());
}

void
hull_assert_close(double a, double b, double tolerance, const char *what, const char *file,
                  int line)
{
    if (fabs(a - b) <= tolerance)
        return;
    print_error("%s is %.15g, not %.15g +- %g\n", what, a, b, tolerance);
    _fail(file, line);
}
