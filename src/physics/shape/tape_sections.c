/* Sections of one or both sides, and stations of them. Invariant: a section runs keel to rail and
 * sections run forward; where both sides were taken the mean of the two stands for both. */
#include "physics/shape/tape_parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double same_place_m = 0.05; /* of stations on both sides */

TapeNearest
tape_nearest(size_t n, const double y[], const double z[], double y_m, double z_m)
{
    TapeNearest best = {0, 0.0, INFINITY};
    for (size_t i = 0; i + 1 < n; i++) {
        double dy = y[i + 1] - y[i], dz = z[i + 1] - z[i], length2 = dy * dy + dz * dz;
        double t = length2 > 0.0 ? ((y_m - y[i]) * dy + (z_m - z[i]) * dz) / length2 : 0.0;
        t = fmin(1.0, fmax(0.0, t));
        double ey = y_m - y[i] - t * dy, ez = z_m - z[i] - t * dz, far = hypot(ey, ez);
        if (far < fabs(best.out_m))
            best = (TapeNearest){i, t, dy * ez - dz * ey > 0.0 ? -far : far};
    }
    return best;
}

static double
mean_x(size_t n, const TapePoint point[])
{
    double sum = 0.0;
    for (size_t i = 0; i < n; i++)
        sum += point[i].x_m;
    return sum / (double) n;
}

static StationPoint *
named(const TapeStation *station, const TapePoint point[])
{
    size_t n = station->n + 2;
    StationPoint *p = shape_reserve(n, sizeof *p);
    for (size_t i = 0; i < n; i++) {
        const char *name = i > 0 && i + 1 < n ? station->reading[n - 2 - i].knuckle : NULL;
        p[i] = (StationPoint){point[i].y_m, point[i].z_m, name != NULL, name};
    }
    return p;
}

static void
add_single(TapeSections *out, const TapeSurvey *survey, size_t i)
{
    size_t n = survey->station[i].n + 2;
    const TapePoint *from = out->point + out->start[i];
    TapeSection s = {.n = n, .source = {i, i}, .sources = 1};
    s.point = shape_reserve(n, sizeof *s.point);
    memcpy(s.point, from, n * sizeof *s.point);
    s.station_point = named(&survey->station[i], from);
    s.x_m = mean_x(n, s.point);
    out->section[out->n++] = s;
}

static int
by_x(const void *a, const void *b)
{
    const TapeSection *p = a, *q = b;
    return p->x_m < q->x_m ? -1 : p->x_m > q->x_m;
}

/* x of a section at a place between its points. */
static double
x_at(const TapeSection *s, const TapeNearest *at)
{
    const TapePoint *p = &s->point[at->segment];
    return p[0].x_m + at->share * (p[1].x_m - p[0].x_m);
}

static TapeNearest
nearest_of(const TapeSection *s, double y_m, double z_m)
{
    double *y = shape_reserve(2 * s->n, sizeof *y), *z = y + s->n;
    for (size_t i = 0; i < s->n; i++) {
        y[i] = s->point[i].y_m;
        z[i] = s->point[i].z_m;
    }
    TapeNearest found = tape_nearest(s->n, y, z, y_m, z_m);
    free(y);
    return found;
}

/* The loft of the two sides has the same corners in both, so their mean is point by point. */
static TapeSection
mean_of(TapeSections *out, const TapeSection *port, const TapeSection *starboard)
{
    const Station both[] = {{0.0, port->n, port->station_point},
                            {1.0, starboard->n, starboard->station_point}};
    Loft *loft = loft_join(2, both);
    size_t n = loft->points;
    TapeSection s = {.n = n,
                     .x_m = 0.5 * (port->x_m + starboard->x_m),
                     .source = {port->source[0], starboard->source[0]},
                     .sources = 2};
    s.point = shape_reserve(n, sizeof *s.point);
    s.station_point = shape_reserve(n, sizeof *s.station_point);
    for (size_t j = 0; j < n; j++) {
        double py = loft->y_m[j], pz = loft->z_m[j], sy = loft->y_m[n + j], sz = loft->z_m[n + j];
        TapeNearest on_port = nearest_of(port, py, pz),
                    on_starboard = nearest_of(starboard, sy, sz);
        s.point[j] = (TapePoint){0.5 * (x_at(port, &on_port) + x_at(starboard, &on_starboard)),
                                 0.5 * (py + sy), 0.5 * (pz + sz)};
        s.station_point[j] = (StationPoint){s.point[j].y_m, s.point[j].z_m, false, NULL};
        out->difference_sum += py - sy;
        out->difference_most = fmax(out->difference_most, hypot(py - sy, pz - sz));
        out->differences++;
    }
    for (size_t i = 1; i + 1 < port->n; i++)
        if (port->station_point[i].knuckle) {
            size_t j = tape_column(loft, 0, port->point[i].y_m, port->point[i].z_m);
            s.station_point[j].knuckle = true;
            s.station_point[j].name = port->station_point[i].name;
        }
    loft_free(loft);
    return s;
}

