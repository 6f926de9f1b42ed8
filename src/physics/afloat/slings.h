/* Two slings under a hull, each with two legs: what each bears, how it pulls and squeezes, and where
 * to put them.
 *
 *     F1 = m g (x2 - x_G) / (x2 - x1)    F2 = m g - F1
 *     leg = F sqrt(1 + tan(a)^2 + tan(b)^2) / 2    squeeze = F tan(a) / 2
 *
 * Given    slings  x1 aft, x2 forward; angle a of the legs from the upright, seen from ahead, 0 (a
 *                  spreader or a travelling lift as wide as the boat) to below 80 deg
 *          mass > 0, lcg between the slings; a dry boat hanging level
 *          spreads (95 %) >= 0, of mass, lcg and of each sling's place
 *          hook_above_m  both slings to one hook so high above the points where they leave the
 *                        deck; the hook then stands over G, and the legs run along the boat at
 *                  tan(b) = distance from G over that height; NAN: two hooks, or a beam, b = 0
 * Gives    forces in N; force_upper_N the 95 % upper figure of each sling's load; leg_upper_N and
 *          squeeze_upper_N with it; squeeze is what both sides of the deck edge press inward
 *          along_N   horizontal pull between the slings by the one hook, along the boat
 * Returns  VALID; EXTRAPOLATED when by its spread G may lie outside the slings (the other sling
 *          then lifts off); REFUSED with G outside them, or outside the ranges
 * Source   statics; g = 9.80665 m/s2. Working loads of slings are given for an angle: compare the
 *          leg's force, not the boat's weight
 * Checked  tests/physics/test_slings.c: moments about any point, chance */
#pragma once

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double x_m, x_spread_m;
    double angle_rad;
} Sling;

typedef struct {
    double mass_kg, mass_spread_kg, lcg_m, lcg_spread_m;
    double hook_above_m; /* NAN: two hooks */
} SlungBoat;

typedef struct {
    double force_N, force_upper_N; /* what the sling bears of the boat */
    double leg_N, leg_upper_N;     /* in each of its two legs */
    double squeeze_N, squeeze_upper_N;
} SlingLoad;

typedef struct {
    SlingLoad sling[2]; /* aft, forward */
    double along_N;     /* NAN with two hooks */
} Slings;

Validity slings(const SlungBoat *boat, const Sling sling[static 2], Slings *out);

/* Places of two slings that bear alike: `apart_m` from each other, or the other one when one place
 * is settled. NAN outside the ranges: apart_m > 0; a place that is not at G. */
typedef struct {
    double x_aft_m, x_fwd_m;
} SlingPlaces;

SlingPlaces slings_alike(double lcg_m, double apart_m);
SlingPlaces slings_alike_with(double lcg_m, double x_settled_m);

extern const Method sling_aft_method, sling_forward_method, sling_leg_method, sling_squeeze_method,
    sling_places_method;
