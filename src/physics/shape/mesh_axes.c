/* Which way is which: fore-and-aft, athwart, up, forward. Invariant: axes are unit vectors at right
 * angles, and x, y, z make a right hand. */
#include "physics/shape/mesh_axes.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

typedef double Axes[3][3];

static double
dot(const double a[3], const double b[3])
{
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

static void
cross(const double a[3], const double b[3], double out[3])
{
    out[0] = a[1] * b[2] - a[2] * b[1];
    out[1] = a[2] * b[0] - a[0] * b[2];
    out[2] = a[0] * b[1] - a[1] * b[0];
}

/* Jacobi's rotations: eigenvectors of a symmetric matrix, as rows (Golub and Van Loan 8.5). */
static void
eigenvectors(double m[3][3], Axes v)
{
    for (int i = 0; i < 3; i++)
        for (int k = 0; k < 3; k++)
            v[i][k] = i == k;
    for (int sweep = 0; sweep < 60; sweep++) {
        int p = sweep % 3 == 2, q = sweep % 3 == 0 ? 1 : 2;
        if (m[p][q] == 0.0)
            continue;
        double theta = 0.5 * atan2(2.0 * m[p][q], m[q][q] - m[p][p]), c = cos(theta),
               s = sin(theta);
        for (int k = 0; k < 3; k++) {
            double a = m[k][p], b = m[k][q];
            m[k][p] = c * a - s * b;
            m[k][q] = s * a + c * b;
        }
        for (int k = 0; k < 3; k++) {
            double a = m[p][k], b = m[q][k], va = v[p][k], vb = v[q][k];
            m[p][k] = c * a - s * b;
            m[q][k] = s * a + c * b;
            v[p][k] = c * va - s * vb;
            v[q][k] = s * va + c * vb;
        }
    }
}

static void
principal(const MeshSamples *s, Axes axes)
{
    double mean[3] = {0.0, 0.0, 0.0}, m[3][3] = {{0.0}};
    for (size_t i = 0; i < s->n; i++)
        for (int k = 0; k < 3; k++)
            mean[k] += s->sample[i].place[k] / (double) s->n;
    for (size_t i = 0; i < s->n; i++)
        for (int j = 0; j < 3; j++)
            for (int k = 0; k < 3; k++)
                m[j][k] += (s->sample[i].place[j] - mean[j]) * (s->sample[i].place[k] - mean[k]);
    eigenvectors(m, axes);
}

static double
box_volume(const Mesh *mesh, const MeshSamples *samples, Axes axes, double size[3])
{
    double low[3], high[3];
    mesh_box(mesh, samples, axes, low, high);
    for (int k = 0; k < 3; k++)
        size[k] = high[k] - low[k];
    return size[0] * size[1] * size[2];
}

/* Axes of the file, unless she lies askew to them. */
static bool
choose_axes(const Mesh *mesh, const MeshSamples *samples, bool must, Axes axes)
{
    Axes own;
    double size[3];
    for (int i = 0; i < 3; i++)
        for (int k = 0; k < 3; k++)
            axes[i][k] = i == k;
    if (must)
        return false;
    principal(samples, own);
    if (box_volume(mesh, samples, own, size) > 0.9 * box_volume(mesh, samples, axes, size))
        return false;
    memcpy(axes, own, sizeof own);
    return true;
}

typedef struct {
    const MeshSamples *samples;
    const double *along, *side, *other; /* unit vectors */
    double low[3], size[3];             /* of the box: along, side, other */
} View;

static View
view_of(const Mesh *mesh, const MeshSamples *samples, const double along[3], const double side[3],
        const double other[3])
{
    View v = {.samples = samples, .along = along, .side = side, .other = other};
    Axes axes;
    double high[3];
    memcpy(axes[0], along, sizeof axes[0]);
    memcpy(axes[1], side, sizeof axes[1]);
    memcpy(axes[2], other, sizeof axes[2]);
    mesh_box(mesh, samples, axes, v.low, high);
    for (int k = 0; k < 3; k++)
        v.size[k] = high[k] - v.low[k];
    return v;
}

static size_t
cell_of(double at, double low, double size, size_t cells)
{
    double share = size > 0.0 ? (at - low) / size : 0.0;
    size_t cell = (size_t) fmax(0.0, share * (double) cells);
    return cell < cells ? cell : cells - 1;
}

/* Share of the surface without a counterpart on the other side of the middle of the box. */
static double
unmirrored(const View *v)
{
    enum { ALONG = 10, SIDE = 4, OTHER = 6 };
    long count[ALONG][SIDE][OTHER] = {{{0}}}, apart = 0;
    for (size_t i = 0; i < v->samples->n; i++) {
        const double *p = v->samples->sample[i].place;
        double side = dot(v->side, p) - v->low[1] - 0.5 * v->size[1];
        size_t a = cell_of(dot(v->along, p), v->low[0], v->size[0], ALONG);
        size_t b = cell_of(fabs(side), 0.0, 0.5 * v->size[1], SIDE);
        size_t c = cell_of(dot(v->other, p), v->low[2], v->size[2], OTHER);
        count[a][b][c] += side > 0.0 ? 1 : -1;
    }
    for (size_t i = 0; i < (size_t) ALONG * SIDE * OTHER; i++)
        apart += labs((&count[0][0][0])[i]);
    return (double) apart / (double) (v->samples->n > 0 ? v->samples->n : 1);
}

static bool
is_of_hull(const MeshLook *look, size_t hole)
{
    size_t shell = look->hole[hole].shell;
    return shell < look->told && look->shell[shell].kept;
}

/* Length of open edges that lie in the plane at one end of the box along axis; high: its upper end. */
static double
rim_in_plane(const Mesh *mesh, const MeshLook *look, const double axis[3], double low, double size,
             bool high)
{
    double plane = high ? low + size : low, length = 0.0, near = 0.005 * size;
    for (size_t i = 0; i < look->holes; i++) {
        if (!is_of_hull(look, i))
            continue;
        const uint32_t *rim = look->rim + look->hole[i].first;
        size_t n = look->hole[i].n;
        for (size_t k = 0; k < n; k++) {
            const double *p = mesh_at(mesh, rim[k]), *q = mesh_at(mesh, rim[(k + 1) % n]);
            if (fabs(dot(axis, p) - plane) > near || fabs(dot(axis, q) - plane) > near)
                continue;
            length += hypot(hypot(p[0] - q[0], p[1] - q[1]), p[2] - q[2]);
        }
    }
    return length;
}

/* Where the longest rim lies between the ends of the box along other: 0 to 1, NAN without one. Of
 * half a boat only what is not in her middle plane counts. */
static double
rim_height(const Mesh *mesh, const MeshLook *look, const View *v, bool half, double middle)
{
    const MeshHole *longest = NULL;
    for (size_t i = 0; i < look->holes; i++)
        if (is_of_hull(look, i) && (longest == NULL || look->hole[i].length > longest->length))
            longest = &look->hole[i];
    if (longest == NULL || longest->length < 1.2 * v->size[0])
        return NAN;
    double sum = 0.0;
    size_t n = 0;
    for (size_t k = 0; k < longest->n; k++) {
        const double *p = mesh_at(mesh, look->rim[longest->first + k]);
        if (half && fabs(dot(v->side, p) - middle) < 0.02 * v->size[1])
            continue;
        sum += dot(v->other, p) - v->low[2];
        n++;
    }
    return 5 * n > longest->n ? sum / (double) n / v->size[2] : NAN;
}

static int
find_up(const Mesh *mesh, const MeshLook *look, const View *v, bool half, double middle,
        MeshReason *reason)
{
    double rim = rim_height(mesh, look, v, half, middle), up = 0.0, down = 0.0;
    if (!isnan(rim) && fabs(rim - 0.5) > 0.1) {
        *reason = (MeshReason){"the open deck is up", true};
        return rim > 0.5 ? 1 : -1;
    }
    for (size_t i = 0; i < v->samples->n; i++) {
        double level = dot(v->other, v->samples->sample[i].normal);
        up += level > 0.95;
        down += level < -0.95;
    }
    double more = fmax(up, down), less = fmin(up, down);
    bool sure = more > 1.15 * less && more > 0.02 * (double) v->samples->n;
    *reason = (MeshReason){sure ? "more flat surface faces up (deck) than down (bottom)"
                                : "top and bottom look alike: say which way is up",
                           sure};
    return up >= down ? 1 : -1;
}

/* Breadth times height of five thin slices near one end, as a share of the box. */
static double
fullness(const View *v, bool high)
{
    enum { SLICES = 5 };
    const double thick = 0.03;
    double least[SLICES][2], most[SLICES][2], sum = 0.0;
    for (size_t i = 0; i < SLICES; i++)
        for (int k = 0; k < 2; k++) {
            least[i][k] = INFINITY;
            most[i][k] = -INFINITY;
        }
    for (size_t i = 0; i < v->samples->n; i++) {
        const double *p = v->samples->sample[i].place;
        double share = (dot(v->along, p) - v->low[0]) / v->size[0];
        share = high ? 1.0 - share : share;
        size_t slice = (size_t) fmax(0.0, share / thick);
        if (slice >= SLICES)
            continue;
        const double at[2] = {dot(v->side, p), dot(v->other, p)};
        for (int k = 0; k < 2; k++) {
            least[slice][k] = fmin(least[slice][k], at[k]);
            most[slice][k] = fmax(most[slice][k], at[k]);
        }
    }
    for (size_t i = 0; i < SLICES; i++)
        if (most[i][0] >= least[i][0])
            sum += (most[i][0] - least[i][0]) * (most[i][1] - least[i][1]);
    return sum / SLICES / (v->size[1] * v->size[2]);
}

static int
find_bow(const View *v, MeshReason *reason)
{
    double low = fullness(v, false), high = fullness(v, true);
    bool sure = fmin(low, high) < 0.8 * fmax(low, high);
    *reason = (MeshReason){sure ? "the finer end is the bow"
                                : "both ends are about as full: say which is the bow",
                           sure};
    return high <= low ? 1 : -1;
}

static void
copy_axis(const double from[3], int sign, double to[3])
{
    for (int k = 0; k < 3; k++)
        to[k] = sign * from[k];
}

/* Half a boat is open along her middle. */
static bool
find_half(const Mesh *mesh, const MeshLook *look, const View *v, bool *high)
{
    double low = rim_in_plane(mesh, look, v->side, v->low[1], v->size[1], false);
    double top = rim_in_plane(mesh, look, v->side, v->low[1], v->size[1], true);
    double deck = fmax(rim_in_plane(mesh, look, v->other, v->low[2], v->size[2], false),
                       rim_in_plane(mesh, look, v->other, v->low[2], v->size[2], true));
    *high = top > low;
    return fmax(low, top) > 0.8 * v->size[0] && fmax(low, top) > 0.7 * deck;
}

static int
index_of(int signed_axis)
{
    return abs(signed_axis) - 1;
}

/* Which of the two other axes runs athwart. */
static int
find_athwart(const Mesh *mesh, const MeshLook *look, const View view[2], const MeshHints *hints,
             const int other[2], MeshPose *pose, bool *half_high)
{
    const double one_sided = 0.3, one_sided_if_stated = 0.1;
    double mirror[2] = {unmirrored(&view[0]), unmirrored(&view[1])};
    bool high[2], half[2];
    for (int k = 0; k < 2; k++)
        half[k] = find_half(mesh, look, &view[k], &high[k]);
    int chosen = mirror[0] <= mirror[1] ? 0 : 1;
    bool sure = mirror[chosen] < 0.25 && mirror[chosen] < 0.6 * mirror[1 - chosen];
    pose->athwart =
        (MeshReason){sure ? "she mirrors over this way"
                          : "she mirrors over neither or both ways: say which way is up",
                     sure};
    pose->half = false;
    if (hints->up != 0) {
        chosen = other[0] == index_of(hints->up) ? 1 : 0;
        pose->half = half[chosen] && mirror[chosen] > one_sided_if_stated;
        pose->athwart = (MeshReason){"as stated by up", true};
    } else if ((half[0] || half[1]) && fmin(mirror[0], mirror[1]) > one_sided) {
        /* What mirrors over the other way may be a whole boat, open at the deck. */
        chosen = half[0] ? 0 : 1;
        pose->half = true;
        pose->athwart = (MeshReason){"open along a plane on one side: half a boat, mirrored", true};
    } else if (!sure && fmax(mirror[0], mirror[1]) < 0.25) {
        chosen = view[0].size[1] >= view[1].size[1] ? 0 : 1; /* boats are wider than deep */
    }
    pose->mirror_frac = pose->half ? 0.0 : mirror[chosen];
    *half_high = high[chosen];
    return chosen;
}

void
mesh_axes(const Mesh *mesh, const MeshLook *look, const MeshSamples *samples,
          const MeshHints *hints, MeshPose *pose)
{
    Axes axes;
    double size[3];
    pose->askew = choose_axes(mesh, samples, hints->up != 0 || hints->forward != 0, axes);
    box_volume(mesh, samples, axes, size);
    int along = size[0] >= size[1] && size[0] >= size[2] ? 0 : size[1] >= size[2] ? 1 : 2;
    int up_hint = hints->up != 0 ? index_of(hints->up) : -1;
    if (along == up_hint)
        along = size[(along + 1) % 3] >= size[(along + 2) % 3] ? (along + 1) % 3 : (along + 2) % 3;
    if (hints->forward != 0)
        along = index_of(hints->forward);
    int other[2] = {(along + 1) % 3, (along + 2) % 3};
    double longer = fmax(size[other[0]], size[other[1]]);
    pose->forward =
        (MeshReason){hints->forward != 0 ? "as stated"
                     : pose->askew ? "the longest way of the boat, askew to the axes of the file"
                                   : "the longest way",
                     hints->forward != 0 || size[along] > 1.3 * longer};
    const View view[2] = {view_of(mesh, samples, axes[along], axes[other[0]], axes[other[1]]),
                          view_of(mesh, samples, axes[along], axes[other[1]], axes[other[0]])};
    bool half_high;
    int chosen = find_athwart(mesh, look, view, hints, other, pose, &half_high);
    const View *v = &view[chosen];
    /* Of half a boat the plane of the open rim is the middle. */
    double middle = v->low[1] + (pose->half ? (half_high ? v->size[1] : 0.0) : 0.5 * v->size[1]);
    int up = find_up(mesh, look, v, pose->half, middle, &pose->up), bow = find_bow(v, &pose->bow);
    if (hints->up != 0) {
        up = hints->up > 0 ? 1 : -1;
        pose->up = (MeshReason){"as stated", true};
    }
    if (hints->forward != 0) {
        bow = hints->forward > 0 ? 1 : -1;
        pose->bow = (MeshReason){"as stated", true};
    }
    copy_axis(v->along, bow, pose->turn[0]);
    copy_axis(v->other, up, pose->turn[2]);
    cross(pose->turn[2], pose->turn[0], pose->turn[1]);
    /* An offset in units of the file, until the origin is set. */
    pose->origin[1] = middle * (dot(pose->turn[1], v->side) > 0.0 ? 1.0 : -1.0);
}
