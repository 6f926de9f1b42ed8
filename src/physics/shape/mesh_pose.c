/* Unit and axes of a mesh. Invariant: turn is a rotation, so a mirrored boat never comes out of a
 * right one. */
#include "physics/shape/mesh_pose.h"

#include <math.h>
#include <stdlib.h>

#include "physics/domain.h"
#include "physics/shape/mesh_axes.h"

static const struct {
    double metres;
    const char *word;
} units[] = {{1.0, "m"}, {0.001, "mm"}, {0.01, "cm"}, {0.3048, "ft"}, {0.0254, "in"}};
enum { UNITS = sizeof units / sizeof units[0] };

static const double likely_least_m = 4.0, likely_most_m = 60.0;

static void
set_unit(MeshPose *pose, double metres, const char *word, const char *because, bool sure)
{
    pose->unit_m = metres;
    pose->unit = word;
    pose->unit_reason = (MeshReason){because, sure};
}

static void
unit_by_length(double size, double length_m, MeshPose *pose)
{
    size_t best = 0;
    double least = INFINITY;
    for (size_t i = 0; i < UNITS; i++) {
        double off = fabs(log(size * units[i].metres / length_m));
        if (off < least) {
            least = off;
            best = i;
        }
    }
    if (least < log(1.1))
        set_unit(pose, units[best].metres, units[best].word,
                 "in this unit she is as long as stated, within a tenth", true);
    else
        set_unit(pose, length_m / size, "by the stated length",
                 "no unit makes her as long as stated: scaled to that length", false);
}

static void
unit_by_size(double size, MeshPose *pose)
{
    size_t fits = 0;
    for (size_t i = UNITS; i-- > 0;)
        if (is_within(size * units[i].metres, likely_least_m, likely_most_m)) {
            set_unit(pose, units[i].metres, units[i].word, NULL, false);
            fits++;
        }
    if (fits == 1)
        pose->unit_reason = (MeshReason){"only this unit makes her 4 to 60 m long", true};
    else if (fits > 1)
        pose->unit_reason =
            (MeshReason){"more than one unit makes her 4 to 60 m long: state the length", false};
    else
        set_unit(pose, 1.0, "m", "no unit makes her 4 to 60 m long: state the length", false);
}

/* A stated unit is taken, but not in silence when it makes no boat of her. */
static void
unit_stated(double size, const MeshHints *hints, MeshPose *pose)
{
    double length = size * hints->unit_m;
    bool agrees = is_positive(hints->length_m) ? fabs(log(length / hints->length_m)) < log(1.1)
                                               : is_within(length, 2.0, 150.0);
    set_unit(pose, hints->unit_m, "as stated",
             agrees ? "as stated"
                    : "as stated, but then she is no boat of that length: another unit?",
             agrees);
}

static void
find_unit(double size, const MeshHints *hints, MeshPose *pose)
{
    if (is_positive(hints->unit_m))
        unit_stated(size, hints, pose);
    else if (is_positive(hints->length_m))
        unit_by_length(size, hints->length_m, pose);
    else
        unit_by_size(size, pose);
}

void
mesh_place(const MeshPose *pose, const double file[3], double boat[3])
{
    for (int k = 0; k < 3; k++)
        boat[k] = pose->unit_m * (pose->turn[k][0] * file[0] + pose->turn[k][1] * file[1] +
                                  pose->turn[k][2] * file[2]) -
                  pose->origin[k];
}

static const char *
hints_fault(const MeshHints *h)
{
    if (abs(h->up) > 3 || abs(h->forward) > 3)
        return "an axis is none of x, y, z";
    if (h->up != 0 && abs(h->up) == abs(h->forward))
        return "up and forward are the same axis";
    if (!isnan(h->length_m) && !is_within(h->length_m, 1.0, 300.0))
        return "the stated length is outside 1 m to 300 m";
    if (!isnan(h->unit_m) && !is_within(h->unit_m, 1e-6, 1e3))
        return "the stated unit is outside 0.001 mm to 1 km";
    return NULL;
}

Validity
mesh_propose(const Mesh *mesh, const MeshLook *look, const MeshHints *hints, MeshPose *pose)
{
    const MeshHints none = {NAN, NAN, 0, 0};
    *pose = (MeshPose){.unit_m = NAN, .length_m = NAN, .beam_m = NAN, .depth_m = NAN};
    if (hints == NULL)
        hints = &none;
    pose->fault = hints_fault(hints);
    if (pose->fault != NULL)
        return REFUSED;
    MeshSamples samples = mesh_samples(mesh, look);
    double low[3] = {0.0}, high[3] = {0.0};
    if (samples.n > 0) {
        mesh_axes(mesh, look, &samples, hints, pose);
        mesh_box(mesh, &samples, pose->turn, low, high);
    }
    if (samples.n == 0 || !(high[0] > low[0] && high[1] > low[1] && high[2] > low[2])) {
        pose->fault = "it is flat, or nothing of it was kept";
        mesh_samples_free(&samples);
        return REFUSED;
    }
    find_unit(high[0] - low[0], hints, pose);
    mesh_base(mesh, &samples, pose);
    mesh_samples_free(&samples);
    bool sure = pose->unit_reason.sure && pose->forward.sure && pose->athwart.sure &&
                pose->up.sure && pose->bow.sure && pose->base.sure;
    return sure ? VALID : EXTRAPOLATED;
}
