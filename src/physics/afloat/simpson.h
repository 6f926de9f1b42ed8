/* Water plane and volume from measured ordinates by Simpson's first rule.
 *
 *     integral = sum over pairs of intervals of h/3 (f0 + 4 f1 + f2)
 *
 * Given    n odd, >= 3; x_m increasing; intervals equal in pairs (1-2, 3-4, ...) to one part in 1e6
 *          half_breadth_m one side, area_m2 whole sections, all >= 0
 * Gives    inertias about the centroid, m4
 * Returns  VALID, or REFUSED when the ordinates do not fit the rule or enclose nothing
 * Source   Barrass and Derrett p. 74; docs/methods/float.md check values M
 * Checked  waterplane-simpson, volume-simpson in tests/cases/float.csv */
#pragma once

#include <stddef.h>

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double area_m2, lcf_m, inertia_t_m4, inertia_l_m4;
} SimpsonPlane;

Validity simpson_waterplane(size_t n, const double x_m[], const double half_breadth_m[],
                            SimpsonPlane *plane);
Validity simpson_volume(size_t n, const double x_m[], const double area_m2[], double *volume_m3,
                        double *lcb_m);

extern const Method simpson_method;
