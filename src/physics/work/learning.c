#include "physics/work/learning.h"

#include <math.h>

#include "physics/domain.h"

const Method learning_factor_method = {
    "what finished tasks say about open ones",
    "f = (m0 / s0^2 + sum(ln(r)) / s^2) / (1 / s0^2 + n / s^2)",
    {"normal model with known scatter; docs/methods/work.md 1.8", STANDING_DERIVED}};

Validity
learning_factor(size_t n, const double ratio[], double m0, double s0, double s, double *log_mean,
                double *log_sd)
{
    double sum = 0.0;
    *log_mean = *log_sd = NAN;
    if (!is_number(m0) || !is_positive(s0) || !is_positive(s))
        return REFUSED;
    for (size_t i = 0; i < n; i++) {
        if (!is_positive(ratio[i]))
            return REFUSED;
        sum += log(ratio[i]);
    }
    double precision = 1.0 / (s0 * s0) + (double) n / (s * s);
    *log_mean = (m0 / (s0 * s0) + sum / (s * s)) / precision;
    *log_sd = 1.0 / sqrt(precision);
    return VALID;
}
