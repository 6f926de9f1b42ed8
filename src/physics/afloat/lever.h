/* The curve of righting levers and what is read from it.
 * Source   docs/methods/float.md 2.8, 4 */
#pragma once

#include <stdbool.h>
#include <stddef.h>

#include "base/source.h"
#include "base/validity.h"
#include "physics/afloat/body.h"
#include "physics/afloat/load.h"

typedef struct {
    size_t n;
    double *heel_rad, *gz_m, *trim_rad,
        *depth_m; /* [n], heel ascending, one side (or both, by the caller's heels) */
} LeverCurve;

/* GZ at each heel, free to sink and (trim_free) trim, warm-started. Fills curve's arrays, which the
 * caller owns. REFUSED when any heel has no solution (those gz are NAN). */
Validity lever_curve(const Body *body, const Load *load, double density_kg_per_m3, bool trim_free,
                     double fixed_trim_rad, LeverCurve *curve);

typedef struct {
    double max_m, max_rad; /* greatest lever and its heel */
    double vanishing_rad;  /* first heel past the peak with zero lever; NAN when the curve does not
                              reach it */
    double range_rad; /* from the rest position to vanishing (or to the flooding angle, if less);
                         NAN likewise */
    double area_30, area_40, area_30_40,
        area_peak;  /* m rad, from 0; area_40 to the lesser of 40 deg and flooding */
    double gz_30_m; /* greatest lever at 30 deg or more and before water comes in; 0 when it comes
                       in sooner */
} LeverFacts;

/* Refines peak and vanishing angle by solving again (root of the lever and of its slope).
 * flooding_rad: heel at which water comes in, pi/2 when none. curve must start at 0 or below and
 * ascend; areas by Simpson on 1 deg steps when exact is true, else from the curve's own points by a
 * monotone cubic. An area the curve does not reach is NAN. fixed_trim_rad of the curve is taken
 * from its own trim when it is not free. */
Validity lever_facts(const Body *body, const Load *load, double density_kg_per_m3, bool trim_free,
                     const LeverCurve *curve, double flooding_rad, bool exact, LeverFacts *facts);

/* Smallest heel (to either side, 0..limit_rad) at which the point comes under, free to sink and
 * trim, walking the curves (starboard: heels >= 0; port: <= 0) and refining by root finding; NAN
 * when it stays dry. *side +1 starboard, -1 port, 0 none. A point under water at rest gives 0. */
double point_floods_rad(const Body *body, const Load *load, double density_kg_per_m3,
                        const LeverCurve *starboard, const LeverCurve *port, double x_m, double y_m,
                        double z_m, double limit_rad, int *side);

extern const Method lever_method, kn_method, lever_area_method;
