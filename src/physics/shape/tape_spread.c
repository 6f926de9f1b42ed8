/* How far to trust what came out of the readings. Invariant: every length read is moved by its
 * spread once, alone, and the whole way from readings to volume is gone again. */
#include "physics/shape/tape_parts.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "physics/domain.h"

/* A keel height taken between neighbours, in spreads of a reading; a list measured, and one nobody
 * measured, in degrees. Judgement of this project. */
static const double keel_guessed = 3.0, list_measured_deg = 0.25, list_assumed_deg = 1.0;

typedef struct {
    double *at;
    double spread;
    size_t step; /* whose doubt it is; SIZE_MAX: of the whole */
} Moved;

typedef struct {
    TapeSurvey survey;
    TapeStation *station;
    TapeReading *reading;
    Moved *moved;
    size_t n;
} Copy;

static void
add(Copy *copy, double *at, double spread, size_t step)
{
    if (!isnan(*at) && spread > 0.0)
        copy->moved[copy->n++] = (Moved){at, spread, step};
}

static void
add_station(Copy *copy, TapeStation *s, TapeReading *reading, bool keel_taken, size_t step)
{
    double within = tape_within_m(&copy->survey);
    add(copy, &s->keel_m, keel_taken ? within : keel_guessed * within, step + s->n + 1);
    add(copy, &s->along_m, within, step);
    add(copy, &s->rail_m, within, step);
    if (s->from_string || s->rail_inward_m != 0.0)
        add(copy, &s->rail_inward_m, within, step);
    if (!s->from_string)
        add(copy, &s->beam_m, within, step);
    for (size_t k = 0; k < s->n; k++) {
        add(copy, &reading[k].below_m, within, step + 1 + k);
        add(copy, &reading[k].inward_m, within, step + 1 + k);
    }
}

static void
add_whole(Copy *copy, const TapePose *pose)
{
    TapeSurvey *s = &copy->survey;
    double within = tape_within_m(s);
    bool used[2] = {false, false}, plane[2] = {false, false};
    for (size_t i = 0; i < s->n; i++) {
        used[s->station[i].side] = true;
        plane[s->station[i].side] |= s->station[i].from_string;
    }
    for (size_t side = 0; side < 2; side++) {
        if (used[side]) {
            add(copy, &s->string[side].aft_m, within, SIZE_MAX);
            add(copy, &s->string[side].fore_m, within, SIZE_MAX);
            add(copy, &s->string[side].stern_m, within, SIZE_MAX);
        }
        if (plane[side]) {
            add(copy, &s->string[side].out_aft_m, within, SIZE_MAX);
            add(copy, &s->string[side].out_fore_m, within, SIZE_MAX);
        }
    }
    for (size_t k = 0; k < 2; k++)
        add(copy, &s->base_height_m[k], within, SIZE_MAX);
    /* A list found from the rails is as sure as they are, and moves with them. */
    if (!isnan(s->list_rad))
        add(copy, &s->list_rad, degrees(list_measured_deg), SIZE_MAX);
    else if (pose->list_assumed) {
        s->list_rad = 0.0;
        add(copy, &s->list_rad, degrees(list_assumed_deg), SIZE_MAX);
    }
}

/* In place, for moved points into the survey itself. */
static void
copy_survey(const TapeSurvey *survey, const TapePose *pose, Copy *copy)
{
    size_t readings = 0;
    for (size_t i = 0; i < survey->n; i++)
        readings += survey->station[i].n;
    *copy = (Copy){.survey = *survey};
    copy->station = shape_reserve(survey->n, sizeof *copy->station);
    copy->reading = shape_reserve(readings, sizeof *copy->reading);
    copy->moved = shape_reserve(2 * readings + 5 * survey->n + 16, sizeof *copy->moved);
    copy->survey.station = copy->station;
    size_t at = 0, step = 0;
    for (size_t i = 0; i < survey->n; i++) {
        const TapeStation *from = &survey->station[i];
        copy->station[i] = *from;
        copy->station[i].reading = copy->reading + at;
        copy->station[i].keel_m = tape_keel_height_m(survey, pose, from);
        if (from->n > 0)
            memcpy(copy->reading + at, from->reading, from->n * sizeof *from->reading);
        add_station(copy, &copy->station[i], copy->reading + at, !isnan(from->keel_m), step);
        at += from->n;
        step += from->n + 2;
    }
    add_whole(copy, pose);
}

static Shape *
shape_of(const TapeSurvey *survey)
{
    TapePose pose = tape_pose(survey);
    TapeSections sections = tape_sections(survey, &pose, 2);
    Shape *shape = tape_shape(&sections);
    tape_sections_free(&sections);
    return shape;
}

/* Squares by which the points move; 0 where the moved readings make other points. */
static void
add_squares(const Shape *a, const Shape *b, double *y, double *z)
{
    size_t n = 0;
    double dy = 0.0, dz = 0.0;
    for (size_t i = 0; i < a->n && i < b->n; i++)
        for (size_t j = 0; j < a->station[i].points; j++, n++) {
            if (b->station[i].points != a->station[i].points)
                return;
            const StationPoint *p = &a->station[i].point[j], *q = &b->station[i].point[j];
            dy += (p->y_m - q->y_m) * (p->y_m - q->y_m);
            dz += (p->z_m - q->z_m) * (p->z_m - q->z_m);
        }
    *y += dy / (double) n;
    *z += dz / (double) n;
}

/* Straight lines between stations against monotone cubics through them (Fritsch and Butland 1984):
 * docs/methods/float.md 2.1 asks for this as the doubt of the take-off. */
