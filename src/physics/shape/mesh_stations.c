/* From half sections to stations that correspond. Invariant: every station has the same number of
 * points, the joined corners at the same places in the row. */
#include "physics/shape/mesh_chain.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { CORNERS = 12, ROWS = 8 };
static const double sharp_rad = 15.0 * M_PI / 180.0, beside_frac = 0.015, plain_frac = 0.003;
static const double found_frac = 0.6, drift_frac = 0.08, apart_frac = 0.03;

static const char *const knuckle_names[ROWS] = {"knuckle-1", "knuckle-2", "knuckle-3", "knuckle-4",
                                                "knuckle-5", "knuckle-6", "knuckle-7", "knuckle-8"};

typedef struct {
    const Half *half;
    double girth, *share;
    size_t n;
    double corner[CORNERS], turn[CORNERS]; /* share of the girth, sharpness */
} Section;

static Spot
spot_at(const Section *s, double at)
{
    size_t low = 0, high = s->half->n - 1;
    while (high - low > 1) {
        size_t mid = low + (high - low) / 2;
        if (s->share[mid] <= at)
            low = mid;
        else
            high = mid;
    }
    double run = s->share[high] - s->share[low];
    double t = run > 0.0 ? fmin(1.0, fmax(0.0, (at - s->share[low]) / run)) : 0.0;
    const Spot *p = &s->half->spot[low], *q = &s->half->spot[high];
    return (Spot){p->y + t * (q->y - p->y), p->z + t * (q->z - p->z)};
}

/* Turn of the girth within a short way to both sides, so that an arc is no corner. */
static double
turn_at(const Section *s, double at)
{
    Spot a = spot_at(s, fmax(0.0, at - beside_frac)), b = spot_at(s, at),
         c = spot_at(s, fmin(1.0, at + beside_frac));
    double turn = atan2(c.z - b.z, c.y - b.y) - atan2(b.z - a.z, b.y - a.y);
    return fabs(remainder(turn, 2.0 * M_PI));
}

static void
add_corner(Section *s, double at, double turn)
{
    if (s->n > 0 && at - s->corner[s->n - 1] < 2.0 * beside_frac) {
        if (turn > s->turn[s->n - 1]) {
            s->corner[s->n - 1] = at;
            s->turn[s->n - 1] = turn;
        }
    } else if (s->n < CORNERS) {
        s->corner[s->n] = at;
        s->turn[s->n++] = turn;
    }
}

static Section
section_of(const Half *half)
{
    Section s = {.half = half, .girth = half_girth_m(half)};
    s.share = shape_reserve(half->n, sizeof *s.share);
    Spot *plain = shape_reserve(half->n, sizeof *plain);
    size_t n = spots_simplify(half->n, half->spot, plain_frac * s.girth, plain);
    double sum = 0.0;
    for (size_t i = 0, k = 0; i < half->n; i++) {
        const Spot *p = &half->spot[i];
        if (i > 0)
            sum += hypot(p->y - p[-1].y, p->z - p[-1].z);
        s.share[i] = s.girth > 0.0 ? fmin(1.0, sum / s.girth) : (double) i / (double) (half->n - 1);
        if (k < n && p->y == plain[k].y && p->z == plain[k].z)
            k++;
    }
    s.share[half->n - 1] = 1.0;
    for (size_t i = 0, k = 0; i < half->n && k < n; i++) {
        if (half->spot[i].y != plain[k].y || half->spot[i].z != plain[k].z)
            continue;
        k++;
        double at = s.share[i];
        if (at > 2.0 * beside_frac && at < 1.0 - 2.0 * beside_frac && turn_at(&s, at) > sharp_rad)
            add_corner(&s, at, turn_at(&s, at));
    }
    free(plain);
    return s;
}

/* One corner followed through the stations; NAN where it was not found. */
typedef struct {
    double *share;
    size_t found;
} Row;

static double
nearest_corner(const Section *s, double to)
{
    double best = NAN;
    for (size_t k = 0; k < s->n; k++)
        if (fabs(s->corner[k] - to) < drift_frac && !(fabs(best - to) <= fabs(s->corner[k] - to)))
            best = s->corner[k];
    return best;
}

/* From a station onward in one direction; where the corner fades, the last place counts. */
static void
follow_row(const Section *section, size_t n, size_t from, int step, double start, Row *row)
{
    double last = start;
    for (size_t i = from; i < n; i += (size_t) step) {
        double at = nearest_corner(&section[i], last);
        row->share[i] = at;
        row->found += !isnan(at);
        last = isnan(at) ? last : at;
    }
}

static void
fill_row(size_t n, const double x_m[], Row *row)
{
    for (size_t i = 0; i < n; i++) {
        size_t a = i, b = i;
        if (!isnan(row->share[i]))
            continue;
        while (a > 0 && isnan(row->share[a]))
            a--; /* what lies before i has been filled */
        while (b + 1 < n && isnan(row->share[b]))
            b++;
        double before = row->share[a], after = row->share[b];
        if (isnan(before))
            row->share[i] = after;
        else if (isnan(after))
            row->share[i] = before;
        else
            row->share[i] = before + (after - before) * (x_m[i] - x_m[a]) / (x_m[b] - x_m[a]);
    }
}