static void
release(TapeSection *s)
{
    free(s->point);
    free(s->station_point);
}

static void
pair_sides(TapeSections *out, const TapeSurvey *survey)
{
    for (size_t i = 0; i + 1 < out->n; i++) {
        TapeSection *a = &out->section[i], *b = a + 1;
        TapeSide side_a = survey->station[a->source[0]].side;
        if (b->x_m - a->x_m > same_place_m || side_a == survey->station[b->source[0]].side)
            continue;
        const TapeSection *port = side_a == TAPE_PORT ? a : b;
        TapeSection mean = mean_of(out, port, port == a ? b : a);
        release(a);
        release(b);
        *a = mean;
        memmove(b, b + 1, (out->n - i - 2) * sizeof *b);
        out->n--;
        out->pairs++;
    }
}

TapeSections
tape_sections(const TapeSurvey *survey, const TapePose *pose, int side)
{
    TapeSections out = {0};
    out.start = shape_reserve(survey->n + 1, sizeof *out.start);
    for (size_t i = 0; i < survey->n; i++)
        out.start[i + 1] = out.start[i] + survey->station[i].n + 2;
    out.point = shape_reserve(out.start[survey->n], sizeof *out.point);
    out.section = shape_reserve(survey->n, sizeof *out.section);
    for (size_t i = 0; i < survey->n; i++) {
        tape_points(survey, pose, &survey->station[i], out.point + out.start[i]);
        if (side == 2 || side == (int) survey->station[i].side)
            add_single(&out, survey, i);
    }
    qsort(out.section, out.n, sizeof *out.section, by_x);
    if (side == 2)
        pair_sides(&out, survey);
    return out;
}

void
tape_sections_free(TapeSections *sections)
{
    for (size_t i = 0; i < sections->n; i++)
        release(&sections->section[i]);
    free(sections->section);
    free(sections->point);
    free(sections->start);
}

static Loft *
loft_at(const TapeSections *sections, StationPoint *const point[])
{
    Station *station = shape_reserve(sections->n, sizeof *station);
    for (size_t i = 0; i < sections->n; i++)
        station[i] = (Station){sections->section[i].x_m, sections->section[i].n, point[i]};
    Loft *loft = loft_join(sections->n, station);
    free(station);
    return loft;
}

Loft *
tape_loft(const TapeSections *sections)
{
    StationPoint **point = shape_reserve(sections->n, sizeof *point);
    for (size_t i = 0; i < sections->n; i++)
        point[i] = sections->section[i].station_point;
    Loft *loft = loft_at(sections, point);
    free(point);
    return loft;
}

size_t
tape_column(const Loft *loft, size_t s, double y_m, double z_m)
{
    size_t best = 0;
    double least = INFINITY;
    for (size_t j = 0; j < loft->points; j++) {
        double far =
            hypot(loft->y_m[s * loft->points + j] - y_m, loft->z_m[s * loft->points + j] - z_m);
        if (far < least) {
            least = far;
            best = j;
        }
    }
    return best;
}

/* The bay on the side where the point lies; at the ends the one there is. */
static void
move_to_station(const Loft *loft, size_t s, const TapePoint *from, double x_m, StationPoint *to)
{
    size_t n = loft->points, j = tape_column(loft, s, from->y_m, from->z_m);
    bool ahead = from->x_m > x_m;
    size_t aft = (ahead && s + 1 < loft->stations) || s == 0 ? s : s - 1;
    double run = loft->x_m[aft + 1] - loft->x_m[aft], back = (x_m - from->x_m) / run;
    const double *y = loft->y_m + aft * n + j, *z = loft->z_m + aft * n + j;
    to->y_m = fmax(0.0, from->y_m + back * (y[n] - y[0]));
    to->z_m = from->z_m + back * (z[n] - z[0]);
}

Shape *
tape_shape(const TapeSections *sections)
{
    Loft *loft = tape_loft(sections);
    if (loft == NULL)
        return NULL;
    size_t *points = shape_reserve(sections->n, sizeof *points);
    for (size_t i = 0; i < sections->n; i++)
        points[i] = sections->section[i].n;
    Shape *shape = shape_new(sections->n, points);
    free(points);
    for (size_t i = 0; i < sections->n; i++) {
        const TapeSection *s = &sections->section[i];
        shape->station[i].x_m = s->x_m;
        StationPoint *p = shape_points(shape, i);
        memcpy(p, s->station_point, s->n * sizeof *p);
        for (size_t j = 0; j < s->n; j++)
            move_to_station(loft, i, &s->point[j], s->x_m, &p[j]);
        p[0].y_m = 0.0;
    }
    loft_free(loft);
    return shape;
}
