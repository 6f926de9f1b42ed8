/* One ruled panel of a loft against the water plane: the piece of outer surface between two
 * neighbouring points of two neighbouring sections. For what cuts hulls; not for callers of body.h.
 *
 * Across the section u runs horizontally to port and w is the height above the water, measured in
 * the plane of the section; all four corner values are straight in s = 0..1 from the aft to the
 * forward section. */
#pragma once

#include <stdbool.h>
#include <math.h>
#include <stddef.h>

#include "physics/afloat/body.h"

typedef struct {
    double u1[2], w1[2]; /* first point of the edge: aft, forward */
    double u2[2],
        w2[2]; /* second point, walking starboard deck edge, bottom, port deck edge, deck */
} Panel;

/* A stretch of s over which each long side of the panel is wholly wet or wholly dry. */
typedef struct {
    double from, to;
    bool wet1, wet2;
} Stretch;

static inline double
panel_between(const double ends[2], double s)
{
    return ends[0] + s * (ends[1] - ends[0]);
}

/* Cuts the panel where its long sides pass through the water; a point in the water plane counts as
 * dry, everywhere alike, so that crossings always pair up. */
static inline size_t
panel_stretches(const Panel *p, Stretch out[3])
{
    bool wet1 = p->w1[0] < 0.0, wet2 = p->w2[0] < 0.0;
    bool cross1 = wet1 != (p->w1[1] < 0.0), cross2 = wet2 != (p->w2[1] < 0.0);
    double at1 = cross1 ? p->w1[0] / (p->w1[0] - p->w1[1]) : 2.0;
    double at2 = cross2 ? p->w2[0] / (p->w2[0] - p->w2[1]) : 2.0;
    double from = 0.0;
    size_t n = 0;
    while (from < 1.0) {
        double to = at1 < at2 ? at1 : at2;
        if (to > 1.0)
            to = 1.0;
        if (to > from)
            out[n++] = (Stretch){from, to, wet1, wet2};
        from = to;
        if (at1 <= to) {
            wet1 = !wet1;
            at1 = 2.0;
        }
        if (at2 <= to) {
            wet2 = !wet2;
            at2 = 2.0;
        }
        if (at1 > 1.0 && at2 > 1.0 && from < 1.0) {
            out[n++] = (Stretch){from, 1.0, wet1, wet2};
            break;
        }
    }
    return n;
}

typedef struct {
    double sin_heel, cos_heel, sin_trim, cos_trim, depth;
} Turn;

static inline Turn
turn_of(const Attitude *at)
{
    return (Turn){sin(at->heel_rad), cos(at->heel_rad), sin(at->trim_rad), cos(at->trim_rad),
                  at->origin_depth_m};
}

/* Height of the water at x above the body's base line, square to it in the heeled section. */
static inline double
turn_level(const Turn *turn, double x)
{
    return (turn->depth + x * turn->sin_trim) / turn->cos_trim;
}

/* Corner (u, w) of ring point j: starboard deck edge first, port deck edge last. */
static inline void
ring_point(const Loft *loft, const Turn *turn, size_t station, size_t j, double level, double *u,
           double *w)
{
    size_t n = loft->points;
    size_t row = station * n + (j < n ? n - 1 - j : j - n);
    double y = j < n ? loft->y_mid_m - loft->y_m[row] : loft->y_mid_m + loft->y_m[row];
    double z = loft->z_m[row];
    *u = y * turn->cos_heel - z * turn->sin_heel;
    *w = y * turn->sin_heel + z * turn->cos_heel - level;
}
