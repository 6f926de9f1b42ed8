/* Draught against what the hull gives at it, upright and on an even keel. */
#pragma once

#include "result/picture/parts.h"

typedef struct {
    const char *caption;
    size_t n;
    const double *draught_m; /* [n], ascending, above z = 0 */
    /* [n] each, NULL: not drawn */
    const double *displacement_kg, *lcb_m, *lcf_m, *kb_m, *km_m;
    const double *sinkage_kg_per_m; /* mass to sink her by one metre (shown as t/cm) */
    const double *trim_kgm_per_m;   /* moment to trim her by one metre (shown as t m/cm) */
    const double *plane_m2;
    double present_draught_m, present_kg;
} HydrostaticCurvesPicture;
