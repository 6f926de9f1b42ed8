/* Inside of the arrangement drawing: three views on one sheet, shared by its two files. */
#pragma once

#include "draw/axes.h"
#include "draw/views.h"

#define ON_MIDDLE_m                                                                                \
    0.15 /* items this near the centreline have no tag in plan: profile shows them */
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
/* Where a mark is drawn, down the sheet: what is too high for it, at the upper edge. */
double arrangement_down(const Arrangement *a, SeenFrom seen, const Spot *at);
/* "A", "B" for openings, "1", "2" for items; both return tag. */
const char *letter_tag(char tag[8], size_t i);
const char *number_tag(char tag[8], size_t i);
/* In rows above and below the views; openings: their order. */
void arrangement_tags(Arrangement *a, const size_t openings[]);
/* Points at the thing of how->mark in both views, before anything else finds room. */
void arrangement_point(Arrangement *a);
/* The list below and beside the views, and the marks it names. */
void arrangement_marks(Arrangement *a);
void arrangement_lists(Arrangement *a);
