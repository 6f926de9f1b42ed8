/* Water plane through freeboards. Invariant: depth, trim, heel and hog are solved together, and
 * what is said of a reading is said with its own share in the fit taken out. */
#include "physics/afloat/survey_fit.h"

#include <gsl/gsl_cdf.h>
#include <math.h>
#include <stdlib.h>

#include "physics/domain.h"
#include "physics/least_squares.h"

#define SHEET "docs/methods/float.md 7.1"
const Method survey_height_method = {
    "Height of a point above the water",
    "f = -x * sin(trim) + (y * sin(heel) + z * cos(heel)) * cos(trim) - c",
    {SHEET, STANDING_DERIVED}};
const Method survey_spread_method = {
    "Scatter of one reading", "s = sqrt(sum(r^2) / (n - p))", {SHEET, STANDING_DERIVED}};
const Method survey_blunder_method = {
    "Misfit of one reading against its standard error",
    "w = abs(r) / (s * sqrt(1 - h))",
    {"Baarda, A Testing Procedure for Use in Geodetic Networks, 1968; derived here",
     STANDING_MEMORY}};

double
survey_bend_m(const SurveyFit *fit, double x_m)
{
    double s = (x_m - fit->hog_x_m) / fit->hog_half_m;
    return fit->hogged ? fit->hog_m * (1.0 - s * s) : 0.0;
}

static Validity
refuse(size_t n, SurveyFit *fit, ReadingFit reading_fit[])
{
    *fit = (SurveyFit){.at = {NAN, NAN, NAN},
                       .hog_m = NAN,
                       .hog_x_m = NAN,
                       .hog_half_m = NAN,
                       .rms_m = NAN,
                       .factor = NAN,
                       .depth_spread_m = NAN,
                       .trim_spread_rad = NAN,
                       .heel_spread_rad = NAN,
                       .hog_spread_m = NAN,
                       .suspect = n,
                       .suspect_ratio = NAN};
    for (size_t i = 0; i < FIT_TERMS; i++)
        for (size_t k = 0; k < FIT_TERMS; k++)
            fit->variance[i][k] = NAN;
    for (size_t i = 0; reading_fit != NULL && i < n; i++)
        reading_fit[i] = (ReadingFit){NAN, NAN, NAN};
    return REFUSED;
}

/* Longest and shortest way across the points in plan, as standard lengths; and their reach in x. */
static bool
spread_out(size_t n, const FreeboardReading reading[], SurveyFit *fit)
{
    double x = 0.0, y = 0.0, xx = 0.0, yy = 0.0, xy = 0.0, aft = INFINITY, fwd = -INFINITY;
    for (size_t i = 0; i < n; i++) {
        const FreeboardReading *r = &reading[i];
        if (!(fabs(r->x_m) <= 1e4 && fabs(r->y_m) <= 1e4 && fabs(r->z_m) <= 1e4 &&
              fabs(r->freeboard_m) <= 1e4))
            return false;
        x += r->x_m / (double) n;
        y += r->y_m / (double) n;
        aft = fmin(aft, r->x_m);
        fwd = fmax(fwd, r->x_m);
    }
    for (size_t i = 0; i < n; i++) {
        double dx = reading[i].x_m - x, dy = reading[i].y_m - y;
        xx += dx * dx;
        yy += dy * dy;
        xy += dx * dy;
    }
    fit->hog_x_m = 0.5 * (aft + fwd);
    fit->hog_half_m = 0.5 * (fwd - aft);
    double mean = 0.5 * (xx + yy), apart = hypot(0.5 * (xx - yy), xy);
    /* A line that wanders by less than a thousandth of its length measures no plane. */
    return mean - apart > 1e-6 * (mean + apart) && mean > 0.0;
}

static void
linearise(const SurveyFit *fit, size_t n, const FreeboardReading reading[], size_t terms,
          double *row, double *aim)
{
    const Attitude *at = &fit->at;
    double sh = sin(at->heel_rad), ch = cos(at->heel_rad), st = sin(at->trim_rad),
           ct = cos(at->trim_rad);
    for (size_t i = 0; i < n; i++) {
        const FreeboardReading *r = &reading[i];
        double z = r->z_m + survey_bend_m(fit, r->x_m), q = r->y_m * sh + z * ch;
        double s = (r->x_m - fit->hog_x_m) / fit->hog_half_m;
        double *k = &row[i * terms];
        k[FIT_DEPTH] = -1.0;
        k[FIT_TRIM] = -(r->x_m * ct + q * st);
        k[FIT_HEEL] = (r->y_m * ch - z * sh) * ct;
        if (terms == FIT_TERMS)
            k[FIT_HOG] = (1.0 - s * s) * ch * ct;
        aim[i] = r->freeboard_m - attitude_height_m(at, r->x_m, r->y_m, z);
    }
}

