/* A mesh sliced into stations, and its volume. Invariant: what the stations leave out of the mesh is
 * told: pieces, what stands above the deck, what was bridged. */
#include "physics/shape/mesh_chain.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "physics/domain.h"

const Method mesh_volume_method = {"volume of a closed mesh whose triangles face outward",
                                   "V = sum(dot(a, cross(b, c))) / 6",
                                   {"divergence theorem", STANDING_DERIVED}};
const Method mesh_section_method = {
    "station from a mesh: mean of both halves at the same share of their girth from keel to deck "
    "edge",
    "y = (y_port + y_starboard) / 2; z = (z_port + z_starboard) / 2",
    {"judgement of this project; corners by Douglas and Peucker 1973", STANDING_PRACTICE}};

enum { STATIONS_USUAL = 41, STATIONS_MOST = 201, POINTS_USUAL = 40, POINTS_MOST = 200 };
enum { HITS_MOST = 40000000 };

/* Triangles that each plane may cut, in one list: first[i] to first[i + 1] of triangle. */
typedef struct {
    size_t *first;
    uint32_t *triangle;
} Hits;

static size_t
planes_below(size_t n, const double x_m[], double at)
{
    size_t low = 0, high = n;
    while (low < high) {
        size_t mid = low + (high - low) / 2;
        if (x_m[mid] <= at)
            low = mid + 1;
        else
            high = mid;
    }
    return low;
}

static void
span_of(const Placed *placed, size_t t, size_t n, const double x_m[], size_t *from, size_t *to)
{
    const uint32_t *c = placed->mesh->corner + 3 * t;
    double a = placed->place[3 * (size_t) c[0]], b = placed->place[3 * (size_t) c[1]];
    double d = placed->place[3 * (size_t) c[2]];
    *to = planes_below(n, x_m, fmax(a, fmax(b, d)));
    *from = planes_below(n, x_m, nextafter(fmin(a, fmin(b, d)), -INFINITY));
}

static bool
find_hits(const Placed *placed, size_t n, const double x_m[], Hits *hits)
{
    size_t from, to;
    hits->first = shape_reserve(n + 2, sizeof *hits->first);
    hits->triangle = NULL;
    for (int pass = 0; pass < 2; pass++) {
        for (size_t t = 0; t < placed->mesh->triangles; t++) {
            if (!mesh_is_kept(placed->look, t))
                continue;
            span_of(placed, t, n, x_m, &from, &to);
            for (size_t i = from; i < to; i++) {
                if (pass == 0)
                    hits->first[i + 2]++;
                else
                    hits->triangle[hits->first[i + 1]++] = (uint32_t) t;
            }
        }
        if (pass == 1)
            break;
        for (size_t i = 2; i < n + 2; i++)
            hits->first[i] += hits->first[i - 1];
        if (hits->first[n + 1] > HITS_MOST)
            return false;
        hits->triangle = shape_reserve(hits->first[n + 1], sizeof *hits->triangle);
    }
    return true;
}

static Placed
place_all(const Mesh *mesh, const MeshLook *look, const MeshPose *pose)
{
    Placed p = {.mesh = mesh,
                .look = look,
                .gap_m = 0.1 * (pose->beam_m + pose->depth_m),
                .half_beam_m = 0.5 * pose->beam_m,
                .depth_m = pose->depth_m};
    p.place = shape_reserve(3 * mesh->vertices, sizeof *p.place);
    for (size_t v = 0; v < mesh->vertices; v++)
        mesh_place(pose, mesh->vertex + 3 * v, p.place + 3 * v);
    return p;
}

/* An end is cut at several places just inside it: a scanned transom is ragged, one drawn or levelled
 * not quite square is cut in part. */
enum { TRIES = 4, EXTRA = 2 * TRIES - 2 };

static const double try_frac[TRIES] = {2e-4, 1e-3, 3e-3, 8e-3};

/* Closer at the ends, where lines bend. x_m[n] are the stations, cut_m[n + EXTRA] the planes. */
static void
put_places(size_t n, double length, double x_m[], double cut_m[])
{
    for (size_t i = 0; i < n; i++) {
        double t = (double) i / (double) (n - 1);
        x_m[i] = length * (0.5 * t + 0.25 * (1.0 - cos(M_PI * t)));
        cut_m[i + TRIES - 1] = x_m[i];
    }
    x_m[n - 1] = length;
    size_t last = n + EXTRA - 1;
    for (size_t k = 0; k < TRIES; k++) {
        double inside = fmin(try_frac[k] * length, x_m[1] * (double) (k + 1) / (TRIES + 1));
        cut_m[k] = inside;
        cut_m[last - k] = length - inside;
    }
}

