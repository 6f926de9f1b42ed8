/* Volume and water plane of a body cut by the water, exact for ruled lofts.
 *
 * Every section integral is a sum over the edges of the section, so the body is a sum over its
 * panels. A panel that is wholly wet gives polynomials of degree three in x at most (two Gauss
 * points are exact); a cut one gives quotients whose denominator, the edge's height across the
 * water, is straight in x, so the rule is chosen by how near that denominator comes to zero.
 * Invariant: a point in the water plane is dry for every edge that ends in it. Source
 * docs/methods/float.md 2.3, sorted by panels instead of by sections */
#include "physics/afloat/body.h"

#include <math.h>
#ifdef __SSE2__
#include <emmintrin.h>
#endif

#include "physics/afloat/panel.h"
#include "physics/gauss.h"

/* Two numbers reckoned at once: two Gauss points of a piece, or the two ends of a bay. */
typedef double Two __attribute__((vector_size(16)));

/* 1 for the first lane, 2 for the second; gcc does not find the instruction by itself. */
static inline int
lanes_below_zero(Two v)
{
#ifdef __SSE2__
    return _mm_movemask_pd((Two) (v < 0.0));
#else
    return (v[0] < 0.0) + 2 * (v[1] < 0.0);
#endif
}

/* Sums over the panels of one loft, in the frame of the heeled section; the two lanes are added and common factors
 * brought in by add_loft. */
typedef struct {
    Two v, vx;      /* -2 times the volume and its moment in x */
    Two vu, vw;     /* -6 times the moments in u and w */
    Two a, aX, aXX; /* water plane, dA = du dx: X, Y of earth */
    Two aY, aXY;    /* twice */
    Two aYY;        /* three times */
} Sums;

/* Each side by itself, so that a boat heeled the other way gives the same to the last digit: sides that are alike must not
 * differ by the order in which they were added. */
typedef struct {
    Sums port, starboard, middle; /* bottom and deck between the two sides */
} Sides;

/* The stretch of boat between two stations. */
typedef struct {
    double x, length;
    double X, X_slope; /* earth abscissa of the water line at the aft station, and per metre of x */
} Bay;

/* A point of the ring at both ends of a bay: aft, forward. */
typedef struct {
    Two u, w;
    int wet; /* 1: aft, 2: forward, 3: both */
} Corner;

enum { DRY = 0, WET = 3 };

/* Between the two ends of a bay, at two shares s of it. */
static inline Two
between(Two ends, Two s)
{
    return ends[0] + s * (ends[1] - ends[0]);
}

/* From p1 to p2, all of it below the water. */
static inline void
wet_stretch(Sums *sums, const Corner *p1, const Corner *p2, const Bay *bay, double from, double to)
{
    double ds = to - from, g = 0.5 * ds * bay->length;
    Two s = from + ds * (Two){gauss_2.at[0], gauss_2.at[1]}, x = bay->x + s * bay->length;
    Two u1 = between(p1->u, s), w1 = between(p1->w, s);
    Two u2 = between(p2->u, s), w2 = between(p2->w, s);
    Two du = g * (u2 - u1), w = w1 + w2, area = w * du;
    sums->v += area;
    sums->vx += x * area;
    sums->vu += du * (u1 * (w + w1) + u2 * (w + w2));
    sums->vw += du * (w * w - w1 * w2);
}

/* How far towards the dry end the edge passes the water; anywhere when it lies flat in it. */
static inline Two
share_wet(Two w, Two across)
{
    if (across[0] * across[1] == 0.0)
        return (Two){across[0] != 0.0 ? w[0] / across[0] : 0.5,
                     across[1] != 0.0 ? w[1] / across[1] : 0.5};
    return w / across;
}

/* From the wet end of the edge to the water, and the water line there; way: +1 when the ring runs out of the water. */
static void
cut_piece(Sums *sums, const Corner *wet, const Corner *dry, const Bay *bay, const Gauss *rule,
          double from, double to, double way)
{
    double ds = to - from, whole = way * ds * bay->length, X_slope = bay->length * bay->X_slope;
    Two edge_u = dry->u - wet->u, edge_w = wet->w - dry->w;
    Sums sum = *sums;
    for (size_t i = 0; i < rule->n; i += 2) {
        Two s = from + ds * (Two){rule->at[i], rule->at[i + 1]};
        Two g = whole * (Two){rule->weight[i], rule->weight[i + 1]};
        Two u = between(wet->u, s), w = between(wet->w, s);
        Two to_water = share_wet(w, between(edge_w, s)) * between(edge_u, s);
        Two Y = u + to_water, area = w * (g * to_water);
        sum.v += area;
        sum.vx += (bay->x + s * bay->length) * area;
        sum.vu += area * (2.0 * u + Y);
        sum.vw += area * w;
        Two X = bay->X + s * X_slope, a = g * Y, aX = X * a, aY = Y * a;
        sum.a += a;
        sum.aX += aX;
        sum.aXX += X * aX;
        sum.aY += aY;
        sum.aXY += X * aY;
        sum.aYY += Y * aY;
    }
    *sums = sum;
}

