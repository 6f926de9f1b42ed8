/* Side and front views: areas the wind and the water see.
 * Lateral area above water, its centroid height, and of the underwater side; from the loft's
 * profile (bottom to deck edge) plus rectangles for houses and appendages. */
#pragma once

#include <stddef.h>

#include "physics/afloat/body.h"

typedef struct {
    double x_aft_m, x_fwd_m, z_bottom_m, z_top_m;
} SideRectangle;

typedef struct {
    double above_m2,
        above_height_m; /* projected area above water; its centroid above the water, m */
    double above_x_m;
    double below_m2, below_depth_m; /* underwater side; its centroid below the water, m */
    double waterline_m, waterline_aft_m,
        waterline_fwd_m;      /* length of the water line at rest, and its ends */
    double beam_m;            /* greatest breadth at the water line */
    double least_freeboard_m; /* deck edge of the hull, either side, along its length */
    double least_freeboard_x_m;
    int least_freeboard_side; /* +1 starboard, -1 port, 0 both */
    double deck_edge_rad;     /* heel from rest at which the deck edge first meets the water, fixed
                               * displacement     not solved: geometric at the present trim and depth */
} SideView;

/* All but the areas, which are NAN. */
void side_lines(const Loft *hull, const Attitude *at, SideView *view);

void side_view(const Loft *hull, const Attitude *at, size_t rectangles,
               const SideRectangle rectangle[], SideView *view);
