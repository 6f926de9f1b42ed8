/* From outlines to half sections, keel to deck edge. Invariant: a half begins on the centreline, its
 * half-breadths are not negative, and it ends at the deck edge. */
#include "physics/shape/mesh_chain.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A tangle would cost the square of its spots: what is left after that many looks at each is kept as
 * it is. */
enum { LOOKS_EACH = 200, PLAIN_MOST = 2000 };

size_t
spots_simplify(size_t n, const Spot spot[], double near, Spot out[])
{
    size_t looks = 0;
    if (n < 3) {
        memcpy(out, spot, n * sizeof *out);
        return n;
    }
    char *keep = shape_reserve(n, 1);
    size_t(*todo)[2] = shape_reserve(n, sizeof *todo), depth = 0, kept = 0;
    keep[0] = keep[n - 1] = 1;
    todo[depth][0] = 0;
    todo[depth++][1] = n - 1;
    while (depth > 0) {
        size_t a = todo[--depth][0], b = todo[depth][1], worst = a;
        double far = near, dy = spot[b].y - spot[a].y, dz = spot[b].z - spot[a].z;
        double length2 = dy * dy + dz * dz;
        for (size_t i = a + 1; i < b; i++) {
            double ey = spot[i].y - spot[a].y, ez = spot[i].z - spot[a].z;
            double t = length2 > 0.0 ? fmin(1.0, fmax(0.0, (ey * dy + ez * dz) / length2)) : 0.0;
            double off = hypot(ey - t * dy, ez - t * dz);
            if (off > far) {
                far = off;
                worst = i;
            }
        }
        looks += b - a;
        if (looks > LOOKS_EACH * n)
            memset(keep + a, 1, b - a);
        if (worst == a || looks > LOOKS_EACH * n)
            continue;
        keep[worst] = 1;
        todo[depth][0] = a;
        todo[depth++][1] = worst;
        todo[depth][0] = worst;
        todo[depth++][1] = b;
    }
    for (size_t i = 0; i < n; i++)
        if (keep[i])
            out[kept++] = spot[i];
    free(keep);
    free(todo);
    return kept;
}

double
half_girth_m(const Half *half)
{
    double girth = 0.0;
    for (size_t i = 0; i + 1 < half->n; i++)
        girth +=
            hypot(half->spot[i + 1].y - half->spot[i].y, half->spot[i + 1].z - half->spot[i].z);
    return girth;
}

/* Between the half and the centreline; the deck closes it level. */
double
half_area_m2(const Half *half)
{
    double area = 0.0;
    for (size_t i = 0; i + 1 < half->n; i++)
        area +=
            0.5 * (half->spot[i].y + half->spot[i + 1].y) * (half->spot[i + 1].z - half->spot[i].z);
    return area;
}

/* How far the run that begins at i goes inboard nearly level; *end: where it ends. */
static double
level_run(size_t n, const Spot s[], size_t i, size_t *end)
{
    const double steepest = 0.35;
    size_t k = i;
    while (k + 1 < n && s[k + 1].y < s[k].y &&
           fabs(s[k + 1].z - s[k].z) <= steepest * (s[k].y - s[k + 1].y))
        k++;
    *end = k;
    return s[i].y - s[k].y;
}

/* Index in the simplified half of the deck edge, or its last spot. */
static size_t
deck_edge(size_t n, const Spot s[], double half_beam)
{
    const double lowest = s[0].z;
    double highest = lowest;
    for (size_t i = 1; i < n; i++)
        highest = fmax(highest, s[i].z);
    for (size_t i = 1; i + 1 < n; i++) {
        size_t end;
        double run = level_run(n, s, i, &end), later = 0.0;
        bool to_middle = end + 1 == n && s[end].y < 0.2 * s[i].y;
        if (end == i || (run < 0.04 * half_beam && !to_middle))
            continue;
        for (size_t k = end; k < n; k++)
            later = fmax(later, s[k].y);
        /* A bulb or a step in the side turns inboard too, but the hull comes out again above. */
        if (later <= 0.97 * s[i].y && s[i].z > lowest + 0.2 * (highest - lowest))
            return i;
    }
    return n - 1;
}

/* Takes the path keel to top over the deck as far as the deck edge. */
static Half
cut_at_deck(const Placed *placed, size_t n, Spot *path)
{
    double size = placed->half_beam_m + placed->depth_m;
    Half half = {0};
    for (size_t i = 0; i < n; i++)
        path[i].y = fmax(0.0, path[i].y);
    path[0].y = 0.0;
    Spot *plain = shape_reserve(n, sizeof *plain);
    size_t m = spots_simplify(n, path, 0.002 * size, plain);
    Spot edge = plain[m < 3 || m > PLAIN_MOST ? m - 1 : deck_edge(m, plain, placed->half_beam_m)];
    free(plain);
    half.spot = shape_reserve(n, sizeof *half.spot);
    while (half.n < n) {
        half.spot[half.n] = path[half.n];
        half.n++;
        if (half.n > 1 && path[half.n - 1].y == edge.y && path[half.n - 1].z == edge.z)
            break;
    }
    return half;
}

