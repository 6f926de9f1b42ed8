/* Outlines where a plane cuts a mesh. Invariant: every cut line belongs to exactly one outline. */
#include "physics/shape/mesh_chain.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { LINES_MOST = 1000000, ENDS_MOST = 1000 };

/* An end of a cut line lies on an edge of the mesh, which both its triangles share. */
typedef struct {
    uint64_t edge;
    uint32_t end; /* 2 * line + side */
} End;

typedef struct {
    size_t lines, room;
    Spot *spot;     /* [2 * lines] */
    End *end;       /* [2 * lines] */
    uint32_t *mate; /* [2 * lines]: the end joined to it, or NONE */
} Cut;

static int
by_edge(const void *a, const void *b)
{
    const End *p = a, *q = b;
    if (p->edge != q->edge)
        return p->edge < q->edge ? -1 : 1;
    return p->end < q->end ? -1 : p->end > q->end;
}

static Spot
crossing(const Placed *placed, double x, uint32_t a, uint32_t b, uint64_t *edge)
{
    uint32_t low = a < b ? a : b, high = a < b ? b : a; /* the same spot from both triangles */
    const double *p = placed->place + 3 * (size_t) low, *q = placed->place + 3 * (size_t) high;
    double t = (x - p[0]) / (q[0] - p[0]);
    *edge = (uint64_t) low << 32 | high;
    return (Spot){p[1] + t * (q[1] - p[1]), p[2] + t * (q[2] - p[2])};
}

/* A vertex in the plane counts as forward of it, so every triangle is cut twice or not at all. The
 * line runs with the triangle's normal to its right, seen from forward. */
static bool
cut_triangle(const Placed *placed, double x, size_t t, Cut *cut)
{
    const uint32_t *c = placed->mesh->corner + 3 * t;
    bool ahead[3];
    for (int k = 0; k < 3; k++)
        ahead[k] = placed->place[3 * (size_t) c[k]] >= x;
    if (ahead[0] == ahead[1] && ahead[1] == ahead[2])
        return true;
    if (cut->lines == LINES_MOST)
        return false;
    if (cut->lines == cut->room) {
        cut->room = 2 * cut->room + 1024;
        cut->spot = realloc(cut->spot, 2 * cut->room * sizeof *cut->spot);
        cut->end = realloc(cut->end, 2 * cut->room * sizeof *cut->end);
        if (cut->spot == NULL || cut->end == NULL)
            abort();
    }
    for (int k = 0; k < 3; k++) {
        int next = (k + 1) % 3;
        if (ahead[k] == ahead[next])
            continue;
        size_t at = 2 * cut->lines + (ahead[k] ? 0 : 1);
        cut->spot[at] = crossing(placed, x, c[k], c[next], &cut->end[at].edge);
        cut->end[at].end = (uint32_t) at;
    }
    cut->lines++;
    return true;
}

static void
mate_by_edges(Cut *cut)
{
    size_t n = 2 * cut->lines;
    cut->mate = shape_reserve(n, sizeof *cut->mate);
    memset(cut->mate, 0xff, n * sizeof *cut->mate);
    qsort(cut->end, n, sizeof *cut->end, by_edge);
    for (size_t i = 0; i + 1 < n; i++)
        if (cut->end[i].edge == cut->end[i + 1].edge) {
            cut->mate[cut->end[i].end] = cut->end[i + 1].end;
            cut->mate[cut->end[i + 1].end] = cut->end[i].end;
            i++;
        }
}

/* The other end of the outline that begins at a free end. */
static uint32_t
far_end(const Cut *cut, uint32_t end)
{
    for (;;) {
        uint32_t other = end ^ 1U;
        if (cut->mate[other] == MESH_NONE)
            return other;
        end = cut->mate[other];
    }
}

typedef struct {
    double gap;
    uint32_t a, b; /* places in the list of free ends */
} Bridge;

static int
by_gap(const void *a, const void *b)
{
    const Bridge *p = a, *q = b;
    if (p->gap != q->gap)
        return p->gap < q->gap ? -1 : 1;
    return p->a != q->a ? (p->a < q->a ? -1 : 1) : p->b < q->b ? -1 : p->b > q->b;
}

/* The two sides of an open deck, or of a bottom open along the keel: no hole, the halves end there. */
static bool
is_deck(const Cut *cut, uint32_t a, uint32_t b)
{
    if (far_end(cut, a) != b)
        return false;
    const Spot *p = &cut->spot[a], *q = &cut->spot[b];
    return (p->y < 0.0) != (q->y < 0.0) && fabs(p->z - q->z) < 0.35 * fabs(p->y - q->y);
}

