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

/* Solves the 3 x 3 normal equations of mid = a + b x + c z by elimination; false when singular. */
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

enum { ALONG = 20, HIGH = 8 };

typedef struct {
    double least[ALONG][HIGH], most[ALONG][HIGH];
} Extremes;

/* Middle between the two sides, cell by cell, fitted by a plane: offset, yaw and lean. */
static bool
middle_plane(const MeshSamples *samples, const MeshPose *pose, double low[3], double size[3],
             double plane[3])
{
    Extremes e;
    double m[3][4] = {{0.0}};
    for (int i = 0; i < ALONG; i++)
        for (int j = 0; j < HIGH; j++) {
            e.least[i][j] = INFINITY;
            e.most[i][j] = -INFINITY;
        }
    for (size_t i = 0; i < samples->n; i++) {
        double p[3];
        mesh_place(pose, samples->sample[i].place, p);
        int a = (int) fmin(ALONG - 1.0, ALONG * (p[0] - low[0]) / size[0]);
        int b = (int) fmin(HIGH - 1.0, HIGH * (p[2] - low[2]) / size[2]);
        if (a < 0 || b < 0)
            continue;
        e.least[a][b] = fmin(e.least[a][b], p[1]);
        e.most[a][b] = fmax(e.most[a][b], p[1]);
    }
    for (int i = 1; i + 1 < ALONG; i++)
        for (int j = 0; j < HIGH; j++) {
            double wide = e.most[i][j] - e.least[i][j];
            if (!(wide > 0.3 * size[1]) || isinf(wide))
                continue;
            double mid = 0.5 * (e.most[i][j] + e.least[i][j]);
            const double row[4] = {1.0, (i + 0.5) / ALONG - 0.5, (j + 0.5) / HIGH - 0.5, mid};
            for (int k = 0; k < 3; k++)
                for (int l = 0; l < 4; l++)
                    m[k][l] += row[k] * row[l];
        }
    if (!solve3(m))
        return false;
    for (int k = 0; k < 3; k++)
        plane[k] = m[k][3];
    return true;
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

/* Small leans may be the hull's own lopsidedness, or how the samples fell: left alone. */
static const double lean_least_rad = 0.4 * M_PI / 180.0, lean_most_rad = 20.0 * M_PI / 180.0;

static void
level_by_mirror(const Mesh *mesh, const MeshSamples *samples, MeshPose *pose)
{
    for (int pass = 0; pass < 3; pass++) {
        double low[3], size[3], plane[3];
        box_in_boat(mesh, samples, pose, low, size);
        if (!middle_plane(samples, pose, low, size, plane))
            return;
        double yaw = atan(plane[1] / size[0]), lean = atan(plane[2] / size[2]);
        bool turned = false;
        if (fabs(yaw) > lean_least_rad && fabs(yaw) < lean_most_rad) {
            turn_about(pose, 2, -yaw);
            pose->yaw_rad += yaw;
            turned = true;
        }
        if (fabs(lean) > lean_least_rad && fabs(lean) < lean_most_rad) {
            turn_about(pose, 0, lean);
            pose->roll_rad += lean;
            turned = true;
        }
        if (!turned)
            return;
        box_in_boat(mesh, samples, pose, low, size);
        pose->origin[1] += low[1] + 0.5 * size[1];
    }
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

static double
overlap(double a, double b, double low, double high)
{
    return fmin(b, high) - fmax(a, low);
}

static KeelLine
keel_line(const Low hull[], size_t n, double start, double size, bool askew)
{
    double mid = start + 0.5 * size, aft = mid - 0.15 * size, fore = mid + 0.15 * size;
    size_t lowest = 0, best = 0;
    double most = 0.0;
    for (size_t i = 0; i < n; i++) {
        if (hull[i].z < hull[lowest].z)
            lowest = i;
        if (i + 1 == n || hull[i + 1].x - hull[i].x < 0.2 * size)
            continue;
        double shared = overlap(hull[i].x, hull[i + 1].x, aft, fore);
        if (shared > most + 1e-9 * size) {
            most = shared;
            best = i;
        }
    }
    if (most > 0.05 * size)
        return (KeelLine){(hull[best + 1].z - hull[best].z) / (hull[best + 1].x - hull[best].x),
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
