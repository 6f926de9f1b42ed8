/* How a boat lies, from heights of known points above the water measured all round her.
 *
 *     sum((height(k) - freeboard(k))^2) is least over depth, trim, heel and, when asked, hog
 *     height(k) = -x sin(trim) + (y sin(heel) + (z + hog (1 - s^2)) cos(heel)) cos(trim) - depth
 *     s = (x - x_mid) / x_half, -1 and 1 at the endmost readings
 *
 * Given    readings  at least three, six with hog; points not in one line in plan; freeboard_m
 *                    along the true vertical, negative for a point under water
 *          spread_m  what one reading stays within (95 %), NAN when not known
 * Gives    at, hog_m  hog positive when her middle stands high
 *          rms_m      root mean square misfit
 *          spreads    95 %, from spread_m; from the misfits where none was given, or where they
 *                     are larger than spread_m lets chance make them (misfit is then set); NAN
 *                     when there is nothing to find them from
 *          suspect    the reading that fits least, n when none stands out; suspect_ratio, its
 *                     normalised misfit over what the largest of n reaches by chance once in
 *                     twenty surveys; rivals, how many others explain it as well (three unknowns
 *                     from four readings: all of them)
 *          reading    NULL or [n]
 * Returns  VALID; REFUSED outside the ranges above, or past 60 deg of heel or trim
 * Source   docs/methods/float.md 7.1; normalised misfits as in Baarda, A Testing Procedure for Use
 *          in Geodetic Networks, 1968, and Cook and Weisberg, Residuals and Influence in
 *          Regression, 1982, 2.2 (memory, derived here)
 * Checked  floating-survey in tests/cases/float.csv; tests/physics/test_survey.c */
#pragma once

#include <stdbool.h>
#include <stddef.h>

#include "base/source.h"
#include "base/validity.h"
#include "physics/afloat/body.h"

typedef struct {
    double x_m, y_m, z_m; /* the point on the boat */
    double freeboard_m;
} FreeboardReading;

enum { FIT_DEPTH, FIT_TRIM, FIT_HEEL, FIT_HOG, FIT_TERMS };

typedef struct {
    Attitude at;
    bool hogged; /* hog was asked for */
    double hog_m, hog_x_m, hog_half_m;
    double rms_m;
    size_t freedom;                        /* readings beyond unknowns */
    double variance[FIT_TERMS][FIT_TERMS]; /* of depth, trim, heel, hog: squared standard errors */
    double factor;                         /* standard errors to 95 % */
    double depth_spread_m, trim_spread_rad, heel_spread_rad, hog_spread_m;
    bool misfit;
    size_t suspect, rivals;
    double suspect_ratio;
} SurveyFit;

typedef struct {
    double misfit_m;   /* measured less fitted */
    double without_m;  /* measured less what the other readings say; NAN when they say nothing */
    double normalised; /* misfit over its standard error; NAN when it has none */
} ReadingFit;

Validity survey_fit(size_t n, const FreeboardReading reading[], double spread_m, bool hog,
                    SurveyFit *fit, ReadingFit reading_fit[]);

/* Height of the bent boat's point above where the straight one has it, m. */
double survey_bend_m(const SurveyFit *fit, double x_m);

extern const Method survey_height_method, survey_spread_method, survey_blunder_method;
