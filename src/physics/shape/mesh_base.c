/* Levelling by mirror plane and keel. Invariant: what is turned here is a few degrees; which way is
 * which has been decided before. */
#include "physics/shape/mesh_axes.h"

#include <math.h>
#include <stdlib.h>

#include "physics/domain.h"
#include "physics/shape/shape.h"

/* R = rotation about one of the boat's axes, applied after turn. */
static void
turn_about(MeshPose *pose, int axis, double angle)
{
    int a = (axis + 1) % 3, b = (axis + 2) % 3;
    double c = cos(angle), s = sin(angle);
    for (int k = 0; k < 3; k++) {
        double p = pose->turn[a][k], q = pose->turn[b][k];
        pose->turn[a][k] = c * p - s * q;
        pose->turn[b][k] = s * p + c * q;
    }
}

static void
box_in_boat(const Mesh *mesh, const MeshSamples *samples, const MeshPose *pose, double low[3],
            double size[3])
{
    MeshPose copy = *pose;
    double high[3];
    mesh_box(mesh, samples, copy.turn, low, high);
    for (int k = 0; k < 3; k++) {
        size[k] = pose->unit_m * (high[k] - low[k]);
        low[k] = pose->unit_m * low[k] - pose->origin[k];
    }
}

/* Smaller leans may be the hull's own lopsidedness, or how the samples fell: left alone, like an
 * offset below half a hundredth of the beam. Judgement of this project. */
static const double lean_least_rad = 0.1 * M_PI / 180.0, lean_most_rad = 20.0 * M_PI / 180.0;
static const double offset_least_frac = 0.005;

static void
level_by_mirror(const Mesh *mesh, const MeshSamples *samples, MeshPose *pose)
{
    enum { PASSES = 12 };
    MeshPose level = *pose;
    double low[3], size[3], plane[3], offset = 0.0;
    for (int pass = 0; pass < PASSES; pass++) {
        if (!mesh_mirror_plane(samples, &level, plane))
            return;
        double yaw = atan(plane[1]), lean = atan(plane[2]);
        level.origin[1] += plane[0];
        offset += plane[0];
        turn_about(&level, 2, -yaw);
        turn_about(&level, 0, lean);
        level.yaw_rad += yaw;
        level.roll_rad += lean;
        if (fabs(yaw) + fabs(lean) < 1e-4)
            break;
    }
    box_in_boat(mesh, samples, &level, low, size);
    double most = fmax(fabs(level.yaw_rad), fabs(level.roll_rad));
    bool turned = most > lean_least_rad && most < lean_most_rad;
    if (turned || (most < lean_most_rad && fabs(offset) > offset_least_frac * size[1]))
        *pose = level;
}

typedef struct {
    double x, z;
} Low;

/* Lowest point of each slice of the length, and the lower hull over them (Andrew's chain). */
static size_t
lower_hull(const Mesh *mesh, const MeshSamples *samples, const MeshPose *pose, double start,
           double size, Low hull[])
{
    enum { SLICES = 256 };
    Low low[SLICES];
    size_t n = 0;
    for (int i = 0; i < SLICES; i++)
        low[i] = (Low){NAN, INFINITY};
    for (size_t v = 0; v < mesh->vertices; v++) {
        double p[3];
        if (!samples->kept[v])
            continue;
        mesh_place(pose, mesh->vertex + 3 * v, p);
        int i = (int) fmax(0.0, fmin(SLICES - 1.0, SLICES * (p[0] - start) / size));
        if (p[2] < low[i].z || (p[2] == low[i].z && i >= SLICES / 2 && p[0] > low[i].x))
            low[i] = (Low){p[0], p[2]};
    }
    for (int i = 0; i < SLICES; i++) {
        if (isnan(low[i].x))
            continue;
        while (n > 1 && (hull[n - 1].x - hull[n - 2].x) * (low[i].z - hull[n - 2].z) <=
                            (hull[n - 1].z - hull[n - 2].z) * (low[i].x - hull[n - 2].x))
            n--;
        hull[n++] = low[i];
    }
    return n;
}

static double
hull_at(const Low hull[], size_t n, double x)
{
    size_t i = 0;
    while (i + 2 < n && hull[i + 1].x < x)
        i++;
    double run = hull[i + 1].x - hull[i].x;
    return run > 0.0 ? hull[i].z + (x - hull[i].x) / run * (hull[i + 1].z - hull[i].z) : hull[i].z;
}

