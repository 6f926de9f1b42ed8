/* Pieces of a mesh, and which of them is the hull. Invariant: pieces are told by falling area, and
 * every triangle knows its piece. */
#include "physics/shape/mesh_parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "physics/shape/shape.h"

static uint32_t
root_of(uint32_t *parent, uint32_t v)
{
    while (parent[v] != v) {
        parent[v] = parent[parent[v]];
        v = parent[v];
    }
    return v;
}

/* Number of the piece of every vertex; vertices of no triangle have none. */
static uint32_t *
number_pieces(const Mesh *mesh, size_t *pieces)
{
    uint32_t *parent = shape_reserve(mesh->vertices, sizeof *parent);
    for (size_t v = 0; v < mesh->vertices; v++)
        parent[v] = (uint32_t) v;
    for (size_t h = 0; h < 3 * mesh->triangles; h++) {
        uint32_t a = root_of(parent, mesh->corner[h - h % 3]);
        uint32_t b = root_of(parent, mesh->corner[h]);
        parent[a < b ? b : a] = a < b ? a : b;
    }
    uint32_t *number = shape_reserve(mesh->vertices, sizeof *number);
    memset(number, 0xff, mesh->vertices * sizeof *number);
    *pieces = 0;
    for (size_t h = 0; h < 3 * mesh->triangles; h++) {
        uint32_t root = root_of(parent, mesh->corner[h]);
        if (number[root] == MESH_NONE)
            number[root] = (uint32_t) (*pieces)++;
        number[mesh->corner[h]] = number[root];
    }
    free(parent);
    return number;
}

static void
add_corner(MeshShell *s, const double *p)
{
    bool first = s->area < 0.0;
    for (int k = 0; k < 3; k++) {
        s->low[k] = first ? p[k] : fmin(s->low[k], p[k]);
        s->high[k] = first ? p[k] : fmax(s->high[k], p[k]);
    }
    s->area = fmax(s->area, 0.0);
}

static void
across(const double *from, const double *a, const double *b, double out[3])
{
    double u[3], v[3];
    for (int k = 0; k < 3; k++) {
        u[k] = a[k] - from[k];
        v[k] = b[k] - from[k];
    }
    out[0] = u[1] * v[2] - u[2] * v[1];
    out[1] = u[2] * v[0] - u[0] * v[2];
    out[2] = u[0] * v[1] - u[1] * v[0];
}

/* Six times the volume between a triangle and a point; the point keeps digits where the file counts
 * from far away. */
static double
six_volumes(const double *p, const double *q, const double *r, const double *from)
{
    double n[3];
    across(p, q, r, n);
    return n[0] * (p[0] - from[0]) + n[1] * (p[1] - from[1]) + n[2] * (p[2] - from[2]);
}

static void
measure(const MeshWork *w, MeshShell *shell, const uint32_t *number)
{
    const Mesh *mesh = w->mesh;
    for (size_t t = 0; t < mesh->triangles; t++) {
        const uint32_t *c = mesh->corner + 3 * t;
        MeshShell *s = &shell[number[c[0]]];
        double n[3];
        for (int k = 0; k < 3; k++)
            add_corner(s, mesh_at(mesh, c[k]));
        across(mesh_at(mesh, c[0]), mesh_at(mesh, c[1]), mesh_at(mesh, c[2]), n);
        s->area += 0.5 * sqrt(n[0] * n[0] + n[1] * n[1] + n[2] * n[2]);
        s->triangles++;
        for (size_t h = 3 * t; h < 3 * t + 3; h++)
            s->open_edges += w->twin[h] == MESH_NONE;
    }
}

static void
close_hole(const Mesh *mesh, const uint32_t *rim, size_t n, MeshShell *s)
{
    double middle[3] = {0.0, 0.0, 0.0};
    for (size_t k = 0; k < n; k++)
        for (int j = 0; j < 3; j++)
            middle[j] += mesh_at(mesh, rim[k])[j] / (double) n;
    for (size_t k = 0; k < n; k++)
        s->volume +=
            six_volumes(middle, mesh_at(mesh, rim[k]), mesh_at(mesh, rim[(k + 1) % n]), s->low) /
            6.0;
}

static void
enclose(const MeshWork *w, MeshShell *shell, const uint32_t *number)
{
    const Mesh *mesh = w->mesh;
    for (size_t t = 0; t < mesh->triangles; t++) {
        const uint32_t *c = mesh->corner + 3 * t;
        MeshShell *s = &shell[number[c[0]]];
        double six =
            six_volumes(mesh_at(mesh, c[0]), mesh_at(mesh, c[1]), mesh_at(mesh, c[2]), s->low);
        s->volume += (mesh_is_flipped(w, t) ? -six : six) / 6.0;
    }
    for (size_t i = 0; i < w->look->holes; i++) {
        const MeshHole *hole = &w->look->hole[i];
        const uint32_t *rim = w->look->rim + hole->first;
        close_hole(mesh, rim, hole->n, &shell[number[rim[0]]]);
    }
    for (size_t i = 0; i < w->look->shells; i++) {
        shell[i].inside_out = shell[i].volume < 0.0;
        shell[i].volume = fabs(shell[i].volume);
    }
}