/* Error of the n point rule falls as rho^(-2 n) with rho = (sqrt(1 + d) + sqrt(d))^2, d = 1 /
 * (ratio - 1); the bounds keep it below 1e-14 with room for the cubed denominator of the inertias.
 */
static const Gauss *
rule_for(double ratio)
{
    if (ratio < 1.05)
        return &gauss_4;
    if (ratio < 1.22)
        return &gauss_6;
    if (ratio < 1.5)
        return &gauss_8;
    return ratio < 2.4 ? &gauss_12 : &gauss_16;
}

static void
cut_stretch(Sums *sums, const Corner *wet, const Corner *dry, const Bay *bay, double from,
            double to, double way)
{
    enum { MOST_PIECES = 24 };
    const double most = 3.6;
    Two across = dry->w - wet->w;
    double rate = across[1] - across[0];
    double d[2] = {fabs(across[0] + from * rate), fabs(across[0] + to * rate)};
    double high = d[0] < d[1] ? d[1] : d[0], low = d[0] < d[1] ? d[0] : d[1];
    if (high <= most * low) {
        cut_piece(sums, wet, dry, bay, rule_for(low > 0.0 ? high / low : 1.0), from, to, way);
        return;
    }
    /* Geometric pieces away from the end where the edge lies flat in the water. */
    double reach = fmax(low, 1e-13 * high), done = 0.0, slope = high - low;
    for (size_t i = 0; i < MOST_PIECES && done < 1.0; i++) {
        double next = (reach * most - low) / slope;
        if (!(next < 1.0) || i == MOST_PIECES - 1)
            next = 1.0;
        double a = d[0] < d[1] ? from + done * (to - from) : to - next * (to - from);
        double b = d[0] < d[1] ? from + next * (to - from) : to - done * (to - from);
        cut_piece(sums, wet, dry, bay, &gauss_16, a, b, way);
        done = next;
        reach *= most;
    }
}

static inline void
cut_edge(Sums *sums, const Corner *p1, const Corner *p2, const Bay *bay, double from, double to,
         bool wet1)
{
    cut_stretch(sums, wet1 ? p1 : p2, wet1 ? p2 : p1, bay, from, to, wet1 ? 1.0 : -1.0);
}

static void
cut_panel(Sums *sums, const Corner *p1, const Corner *p2, const Bay *bay)
{
    Stretch part[3];
    const Panel p = {.w1 = {p1->w[0], p1->w[1]}, .w2 = {p2->w[0], p2->w[1]}};
    size_t n = panel_stretches(&p, part);
    for (size_t i = 0; i < n; i++) {
        if (part[i].wet1 && part[i].wet2)
            wet_stretch(sums, p1, p2, bay, part[i].from, part[i].to);
        else if (part[i].wet1 || part[i].wet2)
            cut_edge(sums, p1, p2, bay, part[i].from, part[i].to, part[i].wet1);
    }
}

/* The piece of surface between the lines of two points of the ring. */
static inline void
add_panel(Sums *sums, const Corner *p1, const Corner *p2, const Bay *bay)
{
    if (p1->wet == DRY && p2->wet == DRY)
        return;
    if (p1->wet == WET && p2->wet == WET)
        wet_stretch(sums, p1, p2, bay, 0.0, 1.0);
    else if ((p1->wet == DRY || p1->wet == WET) && (p2->wet == DRY || p2->wet == WET))
        cut_edge(sums, p1, p2, bay, 0.0, 1.0, p1->wet == WET);
    else
        cut_panel(sums, p1, p2, bay);
}

static inline Corner
corner(Two u, Two w)
{
    return (Corner){u, w, lanes_below_zero(w)};
}

typedef struct {
    Corner port, starboard;
} Pair;

static inline Pair
pair_at(const Loft *loft, const Turn *turn, Two level, size_t aft, size_t j)
{
    size_t k = aft * loft->points + j, next = k + loft->points;
    Two y = {loft->y_m[k], loft->y_m[next]}, z = {loft->z_m[k], loft->z_m[next]};
    Two across = y * turn->cos_heel, lift = y * turn->sin_heel;
    Two u = loft->y_mid_m * turn->cos_heel - z * turn->sin_heel;
    Two w = loft->y_mid_m * turn->sin_heel + z * turn->cos_heel - level;
    return (Pair){corner(u + across, w + lift), corner(u - across, w - lift)};
}

