/* When a fuse melts, from the points or gates of its family.
 *
 *     t = t_1 (t_2 / t_1)^(ln(I / I_1) / ln(I_2 / I_1))
 *
 * Given    points: n multiples of the rating, rising, with the fastest and slowest time at each (NAN where the family
 *          states none); multiple, the current over the rating, > 0
 *          gates of a gG fuse in A; current_A > 0
 * Gives    fastest_s, slowest_s: by points only where a line of points goes; by gates along the straight line
 *          through two of them, which runs on past both
 * Returns  VALID between the points (gates) of both lines, EXTRAPOLATED outside, REFUSED for no current
 * Source   ISO 8820-3, -5 and IEC 60269-1, points as recalled (data/fuse-curves.csv, gg-fuses.csv)
 * Checked  fuse-time in tests/cases/wires.csv; tests/physics/test_protection.c */
#pragma once

#include <stdbool.h>
#include <stddef.h>

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double fastest_s, slowest_s;
} FuseTime;

typedef struct {
    double least_10_A, most_5_A, least_01_A,
        most_01_A; /* may melt in 10 s, must in 5 s; the same at 0.1 s */
} FuseGates;

Validity fuse_time_points(size_t n, const double multiples[], const double fastest_s[],
                          const double slowest_s[], double multiple, FuseTime *out);
Validity fuse_time_gates(const FuseGates *gates, double current_A, FuseTime *out);

/* The fuse nearer the load is through before the other begins to melt: gates at 0.1 s. */
bool fuse_selective(const FuseGates *upstream, const FuseGates *downstream);

extern const Method fuse_time_method, fuse_loop_method;
