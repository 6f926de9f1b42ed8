/* Circular cylinder floating with its axis level.
 *
 *     A = R^2 (t - sin(t) cos(t)), cos(t) = (R - T)/R    BM = 2 R^3 sin^3(t) / (3 A)    KM = R
 *
 * Given    radius_m > 0; 0 < draught_m < 2 radius_m; vcg_m above the lowest line, NAN when not
 * known; heel_rad Gives    section area, KB, BM, KM, wetted girth; gz_m NAN without vcg_m Returns
 * VALID or REFUSED Source   docs/methods/float.md 9.3, derived Checked  cylinder-hydrostatics in
 * tests/cases/float.csv; body_immersed on a polygon of many chords */
#pragma once

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double area_m2, kb_m, bm_m, km_m, girth_m, gz_m;
} Cylinder;

Validity cylinder_float(double radius_m, double draught_m, double vcg_m, double heel_rad,
                        Cylinder *cylinder);

extern const Method cylinder_area_method, cylinder_lever_method;