static void
add_bay(Sides *sums, const Loft *loft, const Turn *turn, size_t aft)
{
    double x[2] = {loft->x_m[aft], loft->x_m[aft + 1]};
    Two level = {turn_level(turn, x[0]), turn_level(turn, x[1])};
    Bay bay = {.x = x[0], .length = x[1] - x[0]};
    bay.X = (x[0] + turn->depth * turn->sin_trim) / turn->cos_trim;
    bay.X_slope = 1.0 / turn->cos_trim;

    /* Round the section: down the starboard side, up the port side, back across the deck. */
    Pair last = pair_at(loft, turn, level, aft, 0);
    add_panel(&sums->middle, &last.starboard, &last.port, &bay);
    for (size_t j = 1; j < loft->points; j++) {
        Pair next = pair_at(loft, turn, level, aft, j);
        add_panel(&sums->port, &last.port, &next.port, &bay);
        add_panel(&sums->starboard, &next.starboard, &last.starboard, &bay);
        last = next;
    }
    add_panel(&sums->middle, &last.port, &last.starboard, &bay);
}

static inline double
total(Two port, Two starboard, Two middle)
{
    Two lanes = port + starboard + middle;
    return lanes[0] + lanes[1];
}
#define TOTAL(sums, m) total((sums).port.m, (sums).starboard.m, (sums).middle.m)

static void
add_loft(const Loft *loft, const Turn *turn, Immersed *out)
{
    Sides sums = {0};
    for (size_t i = 0; i + 1 < loft->stations; i++)
        add_bay(&sums, loft, turn, i);

    double v = -0.5 * TOTAL(sums, v), vx = -0.5 * TOTAL(sums, vx);
    double u = -TOTAL(sums, vu) / 6.0, w = -TOTAL(sums, vw) / 6.0;
    /* Heights above the water back to heights in the heeled section: the level is straight in x. */
    double q = w + (turn->depth * v + turn->sin_trim * vx) / turn->cos_trim;
    out->volume_m3 += v;
    out->x_m4 += vx;
    out->y_m4 += u * turn->cos_heel + q * turn->sin_heel;
    out->z_m4 += q * turn->cos_heel - u * turn->sin_heel;
    out->plane_m2 += TOTAL(sums, a) / turn->cos_trim;
    out->plane_X_m3 += TOTAL(sums, aX) / turn->cos_trim;
    out->plane_Y_m3 += TOTAL(sums, aY) / (2.0 * turn->cos_trim);
    out->plane_XX_m4 += TOTAL(sums, aXX) / turn->cos_trim;
    out->plane_YY_m4 += TOTAL(sums, aYY) / (3.0 * turn->cos_trim);
    out->plane_XY_m4 += TOTAL(sums, aXY) / (2.0 * turn->cos_trim);
}

static void
add_ball(const Ball *ball, const Attitude *at, const Turn *turn, Immersed *out)
{
    double height = attitude_height_m(at, ball->x_m, ball->y_m, ball->z_m);
    double radius = cbrt(0.75 * ball->volume_m3 / M_PI);
    if (!(radius > 0.0) || height >= radius)
        return;
    double volume = ball->volume_m3, below = 0.0;
    if (height > -radius) {
        double cap = radius - height; /* depth of the immersed cap */
        volume = M_PI * cap * cap * (3.0 * radius - cap) / 3.0;
        below = 0.75 * (2.0 * radius - cap) * (2.0 * radius - cap) / (3.0 * radius - cap);
        double disc2 = radius * radius - height * height, area = M_PI * disc2;
        double q = ball->y_m * turn->sin_heel + ball->z_m * turn->cos_heel;
        double X = ball->x_m * turn->cos_trim + q * turn->sin_trim;
        double Y = ball->y_m * turn->cos_heel - ball->z_m * turn->sin_heel;
        out->plane_m2 += area;
        out->plane_X_m3 += area * X;
        out->plane_Y_m3 += area * Y;
        out->plane_XX_m4 += area * (X * X + 0.25 * disc2);
        out->plane_YY_m4 += area * (Y * Y + 0.25 * disc2);
        out->plane_XY_m4 += area * X * Y;
    }
    out->volume_m3 += volume;
    out->x_m4 += volume * (ball->x_m + below * turn->sin_trim);
    out->y_m4 += volume * (ball->y_m - below * turn->sin_heel * turn->cos_trim);
    out->z_m4 += volume * (ball->z_m - below * turn->cos_heel * turn->cos_trim);
}

void
body_immersed(const Body *body, const Attitude *at, Immersed *out)
{
    *out = (Immersed){0};
    Turn turn = turn_of(at);
    for (size_t i = 0; i < body->lofts; i++)
        add_loft(&body->loft[i], &turn, out);
    for (size_t i = 0; i < body->balls; i++)
        add_ball(&body->ball[i], at, &turn, out);
}
