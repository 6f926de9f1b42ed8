/* Points spread evenly over a surface, whatever the size of its triangles. Invariant: the same mesh
 * gives the same points. */
#include "physics/shape/mesh_parts.h"

#include <math.h>
#include <stdlib.h>

#include "physics/shape/shape.h"

enum { SAMPLES = 40000 };

/* Normal whose length is twice the area. */
static double
normal_of(const Mesh *mesh, size_t t, double n[3])
{
    const double *p = mesh_at(mesh, mesh->corner[3 * t]);
    const double *q = mesh_at(mesh, mesh->corner[3 * t + 1]);
    const double *r = mesh_at(mesh, mesh->corner[3 * t + 2]);
    for (int k = 0; k < 3; k++) {
        int a = (k + 1) % 3, b = (k + 2) % 3;
        n[k] = (q[a] - p[a]) * (r[b] - p[b]) - (q[b] - p[b]) * (r[a] - p[a]);
    }
    return sqrt(n[0] * n[0] + n[1] * n[1] + n[2] * n[2]);
}

/* Low-discrepancy points of the unit square (M. Roberts 2018: steps by the plastic number), folded
 * into the triangle. */
static void
put_sample(const Mesh *mesh, size_t t, const double n[3], double twice, MeshSamples *out)
{
    double number = (double) (out->n + 1);
    double u = 0.5 + number * 0.7548776662466927;
    double v = 0.5 + number * 0.5698402909980532;
    u -= floor(u);
    v -= floor(v);
    if (u + v > 1.0) {
        u = 1.0 - u;
        v = 1.0 - v;
    }
    MeshSample *s = &out->sample[out->n++];
    for (int k = 0; k < 3; k++) {
        double p = mesh_at(mesh, mesh->corner[3 * t])[k];
        s->place[k] = p + u * (mesh_at(mesh, mesh->corner[3 * t + 1])[k] - p) +
                      v * (mesh_at(mesh, mesh->corner[3 * t + 2])[k] - p);
        s->normal[k] = n[k] / twice;
    }
}

MeshSamples
mesh_samples(const Mesh *mesh, const MeshLook *look)
{
    MeshSamples out = {0};
    double n[3], passed = 0.0;
    out.kept = shape_reserve(mesh->vertices, 1);
    for (size_t t = 0; t < mesh->triangles; t++)
        if (mesh_is_kept(look, t)) {
            out.area += 0.5 * normal_of(mesh, t, n);
            for (size_t k = 0; k < 3; k++)
                out.kept[mesh->corner[3 * t + k]] = 1;
        }
    out.sample = shape_reserve(SAMPLES, sizeof *out.sample);
    double step = out.area / SAMPLES;
    for (size_t t = 0; t < mesh->triangles && step > 0.0; t++) {
        if (!mesh_is_kept(look, t))
            continue;
        double twice = normal_of(mesh, t, n);
        passed += 0.5 * twice;
        while (out.n < SAMPLES && passed >= ((double) out.n + 0.5) * step)
            put_sample(mesh, t, n, twice, &out);
    }
    return out;
}

void
mesh_samples_free(MeshSamples *samples)
{
    free(samples->sample);
    free(samples->kept);
}

void
mesh_box(const Mesh *mesh, const MeshSamples *samples, double axes[3][3], double low[3],
         double high[3])
{
    for (int k = 0; k < 3; k++) {
        low[k] = INFINITY;
        high[k] = -INFINITY;
    }
    for (size_t v = 0; v < mesh->vertices; v++) {
        if (!samples->kept[v])
            continue;
        const double *p = mesh->vertex + 3 * v;
        for (int k = 0; k < 3; k++) {
            double at = axes[k][0] * p[0] + axes[k][1] * p[1] + axes[k][2] * p[2];
            low[k] = at < low[k] ? at : low[k];
            high[k] = at > high[k] ? at : high[k];
        }
    }
}