/* Where an outline crosses the centreline: after spot at, at height z. */
typedef struct {
    size_t at;
    double z;
} Crossing;

static size_t
crossings(const Chain *c, Crossing out[], size_t most)
{
    if (c->n < 2)
        return 0;
    size_t n = 0, last = c->closed ? c->n : c->n - 1;
    for (size_t i = 0; i < last && n < most; i++) {
        const Spot *p = &c->spot[i], *q = &c->spot[(i + 1) % c->n];
        if ((p->y >= 0.0) == (q->y >= 0.0))
            continue;
        out[n++] = (Crossing){i, p->z + (q->z - p->z) * p->y / (p->y - q->y)};
    }
    return n;
}

/* From the crossing of the keel forwards or backwards along the outline, up to the other crossing, or
 * to the end of an open one. */
static void
walk(const Chain *c, const Crossing *keel, const Crossing *top, bool onward, Spot *path, size_t *n)
{
    size_t at = onward ? (keel->at + 1) % c->n : keel->at;
    size_t stop = top == NULL ? SIZE_MAX : onward ? top->at : (top->at + 1) % c->n;
    *n = 0;
    path[(*n)++] = (Spot){0.0, keel->z};
    for (size_t steps = 0; steps < c->n; steps++) {
        path[(*n)++] = c->spot[at];
        if (at == stop)
            break;
        if (!c->closed && (onward ? at + 1 == c->n : at == 0))
            break;
        at = onward ? (at + 1) % c->n : (at + c->n - 1) % c->n;
    }
    if (top != NULL)
        path[(*n)++] = (Spot){0.0, top->z};
}

static void
put_half(const Placed *placed, size_t n, Spot *path, Halves *halves)
{
    double sum = 0.0;
    for (size_t i = 0; i < n; i++)
        sum += path[i].y;
    size_t side = sum >= 0.0 ? 0 : 1;
    for (size_t i = 0; side == 1 && i < n; i++)
        path[i].y = -path[i].y;
    if (halves->side[side].n == 0)
        halves->side[side] = cut_at_deck(placed, n, path);
}

/* Both ways round from the lowest crossing. */
static bool
split(const Placed *placed, const Chain *outline, Halves *halves)
{
    enum { MOST = 64 };
    Crossing found[MOST];
    Chain whole = *outline;
    const Chain *c = &whole;
    size_t n = crossings(c, found, MOST), low = 0, high = 0, length;
    /* The one crossing is the deck's: it is the bottom that is open, and closed straight. */
    if (!c->closed && n == 1 && found[0].z > fmax(c->spot[0].z, c->spot[c->n - 1].z)) {
        whole.closed = true;
        n = crossings(c, found, MOST);
    }
    if (n == 0 || (c->closed && n < 2))
        return false;
    for (size_t i = 1; i < n; i++) {
        low = found[i].z < found[low].z ? i : low;
        high = found[i].z > found[high].z ? i : high;
    }
    const Crossing *top = c->closed ? &found[high] : NULL;
    if (c->closed && high == low)
        return false;
    Spot *path = shape_reserve(c->n + 3, sizeof *path);
    for (int way = 0; way < 2; way++) {
        walk(c, &found[low], top, way == 0, path, &length);
        put_half(placed, length, path, halves);
    }
    free(path);
    return halves->side[0].n > 1 || halves->side[1].n > 1;
}

/* An outline that stays on one side: from its lowest end near the middle, or, closed along the middle,
 * from the lowest to the highest spot there by the outer way. */
static bool
one_side(const Placed *placed, const Chain *c, Halves *halves)
{
    Spot *path = shape_reserve(c->n + 3, sizeof *path);
    size_t n = 0, low = 0;
    double near = 0.02 * placed->half_beam_m + 1e-9;
    if (!c->closed) {
        bool turn = c->spot[c->n - 1].z < c->spot[0].z;
        for (size_t i = 0; i < c->n; i++)
            path[n++] = c->spot[turn ? c->n - 1 - i : i];
        /* The keel itself may be missing: the bottom goes on level to the middle. */
        if (fabs(path[0].y) > near) {
            memmove(path + 1, path, n * sizeof *path);
            path[0].y = 0.0;
            n++;
        }
    } else {
        size_t high = SIZE_MAX;
        low = SIZE_MAX;
        for (size_t i = 0; i < c->n; i++) {
            if (fabs(c->spot[i].y) > near)
                continue;
            if (low == SIZE_MAX || c->spot[i].z < c->spot[low].z)
                low = i;
            if (high == SIZE_MAX || c->spot[i].z > c->spot[high].z)
                high = i;
        }
        double outer[2] = {0.0, 0.0};
        for (size_t way = 0; low != SIZE_MAX && low != high && way < 2; way++)
            for (size_t i = low; i != high; i = (i + (way == 0 ? 1 : c->n - 1)) % c->n)
                outer[way] = fmax(outer[way], fabs(c->spot[i].y));
        size_t step = outer[0] >= outer[1] ? 1 : c->n - 1;
        for (size_t i = low; low != SIZE_MAX && low != high; i = (i + step) % c->n) {
            path[n++] = c->spot[i];
            if (i == high)
                break;
        }
    }
    if (n > 1)
        put_half(placed, n, path, halves);
    free(path);
    return n > 1;
}