static bool
slice(const Placed *placed, const MeshPose *pose, double cut_m, size_t n, const uint32_t triangle[],
      MeshSection *section, Half *half)
{
    Chains chains;
    Halves halves = {0};
    section->half_m2[0] = section->half_m2[1] = section->apart_m = NAN;
    if (!chains_cut(placed, cut_m, n, triangle, pose->half, &chains))
        return false;
    section->area_m2 = pose->half ? 2.0 * chains.area : chains.area;
    section->gaps = chains.gaps;
    section->widest_gap_m = chains.widest_gap;
    section->missing = chains.n == 0 || !halves_find(placed, &chains, pose->half, &halves);
    section->pieces = halves.pieces;
    for (int side = 0; side < 2 && !section->missing; side++)
        if (halves.side[side].n > 1)
            section->half_m2[side] = half_area_m2(&halves.side[side]);
    if (!section->missing)
        *half = half_mean(&halves, &section->apart_m);
    section->missing = section->missing || half->n < 2 || !(half_girth_m(half) > 0.0);
    halves_free(&halves);
    chains_free(&chains);
    return true;
}

/* Beyond the last cut there is an edge or a point: the outermost spot of the mesh stands for it. */
static void
point_at_end(const Placed *placed, bool fore, Half *half)
{
    const Mesh *mesh = placed->mesh;
    Spot spot = {0.0, 0.0};
    double far = fore ? -INFINITY : INFINITY;
    for (size_t h = 0; h < 3 * mesh->triangles; h++) {
        const double *p = placed->place + 3 * (size_t) mesh->corner[h];
        if (mesh_is_kept(placed->look, h / 3) && (fore ? p[0] > far : p[0] < far)) {
            far = p[0];
            spot.z = p[2];
        }
    }
    free(half->spot);
    half->spot = shape_reserve(2, sizeof *half->spot);
    half->spot[0] = half->spot[1] = spot;
    half->n = 2;
}

/* The surface over an open deck is level athwart: of its face only z n_z counts, which over the rim is
 * the integral of -y z dx; the same holds for half a boat, whose middle has y = 0 and n_z = 0. Other
 * holes are closed by a fan. */
static double
hole_m3(const Placed *placed, const MeshHole *hole, const MeshPose *pose)
{
    const uint32_t *rim = placed->look->rim + hole->first;
    double volume = 0.0, m[3] = {0.0, 0.0, 0.0}, low = INFINITY, high = -INFINITY;
    for (size_t k = 0; k < hole->n; k++) {
        const double *p = placed->place + 3 * (size_t) rim[k];
        for (int j = 0; j < 3; j++)
            m[j] += p[j] / (double) hole->n;
        low = fmin(low, p[0]);
        high = fmax(high, p[0]);
    }
    bool deck = high - low > 0.5 * pose->length_m && (pose->half || m[2] > 0.5 * pose->depth_m);
    for (size_t k = 0; k < hole->n; k++) {
        const double *p = placed->place + 3 * (size_t) rim[k],
                     *q = placed->place + 3 * (size_t) rim[(k + 1) % hole->n];
        if (deck)
            volume -= (q[0] - p[0]) *
                      (2.0 * p[1] * p[2] + p[1] * q[2] + q[1] * p[2] + 2.0 * q[1] * q[2]) / 6.0;
        else
            volume += (m[2] + p[2] + q[2]) / 6.0 *
                      ((p[0] - m[0]) * (q[1] - m[1]) - (p[1] - m[1]) * (q[0] - m[0]));
    }
    return volume;
}

