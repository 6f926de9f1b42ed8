/* A stretch of loft clipped by the sides of a box and by the water, integrated along the boat. Used
 * by compartment.c only.
 *
 * The section at any place of the stretch is the polygon between its two ends; s runs from 0 aft to
 * 1 forward. */
#pragma once

#include <stddef.h>

#include "physics/afloat/body.h"
#include "physics/afloat/panel.h"

typedef struct {
    double y, z;
} Spot;

/* Inside where across * y + up * z <= level + slope * x: the box's sides, then the water. */
typedef struct {
    double across, up, level, slope;
} Bound;

enum { STARBOARD, PORT, BOTTOM, TOP, WATER, BOUNDS };

/* Section integrals in the frame of the heeled section (u to port, w above the water), each over x.
 */
enum { S_V, S_VX, S_VU, S_VW, S_A, S_AX, S_AXX, S_AY, S_AXY, S_AYY, SUMS };

typedef struct {
    const Loft *loft;
    Turn turn;
    Bound bound[BOUNDS];
    bool cuts[BOUNDS]; /* some corner of the stretch lies outside it */
    size_t ring;       /* points of a whole section */
    Spot *polygon[2];  /* [6 * ring + 16] a clip adds half as many corners again at most */
    Spot *aft, *fwd;   /* [ring] section points at the ends of the stretch */
    double *event;     /* [most_events] shares of the stretch, 0..1 */
    size_t events, most_events;
    double from, length; /* of the stretch, m */
    double scale[SUMS];  /* size of each sum, to stop halving */
} Cutter;

/* Integrals of the stretch between c->aft and c->fwd, c->scale set. */
void section_cut_integrate(Cutter *c, double sum[SUMS]);