static void
turn_triangle(Mesh *mesh, size_t t)
{
    uint32_t *c = mesh->corner + 3 * t, kept = c[1];
    c[1] = c[2];
    c[2] = kept;
}

static void
face_outward(MeshWork *w, const MeshShell *shell, const uint32_t *number)
{
    MeshLook *look = w->look;
    for (size_t t = 0; t < w->mesh->triangles; t++)
        if (mesh_is_flipped(w, t) != shell[number[w->mesh->corner[3 * t]]].inside_out)
            turn_triangle(w->mesh, t);
    for (size_t i = 0; i < look->holes; i++) {
        uint32_t *rim = look->rim + look->hole[i].first;
        size_t n = look->hole[i].n;
        for (size_t k = 0; k < n / 2 && shell[number[rim[0]]].inside_out; k++) {
            uint32_t kept = rim[k];
            rim[k] = rim[n - 1 - k];
            rim[n - 1 - k] = kept;
        }
    }
}

typedef struct {
    double area;
    uint32_t shell;
} Order;

static int
larger_area(const void *a, const void *b)
{
    const Order *p = a, *q = b;
    if (p->area != q->area)
        return p->area > q->area ? -1 : 1;
    return p->shell < q->shell ? -1 : p->shell > q->shell;
}

static void
tell_largest(MeshWork *w, const MeshShell *shell, const uint32_t *number)
{
    MeshLook *look = w->look;
    Order *order = shape_reserve(look->shells, sizeof *order);
    uint32_t *rank = shape_reserve(look->shells, sizeof *rank);
    for (size_t i = 0; i < look->shells; i++)
        order[i] = (Order){shell[i].area, (uint32_t) i};
    qsort(order, look->shells, sizeof *order, larger_area);
    look->told = look->shells < MESH_SHELLS_TOLD ? look->shells : MESH_SHELLS_TOLD;
    for (size_t i = 0; i < look->shells; i++)
        rank[order[i].shell] = (uint32_t) i;
    for (size_t i = 0; i < look->told; i++)
        look->shell[i] = shell[order[i].shell];
    for (size_t t = 0; t < w->mesh->triangles; t++)
        look->shell_of[t] = rank[number[w->mesh->corner[3 * t]]];
    for (size_t i = 0; i < look->holes; i++)
        look->hole[i].shell = rank[number[look->rim[look->hole[i].first]]];
    free(order);
    free(rank);
}

static double
diagonal(const MeshShell *s)
{
    return hypot(hypot(s->high[0] - s->low[0], s->high[1] - s->low[1]), s->high[2] - s->low[2]);
}

static bool
is_inside(const MeshShell *s, const MeshShell *of)
{
    for (int k = 0; k < 3; k++)
        if (s->low[k] < of->low[k] || s->high[k] > of->high[k])
            return false;
    return true;
}

/* The largest piece is the hull; sheets that were never joined to it may be the rest of it.
 * Judgement of this project. */
static void
choose_hull(MeshLook *look)
{
    MeshShell *hull = &look->shell[0];
    hull->kept = true;
    hull->because = "largest surface: the hull";
    for (size_t i = 1; i < look->told; i++) {
        MeshShell *s = &look->shell[i];
        if (s->open_edges > 0 && hull->open_edges > 0 && diagonal(s) >= 0.1 * diagonal(hull)) {
            s->kept = true;
            s->because = "an open sheet beside an open hull: taken as part of it";
        } else if (is_inside(s, hull)) {
            s->because = "inside the hull: left out";
        } else {
            s->because = "small, or closed by itself: a fitting, left out";
        }
    }
}

bool
mesh_shells(MeshWork *work)
{
    MeshLook *look = work->look;
    uint32_t *number = number_pieces(work->mesh, &look->shells);
    if (look->shells > MESH_PIECES_MOST) {
        free(number);
        return false;
    }
    MeshShell *shell = shape_reserve(look->shells, sizeof *shell);
    for (size_t i = 0; i < look->shells; i++)
        shell[i].area = -1.0; /* no corner yet */
    measure(work, shell, number);
    enclose(work, shell, number);
    face_outward(work, shell, number);
    tell_largest(work, shell, number);
    choose_hull(look);
    free(shell);
    free(number);
    return true;
}
