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

/* Sums over the panels of one loft, in the frame of the heeled section; common factors are left to add_loft. */
typedef struct {
    double v, vx;      /* -2 times the volume and its moment in x */
    double vu, vw;     /* -6 times the moments in u and w */
    double a, aX, aXX; /* water plane, dA = du dx: X, Y of earth */
    double aY, aXY;    /* twice */
    double aYY;        /* three times */
} Sums;

/* The stretch of boat between two stations. */
typedef struct {
    double x, length;
    double X, X_slope; /* earth abscissa of the water line at the aft station, and per metre of x */
} Bay;

static inline void
add_wet(Sums *sums, double x, double g, double u1, double w1, double u2, double w2)
{
    double du = g * (u2 - u1), w = w1 + w2, area = w * du;
    sums->v += area;
    sums->vx += x * area;
    sums->vu += du * (u1 * (w + w1) + u2 * (w + w2));
    sums->vw += du * (w * w - w1 * w2);
}

static inline void
wet_stretch(Sums *sums, const Panel *p, const Bay *bay, double from, double to)
{
    double ds = to - from, g = 0.5 * ds * bay->length;
    for (size_t i = 0; i < 2; i++) {
        double s = from + ds * gauss_2.at[i];
        add_wet(sums, bay->x + s * bay->length, g, panel_between(p->u1, s), panel_between(p->w1, s),
                panel_between(p->u2, s), panel_between(p->w2, s));
    }
}

static inline void
add_crossing(Sums *sums, double X, double g, double Y)
{
    double a = g * Y, aY = a * Y;
    sums->a += a;
    sums->aX += X * a;
    sums->aXX += X * X * a;
    sums->aY += aY;
    sums->aXY += X * aY;
    sums->aYY += Y * aY;
}

