/* Lines and sections of a hull form. Invariant: at every station keel <= corner <= deck edge in
 * height and no half-breadth is negative, whatever the numbers. */
#include "physics/shape/form_lines.h"

#include <math.h>

#include "physics/domain.h"

enum { ARC_POINTS = 9, KEEL_POINTS = 2 };
static const double keel_slender = 0.2; /* half the thickness of a bar keel over its depth */

typedef struct {
    const FormGiven *given;
    double v[N_ALL];
    double slope_beam[FORM_PLACES], slope_depth[FORM_PLACES];
} Lines;

/* Slopes of the monotone cubic of Fritsch and Carlson in the weighting of Fritsch and Butland,
 * equal steps of one. */
static void
slopes(const double y[FORM_PLACES], double slope[FORM_PLACES])
{
    const size_t last = FORM_PLACES - 1;
    for (size_t i = 1; i < last; i++) {
        double a = y[i] - y[i - 1], b = y[i + 1] - y[i];
        slope[i] = a * b > 0.0 ? 2.0 * a * b / (a + b) : 0.0;
    }
    slope[0] = 1.5 * (y[1] - y[0]) - 0.5 * slope[1];
    slope[last] = 1.5 * (y[last] - y[last - 1]) - 0.5 * slope[last - 1];
}

static double
cubic(const double y[], const double slope[], double frac)
{
    double at = frac * (FORM_PLACES - 1);
    size_t i = at >= FORM_PLACES - 1 ? FORM_PLACES - 2 : (size_t) at;
    double t = at - (double) i, u = 1.0 - t;
    return u * u * (1.0 + 2.0 * t) * y[i] + t * t * (3.0 - 2.0 * t) * y[i + 1] +
           t * u * (u * slope[i] - t * slope[i + 1]);
}

/* A pointed end: full or fine by the exponent, from the last place inward. */
static double
toward_end(double end, double near, double t, double exponent)
{
    return end + (near - end) * pow(fmax(0.0, 1.0 - pow(t, 1.5)), fmax(0.1, exponent));
}

static double
deck_half_m(const Lines *l, double frac)
{
    const double *b = &l->v[N_BEAM];
    double beam = cubic(b, l->slope_beam, frac);
    if (frac > 0.75 && b[4] < 0.7 * b[3])
        beam = toward_end(b[4], b[3], 4.0 * frac - 3.0, l->v[N_ENTRANCE]);
    else if (frac < 0.25 && b[0] < 0.7 * b[1])
        beam = toward_end(b[0], b[1], 1.0 - 4.0 * frac, l->v[N_TAIL]);
    return 0.5 * fmax(0.0, beam);
}

static double
deck_m(const Lines *l, double frac)
{
    return fmax(0.05, cubic(&l->v[N_DEPTH], l->slope_depth, frac));
}

static double
straight(double t, double from, double to)
{
    return from + (to - from) * fmin(1.0, fmax(0.0, t));
}

static double
fore_keel_m(const Lines *l, double x, double length)
{
    bool punt = l->given->type == FORM_PUNT;
    double rake = fmax(0.0, l->v[N_STEM_RAKE]), foot = length - rake;
    double rise = punt ? 0.0 : fmax(0.0, l->v[N_FOREFOOT]),
           begin = fmin(0.7 * length, foot - 0.01 * length);
    if (x >= foot && rake > 0.0)
        return straight((x - foot) / rake, rise, l->v[N_BOTTOM_FORE]);
    if (x <= begin || rise <= 0.0)
        return 0.0;
    double t = (x - begin) / (foot - begin);
    return rise * t * t;
}

static double
aft_keel_m(const Lines *l, double x)
{
    double rake = fmax(0.0, l->v[N_STERN_RAKE]), high = fmax(0.0, l->v[N_BOTTOM_AFT]);
    if (l->given->type == FORM_PUNT)
        return x < rake ? straight(x / rake, high, 0.0) : 0.0;
    if (x < rake) /* under a raked transom or counter the shell runs up to the deck */
        return straight(x / rake, fmax(high, l->v[N_DEPTH]), high);
    double run = fmax(rake + 0.01 * l->v[N_LENGTH], l->v[N_RUN]);
    return x < run ? high * pow((run - x) / (run - rake), fmax(0.5, l->v[N_ROCKER])) : 0.0;
}