/* Gauss and Newton; the last step is below what any rule can read. */
static bool
iterate(size_t n, const FreeboardReading reading[], SurveyFit *fit, LeastSquares *ls, double *row,
        double *aim, double *residual, double *leverage)
{
    size_t terms = fit->hogged ? FIT_TERMS : FIT_HOG;
    for (int i = 0; i < 40; i++) {
        linearise(fit, n, reading, terms, row, aim);
        if (!least_squares(n, terms, row, aim, ls, residual, leverage))
            return false;
        fit->at.origin_depth_m += ls->value[FIT_DEPTH];
        fit->at.trim_rad += ls->value[FIT_TRIM];
        fit->at.heel_rad += ls->value[FIT_HEEL];
        if (fit->hogged)
            fit->hog_m += ls->value[FIT_HOG];
        if (!(fabs(fit->at.trim_rad) < degrees(60.0) && fabs(fit->at.heel_rad) < degrees(60.0)))
            return false;
        if (fabs(ls->value[FIT_DEPTH]) < 1e-11 && fabs(ls->value[FIT_TRIM]) < 1e-12 &&
            fabs(ls->value[FIT_HEEL]) < 1e-12 && fabs(ls->value[FIT_HOG]) < 1e-11)
            return true;
    }
    return false;
}

/* Scatter of one reading and what makes 95 % of it. */
static double
scatter(const LeastSquares *ls, double spread_m, SurveyFit *fit)
{
    double stated = 0.5 * spread_m, freedom = (double) ls->freedom;
    fit->factor = 2.0;
    if (is_positive(stated) && ls->freedom > 0)
        fit->misfit = ls->sum_squares / (stated * stated) > gsl_cdf_chisq_Qinv(0.05, freedom);
    if (is_positive(stated) && !fit->misfit)
        return stated;
    fit->factor = student_95(ls->freedom);
    return ls->freedom > 0 ? sqrt(ls->sum_squares / freedom) : NAN;
}

static void
set_spreads(const LeastSquares *ls, double s, SurveyFit *fit)
{
    for (size_t i = 0; i < ls->terms; i++)
        for (size_t k = 0; k < ls->terms; k++)
            fit->variance[i][k] = s * s * ls->inverse[i][k];
    double *spread[] = {&fit->depth_spread_m, &fit->trim_spread_rad, &fit->heel_spread_rad,
                        &fit->hog_spread_m};
    for (size_t i = 0; i < FIT_TERMS; i++)
        *spread[i] = i < ls->terms ? fit->factor * sqrt(fit->variance[i][i]) : 0.0;
}

/* A stated scatter is that of every reading; else each is held against the scatter of the others. */
static double
normalised(const LeastSquares *ls, double stated, double r, double leverage)
{
    const double nothing = 1e-9; /* m; below it a misfit is rounding */
    double seen = 1.0 - leverage;
    if (!(seen > 1e-9) || (!is_positive(stated) && ls->freedom < 2))
        return NAN;
    if (fabs(r) < nothing)
        return 0.0;
    double others = (ls->sum_squares - r * r / seen) / ((double) ls->freedom - 1.0);
    double s = is_positive(stated) ? stated : sqrt(fmax(others, nothing * nothing));
    return r / (s * sqrt(seen));
}

static void
judge(size_t n, const LeastSquares *ls, double spread_m, const double *residual,
      const double *leverage, SurveyFit *fit, ReadingFit reading_fit[])
{
    double stated = 0.5 * spread_m, largest = 0.0;
    fit->suspect = n;
    for (size_t i = 0; i < n; i++) {
        double w = normalised(ls, stated, residual[i], leverage[i]), seen = 1.0 - leverage[i];
        if (reading_fit != NULL)
            reading_fit[i] = (ReadingFit){residual[i], seen > 1e-9 ? residual[i] / seen : NAN, w};
        if (fabs(w) > largest * (1.0 + 1e-9)) {
            largest = fabs(w);
            fit->suspect = i;
        }
    }
    for (size_t i = 0; i < n; i++)
        fit->rivals += i != fit->suspect &&
                       fabs(normalised(ls, stated, residual[i], leverage[i])) > 0.95 * largest;
    bool testable = is_positive(stated) ? ls->freedom > 0 : ls->freedom > 1;
    fit->suspect_ratio =
        testable ? largest / largest_by_chance(n, is_positive(stated) ? 0 : ls->freedom - 1) : NAN;
    if (!(fit->suspect_ratio > 1.0)) {
        fit->suspect = n;
        fit->rivals = 0;
    }
}

Validity
survey_fit(size_t n, const FreeboardReading reading[], double spread_m, bool hog, SurveyFit *fit,
           ReadingFit reading_fit[])
{
    refuse(n, fit, reading_fit);
    SurveyFit found = {.hogged = hog};
    if (n < (hog ? 6 : 3) || n > 100000 || !(isnan(spread_m) || is_not_negative(spread_m)) ||
        !spread_out(n, reading, &found))
        return REFUSED;
    double mean = 0.0;
    for (size_t i = 0; i < n; i++)
        mean += (reading[i].z_m - reading[i].freeboard_m) / (double) n;
    found.at.origin_depth_m = mean;

    double *work = malloc(n * (FIT_TERMS + 3) * sizeof *work);
    if (work == NULL)
        return REFUSED;
    double *aim = work + n * FIT_TERMS, *residual = aim + n, *leverage = residual + n;
    LeastSquares ls;
    bool good = iterate(n, reading, &found, &ls, work, aim, residual, leverage);
    if (good) {
        found.freedom = ls.freedom;
        found.rms_m = sqrt(ls.sum_squares / (double) n);
        set_spreads(&ls, scatter(&ls, spread_m, &found), &found);
        judge(n, &ls, spread_m, residual, leverage, &found, reading_fit);
        *fit = found;
    }
    free(work);
    return good ? VALID : REFUSED;
}