static double
slope_at(const Loft *loft, const double *value, size_t s, size_t j)
{
    size_t n = loft->points;
    if (s == 0 || s + 1 == loft->stations) {
        size_t a = s == 0 ? 0 : s - 1;
        return (value[(a + 1) * n + j] - value[a * n + j]) / (loft->x_m[a + 1] - loft->x_m[a]);
    }
    double h1 = loft->x_m[s] - loft->x_m[s - 1], h2 = loft->x_m[s + 1] - loft->x_m[s];
    double d1 = (value[s * n + j] - value[(s - 1) * n + j]) / h1;
    double d2 = (value[(s + 1) * n + j] - value[s * n + j]) / h2;
    double w1 = 2.0 * h2 + h1, w2 = h2 + 2.0 * h1;
    return d1 * d2 > 0.0 ? (w1 + w2) / (w1 / d1 + w2 / d2) : 0.0;
}

static double
smooth_at(const Loft *loft, const double *value, size_t s, size_t j, double t)
{
    size_t n = loft->points;
    double h = loft->x_m[s + 1] - loft->x_m[s], u = 1.0 - t;
    double a = slope_at(loft, value, s, j) * h, b = slope_at(loft, value, s + 1, j) * h;
    return u * u * (1.0 + 2.0 * t) * value[s * n + j] +
           t * t * (3.0 - 2.0 * t) * value[(s + 1) * n + j] + t * u * (u * a - t * b);
}

static double
between_m3(const Shape *shape, double z_m)
{
    enum { PARTS = 4 };
    Loft *loft = loft_join(shape->n, shape->station);
    if (loft == NULL)
        return NAN;
    size_t n = (loft->stations - 1) * PARTS + 1;
    size_t *points = shape_reserve(n, sizeof *points);
    for (size_t i = 0; i < n; i++)
        points[i] = loft->points;
    Shape *smooth = shape_new(n, points);
    for (size_t i = 0; i < n; i++) {
        size_t s = i / PARTS < loft->stations - 1 ? i / PARTS : loft->stations - 2;
        double t = (double) (i - s * PARTS) / PARTS;
        smooth->station[i].x_m = loft->x_m[s] + t * (loft->x_m[s + 1] - loft->x_m[s]);
        StationPoint *p = shape_points(smooth, i);
        for (size_t j = 0; j < loft->points; j++)
            p[j] = (StationPoint){fmax(0.0, smooth_at(loft, loft->y_m, s, j, t)),
                                  smooth_at(loft, loft->z_m, s, j, t), false, NULL};
    }
    double volume = shape_volume_m3(smooth, z_m);
    free(points);
    shape_free(smooth);
    loft_free(loft);
    return fabs(volume - shape_volume_m3(shape, z_m));
}

static double
turn_rad(const StationPoint *p)
{
    double a = atan2(p[0].z_m - p[-1].z_m, p[0].y_m - p[-1].y_m);
    return remainder(atan2(p[1].z_m - p[0].z_m, p[1].y_m - p[0].y_m) - a, 2.0 * M_PI);
}

/* Between a chord and the arc through its ends lies c^2 * turn / 12; a knuckle does not bulge. */
static double
bulge_m2(const Station *s, double z_m)
{
    double area = 0.0;
    for (size_t j = 0; j + 1 < s->points; j++) {
        const StationPoint *p = &s->point[j];
        double turn = 0.0, chord2 = pow(p[1].y_m - p->y_m, 2.0) + pow(p[1].z_m - p->z_m, 2.0);
        if (p->z_m >= z_m)
            continue;
        if (j > 0 && !p->knuckle)
            turn += 0.5 * turn_rad(p);
        if (j + 2 < s->points && !p[1].knuckle)
            turn += 0.5 * turn_rad(p + 1);
        area += chord2 * turn / 12.0;
    }
    return area;
}

static double
chords_m3(const Shape *shape, double z_m)
{
    double volume = 0.0;
    for (size_t i = 0; i + 1 < shape->n; i++) {
        const Station *a = &shape->station[i], *b = a + 1;
        volume += (b->x_m - a->x_m) * (bulge_m2(a, z_m) + bulge_m2(b, z_m));
    }
    return fabs(volume);
}

void
tape_spreads(const TapeSurvey *survey, double z_m, Tape *tape)
{
    TapePose pose = tape_pose(survey);
    Copy copy;
    copy_survey(survey, &pose, &copy);
    double base = shape_volume_m3(tape->shape, z_m), sum = 0.0, y = 0.0, z = 0.0;
    for (size_t k = 0; k < copy.n; k++) {
        const Moved *m = &copy.moved[k];
        double kept = *m->at;
        *m->at = kept + m->spread;
        Shape *moved = shape_of(&copy.survey);
        *m->at = kept;
        double by = moved != NULL ? shape_volume_m3(moved, z_m) - base : NAN;
        sum += by * by;
        if (m->step < tape->steps)
            tape->step[m->step].share += by * by;
        if (moved != NULL)
            add_squares(tape->shape, moved, &y, &z);
        shape_free(moved);
    }
    for (size_t i = 0; i < tape->steps && sum > 0.0; i++)
        tape->step[i].share /= sum;
    tape->volume_m3 = base;
    tape->readings_m3 = sqrt(sum);
    tape->between_m3 = between_m3(tape->shape, z_m);
    tape->chords_m3 = chords_m3(tape->shape, z_m);
    tape->spread_m3 = hypot(tape->readings_m3, hypot(tape->between_m3, tape->chords_m3));
    tape->half_breadth_m = sqrt(y);
    tape->height_m = sqrt(z);
    free(copy.station);
    free(copy.reading);
    free(copy.moved);
}
