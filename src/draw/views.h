/* Looking at the boat from the side, from above and along: which axes lie where. */
#pragma once

#include "draw/canvas.h"

typedef struct {
    double x_low, x_high, y_low, y_high, z_low, z_high;
} Extent;

Extent extent_new(void);
void extent_take(Extent *extent, double x, double y, double z); /* NAN: leaves that axis alone */
void extent_take_block(Extent *extent, const Block *block);

/* Height of the water above z = 0 at a place, so that it stands level there; body axes. */
double water_z(const Lie *lie, double x, double y);
/* Height of a body point above the water. */
double above_water(const Lie *lie, Spot at);

/* Centre marks: G a quartered disc, B a ring, M a cross; each with its letter, placed where there
 * is room. */
void draw_centre(Canvas *canvas, const char *letter, double x, double y, const Box *bounds);
/* An opening's triangle, its ground kept free; classes as "opening worst". */
void draw_opening(Canvas *canvas, const char *classes, double x, double y);
/* "31 kg ± 2 kg: twin-coil heater, maker" */
char *mass_text(const Canvas *canvas, const MassMark *item);
const char *change_class(ItemChange change); /* "item", "item fitted", "item removed" */

/* Indices of the n heaviest, heaviest first; ties in their own order. g_free. */
size_t *heaviest_first(size_t n, const double weight[]);
