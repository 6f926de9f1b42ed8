/* Two plans. Invariant: at the crossing both have the same chance. */
#include "physics/work/two_plans.h"

#include <gsl/gsl_cdf.h>

#include "physics/domain.h"
#include "physics/work/lateness.h"

#define SHEET "docs/methods/work.md 5"
const Method two_plans_crossing_method = {
    "Deadline at which two plans have the same chance",
    "x = (mu_a * s_b - mu_b * s_a) / (s_b - s_a)",
    {"equal scores of two normal finishes; " SHEET, STANDING_DERIVED}};
const Method two_plans_earlier_method = {
    "Chance that one plan is done before the other",
    "P = Phi((mu_b - mu_a) / sqrt(s_a^2 + s_b^2))",
    {"difference of two independent normal finishes; " SHEET, STANDING_DERIVED}};
const Method paired_trials_method = {"Standard error of a difference counted in the same trials",
                                     "se = sqrt(n_a + n_b - (n_a - n_b)^2 / N) / N",
                                     {"variance of a paired count; " SHEET, STANDING_DERIVED}};

Validity
two_plans(NormalFinish a, NormalFinish b, double deadline_h, TwoPlans *out)
{
    *out = (TwoPlans){NAN, NAN, NAN, NAN, NAN, NAN, NAN};
    if (!is_positive(a.sd_h) || !is_positive(b.sd_h) || !is_number(a.mean_h) ||
        !is_number(b.mean_h))
        return REFUSED;
    if (!isnan(deadline_h)) {
        lateness_expected(a.mean_h, a.sd_h, deadline_h, &out->chance_a, &out->lateness_a_h);
        lateness_expected(b.mean_h, b.sd_h, deadline_h, &out->chance_b, &out->lateness_b_h);
    }
    if (a.sd_h != b.sd_h) {
        out->crossing_h = (a.mean_h * b.sd_h - b.mean_h * a.sd_h) / (b.sd_h - a.sd_h);
        /* the score there: (x - mu_a)/s_a = (x - mu_b)/s_b = (mu_a - mu_b)/(s_b - s_a) */
        out->crossing_chance = gsl_cdf_ugaussian_P((a.mean_h - b.mean_h) / (b.sd_h - a.sd_h));
    }
    out->a_earlier = gsl_cdf_ugaussian_P((b.mean_h - a.mean_h) / hypot(a.sd_h, b.sd_h));
    return VALID;
}

Validity
paired_trials(double trials, double only_a, double only_b, double *difference,
              double *standard_error)
{
    *difference = *standard_error = NAN;
    if (!is_whole(trials, 1.0, 1e15) || !is_whole(only_a, 0.0, trials) ||
        !is_whole(only_b, 0.0, trials) || only_a + only_b > trials)
        return REFUSED;
    double more = only_a - only_b;
    *difference = more / trials;
    *standard_error = sqrt(fmax(0.0, only_a + only_b - more * more / trials)) / trials;
    return VALID;
}