static double
extent(const Chain *c)
{
    double low_y = INFINITY, high_y = -INFINITY, low_z = INFINITY, high_z = -INFINITY;
    for (size_t i = 0; i < c->n; i++) {
        low_y = fmin(low_y, c->spot[i].y);
        high_y = fmax(high_y, c->spot[i].y);
        low_z = fmin(low_z, c->spot[i].z);
        high_z = fmax(high_z, c->spot[i].z);
    }
    return hypot(high_y - low_y, high_z - low_z);
}

bool
halves_find(const Placed *placed, const Chains *chains, bool half, Halves *halves)
{
    *halves = (Halves){0};
    size_t first = SIZE_MAX, second = SIZE_MAX;
    double largest = 0.0, next = 0.0;
    for (size_t i = 0; i < chains->n; i++) {
        double size = chains->chain[i].n > 1 ? extent(&chains->chain[i]) : 0.0;
        if (size > largest) {
            second = first;
            next = largest;
            first = i;
            largest = size;
        } else if (size > next) {
            second = i;
            next = size;
        }
    }
    if (first == SIZE_MAX)
        return false;
    halves->pieces = chains->n - 1;
    if (!half && split(placed, &chains->chain[first], halves))
        return true;
    /* Port and starboard as two sheets. */
    bool found = one_side(placed, &chains->chain[first], halves);
    if (!half && second != SIZE_MAX && next > 0.5 * largest &&
        one_side(placed, &chains->chain[second], halves))
        halves->pieces -= halves->side[0].n > 0 && halves->side[1].n > 0;
    return found;
}

void
halves_free(Halves *halves)
{
    free(halves->side[0].spot);
    free(halves->side[1].spot);
    *halves = (Halves){0};
}

/* Girth from the keel at every spot, as a share. */
static double *
shares_of(const Half *half)
{
    double *share = shape_reserve(half->n, sizeof *share), girth = half_girth_m(half), sum = 0.0;
    for (size_t i = 1; i < half->n; i++) {
        sum += hypot(half->spot[i].y - half->spot[i - 1].y, half->spot[i].z - half->spot[i - 1].z);
        share[i] = girth > 0.0 ? sum / girth : (double) i / (double) (half->n - 1);
    }
    share[half->n - 1] = 1.0;
    return share;
}

static Spot
at_share(const Half *half, const double share[], double at, size_t *from)
{
    size_t i = *from;
    while (i + 2 < half->n && share[i + 1] < at)
        i++;
    *from = i;
    double run = share[i + 1] - share[i], t = run > 0.0 ? fmin(1.0, (at - share[i]) / run) : 0.0;
    const Spot *p = &half->spot[i], *q = p + 1;
    return (Spot){p->y + t * (q->y - p->y), p->z + t * (q->z - p->z)};
}

Half
half_mean(const Halves *halves, double *apart_m)
{
    const Half *a = &halves->side[0], *b = &halves->side[1];
    Half mean = {0};
    *apart_m = NAN;
    if (a->n < 2 || b->n < 2) {
        const Half *one = a->n < 2 ? b : a;
        mean.n = one->n;
        mean.spot = shape_reserve(one->n, sizeof *mean.spot);
        memcpy(mean.spot, one->spot, one->n * sizeof *mean.spot);
        return mean;
    }
    double *sa = shares_of(a), *sb = shares_of(b), sum = 0.0;
    mean.spot = shape_reserve(a->n + b->n, sizeof *mean.spot);
    for (size_t i = 0, k = 0, at_a = 0, at_b = 0; i < a->n || k < b->n;) {
        double at = i < a->n && (k >= b->n || sa[i] <= sb[k]) ? sa[i] : sb[k];
        while (i < a->n && sa[i] <= at)
            i++;
        while (k < b->n && sb[k] <= at)
            k++;
        Spot p = at_share(a, sa, at, &at_a), q = at_share(b, sb, at, &at_b);
        mean.spot[mean.n++] = (Spot){0.5 * (p.y + q.y), 0.5 * (p.z + q.z)};
        sum += (p.y - q.y) * (p.y - q.y) + (p.z - q.z) * (p.z - q.z);
    }
    *apart_m = sqrt(sum / (double) mean.n);
    free(sa);
    free(sb);
    return mean;
}
