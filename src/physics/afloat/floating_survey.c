/* Mass and centre from an attitude. Invariant: every spread comes from solving again with one thing
 * moved, so it belongs to the same body as the value. */
#include "physics/afloat/floating_survey.h"

#include <math.h>
#include <stdlib.h>

#include "physics/domain.h"

#define SHEET "docs/methods/float.md 7.2"
const Method floating_survey_mass_method = {
    "Displacement from the volume under water", "m = rho * V", {SHEET, STANDING_DERIVED}};
const Method floating_survey_tcg_method = {"Centre of gravity above the centre of buoyancy, across",
                                           "y_G = y_B + (z_G - z_B) * tan(heel)",
                                           {SHEET, STANDING_DERIVED}};
const Method floating_survey_lcg_method = {
    "Centre of gravity above the centre of buoyancy, along",
    "x_G = x_B - ((y_G - y_B) * sin(heel) + (z_G - z_B) * cos(heel)) * tan(trim)",
    {SHEET, STANDING_DERIVED}};
const Method floating_survey_spread_method = {"Spread of the displacement",
                                              "s_m = sqrt(s_readings^2 + s_hull^2 + s_density^2)",
                                              {"docs/methods/float.md 7.3", STANDING_DERIVED}};

/* A copy of the body whose shape may be changed. */
typedef struct {
    Body body;
    Loft *loft;
    Ball *ball;
    double *point; /* y and z of every loft, one after the other */
} Copy;

static void
copy_clear(Copy *copy)
{
    free(copy->loft);
    free(copy->ball);
    free(copy->point);
}

static bool
copy_make(const Body *body, Copy *copy)
{
    size_t points = 0;
    for (size_t i = 0; i < body->lofts; i++)
        points += 2 * body->loft[i].stations * body->loft[i].points;
    copy->loft = malloc((body->lofts + 1) * sizeof(Loft));
    copy->ball = malloc((body->balls + 1) * sizeof(Ball));
    copy->point = malloc((points + 1) * sizeof(double));
    if (copy->loft != NULL && copy->ball != NULL && copy->point != NULL) {
        copy->body = (Body){body->lofts, body->balls, copy->loft, copy->ball};
        return true;
    }
    copy_clear(copy);
    return false;
}

static void
bend(const Body *body, const SurveyFit *fit, Copy *copy)
{
    double *next = copy->point;
    for (size_t i = 0; i < body->lofts; i++) {
        const Loft *from = &body->loft[i];
        size_t n = from->stations * from->points;
        double *y = next, *z = next + n;
        next += 2 * n;
        copy->loft[i] = *from;
        copy->loft[i].y_m = y;
        copy->loft[i].z_m = z;
        for (size_t k = 0; k < n; k++) {
            y[k] = from->y_m[k];
            z[k] = from->z_m[k] + survey_bend_m(fit, from->x_m[k / from->points]);
        }
    }
    for (size_t i = 0; i < body->balls; i++) {
        copy->ball[i] = body->ball[i];
        copy->ball[i].z_m += survey_bend_m(fit, body->ball[i].x_m);
    }
}

enum { MASS, LCG, TCG, FIGURES };

static void
weigh(const Body *body, const Attitude *at, const SurveyTerms *terms, double figure[FIGURES],
      Immersed *under)
{
    body_immersed(body, at, under);
    double v = under->volume_m3, z = terms->vcg_m - under->z_m4 / v;
    double y = z * tan(at->heel_rad), q = y * sin(at->heel_rad) + z * cos(at->heel_rad);
    figure[MASS] = terms->density_kg_per_m3 * v;
    figure[TCG] = under->y_m4 / v + y;
    figure[LCG] = under->x_m4 / v - q * tan(at->trim_rad);
}

