/* Pieces, normals and holes of a mesh. Invariant: after mesh_look every triangle faces the way its
 * neighbours do, and each piece that encloses something faces outward. */
#include "physics/shape/mesh_parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "physics/shape/shape.h"

/* A half edge seen from the lower of its vertices. */
typedef struct {
    uint32_t far, half;
} Spoke;

static uint32_t
from_of(const Mesh *mesh, size_t half)
{
    return mesh->corner[half];
}

static uint32_t
to_of(const Mesh *mesh, size_t half)
{
    return mesh->corner[half - half % 3 + (half + 1) % 3];
}

static int
by_far(const void *a, const void *b)
{
    const Spoke *p = a, *q = b;
    if (p->far != q->far)
        return p->far < q->far ? -1 : 1;
    return p->half < q->half ? -1 : p->half > q->half;
}

/* A vertex has six spokes or so; a hub of thousands must not cost their square. */
static void
sort_spokes(Spoke *spoke, size_t n)
{
    if (n > 24) {
        qsort(spoke, n, sizeof *spoke, by_far);
        return;
    }
    for (size_t i = 1; i < n; i++) {
        Spoke moving = spoke[i];
        size_t k = i;
        for (; k > 0 && by_far(&spoke[k - 1], &moving) > 0; k--)
            spoke[k] = spoke[k - 1];
        spoke[k] = moving;
    }
}

static void
pair_spokes(MeshWork *w, const Spoke *spoke, size_t n)
{
    for (size_t i = 0, next; i < n; i = next) {
        for (next = i + 1; next < n && spoke[next].far == spoke[i].far; next++)
            ;
        if (next - i == 2) {
            w->twin[spoke[i].half] = spoke[i + 1].half;
            w->twin[spoke[i + 1].half] = spoke[i].half;
        } else if (next - i == 1) {
            w->look->open_edges++;
        } else {
            w->look->many_edges++;
            for (size_t k = i; k < next; k++)
                w->twin[spoke[k].half] = MESH_MANY;
        }
    }
}

/* All half edges at the lower of their two vertices. */
static void
find_twins(MeshWork *w)
{
    const Mesh *mesh = w->mesh;
    size_t halves = 3 * mesh->triangles;
    uint32_t *start = shape_reserve(mesh->vertices + 2, sizeof *start);
    Spoke *spoke = shape_reserve(halves, sizeof *spoke);
    for (size_t h = 0; h < halves; h++) {
        uint32_t a = from_of(mesh, h), b = to_of(mesh, h);
        start[(a < b ? a : b) + 2]++;
    }
    for (size_t v = 2; v < mesh->vertices + 2; v++)
        start[v] += start[v - 1];
    for (size_t h = 0; h < halves; h++) {
        uint32_t a = from_of(mesh, h), b = to_of(mesh, h);
        spoke[start[(a < b ? a : b) + 1]++] = (Spoke){a < b ? b : a, (uint32_t) h};
    }
    memset(w->twin, 0xff, halves * sizeof *w->twin);
    for (size_t v = 0; v < mesh->vertices; v++) {
        sort_spokes(spoke + start[v], start[v + 1] - start[v]);
        pair_spokes(w, spoke + start[v], start[v + 1] - start[v]);
    }
    free(start);
    free(spoke);
}

static void
set_flip(MeshWork *w, size_t triangle, bool on)
{
    if (on)
        w->flip[triangle / 32] |= 1U << (triangle % 32);
}

/* Twins that run the same way belong to triangles that face opposite ways. */
static void
spread_normals(MeshWork *w)
{
    const Mesh *mesh = w->mesh;
    uint32_t *queue = shape_reserve(mesh->triangles, sizeof *queue);
    char *seen = shape_reserve(mesh->triangles, 1);
    for (size_t first = 0; first < mesh->triangles; first++) {
        size_t head = 0, tail = 0;
        if (seen[first])
            continue;
        seen[first] = 1;
        queue[tail++] = (uint32_t) first;
        while (head < tail) {
            size_t t = queue[head++];
            for (size_t h = 3 * t; h < 3 * t + 3; h++) {
                uint32_t twin = w->twin[h];
                if (twin >= MESH_MANY || seen[twin / 3])
                    continue;
                seen[twin / 3] = 1;
                bool same_way = from_of(mesh, h) == from_of(mesh, twin);
                set_flip(w, twin / 3, mesh_is_flipped(w, t) != same_way);
                w->look->turned += same_way;
                queue[tail++] = twin / 3;
            }
        }
    }
    free(queue);
    free(seen);
}