/* The nearest free ends are joined first. */
static void
bridge_gaps(Cut *cut, double gap_m, Chains *chains)
{
    uint32_t *freed = shape_reserve(ENDS_MOST, sizeof *freed);
    size_t n = 0, bridges = 0, room = 0;
    for (uint32_t e = 0; e < 2 * cut->lines && n < ENDS_MOST; e++)
        if (cut->mate[e] == MESH_NONE)
            freed[n++] = e;
    Bridge *bridge = NULL;
    for (size_t i = 0; n < ENDS_MOST && i < n; i++)
        for (size_t k = i + 1; k < n; k++) {
            Spot p = cut->spot[freed[i]], q = cut->spot[freed[k]];
            double gap = hypot(p.y - q.y, p.z - q.z);
            if (gap > gap_m)
                continue;
            if (bridges == room) {
                room = 2 * room + 64;
                bridge = realloc(bridge, room * sizeof *bridge);
                if (bridge == NULL)
                    abort();
            }
            bridge[bridges++] = (Bridge){gap, (uint32_t) i, (uint32_t) k};
        }
    if (bridges > 0)
        qsort(bridge, bridges, sizeof *bridge, by_gap);
    for (size_t i = 0; i < bridges; i++) {
        uint32_t a = freed[bridge[i].a], b = freed[bridge[i].b];
        if (cut->mate[a] != MESH_NONE || cut->mate[b] != MESH_NONE || is_deck(cut, a, b))
            continue;
        cut->mate[a] = b;
        cut->mate[b] = a;
        chains->gaps++;
        chains->widest_gap = fmax(chains->widest_gap, bridge[i].gap);
    }
    free(bridge);
    free(freed);
}

static void
follow(const Cut *cut, uint32_t from, char *used, Spot *spots, Chain *chain)
{
    uint32_t end = from;
    chain->spot = spots;
    for (;;) {
        used[end / 2] = 1;
        spots[chain->n++] = cut->spot[end];
        uint32_t other = end ^ 1U, next = cut->mate[other];
        if (next == MESH_NONE) {
            spots[chain->n++] = cut->spot[other];
            return;
        }
        if (used[next / 2]) {
            spots[chain->n++] = cut->spot[other];
            chain->closed = next == from;
            return;
        }
        end = next;
        Spot here = cut->spot[other], there = cut->spot[next];
        if (here.y != there.y || here.z != there.z) /* a bridge */
            spots[chain->n++] = here;
    }
}

static void
follow_all(const Cut *cut, Chains *chains)
{
    char *used = shape_reserve(cut->lines, 1);
    chains->chain = shape_reserve(cut->lines, sizeof *chains->chain);
    chains->spots = shape_reserve(2 * cut->lines + 2, sizeof *chains->spots);
    Spot *room = chains->spots;
    for (int loops = 0; loops < 2; loops++)
        for (uint32_t e = 0; e < 2 * cut->lines; e++) {
            if (used[e / 2] || (!loops && cut->mate[e] != MESH_NONE))
                continue;
            Chain *chain = &chains->chain[chains->n++];
            follow(cut, e, used, room, chain);
            room += chain->n;
        }
    free(used);
}

/* Every line, run the way its triangle faces; an open outline is closed straight, half a boat along
 * her middle. */
static double
area_of(const Cut *cut, bool half)
{
    double twice = 0.0;
    for (size_t i = 0; i < 2 * cut->lines; i += 2) {
        const Spot *p = &cut->spot[i], *q = p + 1;
        twice += p->y * q->z - q->y * p->z;
    }
    for (uint32_t e = 1; e < 2 * cut->lines;
         e += 2) { /* bridges and closures start where lines end */
        uint32_t mate = cut->mate[e];
        bool closure = mate == MESH_NONE;
        if (closure)
            mate = far_end(cut, e);
        const Spot *p = &cut->spot[e], *q = &cut->spot[mate];
        if (mate % 2 == 0)
            twice += closure && half ? p->y * p->z - q->y * q->z : p->y * q->z - q->y * p->z;
    }
    return 0.5 * twice;
}

bool
chains_cut(const Placed *placed, double x_m, size_t n, const uint32_t triangle[], bool half,
           Chains *chains)
{
    *chains = (Chains){0};
    Cut cut = {0};
    bool good = true;
    for (size_t i = 0; good && i < n; i++)
        good = cut_triangle(placed, x_m, triangle[i], &cut);
    if (good && cut.lines > 0) {
        mate_by_edges(&cut);
        bridge_gaps(&cut, placed->gap_m, chains);
        follow_all(&cut, chains);
        chains->area = fabs(area_of(&cut, half));
    }
    free(cut.spot);
    free(cut.end);
    free(cut.mate);
    return good;
}

void
chains_free(Chains *chains)
{
    free(chains->chain);
    free(chains->spots);
    *chains = (Chains){0};
}
