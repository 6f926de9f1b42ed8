/* From stations as measured to a loft. Invariant: every point that was measured is a corner of the
 * loft, so joining changes no section; what lies between stations follows the joined knuckles. */
#include "physics/afloat/station.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static void *
reserve(size_t n, size_t size)
{
    void *p = calloc(n > 0 ? n : 1, size);
    if (p == NULL)
        abort();
    return p;
}

static Loft *
loft_new(size_t stations, size_t points)
{
    Loft *loft = reserve(1, sizeof *loft);
    double *x = reserve(stations, sizeof *x);
    double *y = reserve(stations * points, sizeof *y);
    double *z = reserve(stations * points, sizeof *z);
    *loft = (Loft){stations, points, x, y, z, 0.0};
    return loft;
}

void
loft_free(Loft *loft)
{
    if (loft == NULL)
        return;
    free((void *) loft->x_m);
    free((void *) loft->y_m);
    free((void *) loft->z_m);
    free(loft);
}

static bool
usable(size_t n, const Station station[])
{
    for (size_t i = 0; i < n; i++)
        if (station[i].points < 2 || !isfinite(station[i].x_m) ||
            (i > 0 && !(station[i].x_m > station[i - 1].x_m)))
            return false;
    return n >= 2;
}

static bool
same_knuckle(const StationPoint *a, const StationPoint *b)
{
    if (a->knuckle != b->knuckle)
        return false;
    if (a->name == NULL || b->name == NULL)
        return a->name == b->name;
    return strcmp(a->name, b->name) == 0;
}

static bool
correspond(size_t n, const Station station[])
{
    for (size_t i = 1; i < n; i++) {
        if (station[i].points != station[0].points)
            return false;
        for (size_t j = 1; j + 1 < station[0].points; j++)
            if (!same_knuckle(&station[i].point[j], &station[0].point[j]))
                return false;
    }
    return true;
}

/* Inner point of a station that answers to the given knuckle of the first station: by name, or the
 * order-th unnamed one; 0 when it has none. */
static size_t
partner(const Station *s, const char *name, size_t order)
{
    size_t seen = 0;
    for (size_t j = 1; j + 1 < s->points; j++) {
        const StationPoint *p = &s->point[j];
        if (!p->knuckle)
            continue;
        if (name != NULL && p->name != NULL && strcmp(name, p->name) == 0)
            return j;
        if (name == NULL && p->name == NULL && seen++ == order)
            return j;
    }
    return 0;
}

/* joint[k * n + i]: index in station i of the k-th joined point; the ends are always joined. A
 * knuckle that would cross one already joined stays a plain point. Returns how many. */
static size_t
find_joints(size_t n, const Station station[], size_t *joint)
{
    size_t count = 1, unnamed = 0;
    size_t *at = reserve(n, sizeof *at);
    for (size_t i = 0; i < n; i++)
        joint[i] = 0;
    for (size_t j = 1; j + 1 < station[0].points; j++) {
        const StationPoint *p = &station[0].point[j];
        if (!p->knuckle)
            continue;
        size_t order = p->name == NULL ? unnamed++ : 0;
        bool all = true;
        for (size_t i = 0; i < n && all; i++) {
            at[i] = partner(&station[i], p->name, order);
            all = at[i] > joint[(count - 1) * n + i];
        }
        for (size_t i = 0; all && i < n; i++)
            joint[count * n + i] = at[i];
        count += all;
    }
    for (size_t i = 0; i < n; i++)
        joint[count * n + i] = station[i].points - 1;
    free(at);
    return count + 1;
}

/* Share of the way by girth at each point from a to b; equal steps when the whole way has no
 * length. */
static void
girths(const Station *s, size_t a, size_t b, double *share)
{
    share[0] = 0.0;
    for (size_t j = a; j < b; j++)
        share[j - a + 1] = share[j - a] + hypot(s->point[j + 1].y_m - s->point[j].y_m,
                                                s->point[j + 1].z_m - s->point[j].z_m);
    double whole = share[b - a];
    for (size_t j = 0; j <= b - a; j++)
        share[j] = whole > 0.0 ? share[j] / whole : (double) j / (double) (b - a);
    share[b - a] = 1.0;
}

static int
ascending(const void *a, const void *b)
{
    const double *p = a, *q = b;
    return *p < *q ? -1 : *p > *q;
}

/* Shares at which any station has a point: sampled there, every station keeps all its corners. */
static size_t
merge(double *share, size_t n)
{
    enum { PLENTY = 48 };
    qsort(share, n, sizeof *share, ascending);
    for (double near = 1e-9;; near = near < 1e-4 ? 1e-4 : 2.0 * near) {
        size_t kept = 0;
        double last = 0.0;
        for (size_t i = 0; i < n; i++)
            if (share[i] - last > near && 1.0 - share[i] > near) {
                share[kept++] = share[i];
                last = share[i];
            }
        n = kept;
        if (n <= PLENTY)
            return n;
    }
}

typedef struct {
    double *y, *z; /* [stations][capacity] */
    size_t used, capacity;
} Rows;