static int
by_first(const void *a, const void *b)
{
    const uint32_t *p = a, *q = b;
    return p[0] < q[0] ? -1 : p[0] > q[0];
}

/* First edge that starts at v, or n. */
static size_t
first_from(const uint32_t *edge, size_t n, uint32_t v)
{
    size_t low = 0, high = n;
    while (low < high) {
        size_t mid = low + (high - low) / 2;
        if (edge[2 * mid] < v)
            low = mid + 1;
        else
            high = mid;
    }
    return low < n && edge[2 * low] == v ? low : n;
}

/* Next edge from v that was not followed yet; passed[] remembers how far a group is used up. */
static size_t
next_from(const uint32_t *edge, size_t n, uint32_t v, const char *used, uint32_t *passed)
{
    size_t group = first_from(edge, n, v), at = group;
    if (group == n)
        return n;
    for (at += passed[group]; at < n && edge[2 * at] == v && used[at]; at++)
        passed[group]++;
    return at < n && edge[2 * at] == v ? at : n;
}

static double
distance(const double *p, const double *q)
{
    return sqrt((p[0] - q[0]) * (p[0] - q[0]) + (p[1] - q[1]) * (p[1] - q[1]) +
                (p[2] - q[2]) * (p[2] - q[2]));
}

static MeshHole *
add_hole(MeshLook *look)
{
    size_t n = look->holes++;
    if ((n & (n - 1)) == 0) { /* room for twice as many at every power of two */
        look->hole = realloc(look->hole, (n > 0 ? 2 * n : 1) * sizeof *look->hole);
        if (look->hole == NULL)
            abort();
    }
    look->hole[n] = (MeshHole){.first = look->rims};
    return &look->hole[n];
}

/* Rims of open edges, followed against the half edges, so that a fan over them closes the piece. */
static void
follow_rims(const MeshWork *w, const uint32_t *edge, size_t n, MeshLook *look)
{
    char *used = shape_reserve(n, 1);
    uint32_t *passed = shape_reserve(n, sizeof *passed);
    look->rim = shape_reserve(n, sizeof *look->rim);
    for (size_t first = 0; first < n; first++) {
        if (used[first])
            continue;
        MeshHole *hole = add_hole(look);
        for (size_t at = first; at < n;) {
            const uint32_t *e = edge + 2 * at;
            used[at] = 1;
            look->rim[look->rims++] = e[0];
            hole->n++;
            hole->length += distance(mesh_at(w->mesh, e[0]), mesh_at(w->mesh, e[1]));
            at = next_from(edge, n, e[1], used, passed);
        }
    }
    free(used);
    free(passed);
}

static void
find_rims(const MeshWork *w)
{
    MeshLook *look = w->look;
    uint32_t *edge = shape_reserve(2 * look->open_edges, sizeof *edge);
    size_t n = 0;
    for (size_t h = 0; h < 3 * w->mesh->triangles; h++) {
        if (w->twin[h] != MESH_NONE)
            continue;
        bool flipped = mesh_is_flipped(w, h / 3);
        edge[2 * n] = flipped ? from_of(w->mesh, h) : to_of(w->mesh, h);
        edge[2 * n + 1] = flipped ? to_of(w->mesh, h) : from_of(w->mesh, h);
        n++;
    }
    qsort(edge, n, 2 * sizeof *edge, by_first);
    follow_rims(w, edge, n, look);
    free(edge);
}

bool
mesh_look(Mesh *mesh, MeshLook *look, MeshFault *fault)
{
    *look = (MeshLook){0};
    *fault = (MeshFault){0};
    MeshWork w = {.mesh = mesh, .look = look};
    w.twin = shape_reserve(3 * mesh->triangles, sizeof *w.twin);
    w.flip = shape_reserve(mesh->triangles / 32 + 1, sizeof *w.flip);
    look->shell_of = shape_reserve(mesh->triangles, sizeof *look->shell_of);
    find_twins(&w);
    spread_normals(&w);
    find_rims(&w);
    if (!mesh_shells(&w)) {
        fault->why = "its triangles are not joined: it falls into more than 100 000 pieces";
        mesh_look_free(look);
    }
    free(w.twin);
    free(w.flip);
    return fault->why == NULL;
}

void
mesh_look_free(MeshLook *look)
{
    free(look->shell_of);
    free(look->hole);
    free(look->rim);
    *look = (MeshLook){0};
}