static double
keel_m(const Lines *l, double frac)
{
    double length = l->v[N_LENGTH], x = frac * length;
    double z = fmax(aft_keel_m(l, x), fore_keel_m(l, x, length));
    return fmin(fmax(0.0, z), deck_m(l, frac));
}

static bool
is_pointed_aft(const Lines *l)
{
    return l->given->stern == STERN_CANOE || l->v[N_BEAM] < 0.4 * l->v[N_BEAM + 1];
}

/* Corner over deck breadth: constant to a transom, narrowing to a pointed end. */
static double
corner_share(const Lines *l, double frac)
{
    double s = 2.0 * frac - 1.0;
    if (s < 0.0 && !is_pointed_aft(l))
        s = 0.0;
    return fmax(0.0, l->v[N_CORNER] * (1.0 - l->v[N_NARROWING] * s * s));
}

static double
bar_m(const Lines *l)
{
    return fmax(0.0, l->v[N_KEEL]);
}

static double
corner_mid_m(const Lines *l)
{
    double half = l->v[N_CORNER] * deck_half_m(l, 0.5);
    return bar_m(l) + half * tan(fmin(degrees(70.0), fmax(0.0, l->v[N_DEADRISE])));
}

static double
corner_m(const Lines *l, double frac)
{
    double mid = corner_mid_m(l), s = 2.0 * frac - 1.0, deck = deck_m(l, 0.5);
    if (l->given->type == FORM_PUNT)
        return keel_m(l, frac) + mid;
    if (s > 0.0 || is_pointed_aft(l))
        return mid + fmax(0.0, l->v[N_CHINE_RISE]) * fmax(0.0, deck - mid) * s * s;
    double run = fmax(0.01, l->v[N_RUN] / l->v[N_LENGTH]), t = fmax(0.0, 1.0 - frac / run);
    return mid + fmax(0.0, l->v[N_TUCK] * l->v[N_BOTTOM_AFT]) * pow(t, fmax(0.5, l->v[N_ROCKER]));
}

static size_t
bilge_points(FormType type)
{
    if (type == FORM_PUNT || type == FORM_SINGLE_CHINE)
        return 1;
    return type == FORM_DOUBLE_CHINE ? 2 : ARC_POINTS;
}

typedef struct {
    double y, z;
} Place;

static Place
along(Place from, Place to, double share)
{
    return (Place){from.y + share * (to.y - from.y), from.z + share * (to.z - from.z)};
}

static double
distance(Place a, Place b)
{
    return hypot(a.y - b.y, a.z - b.z);
}

/* The corner between bottom and side: sharp, cut off, or an arc that touches both (as a rational
 * Bezier curve, which is the circle itself: Piegl and Tiller, The NURBS Book, 7.3). */
static void
put_bilge(const Lines *l, double size, Place in, Place corner, Place deck, StationPoint *p)
{
    size_t n = bilge_points(l->given->type);
    static const char *const chine[] = {"lower-chine", "upper-chine"};
    if (n == 1) {
        p[0] = (StationPoint){corner.y, corner.z, true, "chine"};
        return;
    }
    double a = distance(in, corner), b = distance(deck, corner), half = 0.25 * M_PI;
    if (a > 0.0 && b > 0.0) {
        double cosine =
            ((in.y - corner.y) * (deck.y - corner.y) + (in.z - corner.z) * (deck.z - corner.z)) /
            (a * b);
        half = 0.5 * acos(fmin(1.0, fmax(-1.0, cosine)));
    }
    double tangent = n == 2 ? size : size / fmax(0.05, tan(half));
    tangent = fmin(fmax(0.0, tangent), 0.95 * fmin(a, b));
    Place from = a > 0.0 ? along(corner, in, tangent / a) : corner;
    Place to = b > 0.0 ? along(corner, deck, tangent / b) : corner;
    for (size_t k = 0; k < n; k++) {
        double t = (double) k / (double) (n - 1), u = 1.0 - t, w = 2.0 * sin(half) * t * u;
        double sum = u * u + w + t * t;
        p[k] = (StationPoint){(u * u * from.y + w * corner.y + t * t * to.y) / sum,
                              (u * u * from.z + w * corner.z + t * t * to.z) / sum, n == 2,
                              n == 2 ? chine[k] : NULL};
    }
}

