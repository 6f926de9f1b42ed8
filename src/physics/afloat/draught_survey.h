/* Displacement from two draught marks by the even-keel short cut.
 *
 *     T_F = T_mid + (x_F - x_mid) (T_fwd - T_aft) / (x_fwd - x_aft)    m = rho V(T_F)
 *     s_m = sqrt((rho A s_T)^2 + (V s_rho)^2)
 *
 * Given    draughts of both marks above z = 0, m; x_aft_m < x_fwd_m; spreads >= 0, all of one kind,
 *          s_T of the mean draught; density > 0
 * Gives    draught_lcf_m, at the centre of flotation as it lies at the mid draught; the same kind
 *          of spread as was given
 * Returns  VALID; EXTRAPOLATED when that draught is above the lowest deck edge of the hull;
 *          REFUSED when she is dry or wholly under at either draught
 * Source   docs/methods/float.md 7.3, 7.4: good to second order in trim; no heel, no hog
 * Checked  draught-survey in tests/cases/float.csv; tests/physics/test_survey.c */
#pragma once

#include "base/source.h"
#include "base/validity.h"
#include "physics/afloat/body.h"

typedef struct {
    double draught_mid_m, draught_lcf_m, volume_mid_m3, volume_m3, mass_kg, mass_spread_kg;
} DraughtSurvey;

Validity draught_survey(const Body *body, double x_aft_m, double draught_aft_m, double x_fwd_m,
                        double draught_fwd_m, double draught_spread_m, double density_kg_per_m3,
                        double density_spread_kg_per_m3, DraughtSurvey *out);

extern const Method draught_lcf_method, draught_mass_method, draught_mass_spread_method;
