/* Wetted shell of a body: sides, bottom and wet end sections, not the deck, not the balls.
 * Invariant: the same panels and the same cuts as the volume. */
#include "physics/afloat/body.h"

#include <math.h>

#include "physics/afloat/panel.h"
#include "physics/gauss.h"

/* Width of one panel per metre of x at s, over the wet part of its edge. The heights w are measured
 * from a water line that itself climbs by `climb` per metre of x. */
static double
girth_at(const Panel *p, double length, double climb, double s, bool wet1, bool wet2)
{
    double w1 = panel_between(p->w1, s), w2 = panel_between(p->w2, s);
    double du = panel_between(p->u2, s) - panel_between(p->u1, s), dw = w2 - w1;
    double t0 = 0.0, t1 = 1.0;
    if (wet1 != wet2)
        *(wet1 ? &t1 : &t0) = w1 != w2 ? w1 / (w1 - w2) : 0.5;
    double u1x = (p->u1[1] - p->u1[0]) / length, u2x = (p->u2[1] - p->u2[0]) / length;
    double q1x = (p->w1[1] - p->w1[0]) / length + climb;
    double q2x = (p->w2[1] - p->w2[0]) / length + climb;
    double sum = 0.0;
    for (size_t i = 0; i < gauss_4.n; i++) {
        double t = t0 + (t1 - t0) * gauss_4.at[i];
        double twist = (u1x + t * (u2x - u1x)) * dw - (q1x + t * (q2x - q1x)) * du;
        sum += gauss_4.weight[i] * sqrt(twist * twist + du * du + dw * dw);
    }
    return sum * (t1 - t0);
}

static double
panel_wetted(const Panel *p, double length, double climb)
{
    Stretch part[3];
    double sum = 0.0;
    size_t n = panel_stretches(p, part);
    for (size_t i = 0; i < n; i++) {
        if (!part[i].wet1 && !part[i].wet2)
            continue;
        const Gauss *rule = part[i].wet1 && part[i].wet2 ? &gauss_6 : &gauss_12;
        double ds = part[i].to - part[i].from;
        for (size_t k = 0; k < rule->n; k++)
            sum += rule->weight[k] * ds * length *
                   girth_at(p, length, climb, part[i].from + ds * rule->at[k], part[i].wet1,
                            part[i].wet2);
    }
    return sum;
}

/* Wet area of one section, square to the base line. */
static double
section_wetted(const Loft *loft, const Turn *turn, size_t station)
{
    size_t ring = 2 * loft->points;
    double level = turn_level(turn, loft->x_m[station]), u1, w1, u2, w2, area = 0.0;
    ring_point(loft, turn, station, ring - 1, level, &u1, &w1);
    for (size_t j = 0; j < ring; j++, u1 = u2, w1 = w2) {
        ring_point(loft, turn, station, j, level, &u2, &w2);
        if (w1 < 0.0 && w2 < 0.0)
            area -= 0.5 * (w1 + w2) * (u2 - u1);
        else if (w1 < 0.0)
            area -= 0.5 * w1 * (u2 - u1) * w1 / (w1 - w2);
        else if (w2 < 0.0)
            area -= 0.5 * w2 * (u2 - u1) * w2 / (w2 - w1);
    }
    return fabs(area);
}

static double
loft_wetted(const Loft *loft, const Turn *turn)
{
    size_t ring = 2 * loft->points;
    double climb = turn->sin_trim / turn->cos_trim;
    double sum = section_wetted(loft, turn, 0) + section_wetted(loft, turn, loft->stations - 1);
    for (size_t k = 0; k + 1 < loft->stations; k++) {
        double length = loft->x_m[k + 1] - loft->x_m[k];
        for (size_t j = 0; j + 1 < ring; j++) { /* the last edge is the deck */
            Panel p;
            for (size_t i = 0; i < 2; i++) {
                double level = turn_level(turn, loft->x_m[k + i]);
                ring_point(loft, turn, k + i, j, level, &p.u1[i], &p.w1[i]);
                ring_point(loft, turn, k + i, j + 1, level, &p.u2[i], &p.w2[i]);
            }
            sum += panel_wetted(&p, length, climb);
        }
    }
    return sum;
}

double
body_wetted_m2(const Body *body, const Attitude *at)
{
    Turn turn = turn_of(at);
    double sum = 0.0;
    for (size_t i = 0; i < body->lofts; i++)
        sum += loft_wetted(&body->loft[i], &turn);
    return sum;
}