static size_t
section_points(const FormGiven *given)
{
    return KEEL_POINTS + 1 + bilge_points(given->type) + 1;
}

static void
put_section(const Lines *l, double frac, StationPoint *p)
{
    double keel = keel_m(l, frac), top = deck_m(l, frac), half = deck_half_m(l, frac);
    Place deck = {half, top};
    Place corner = {corner_share(l, frac) * half, corner_m(l, frac)};
    double bar = fmin(bar_m(l), top - keel);
    corner.z = fmin(top, fmax(corner.z, keel + bar));
    double thick = fmin(keel_slender * bar, corner.y);
    Place in = {thick, keel + bar};
    p[0] = (StationPoint){0.0, keel, false, NULL};
    p[1] = (StationPoint){thick, keel, false, NULL};
    p[2] = (StationPoint){in.y, in.z, false, NULL};
    double mid = l->v[N_CORNER] * deck_half_m(l, 0.5);
    double scale = mid > 0.0 ? fmin(1.5, corner.y / mid) : 1.0;
    put_bilge(l, l->v[N_BILGE] * scale, in, corner, deck, p + KEEL_POINTS + 1);
    p[section_points(l->given) - 1] = (StationPoint){deck.y, deck.z, false, NULL};
}

static size_t
insert(double *frac, size_t n, double at)
{
    const double near = 0.015;
    if (!(at > near && at < 1.0 - near))
        return n;
    size_t i = 0;
    while (frac[i] < at - near)
        i++;
    if (fabs(frac[i] - at) <= near) {
        frac[i] = at; /* a station stands close by: it moves to the corner */
        return n;
    }
    for (size_t k = n; k > i; k--)
        frac[k] = frac[k - 1];
    frac[i] = at;
    return n + 1;
}

size_t
form_places(const FormGiven *given, const FormNumber number[], double frac[FORM_STATIONS_MOST])
{
    static const double plain[] = {0.0, 0.05, 0.12, 0.25, 0.38, 0.5, 0.62, 0.75, 0.86, 0.94, 1.0};
    size_t n = sizeof plain / sizeof plain[0];
    for (size_t i = 0; i < n; i++)
        frac[i] = plain[i];
    double length = number[N_LENGTH].value;
    n = insert(frac, n, number[N_STERN_RAKE].value / length);
    n = insert(frac, n, 1.0 - number[N_STEM_RAKE].value / length);
    if (given->type != FORM_PUNT)
        n = insert(frac, n, number[N_RUN].value / length);
    return n;
}

Shape *
form_shape(const FormGiven *given, const FormNumber number[], size_t n, const double frac[])
{
    Lines l = {.given = given};
    for (size_t i = 0; i < N_ALL; i++)
        l.v[i] = number[i].value;
    slopes(&l.v[N_BEAM], l.slope_beam);
    slopes(&l.v[N_DEPTH], l.slope_depth);
    size_t points[FORM_STATIONS_MOST] = {0};
    for (size_t i = 0; i < n; i++)
        points[i] = section_points(given);
    Shape *shape = shape_new(n, points);
    for (size_t i = 0; i < n; i++) {
        shape->station[i].x_m = frac[i] * l.v[N_LENGTH];
        put_section(&l, frac[i], shape_points(shape, i));
    }
    return shape;
}
