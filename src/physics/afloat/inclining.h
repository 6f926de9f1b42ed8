/* Metacentric height from masses moved across the deck and the angles she takes.
 *
 *     moment = intercept + slope tan(heel)    GM = slope / D    KG = KM - GM - FSM / D
 *     (s_GM / GM)^2 = (s_b / b)^2 + (s_D / D)^2 + (s_w / w)^2 + (s_l / l)^2
 *
 * Given    n            readings, at least three
 *          moment_kgm   of the masses as they lie at each reading, in the order they were taken
 *          pendulum[2]  deflections in the same order, positive to the side of a positive moment;
 *                       a second one may be left out (deflection_m NULL); a clinometer or a water
 *                       level is a pendulum of length 1 m and deflection tan(heel)
 *          terms        D > 0; spreads (95 %) >= 0; km_m for the water plane as floated, NAN: no KG
 * Gives    gm_m         fluid, of the mean tangent of both pendulums; gm_1_m, gm_2_m of each
 *          slope_error_kgm   one standard error of the slope alone
 *          gm_spread_m  95 %, of all sources, Student's factor for the scatter of the readings
 *          pendulums_ratio  difference of the two heights over what their scatter allows; > 1:
 *                       they do not agree
 *          suspect      the reading that fits least, n when none stands out (chance once in twenty
 *                       tests); rivals, how many others explain it as well
 * Returns  VALID; EXTRAPOLATED past 10 deg, where BM tan^2(heel) / 2 is 1.6 % of BM; REFUSED
 *          outside the ranges above, or when she leans against the moments
 * Source   docs/methods/float.md 6
 * Checked  inclining, inclining-single in tests/cases/float.csv; tests/physics/test_inclining.c */
#pragma once

#include <stddef.h>

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double length_m, length_spread_m;
    const double *deflection_m; /* [n] */
} Pendulum;

typedef struct {
    double mass_kg, mass_spread_kg; /* displacement at the test, inclining masses aboard */
    double moment_spread_frac;      /* 95 %, of masses and distances, common to all moves */
    double km_m, km_spread_m;
    double free_surface_kgm;
} InclineTerms;

typedef struct {
    double gm_m, gm_1_m, gm_2_m;
    double slope_kgm, intercept_kgm, slope_error_kgm;
    double gm_spread_m, by_readings_m, by_mass_m, by_moments_m, by_lengths_m; /* 95 % */
    double vcg_solid_m, vcg_spread_m;
    double most_heel_rad; /* from the mean of all readings */
    double pendulums_ratio;
    size_t suspect, rivals;
    double suspect_ratio;
} Inclining;

typedef struct {
    double misfit_kgm;   /* moment less what the line says */
    double gm_without_m; /* of the other readings */
    double normalised;   /* misfit against the scatter of the others; NAN when they have none */
} InclineReading;

Validity inclining(size_t n, const double moment_kgm[], const Pendulum pendulum[static 2],
                   const InclineTerms *terms, Inclining *out, InclineReading reading[]);

/* The same from one move and one deflection.
 *
 *     GM = w d / (D tan(heel))    GM_small = w d / (D heel)
 *
 * Given    all > 0, or mass and deflection both negative; km_m NAN: no KG */
typedef struct {
    double heel_rad, gm_m, gm_small_angle_m, vcg_m;
} InclineSingle;

Validity inclining_single(double w_kg, double distance_m, double mass_kg, double deflection_m,
                          double length_m, double km_m, InclineSingle *out);

extern const Method inclining_line_method, inclining_gm_method, inclining_vcg_method,
    inclining_spread_method, inclining_single_method, inclining_small_method;