static void
put(Rows *rows, size_t station, size_t column, double y, double z)
{
    rows->y[station * rows->capacity + column] = y;
    rows->z[station * rows->capacity + column] = z;
}

static void
sample(Rows *rows, size_t i, const Station *s, size_t a, size_t b, const double *at, size_t n,
       double *share)
{
    girths(s, a, b, share);
    for (size_t k = 0, j = 0; k < n; k++) {
        while (j + 1 < b - a && share[j + 1] < at[k])
            j++;
        const StationPoint *p = &s->point[a + j], *q = &s->point[a + j + 1];
        double span = share[j + 1] - share[j], t = span > 0.0 ? (at[k] - share[j]) / span : 0.0;
        if (t > 1.0 - 1e-9)
            t = 1.0;
        put(rows, i, rows->used + k, p->y_m + t * (q->y_m - p->y_m),
            p->z_m + t * (q->z_m - p->z_m));
    }
}

/* Points between two joints: by order where all stations have as many, else by girth. */
static void
fill_between(size_t n, const Station station[], const size_t *from, const size_t *to, Rows *rows,
             double *scratch, double *share)
{
    size_t total = 0;
    bool equal = true;
    for (size_t i = 0; i < n; i++)
        equal = equal && to[i] - from[i] == to[0] - from[0];
    if (equal) {
        size_t inner = to[0] - from[0] - 1;
        for (size_t i = 0; i < n; i++)
            for (size_t k = 0; k < inner; k++) {
                const StationPoint *p = &station[i].point[from[i] + 1 + k];
                put(rows, i, rows->used + k, p->y_m, p->z_m);
            }
        rows->used += inner;
        return;
    }
    for (size_t i = 0; i < n; i++) {
        girths(&station[i], from[i], to[i], share);
        for (size_t j = 1; j < to[i] - from[i]; j++)
            scratch[total++] = share[j];
    }
    size_t kept = merge(scratch, total);
    for (size_t i = 0; i < n; i++)
        sample(rows, i, &station[i], from[i], to[i], scratch, kept, share);
    rows->used += kept;
}

static Loft *
loft_of_rows(size_t n, const Station station[], const Rows *rows)
{
    Loft *loft = loft_new(n, rows->used);
    for (size_t i = 0; i < n; i++) {
        ((double *) loft->x_m)[i] = station[i].x_m;
        memcpy((double *) loft->y_m + i * rows->used, rows->y + i * rows->capacity,
               rows->used * sizeof(double));
        memcpy((double *) loft->z_m + i * rows->used, rows->z + i * rows->capacity,
               rows->used * sizeof(double));
    }
    return loft;
}

Loft *
loft_join(size_t n, const Station station[])
{
    if (!usable(n, station))
        return NULL;
    size_t most = 0, all = 0;
    for (size_t i = 0; i < n; i++) {
        most = station[i].points > most ? station[i].points : most;
        all += station[i].points;
    }
    bool unchanged = correspond(n, station);
    size_t *joint = reserve((station[0].points + 1) * n, sizeof *joint);
    size_t joints = 2;
    for (size_t i = 0; unchanged && i < n; i++)
        joint[n + i] = station[i].points - 1;
    if (!unchanged)
        joints = find_joints(n, station, joint);

    Rows rows = {.capacity = all + 2};
    rows.y = reserve(n * rows.capacity, sizeof *rows.y);
    rows.z = reserve(n * rows.capacity, sizeof *rows.z);
    double *scratch = reserve(all, sizeof *scratch), *share = reserve(most + 1, sizeof *share);
    for (size_t k = 0; k < joints; k++) {
        for (size_t i = 0; i < n; i++) {
            const StationPoint *p = &station[i].point[joint[k * n + i]];
            put(&rows, i, rows.used, p->y_m, p->z_m);
        }
        rows.used++;
        if (k + 1 < joints)
            fill_between(n, station, joint + k * n, joint + (k + 1) * n, &rows, scratch, share);
    }
    Loft *loft = loft_of_rows(n, station, &rows);
    free(joint);
    free(rows.y);
    free(rows.z);
    free(scratch);
    free(share);
    return loft;
}

/* Which side of the line through a and b the point c lies on. */
static double
turn(const StationPoint *a, const StationPoint *b, const StationPoint *c)
{
    return (b->y_m - a->y_m) * (c->z_m - a->z_m) - (b->z_m - a->z_m) * (c->y_m - a->y_m);
}

bool
station_crosses(const Station *station, size_t *first, size_t *second)
{
    const StationPoint *p = station->point;
    for (size_t i = 0; i + 1 < station->points; i++)
        for (size_t j = i + 2; j + 1 < station->points; j++) {
            double a = turn(&p[i], &p[i + 1], &p[j]), b = turn(&p[i], &p[i + 1], &p[j + 1]);
            double c = turn(&p[j], &p[j + 1], &p[i]), d = turn(&p[j], &p[j + 1], &p[i + 1]);
            if (((a > 0.0 && b < 0.0) || (a < 0.0 && b > 0.0)) &&
                ((c > 0.0 && d < 0.0) || (c < 0.0 && d > 0.0))) {
                *first = i;
                *second = j;
                return true;
            }
        }
    return false;
}
