/* What she weighs and where, from how she lies: the water she displaces and the point above its
 * centre.
 *
 *     m = rho V(depth, trim, heel)    X_G = X_B    Y_G = Y_B    at the height of G that is given
 *
 * Given    fit    from survey_fit; its hog bends the body before it is cut by the water
 *          terms  density > 0; spreads (95 %) >= 0; vcg_m; within_m, what every half-breadth and
 *                 height of the hull stays within, the points of one station erring together and
 *                 the stations each for itself
 * Gives    mass and centre with 95 % spreads, and the part of the mass that readings, hull and
 *          density bring; spreads are NAN when the fit has none
 * Returns  VALID; REFUSED when the fit was refused, or she would be dry or wholly under
 * Source   docs/methods/float.md 7.2, 7.3, first order
 * Checked  floating-survey in tests/cases/float.csv; tests/physics/test_survey.c: readings made
 *          from a known boat with noise, 400 times over */
#pragma once

#include "base/source.h"
#include "base/validity.h"
#include "physics/afloat/survey_fit.h"

typedef struct {
    double density_kg_per_m3, density_spread_kg_per_m3;
    double vcg_m, vcg_spread_m;
    double within_m;
} SurveyTerms;

typedef struct {
    double volume_m3, mass_kg, lcg_m, tcg_m, lcb_m, tcb_m, vcb_m;
    double mass_spread_kg, lcg_spread_m, tcg_spread_m;
    double mass_by_readings_kg, mass_by_hull_kg, mass_by_density_kg; /* 95 %, parts of the spread */
} FloatingSurvey;

Validity floating_survey(const Body *body, const SurveyFit *fit, const SurveyTerms *terms,
                         FloatingSurvey *out);

extern const Method floating_survey_mass_method, floating_survey_lcg_method,
    floating_survey_tcg_method, floating_survey_spread_method;
