/* The plane over which a surface mirrors. Invariant: what has no counterpart nearby says nothing. */
#include "physics/shape/mesh_axes.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "physics/shape/shape.h"

/* Samples sorted into cubes. */
typedef struct {
    double cell, low[3];
    size_t count[3], *first; /* [cells + 1] */
    uint32_t *item;
    double (*place)[3], (*normal)[3]; /* [samples], in the boat */
} Cubes;

static size_t
cube_of(const Cubes *c, const double p[3], int k)
{
    double at = (p[k] - c->low[k]) / c->cell;
    return at <= 0.0 ? 0 : at >= (double) c->count[k] - 1.0 ? c->count[k] - 1 : (size_t) at;
}

static size_t
index_of(const Cubes *c, size_t i, size_t j, size_t k)
{
    return (k * c->count[1] + j) * c->count[0] + i;
}

static void
sort_into_cubes(Cubes *c, size_t n)
{
    size_t cells = c->count[0] * c->count[1] * c->count[2];
    c->first = shape_reserve(cells + 2, sizeof *c->first);
    c->item = shape_reserve(n, sizeof *c->item);
    for (int pass = 0; pass < 2; pass++) {
        for (size_t i = 0; i < n; i++) {
            const double *p = c->place[i];
            size_t at = index_of(c, cube_of(c, p, 0), cube_of(c, p, 1), cube_of(c, p, 2));
            if (pass == 0)
                c->first[at + 2]++;
            else
                c->item[c->first[at + 1]++] = (uint32_t) i;
        }
        for (size_t k = 2; pass == 0 && k < cells + 2; k++)
            c->first[k] += c->first[k - 1];
    }
}

static Cubes
cubes_of(const MeshSamples *samples, const MeshPose *pose)
{
    Cubes c = {.place = shape_reserve(samples->n, sizeof *c.place),
               .normal = shape_reserve(samples->n, sizeof *c.normal)};
    double high[3] = {-INFINITY, -INFINITY, -INFINITY};
    c.low[0] = c.low[1] = c.low[2] = INFINITY;
    for (size_t i = 0; i < samples->n; i++) {
        const MeshSample *s = &samples->sample[i];
        mesh_place(pose, s->place, c.place[i]);
        for (int k = 0; k < 3; k++) {
            c.normal[i][k] = pose->turn[k][0] * s->normal[0] + pose->turn[k][1] * s->normal[1] +
                             pose->turn[k][2] * s->normal[2];
            c.low[k] = fmin(c.low[k], c.place[i][k]);
            high[k] = fmax(high[k], c.place[i][k]);
        }
    }
    double area = samples->area * pose->unit_m * pose->unit_m;
    double size = fmax(high[0] - c.low[0], fmax(high[1] - c.low[1], high[2] - c.low[2]));
    c.cell = fmax(2.0 * sqrt(area / (double) samples->n), size / 200.0);
    for (int k = 0; k < 3; k++)
        c.count[k] = (size_t) fmin(256.0, ceil((high[k] - c.low[k]) / c.cell) + 1.0);
    sort_into_cubes(&c, samples->n);
    return c;
}

static void
cubes_free(Cubes *c)
{
    free(c->first);
    free(c->item);
    free(c->place);
    free(c->normal);
}

/* Nearest sample within one cube's side that faces much the same way; SIZE_MAX without one. On a
 * surface a cube holds a handful; of a tangle that crowds into few cubes not all are looked at. */
static size_t
nearest(const Cubes *c, const double p[3], const double normal[3])
{
    enum { EACH_CUBE = 12 };
    size_t at[3], best = SIZE_MAX;
    double least = c->cell * c->cell;
    for (int k = 0; k < 3; k++)
        at[k] = cube_of(c, p, k);
    for (size_t i = at[0] > 0 ? at[0] - 1 : 0; i <= at[0] + 1 && i < c->count[0]; i++)
        for (size_t j = at[1] > 0 ? at[1] - 1 : 0; j <= at[1] + 1 && j < c->count[1]; j++)
            for (size_t k = at[2] > 0 ? at[2] - 1 : 0; k <= at[2] + 1 && k < c->count[2]; k++) {
                size_t cube = index_of(c, i, j, k);
                size_t end = c->first[cube + 1];
                for (size_t m = c->first[cube]; m < end && m < c->first[cube] + EACH_CUBE; m++) {
                    const double *q = c->place[c->item[m]], *n = c->normal[c->item[m]];
                    double far = (p[0] - q[0]) * (p[0] - q[0]) + (p[1] - q[1]) * (p[1] - q[1]) +
                                 (p[2] - q[2]) * (p[2] - q[2]);
                    if (far < least &&
                        n[0] * normal[0] + n[1] * normal[1] + n[2] * normal[2] > 0.8) {
                        least = far;
                        best = c->item[m];
                    }
                }
            }
    return best;
}

static bool
solve3(double m[3][4])
{
    for (int k = 0; k < 3; k++) {
        int pivot = k;
        for (int i = k + 1; i < 3; i++)
            if (fabs(m[i][k]) > fabs(m[pivot][k]))
                pivot = i;
        if (!(fabs(m[pivot][k]) > 1e-9))
            return false;
        for (int j = 0; j < 4; j++) {
            double kept = m[k][j];
            m[k][j] = m[pivot][j];
            m[pivot][j] = kept;
        }
        for (int i = 0; i < 3; i++)
            for (int j = 3; i != k && j >= k; j--)
                m[i][j] -= m[i][k] / m[k][k] * m[k][j];
    }
    for (int k = 0; k < 3; k++)
        m[k][3] /= m[k][k];
    return true;
}

/* Mirrored over y = a + b x + c z a point moves, beyond y -> -y, by (2 b y, 2 a + 2 b x + 2 c z,
 * 2 c y): least squares of its distance from the tangent plane of its counterpart (point to plane,
 * Chen and Medioni 1992). */
bool
mesh_mirror_plane(const MeshSamples *samples, const MeshPose *pose, double plane[3])
{
    enum { EACH = 4, FEWEST = 500 };
    Cubes c = cubes_of(samples, pose);
    double m[3][4] = {{0.0}}, mid_x = 0.0, mid_z = 0.0;
    size_t used = 0;
    for (size_t i = 0; i < samples->n; i++) {
        mid_x += c.place[i][0] / (double) samples->n;
        mid_z += c.place[i][2] / (double) samples->n;
    }
    for (size_t i = 0; i < samples->n; i += EACH) {
        const double *p = c.place[i], *n = c.normal[i];
        const double image[3] = {p[0], -p[1], p[2]}, facing[3] = {n[0], -n[1], n[2]};
        size_t found = nearest(&c, image, facing);
        if (found == SIZE_MAX)
            continue;
        const double *q = c.place[found], *f = c.normal[found];
        double x = p[0] - mid_x, z = p[2] - mid_z;
        const double row[4] = {
            2.0 * f[1], 2.0 * (f[0] * p[1] + f[1] * x), 2.0 * (f[2] * p[1] + f[1] * z),
            -(f[0] * (image[0] - q[0]) + f[1] * (image[1] - q[1]) + f[2] * (image[2] - q[2]))};
        for (int k = 0; k < 3; k++)
            for (int l = 0; l < 4; l++)
                m[k][l] += row[k] * row[l];
        used++;
    }
    cubes_free(&c);
    if (used < FEWEST || !solve3(m))
        return false;
    plane[0] = m[0][3] - m[1][3] * mid_x - m[2][3] * mid_z;
    plane[1] = m[1][3];
    plane[2] = m[2][3];
    return true;
}