/* Rows that come too near to one already chosen would cross it. */
static bool
stands_clear(size_t n, const Row *row, const Row chosen[], size_t rows)
{
    for (size_t i = 0; i < n; i++) {
        if (row->share[i] < apart_frac || row->share[i] > 1.0 - apart_frac)
            return false;
        for (size_t k = 0; k < rows; k++)
            if (fabs(row->share[i] - chosen[k].share[i]) < apart_frac ||
                (row->share[i] > chosen[k].share[i]) != (row->share[0] > chosen[k].share[0]))
                return false;
    }
    return true;
}

static int
by_share(const void *a, const void *b)
{
    const Row *p = a, *q = b;
    return p->share[0] < q->share[0] ? -1 : p->share[0] > q->share[0];
}

/* Corners seen amidships, followed to both ends. */
static size_t
find_rows(const Section *section, size_t n, const double x_m[], Row row[ROWS], double *room)
{
    size_t rows = 0, start = n / 2;
    for (size_t i = n / 4; i < n - n / 4; i++)
        if (section[i].n > section[start].n)
            start = i;
    for (size_t k = 0; k < section[start].n && rows < ROWS; k++) {
        Row try = {room + rows * n, 0};
        double at = section[start].corner[k];
        follow_row(section, n, start, 1, at, &try);
        try.found--; /* counted both ways */
        follow_row(section, n, start, -1, at, &try);
        fill_row(n, x_m, &try);
        if ((double) try.found >= found_frac * (double) n && stands_clear(n, &try, row, rows))
            row[rows++] = try;
    }
    if (rows > 1)
        qsort(row, rows, sizeof *row, by_share);
    return rows;
}

/* How many steps each piece between two rows takes: by its girth, one at least. */
static void
share_out(size_t n, const Row row[], size_t rows, size_t steps, size_t piece[ROWS + 1])
{
    double size[ROWS + 1];
    size_t used = 0;
    for (size_t k = 0; k <= rows; k++) {
        size[k] = 0.0;
        for (size_t i = 0; i < n; i++)
            size[k] += (k < rows ? row[k].share[i] : 1.0) - (k > 0 ? row[k - 1].share[i] : 0.0);
        piece[k] = 1;
        used++;
    }
    while (used < steps) {
        size_t most = 0;
        for (size_t k = 1; k <= rows; k++)
            if (size[k] / (double) piece[k] > size[most] / (double) piece[most])
                most = k;
        piece[most]++;
        used++;
    }
}

/* A corner that is no row still gets a point: the nearest one that is no row either. */
static void
snap(const Section *s, size_t points, const bool fixed[], double at[])
{
    for (size_t k = 0; k < s->n; k++) {
        size_t best = 0;
        bool is_row = false;
        for (size_t j = 1; j + 1 < points; j++) {
            is_row = is_row || (fixed[j] && fabs(at[j] - s->corner[k]) < 1e-3);
            if (!fixed[j] &&
                (best == 0 || fabs(at[j] - s->corner[k]) < fabs(at[best] - s->corner[k])))
                best = j;
        }
        if (!is_row && best > 0 && s->corner[k] > at[best - 1] && s->corner[k] < at[best + 1])
            at[best] = s->corner[k];
    }
}

static void
put_station(const Section *s, size_t i, const Row row[], size_t rows, const size_t piece[],
            size_t points, StationPoint *p)
{
    double *at = shape_reserve(points, sizeof *at);
    bool *fixed = shape_reserve(points, sizeof *fixed);
    size_t j = 0;
    for (size_t k = 0; k <= rows; k++) {
        double low = k > 0 ? row[k - 1].share[i] : 0.0, high = k < rows ? row[k].share[i] : 1.0;
        for (size_t m = 0; m < piece[k]; m++)
            at[j++] = low + (high - low) * (double) m / (double) piece[k];
        if (k < rows)
            fixed[j] = true;
    }
    at[j] = 1.0;
    snap(s, points, fixed, at);
    for (size_t k = 0, named = 0; k < points; k++) {
        Spot spot = spot_at(s, at[k]);
        p[k] = (StationPoint){spot.y, spot.z, fixed[k], fixed[k] ? knuckle_names[named] : NULL};
        named += fixed[k];
    }
    p[0].y_m = 0.0;
    free(at);
    free(fixed);
}

Shape *
halves_stations(size_t n, const double x_m[], const Half half[], size_t points, size_t *knuckles)
{
    Section *section = shape_reserve(n, sizeof *section);
    size_t *count = shape_reserve(n, sizeof *count), piece[ROWS + 1];
    double *room = shape_reserve(ROWS * n, sizeof *room);
    Row row[ROWS];
    for (size_t i = 0; i < n; i++) {
        section[i] = section_of(&half[i]);
        count[i] = points;
    }
    *knuckles = find_rows(section, n, x_m, row, room);
    while (*knuckles + 2 > points)
        --*knuckles;
    share_out(n, row, *knuckles, points - 1, piece);
    Shape *shape = shape_new(n, count);
    for (size_t i = 0; i < n; i++) {
        shape->station[i].x_m = x_m[i];
        put_station(&section[i], i, row, *knuckles, piece, points, shape_points(shape, i));
        free(section[i].share);
    }
    free(section);
    free(count);
    free(room);
    return shape;
}
