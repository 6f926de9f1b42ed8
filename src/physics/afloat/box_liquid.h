/* Liquid at rest in a rectangular box that leans: closed forms, for the tanks that are asked thousands of times.
 *
 * While the surface meets only upright edges the liquid is a prism with a slanting top. Else the box below the surface is
 * the corner tetrahedron less those of the corners it runs past: sum of +-(s - s_k)^3 / (6 n1 n2 n3).
 *
 * Given    size_m[3] > 0, up[3] unit vector of the true vertical in the box's axes, 0 < volume_m3 < whole
 * Gives    centroid from the box's middle; horizontal surface area; its second moments about its own centroid
 *          in box axes (xx yy zz xy xz yz)
 * Returns  false where the closed forms lose digits (up nearly along an edge or a face while a corner is passed)
 * Source   mechanics; docs/methods/float.md 3
 * Checked  tests/physics/test_liquid.c against clipping */
#pragma once

#include <stdbool.h>

typedef struct {
    double centroid_m[3];
    double surface_m2;
    double second_m4[6]; /* xx yy zz xy xz yz */
} BoxLiquid;

bool box_liquid(const double size_m[static 3], const double up[static 3], double volume_m3,
                BoxLiquid *out);
