/* Inside of the arrangement drawing: three views on one sheet, shared by its two files. */
#pragma once

#include "draw/axes.h"
#include "draw/views.h"

enum { ITEMS_TAGGED = 9, OPENINGS_TAGGED = 8 };

typedef struct {
    Canvas canvas;
    const ArrangementPicture *fig;
    double scale;                 /* picture units per metre */
    Frame profile, plan, section; /* profile x,z; plan x,y; section -y,z (looking forward) */
    double mid_x;                 /* of the midship section */
    size_t *order;                /* items, heaviest first */
    char *marked;                 /* name of what is pointed at, or NULL */
} Arrangement;

/* Walls of a block as drawn: what the hull bounds ends with the view. */
typedef struct {
    double x0, x1, y0, y1, z0, z1;
} Walls;

Walls arrangement_walls(const Arrangement *a, const Block *block);
/* Points at the thing of how->mark in both views, before anything else finds room. */
void arrangement_point(Arrangement *a);
/* The list below and beside the views, and the marks it names. */
void arrangement_marks(Arrangement *a);
void arrangement_lists(Arrangement *a);
