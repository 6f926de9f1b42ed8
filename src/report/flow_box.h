/* Boxes of a given size on a page: what is cut out and stuck on must fit, whatever is written in it. */
#pragma once

#include "report/flow.h"

typedef struct {
    double x, y, w, h; /* mm from the upper left corner of the page */
} Box;

typedef enum { BOX_LINE, BOX_CUT } BoxLook; /* BOX_CUT: dashed, to be cut along */

void box_frame(Flow *flow, Box box, BoxLook look);
void box_rule(Flow *flow, double x1, double y1, double x2, double y2, BoxLook look);
/* The text in the box, from the left, halfway down: as large as fits up to most_pt, broken into lines between words. What fits
 * at no size that can be read ends in an ellipsis. */
void box_text(Flow *flow, Box box, gboolean bold, double most_pt, const char *text);
