/* Lateness of a normal finish. */
#include "physics/work/lateness.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_randist.h>

#include "physics/domain.h"

#define SHEET                                                                                      \
    {                                                                                              \
        "unit normal loss; docs/methods/work.md 1.7", STANDING_DERIVED                             \
    }
const Method lateness_chance_method = {"Chance to be in time", "P = phi_cdf((D - mu) / s)", SHEET};
const Method lateness_expected_method = {"Expected lateness", "l = s * (phi(k) - k * phi_cdf(-k))",
                                         SHEET};

double
unit_normal_loss(double k)
{
    return gsl_ran_ugaussian_pdf(k) - k * gsl_cdf_ugaussian_Q(k);
}

Validity
lateness_expected(double mean_h, double sd_h, double deadline_h, double *chance, double *late_h)
{
    *chance = *late_h = NAN;
    if (!is_number(mean_h) || !is_positive(sd_h) || !is_number(deadline_h))
        return REFUSED;
    double k = (deadline_h - mean_h) / sd_h;
    *chance = gsl_cdf_ugaussian_P(k);
    *late_h = sd_h * unit_normal_loss(k);
    return VALID;
}

Validity
lateness_finish(double mean_h, double sd_h, double confidence, double *finish_h)
{
    *finish_h = NAN;
    if (!is_number(mean_h) || !is_positive(sd_h) || !(confidence > 0.0 && confidence < 1.0))
        return REFUSED;
    *finish_h = mean_h + sd_h * gsl_cdf_ugaussian_Pinv(confidence);
    return VALID;
}
