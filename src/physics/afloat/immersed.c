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

#include "physics/afloat/panel.h"
#include "physics/gauss.h"

/* Two numbers reckoned at once: two Gauss points of a piece, or the two ends of a bay. */
typedef double Two __attribute__((vector_size(16)));

static inline Two
both(double value)
{
    return (Two){value, value};
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

/* The stretch of boat between two stations. */
typedef struct {
    double x, length;
    double X, X_slope; /* earth abscissa of the water line at the aft station, and per metre of x */
} Bay;

/* A point of the ring at both ends of a bay: aft, forward. */
typedef struct {
    Two u, w;
} Corner;

/* A corner at two shares s of the bay. */
static inline Corner
corner_at(const Corner *c, Two s)
{
    return (Corner){c->u[0] + s * (c->u[1] - c->u[0]), c->w[0] + s * (c->w[1] - c->w[0])};
}

static inline void
add_wet(Sums *sums, Two x, Two g, const Corner *from, const Corner *to)
{
    Two du = g * (to->u - from->u), w = from->w + to->w, area = w * du;
    sums->v += area;
    sums->vx += x * area;
    sums->vu += du * (from->u * (w + from->w) + to->u * (w + to->w));
    sums->vw += du * (w * w - from->w * to->w);
}

static inline void
wet_stretch(Sums *sums, const Corner *p1, const Corner *p2, const Bay *bay, double from, double to)
{
    double ds = to - from;
    Two s = from + ds * (Two){gauss_2.at[0], gauss_2.at[1]};
    Corner a = corner_at(p1, s), b = corner_at(p2, s);
    add_wet(sums, bay->x + s * bay->length, both(0.5 * ds * bay->length), &a, &b);
}

static inline void
add_crossing(Sums *sums, Two X, Two g, Two Y)
{
    Two a = g * Y, aY = a * Y;
    sums->a += a;
    sums->aX += X * a;
    sums->aXX += X * X * a;
    sums->aY += aY;
    sums->aXY += X * aY;
    sums->aYY += Y * aY;
}

/* Where along the edge it passes the water; anywhere when it lies flat in it. */
static inline Two
crossing_at(Two w1, Two w2)
{
    Two across = w1 - w2;
    if (across[0] * across[1] == 0.0)
        return (Two){across[0] != 0.0 ? w1[0] / across[0] : 0.5,
                     across[1] != 0.0 ? w1[1] / across[1] : 0.5};
    return w1 / across;
}

static void
cut_piece(Sums *sums, const Corner *p1, const Corner *p2, const Bay *bay, const Gauss *rule,
          double from, double to, bool wet1)
{
    double ds = to - from;
    Sums sum = *sums;
    for (size_t i = 0; i < rule->n; i += 2) {
        Two s = from + ds * (Two){rule->at[i], rule->at[i + 1]};
        Two g = ds * bay->length * (Two){rule->weight[i], rule->weight[i + 1]};
        Corner a = corner_at(p1, s), b = corner_at(p2, s);
        Corner water = {a.u + crossing_at(a.w, b.w) * (b.u - a.u), both(0.0)};
        Two x = bay->x + s * bay->length, X = bay->X + s * bay->length * bay->X_slope;
        if (wet1) {
            add_wet(&sum, x, g, &a, &water);
            add_crossing(&sum, X, g, water.u);
        } else {
            add_wet(&sum, x, g, &water, &b);
            add_crossing(&sum, X, -g, water.u);
        }
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
cut_stretch(Sums *sums, const Corner *p1, const Corner *p2, const Bay *bay, double from, double to,
            bool wet1)
{
    enum { MOST_PIECES = 24 };
    const double most = 3.6;
    Two across = p1->w - p2->w;
    double rate = across[1] - across[0],
           d[2] = {fabs(across[0] + from * rate), fabs(across[0] + to * rate)};
    double high = d[0] < d[1] ? d[1] : d[0], low = d[0] < d[1] ? d[0] : d[1];
    if (high <= most * low) {
        cut_piece(sums, p1, p2, bay, rule_for(low > 0.0 ? high / low : 1.0), from, to, wet1);
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
        cut_piece(sums, p1, p2, bay, &gauss_16, a, b, wet1);
        done = next;
        reach *= most;
    }
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
            cut_stretch(sums, p1, p2, bay, part[i].from, part[i].to, part[i].wet1);
    }
}

/* The piece of surface between the lines of two points of the ring. */
static inline void
add_panel(Sums *sums, const Corner *p1, const Corner *p2, const Bay *bay)
{
    bool wet1 = p1->w[0] < 0.0, wet2 = p2->w[0] < 0.0;
    if (wet1 != (p1->w[1] < 0.0) || wet2 != (p2->w[1] < 0.0))
        cut_panel(sums, p1, p2, bay);
    else if (wet1 && wet2)
        wet_stretch(sums, p1, p2, bay, 0.0, 1.0);
    else if (wet1 || wet2)
        cut_stretch(sums, p1, p2, bay, 0.0, 1.0, wet1);
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
    return (Pair){{u + across, w + lift}, {u - across, w - lift}};
}

static void
add_bay(Sums *sums, const Loft *loft, const Turn *turn, size_t aft)
{
    double x[2] = {loft->x_m[aft], loft->x_m[aft + 1]};
    Two level = {turn_level(turn, x[0]), turn_level(turn, x[1])};
    Bay bay = {.x = x[0], .length = x[1] - x[0]};
    bay.X = (x[0] + turn->depth * turn->sin_trim) / turn->cos_trim;
    bay.X_slope = 1.0 / turn->cos_trim;

    /* Round the section: down the starboard side, up the port side, back across the deck. */
    Pair last = pair_at(loft, turn, level, aft, 0);
    add_panel(sums, &last.starboard, &last.port, &bay);
    for (size_t j = 1; j < loft->points; j++) {
        Pair next = pair_at(loft, turn, level, aft, j);
        add_panel(sums, &last.port, &next.port, &bay);
        add_panel(sums, &next.starboard, &last.starboard, &bay);
        last = next;
    }
    add_panel(sums, &last.port, &last.starboard, &bay);
}

static inline double
total(Two lanes)
{
    return lanes[0] + lanes[1];
}

static void
add_loft(const Loft *loft, const Turn *turn, Immersed *out)
{
    Sums sums = {0};
    for (size_t i = 0; i + 1 < loft->stations; i++)
        add_bay(&sums, loft, turn, i);

    double v = -0.5 * total(sums.v), vx = -0.5 * total(sums.vx);
    double u = -total(sums.vu) / 6.0, w = -total(sums.vw) / 6.0;
    /* Heights above the water back to heights in the heeled section: the level is straight in x. */
    double q = w + (turn->depth * v + turn->sin_trim * vx) / turn->cos_trim;
    out->volume_m3 += v;
    out->x_m4 += vx;
    out->y_m4 += u * turn->cos_heel + q * turn->sin_heel;
    out->z_m4 += q * turn->cos_heel - u * turn->sin_heel;
    out->plane_m2 += total(sums.a) / turn->cos_trim;
    out->plane_X_m3 += total(sums.aX) / turn->cos_trim;
    out->plane_Y_m3 += total(sums.aY) / (2.0 * turn->cos_trim);
    out->plane_XX_m4 += total(sums.aXX) / turn->cos_trim;
    out->plane_YY_m4 += total(sums.aYY) / (3.0 * turn->cos_trim);
    out->plane_XY_m4 += total(sums.aXY) / (2.0 * turn->cos_trim);
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