/* Divergence theorem with the field (0, 0, z): the sum of z n_z over the faces. */
static double
enclosed_m3(const Placed *placed, const MeshPose *pose)
{
    const Mesh *mesh = placed->mesh;
    const MeshLook *look = placed->look;
    double volume = 0.0;
    for (size_t t = 0; t < mesh->triangles; t++) {
        if (!mesh_is_kept(look, t))
            continue;
        const double *p = placed->place + 3 * (size_t) mesh->corner[3 * t],
                     *q = placed->place + 3 * (size_t) mesh->corner[3 * t + 1],
                     *r = placed->place + 3 * (size_t) mesh->corner[3 * t + 2];
        double flat = (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
        volume += (p[2] + q[2] + r[2]) / 6.0 * flat;
    }
    for (size_t i = 0; i < look->holes; i++)
        if (look->hole[i].shell < look->told && look->shell[look->hole[i].shell].kept)
            volume += hole_m3(placed, &look->hole[i], pose);
    return fabs(pose->half ? 2.0 * volume : volume);
}

double
mesh_volume_m3(const Mesh *mesh, const MeshLook *look, const MeshPose *pose)
{
    Placed placed = place_all(mesh, look, pose);
    double volume = enclosed_m3(&placed, pose);
    free(placed.place);
    return volume;
}

/* The outermost try that holds nearly what the next one does; of a really raked end the outermost
 * that is one outline. step: + 1 at the stern, - 1 at the bow. */
static size_t
best_try(const MeshSection section[], size_t outermost, int step)
{
    size_t whole = SIZE_MAX, at = outermost;
    for (size_t k = 0; k<TRIES; k++, at = step> 0 ? at + 1 : at - 1) {
        const MeshSection *s = &section[at], *next = step > 0 ? s + 1 : s - 1;
        if (s->missing || s->pieces > 1)
            continue;
        if (whole == SIZE_MAX)
            whole = at;
        if (k + 1 == TRIES || s->area_m2 >= 0.95 * next->area_m2)
            return k + 1 == TRIES ? whole : at;
    }
    return whole == SIZE_MAX ? outermost : whole;
}

static void
keep_try(MeshSection section[], Half half[], size_t from, size_t to)
{
    if (from == to)
        return;
    free(half[to].spot);
    section[to] = section[from];
    half[to] = half[from];
    half[from] = (Half){0};
}

/* Cuts all planes and keeps one for each end: afterwards section[n] and half[n] are the stations'.
 * False when there is too much to cut. */
static bool
slice_all(const Placed *placed, const MeshPose *pose, size_t n, const double cut_m[],
          MeshSection section[], Half half[])
{
    Hits hits;
    size_t planes = n + EXTRA;
    bool good = find_hits(placed, planes, cut_m, &hits);
    for (size_t i = 0; good && i < planes; i++) {
        section[i].x_m = cut_m[i];
        good = slice(placed, pose, cut_m[i], hits.first[i + 1] - hits.first[i],
                     hits.triangle + hits.first[i], &section[i], &half[i]);
    }
    free(hits.first);
    free(hits.triangle);
    if (!good)
        return false;
    keep_try(section, half, best_try(section, 0, 1), TRIES - 1);
    keep_try(section, half, best_try(section, planes - 1, -1), planes - TRIES);
    for (size_t i = 0; i < planes; i++) /* the stations to the front */
        if (i < TRIES - 1 || i > planes - TRIES) {
            free(half[i].spot);
            half[i] = (Half){0};
        }
    for (size_t i = 0; i < n; i++) {
        section[i] = section[i + TRIES - 1];
        half[i] = half[i + TRIES - 1];
    }
    for (size_t i = n; i < planes; i++)
        half[i] = (Half){0};
    for (size_t i = 0; i < n; i += n - 1)
        if (section[i].missing)
            point_at_end(placed, i > 0, &half[i]);
    return true;
}

/* What the whole outline holds beyond the two halves, over the length. */
static double
above_deck_m3(size_t n, const MeshSection section[])
{
    double volume = 0.0, before = 0.0;
    for (size_t i = 0; i < n; i++) {
        const double *half = section[i].half_m2;
        double one = isnan(half[0]) ? half[1] : half[0], other = isnan(half[1]) ? half[0] : half[1];
        double more = section[i].missing ? 0.0 : section[i].area_m2 - one - other;
        if (i > 0)
            volume += 0.5 * (before + more) * (section[i].x_m - section[i - 1].x_m);
        before = more;
    }
    return volume;
}

static void
sum_up(const MeshPose *pose, MeshHull *hull)
{
    double square = 0.0, largest = 0.0;
    size_t n = 0;
    hull->volume_m3 = shape_volume_m3(hull->shape, INFINITY);
    hull->above_deck_m3 = above_deck_m3(hull->sections, hull->section);
    hull->within_m = hull->asymmetry_m = NAN;
    for (size_t i = 0; i < hull->sections; i++)
        largest = fmax(largest, hull->section[i].area_m2);
    for (size_t i = 0; i < hull->sections; i++) {
        double apart = hull->section[i].apart_m;
        /* Of the slivers at the ends the halves say nothing. */
        if (pose->half || isnan(apart) || hull->section[i].area_m2 < 0.1 * largest)
            continue;
        square += apart * apart;
        hull->asymmetry_m = fmax(hull->asymmetry_m, apart);
        n++;
    }
    if (n > 0)
        hull->within_m = sqrt(square / (double) n);
}

static Validity
reach(const MeshPose *pose, const MeshHull *hull)
{
    bool good = fabs(hull->volume_m3 + hull->above_deck_m3 - hull->mesh_m3) <= 0.01 * hull->mesh_m3;
    for (size_t i = 0; i < hull->sections; i++) {
        const MeshSection *s = &hull->section[i];
        bool end = i == 0 || i + 1 == hull->sections;
        bool one = isnan(s->half_m2[0]) || isnan(s->half_m2[1]);
        good = good && (end || (!s->missing && s->gaps == 0 && (pose->half || !one)));
    }
    return good && !(hull->asymmetry_m > 0.02 * pose->beam_m) ? VALID : EXTRAPOLATED;
}

static Validity
refuse(MeshHull *hull, const char *fault)
{
    mesh_hull_free(hull);
    hull->fault = fault;
    hull->mesh_m3 = hull->volume_m3 = hull->above_deck_m3 = hull->within_m = hull->asymmetry_m =
        NAN;
    return REFUSED;
}

static Shape *
make_stations(size_t n, const double x_m[], const MeshSection section[], const Half half[],
              size_t points, size_t *knuckles)
{
    double *x = shape_reserve(n, sizeof *x);
    Half *there = shape_reserve(n, sizeof *there);
    size_t kept = 0;
    for (size_t i = 0; i < n; i++)
        if (half[i].n > 1 && (!section[i].missing || i == 0 || i + 1 == n)) {
            x[kept] = x_m[i];
            there[kept++] = half[i];
        }
    Shape *shape = kept >= 5 ? halves_stations(kept, x, there, points, knuckles) : NULL;
    free(x);
    free(there);
    return shape;
}

Validity
mesh_hull(const Mesh *mesh, const MeshLook *look, const MeshPose *pose, size_t stations,
          size_t points, MeshHull *hull)
{
    *hull = (MeshHull){0};
    size_t n = stations == 0 ? STATIONS_USUAL : stations;
    points = points == 0 ? POINTS_USUAL : points;
    if (n < 5 || n > STATIONS_MOST || points < 5 || points > POINTS_MOST)
        return refuse(hull, "between 5 and 201 stations of 5 to 200 points can be made");
    if (pose->fault != NULL || !is_positive(pose->length_m) || !is_positive(pose->unit_m))
        return refuse(hull, "unit and axes have not been found");
    Placed placed = place_all(mesh, look, pose);
    size_t planes = n + EXTRA;
    double *x = shape_reserve(n + planes, sizeof *x), *cut = x + n;
    Half *half = shape_reserve(planes, sizeof *half);
    hull->section = shape_reserve(planes, sizeof *hull->section);
    hull->sections = n;
    put_places(n, pose->length_m, x, cut);
    bool good = slice_all(&placed, pose, n, cut, hull->section, half);
    if (good) {
        hull->mesh_m3 = enclosed_m3(&placed, pose);
        hull->shape = make_stations(n, x, hull->section, half, points, &hull->knuckles);
    }
    for (size_t i = 0; i < planes; i++)
        free(half[i].spot);
    free(half);
    free(x);
    free(placed.place);
    if (!good)
        return refuse(hull, "its triangles are cut too often: they span the whole boat");
    if (hull->shape == NULL)
        return refuse(hull, "fewer than five sections have an outline");
    sum_up(pose, hull);
    if (!(hull->volume_m3 > 0.0 && hull->mesh_m3 > 0.0))
        return refuse(hull, "it encloses no volume");
    return reach(pose, hull);
}

void
mesh_hull_free(MeshHull *hull)
{
    shape_free(hull->shape);
    free(hull->section);
    *hull = (MeshHull){0};
}
