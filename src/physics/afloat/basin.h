/* What holds water on a boat: a well, a deck between bulwarks, an open hold, an open boat. A ruled loft, or the part of one
 * that lies in a box; the water in it finds its own level at every heel and trim.
 *
 *     volume of the basin below the level = volume of the water
 *
 * Given    a loft without loft_fault and a box without compartment_fault; whole_m3 by basin_volume_m3
 * Source   mechanics; docs/methods/float.md 2.3, 3, 10.4
 * Checked  tests/physics/test_basin.c: the closed forms of a box, and a hull clipped as a mesh */
#pragma once

#include <stdbool.h>

#include "physics/afloat/compartment.h"
#include "physics/afloat/liquid.h"

typedef struct Basin {
    const Loft *loft;
    Compartment box; /* permeability counts: what stands in it takes room */
    double whole_m3; /* up to its rim, upright */
} Basin;

/* The whole of a loft, whole_m3 reckoned. */
Basin basin_of_loft(const Loft *loft);

double basin_volume_m3(const Basin *basin);

/* Below a level plane: at->origin_depth_m is the depth of the body's origin below the water in the basin. */
double basin_below_m3(const Basin *basin, const Attitude *at);

/* How a volume of water lies in it. depth_m: of the body's origin below its level. False when it holds less than that, or
 * nothing. */
bool basin_lies(const Basin *basin, double volume_m3, double heel_rad, double trim_rad,
                TankLiquid *liquid, double *depth_m);

/* Height above a level plane of the lowest point of its rim and of its floor, m. */
double basin_rim_m(const Basin *basin, const Attitude *at);
double basin_floor_m(const Basin *basin, const Attitude *at);

/* Area open to the rain, upright, m2. */
double basin_opening_m2(const Basin *basin);

/* Lofts of basins, on a hull; free with loft_free. NULL where nothing is left of them.
 * A well let into the deck: from its floor to the deck edge's height, or z_top where that is lower (NAN: the deck). bulwark_m
 * stands round it above the deck. */
Loft *loft_well(const Loft *hull, double x_aft_m, double x_fwd_m, double y_stbd_m, double y_port_m,
                double z_floor_m, double z_top_m, double bulwark_m);
/* A stretch of deck between bulwarks: as broad as the deck, following its sheer. */
Loft *loft_bulwarked(const Loft *hull, double x_aft_m, double x_fwd_m, double bulwark_m);
/* The hull itself, a bulwark or coaming standing on its deck edge. */
Loft *loft_raised(const Loft *hull, double bulwark_m);
