/* Derating of ampacities. */
#include "physics/wiring/ampacity.h"

#include "base/interpolate.h"
#include "physics/domain.h"

const Method ampacity_method = {"Current a boat cable bears as it is laid",
                                "I_z = I_table * f_place * f_bundle",
                                {"docs/methods/wires.md 1.3", STANDING_SECONDARY}};
const Method ampacity_fixed_method = {"Current a fixed cable bears as it is laid",
                                      "I_z = I_table * f_ambient * f_group",
                                      {"IEC 60364-5-52, as reproduced", STANDING_SECONDARY}};
const Method ambient_factor_method = {
    "Share of its current left to a cable in warm air",
    "f_ambient = sqrt((theta_max - theta) / (theta_max - theta_30))",
    {"IEC 60364-5-52 Table B.52.14, which it reproduces to two digits", STANDING_DERIVED}};

double
bundle_factor(size_t n, const double from[], const double factor[], double count)
{
    double value = NAN;
    for (size_t i = 0; is_whole(count, 1.0, 1e9) && i < n && from[i] <= count; i++)
        value = factor[i];
    return value;
}

double
grouping_factor(size_t n, const double counts[], const double factor[], double count)
{
    for (size_t i = 0; is_whole(count, 1.0, 1e9) && i < n; i++)
        if (counts[i] >= count)
            return factor[i];
    return NAN;
}

Validity
ambient_factor(size_t n, const double air_K[], const double factor[], double insulation_K,
               double at_K, double *value)
{
    const double reference_K = 303.15;
    *value = NAN;
    if (!(at_K > 0.0) || !(at_K < insulation_K) || !(insulation_K > reference_K) || n < 2)
        return REFUSED;
    if (at_K <= air_K[n - 1])
        return interpolate_linear(n, air_K, factor, at_K, value);
    *value = sqrt((insulation_K - at_K) / (insulation_K - reference_K));
    return EXTRAPOLATED;
}