static void
cut_piece(Sums *sums, const Panel *p, const Bay *bay, const Gauss *rule, double from, double to,
          bool wet1)
{
    double ds = to - from;
    for (size_t i = 0; i < rule->n; i++) {
        double s = from + ds * rule->at[i], g = rule->weight[i] * ds * bay->length;
        double u1 = panel_between(p->u1, s), w1 = panel_between(p->w1, s);
        double u2 = panel_between(p->u2, s), w2 = panel_between(p->w2, s);
        double across = w1 - w2;
        double t = across != 0.0 ? w1 / across : 0.5;
        double Y = u1 + t * (u2 - u1);
        double x = bay->x + s * bay->length, X = bay->X + s * bay->length * bay->X_slope;
        if (wet1) {
            add_wet(sums, x, g, u1, w1, Y, 0.0);
            add_crossing(sums, X, g, Y);
        } else {
            add_wet(sums, x, g, Y, 0.0, u2, w2);
            add_crossing(sums, X, -g, Y);
        }
    }
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
cut_stretch(Sums *sums, const Panel *p, const Bay *bay, double from, double to, bool wet1)
{
    enum { MOST_PIECES = 24 };
    const double most = 3.6;
    double d[2] = {fabs(panel_between(p->w1, from) - panel_between(p->w2, from)),
                   fabs(panel_between(p->w1, to) - panel_between(p->w2, to))};
    double high = fmax(d[0], d[1]), low = fmin(d[0], d[1]);
    if (high <= most * low) {
        cut_piece(sums, p, bay, rule_for(low > 0.0 ? high / low : 1.0), from, to, wet1);
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
        cut_piece(sums, p, bay, &gauss_16, a, b, wet1);
        done = next;
        reach *= most;
    }
}

static void
cut_panel(Sums *sums, const Panel *p, const Bay *bay)
{
    Stretch part[3];
    size_t n = panel_stretches(p, part);
    for (size_t i = 0; i < n; i++) {
        if (part[i].wet1 && part[i].wet2)
            wet_stretch(sums, p, bay, part[i].from, part[i].to);
        else if (part[i].wet1 || part[i].wet2)
            cut_stretch(sums, p, bay, part[i].from, part[i].to, part[i].wet1);
    }
}

static inline void
add_panel(Sums *sums, const Panel *p, const Bay *bay)
{
    int wet = (p->w1[0] < 0.0) + (p->w2[0] < 0.0) + (p->w1[1] < 0.0) + (p->w2[1] < 0.0);
    if (wet == 4)
        wet_stretch(sums, p, bay, 0.0, 1.0);
    else if (wet > 0)
        cut_panel(sums, p, bay);
}

/* The same point of both sides at both ends of a bay. */
typedef struct {
    double u[2], w[2];
} Corner;

typedef struct {
    Corner port, starboard;
} Pair;

static inline Pair
pair_at(const Loft *loft, const Turn *turn, const double level[2], size_t aft, size_t j)
{
    Pair pair;
    double mid_u = loft->y_mid_m * turn->cos_heel, mid_w = loft->y_mid_m * turn->sin_heel;
    for (size_t i = 0; i < 2; i++) {
        size_t k = (aft + i) * loft->points + j;
        double across = loft->y_m[k] * turn->cos_heel, lift = loft->y_m[k] * turn->sin_heel;
        double u = mid_u - loft->z_m[k] * turn->sin_heel;
        double w = mid_w + loft->z_m[k] * turn->cos_heel - level[i];
        pair.port.u[i] = u + across;
        pair.port.w[i] = w + lift;
        pair.starboard.u[i] = u - across;
        pair.starboard.w[i] = w - lift;
    }
    return pair;
}

static inline void
add_between(Sums *sums, const Bay *bay, const Corner *from, const Corner *to)
{
    const Panel p = {{from->u[0], from->u[1]},
                     {from->w[0], from->w[1]},
                     {to->u[0], to->u[1]},
                     {to->w[0], to->w[1]}};
    add_panel(sums, &p, bay);
}

static void
add_bay(Sums *sums, const Loft *loft, const Turn *turn, size_t aft)
{
    double x[2] = {loft->x_m[aft], loft->x_m[aft + 1]}, level[2];
    for (size_t i = 0; i < 2; i++)
        level[i] = turn_level(turn, x[i]);
    Bay bay = {.x = x[0], .length = x[1] - x[0]};
    bay.X = (x[0] + turn->depth * turn->sin_trim) / turn->cos_trim;
    bay.X_slope = 1.0 / turn->cos_trim;

    /* Round the section: down the starboard side, up the port side, back across the deck. */
    Pair last = pair_at(loft, turn, level, aft, 0);
    add_between(sums, &bay, &last.starboard, &last.port);
    for (size_t j = 1; j < loft->points; j++) {
        Pair next = pair_at(loft, turn, level, aft, j);
        add_between(sums, &bay, &last.port, &next.port);
        add_between(sums, &bay, &next.starboard, &last.starboard);
        last = next;
    }
    add_between(sums, &bay, &last.port, &last.starboard);
}

static void
add_loft(const Loft *loft, const Turn *turn, Immersed *out)
{
    Sums sums = {0};
    for (size_t i = 0; i + 1 < loft->stations; i++)
        add_bay(&sums, loft, turn, i);

    double v = -0.5 * sums.v, vx = -0.5 * sums.vx, u = -sums.vu / 6.0, w = -sums.vw / 6.0;
    /* Heights above the water back to heights in the heeled section: the level is straight in x. */
    double q = w + (turn->depth * v + turn->sin_trim * vx) / turn->cos_trim;
    out->volume_m3 += v;
    out->x_m4 += vx;
    out->y_m4 += u * turn->cos_heel + q * turn->sin_heel;
    out->z_m4 += q * turn->cos_heel - u * turn->sin_heel;
    out->plane_m2 += sums.a / turn->cos_trim;
    out->plane_X_m3 += sums.aX / turn->cos_trim;
    out->plane_Y_m3 += sums.aY / (2.0 * turn->cos_trim);
    out->plane_XX_m4 += sums.aXX / turn->cos_trim;
    out->plane_YY_m4 += sums.aYY / (3.0 * turn->cos_trim);
    out->plane_XY_m4 += sums.aXY / (2.0 * turn->cos_trim);
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
