/* Readings that are out of line with their neighbours. Invariant: a point is judged only by
 * stations other than its own, and never by one of them alone. */
#include "physics/shape/tape_parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { FORECASTS = 3 };
static const double errors_allowed = 5.0; /* spreads of a reading; judgement of this project */

/* Sections foretold at station s by straight lines through two others: between both sides, drawn on
 * from aft and from forward; near an end through the three next ones, two at a time. No station
 * takes part in all three, so one in error does not make its neighbours suspects. */
typedef struct {
    size_t n;
    double *y[FORECASTS], *z[FORECASTS];
} Forecast;

static void
foretell(const Loft *loft, size_t s, size_t a, size_t b, Forecast *f)
{
    size_t n = loft->points;
    double *y = f->y[f->n], *z = f->z[f->n];
    double t = (loft->x_m[s] - loft->x_m[a]) / (loft->x_m[b] - loft->x_m[a]);
    for (size_t j = 0; j < n; j++) {
        y[j] = loft->y_m[a * n + j] + t * (loft->y_m[b * n + j] - loft->y_m[a * n + j]);
        z[j] = loft->z_m[a * n + j] + t * (loft->z_m[b * n + j] - loft->z_m[a * n + j]);
    }
    f->n++;
}

static void
forecasts(const Loft *loft, size_t s, Forecast *f)
{
    size_t last = loft->stations - 1, near[3], found = 0;
    f->n = 0;
    if (s > 1 && s + 1 < last) {
        foretell(loft, s, s - 1, s + 1, f);
        foretell(loft, s, s - 2, s - 1, f);
        foretell(loft, s, s + 1, s + 2, f);
        return;
    }
    size_t from = s <= 1 ? 0 : last - 3;
    for (size_t k = from; k <= from + 3; k++)
        if (k != s)
            near[found++] = k;
    foretell(loft, s, near[0], near[1], f);
    foretell(loft, s, near[1], near[2], f);
    foretell(loft, s, near[0], near[2], f);
}

typedef struct {
    double out, beyond, needed;
} Judgement;

/* From the differences between a reading and each forecast of it, of which the middle one is told. */
static Judgement
judge_by(const double difference[FORECASTS], double allowed)
{
    double a = difference[0], b = difference[1], c = difference[2];
    double least = fmin(a, fmin(b, c)), most = fmax(a, fmax(b, c));
    double outside = fmax(0.0, fmax(least, -most)), needed = allowed + 0.5 * (most - least);
    return (Judgement){a + b + c - least - most, outside - needed, needed + (most - least)};
}

static Judgement
worse(Judgement a, Judgement b)
{
    Judgement w = b.beyond > a.beyond ? b : a;
    w.needed = fmax(a.needed, b.needed);
    return w;
}

/* Rail and keel, first and last point of a section, are joined to their like at every station, and
 * so are knuckles that all stations have; other points need only lie on the section foretold. */
static Judgement
judge_point(const Forecast *f, size_t points, size_t j, const TapePoint *p, bool joined,
            double allowed)
{
    double dy[FORECASTS], dz[FORECASTS];
    for (size_t k = 0; k < FORECASTS; k++) {
        dy[k] = p->y_m - f->y[k][j];
        dz[k] = p->z_m - f->z[k][j];
        if (!joined)
            dy[k] = tape_nearest(points, f->y[k], f->z[k], p->y_m, p->z_m).out_m;
    }
    Judgement out = judge_by(dy, allowed);
    return joined ? worse(out, judge_by(dz, allowed)) : out;
}

static bool
all_have(const TapeSections *sections, const StationPoint *p)
{
    for (size_t s = 0; s < sections->n; s++) {
        bool has = false;
        for (size_t j = 0; j < sections->section[s].n && !has; j++) {
            const char *name = sections->section[s].station_point[j].name;
            has = name != NULL && p->name != NULL && strcmp(name, p->name) == 0;
        }
        if (!has)
            return false;
    }
    return true;
}

static void
judge_section(const TapeSections *sections, const Loft *loft, size_t s, double allowed, Forecast *f,
              TapeStep *step)
{
    const TapeSection *section = &sections->section[s];
    forecasts(loft, s, f);
    for (size_t i = 0; i < section->n; i++) {
        const StationPoint *p = &section->station_point[i];
        bool joined = i == 0 || i + 1 == section->n || (p->knuckle && all_have(sections, p));
        size_t j = i == 0                ? 0
                   : i + 1 == section->n ? loft->points - 1
                                         : tape_column(loft, s, p->y_m, p->z_m);
        Judgement out = judge_point(f, loft->points, j, &section->point[i], joined, allowed);
        TapeStep *at = &step[section->n - 1 - i];
        at->out_m = out.out;
        at->named_from_m = out.needed;
        at->suspect = out.beyond > 0.0;
    }
}

/* A wrong rail moves all that hangs from it: then the rail alone is named. */
static void
blame_the_rail(size_t n, TapeStep *step)
{
    size_t others = 0;
    for (size_t i = 1; i < n; i++)
        others += step[i].suspect;
    if (!step[0].suspect || 2 * others < n - 2 || others == 0)
        return;
    for (size_t i = 1; i < n; i++)
        step[i].suspect = false;
}

void
tape_judge(const TapeSurvey *survey, const TapePose *pose, Tape *tape)
{
    for (size_t i = 0; i < tape->steps; i++)
        tape->step[i].out_m = tape->step[i].named_from_m = NAN;
    for (int side = 0; side < 2; side++) {
        TapeSections sections = tape_sections(survey, pose, side);
        Loft *loft = sections.n > 3 ? tape_loft(&sections) : NULL;
        if (loft != NULL) {
            Forecast f = {0};
            double *room = shape_reserve((size_t) 2 * FORECASTS * loft->points, sizeof *room);
            for (size_t k = 0; k < FORECASTS; k++) {
                f.y[k] = room + 2 * k * loft->points;
                f.z[k] = f.y[k] + loft->points;
            }
            for (size_t s = 0; s < sections.n; s++) {
                TapeStep *step = tape->step + sections.start[sections.section[s].source[0]];
                judge_section(&sections, loft, s, errors_allowed * tape_within_m(survey), &f, step);
                blame_the_rail(sections.section[s].n, step);
            }
            free(room);
        }
        loft_free(loft);
        tape_sections_free(&sections);
    }
    for (size_t i = 0; i < tape->steps; i++)
        tape->suspects += tape->step[i].suspect;
}