/* The line she would stand on amidships. Judgement of this project. */
typedef struct {
    double slope;
    MeshReason reason;
} KeelLine;

/* Share of the middle three tenths that the run from a to b covers. */
static double
overlap(double a, double b, double mid, double size)
{
    return fmin(b, mid + 0.15 * size) - fmax(a, mid - 0.15 * size);
}

/* How far the lower hull hangs below its chord from a to b. */
static double
sag(const Low hull[], size_t a, size_t b)
{
    double slope = (hull[b].z - hull[a].z) / (hull[b].x - hull[a].x), most = 0.0;
    for (size_t i = a + 1; i < b; i++)
        most = fmax(most, hull[a].z + slope * (hull[i].x - hull[a].x) - hull[i].z);
    return most;
}

/* Longest run amidships that is straight to half a thousandth of the length. */
static bool
straight_run(const Low hull[], size_t n, double mid, double size, size_t *from, size_t *to)
{
    double most = 0.05 * size;
    bool found = false;
    for (size_t i = 0; i + 1 < n; i++)
        for (size_t k = i + 1; k < n; k++) {
            double shared = overlap(hull[i].x, hull[k].x, mid, size);
            if (hull[k].x - hull[i].x < 0.2 * size || shared < most + 1e-9 * size)
                continue;
            if (sag(hull, i, k) > 0.0005 * size)
                break;
            most = shared;
            *from = i;
            *to = k;
            found = true;
        }
    return found;
}

static KeelLine
keel_line(const Low hull[], size_t n, double start, double size, bool askew)
{
    double mid = start + 0.5 * size, aft = mid - 0.15 * size, fore = mid + 0.15 * size;
    size_t lowest = 0, a, b;
    for (size_t i = 0; i < n; i++)
        if (hull[i].z < hull[lowest].z)
            lowest = i;
    if (straight_run(hull, n, mid, size, &a, &b))
        return (KeelLine){(hull[b].z - hull[a].z) / (hull[b].x - hull[a].x),
                          {"along the straight middle of the keel", true}};
    if (!askew && fabs(hull[lowest].x - mid) < 0.25 * size)
        return (KeelLine){0.0, {"drawn level, and lowest amidships", true}};
    return (KeelLine){(hull_at(hull, n, fore) - hull_at(hull, n, aft)) / (fore - aft),
                      {"the keel is round: levelled by its middle third, please look", false}};
}

static void
level_by_keel(const Mesh *mesh, const MeshSamples *samples, MeshPose *pose)
{
    Low hull[256];
    double low[3], size[3];
    for (int pass = 0; pass < 2; pass++) {
        box_in_boat(mesh, samples, pose, low, size);
        size_t n = lower_hull(mesh, samples, pose, low[0], size[0], hull);
        if (n < 2) {
            pose->base = (MeshReason){"no keel is to be seen: left as it is", false};
            return;
        }
        KeelLine line = keel_line(hull, n, low[0], size[0], pose->askew);
        double rise = atan(line.slope);
        pose->base = line.reason;
        if (fabs(rise) > lean_most_rad) {
            pose->base = (MeshReason){"the keel slopes more than 20 deg: left as it is", false};
            return;
        }
        if (fabs(rise) < 1e-6)
            return;
        turn_about(pose, 1, rise);
        pose->trim_rad += rise;
    }
}

void
mesh_base(const Mesh *mesh, const MeshSamples *samples, MeshPose *pose)
{
    double low[3], size[3];
    pose->origin[1] *= pose->unit_m;
    if (!pose->half)
        level_by_mirror(mesh, samples, pose);
    level_by_keel(mesh, samples, pose);
    box_in_boat(mesh, samples, pose, low, size);
    Low hull[256];
    size_t n = lower_hull(mesh, samples, pose, low[0], size[0], hull);
    double keel = n > 1 ? hull_at(hull, n, low[0] + 0.5 * size[0]) : low[2];
    pose->origin[0] += low[0];
    pose->origin[2] += keel;
    pose->length_m = size[0];
    pose->beam_m = pose->half ? 2.0 * size[1] : size[1];
    pose->depth_m = size[2] + low[2] - keel;
}
