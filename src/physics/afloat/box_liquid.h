/* Liquid at rest in a rectangular box that leans: closed forms, for the tanks that are asked thousands of times.
 *
 * While the surface meets only upright edges the liquid is a prism with a slanting top. Else the box is sliced across the
 * edge that rises least; in each slice the liquid is a triangle, a trapezoid or a rectangle less a triangle, whose corners
 * run straight from slice to slice, so that two Gauss points between changes of shape are exact.
 *
 * Given    size_m[3] > 0, up[3] unit vector of the true vertical in the box's axes, volume_m3 between
 *          1e-15 of the whole and the whole
 * Gives    centroid from the box's middle; horizontal surface area; its second moments about its own centroid
 *          in box axes (xx yy zz xy xz yz)
 * Source   mechanics; docs/methods/float.md 3
 * Checked  tests/physics/test_liquid.c against clipping */
#pragma once

typedef struct {
    double centroid_m[3];
    double surface_m2;
    double second_m4[6]; /* xx yy zz xy xz yz */
} BoxLiquid;

void box_liquid(const double size_m[static 3], const double up[static 3], double volume_m3,
                BoxLiquid *out);