/* Slopes of the figures over depth, trim, heel and hog, then through the fit's variances. */
static void
add_readings(const Body *body, const SurveyFit *fit, const SurveyTerms *terms, Copy *copy,
             double variance[FIGURES])
{
    const double h = 1e-6;
    double slope[FIT_TERMS][FIGURES] = {{0}}, side[2][FIGURES];
    Immersed under;
    size_t n = fit->hogged ? FIT_TERMS : FIT_HOG;
    for (size_t k = 0; k < n; k++) {
        for (int s = 0; s < 2; s++) {
            SurveyFit moved = *fit;
            double *term[] = {&moved.at.origin_depth_m, &moved.at.trim_rad, &moved.at.heel_rad,
                              &moved.hog_m};
            *term[k] += s == 0 ? -h : h;
            bend(body, &moved, copy);
            weigh(&copy->body, &moved.at, terms, side[s], &under);
        }
        for (size_t f = 0; f < FIGURES; f++)
            slope[k][f] = (side[1][f] - side[0][f]) / (2.0 * h);
    }
    for (size_t f = 0; f < FIGURES; f++)
        for (size_t i = 0; i < n; i++)
            for (size_t k = 0; k < n; k++)
                variance[f] +=
                    fit->factor * fit->factor * slope[i][f] * fit->variance[i][k] * slope[k][f];
}

/* Each station of the hull wider, then higher, by what its points stay within. */
static void
add_hull(const Body *body, const SurveyFit *fit, const SurveyTerms *terms, Copy *copy,
         const double figure[FIGURES], double variance[FIGURES])
{
    const Loft *loft = &body->loft[0];
    double moved[FIGURES];
    Immersed under;
    if (terms->within_m == 0.0)
        return;
    for (size_t i = 0; i < 2 * loft->stations; i++) {
        bend(body, fit, copy);
        double *value = (double *) (i % 2 ? copy->loft[0].y_m : copy->loft[0].z_m);
        for (size_t j = 0; j < loft->points; j++) {
            size_t k = i / 2 * loft->points + j;
            if (i % 2 == 0 || loft->y_m[k] > 0.0)
                value[k] += terms->within_m;
        }
        weigh(&copy->body, &fit->at, terms, moved, &under);
        for (size_t f = 0; f < FIGURES; f++)
            variance[f] += (moved[f] - figure[f]) * (moved[f] - figure[f]);
    }
}

static void
set_spreads(const Body *body, const SurveyFit *fit, const SurveyTerms *terms, Copy *copy,
            const double figure[FIGURES], FloatingSurvey *out)
{
    double readings[FIGURES] = {0}, hull[FIGURES] = {0}, heel = fit->at.heel_rad;
    add_readings(body, fit, terms, copy, readings);
    add_hull(body, fit, terms, copy, figure, hull);
    out->mass_by_readings_kg = sqrt(readings[MASS]);
    out->mass_by_hull_kg = sqrt(hull[MASS]);
    out->mass_by_density_kg = out->volume_m3 * terms->density_spread_kg_per_m3;
    out->mass_spread_kg =
        sqrt(readings[MASS] + hull[MASS] + out->mass_by_density_kg * out->mass_by_density_kg);
    double across = tan(heel) * terms->vcg_spread_m;
    double along = tan(fit->at.trim_rad) / cos(heel) * terms->vcg_spread_m;
    out->lcg_spread_m = sqrt(readings[LCG] + hull[LCG] + along * along);
    out->tcg_spread_m = sqrt(readings[TCG] + hull[TCG] + across * across);
}

Validity
floating_survey(const Body *body, const SurveyFit *fit, const SurveyTerms *terms,
                FloatingSurvey *out)
{
    *out = (FloatingSurvey){NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN};
    if (!isfinite(fit->at.origin_depth_m) || !is_positive(terms->density_kg_per_m3) ||
        !is_not_negative(terms->density_spread_kg_per_m3) || !is_within(terms->vcg_m, -1e4, 1e4) ||
        !is_not_negative(terms->vcg_spread_m) || !is_within(terms->within_m, 0.0, 1e4) ||
        body->lofts == 0)
        return REFUSED;
    Copy copy;
    if (!copy_make(body, &copy))
        return REFUSED;
    bend(body, fit, &copy);
    double figure[FIGURES];
    Immersed under;
    weigh(&copy.body, &fit->at, terms, figure, &under);
    bool afloat = under.volume_m3 > 0.0 && under.plane_m2 > 0.0;
    if (afloat) {
        out->volume_m3 = under.volume_m3;
        out->mass_kg = figure[MASS];
        out->lcg_m = figure[LCG];
        out->tcg_m = figure[TCG];
        out->lcb_m = under.x_m4 / under.volume_m3;
        out->tcb_m = under.y_m4 / under.volume_m3;
        out->vcb_m = under.z_m4 / under.volume_m3;
        set_spreads(body, fit, terms, &copy, figure, out);
    }
    copy_clear(&copy);
    return afloat ? VALID : REFUSED;
}
