/* The boat from starboard, bow to the right, level in her own axes: what several pictures draw into. */
#pragma once

#include "draw/views.h"

#define PROFILE_TALLEST 190.0

/* Takes the outline, and the water line over its length when the lie is known. */
void profile_take(Extent *extent, const SideOutline *hull, const Lie *lie);
/* As wide as the sheet, unless that grows too tall; its highest point stands at top. */
Frame profile_frame(const Extent *extent, double top);
void profile_hull(Canvas *canvas, const Frame *frame, const SideOutline *hull);
void profile_house(Canvas *canvas, const Frame *frame, const Block *house);
/* From edge to edge of the sheet, as it stands on the centreline. */
void profile_water(Canvas *canvas, const Frame *frame, const char *classes, const Lie *lie);
/* A value of the outline at a place, straight between; NAN outside. */
double profile_at(const SideOutline *hull, const double value_m[], double x_m);
/* Labels stay within: the sheet's width, and so far above and below the view. */
Box profile_bounds(const Frame *frame, double above, double below);
