/* Roll period. Invariant: period and height are each other's inverse. */
#include "physics/afloat/roll_period.h"

#include "physics/domain.h"

#define RULE "46 CFR 28.575; docs/methods/float.md 8"
const Method roll_coefficient_method = {
    "Roll coefficient", "C = 0.373 + 0.023 * B / d - 0.043 * L / 100", {RULE, STANDING_READ}};
const Method roll_period_method = {
    "Roll period", "T = 2 * C * B / sqrt(GM)", {RULE, STANDING_READ}};
const Method roll_gm_method = {
    "Metacentric height from a timed roll",
    "GM = (2 * C * B / T)^2",
    {"IMO resolution A.749(18) Annex 3; docs/methods/float.md 8", STANDING_READ}};

double
roll_coefficient(double beam_m, double draught_m, double lwl_m)
{
    if (!is_positive(beam_m) || !is_positive(draught_m) || !is_positive(lwl_m))
        return NAN;
    return 0.373 + 0.023 * beam_m / draught_m - 0.043 * lwl_m / 100.0;
}

double
roll_period_s(double c, double beam_m, double gm_m)
{
    return is_positive(c) && is_positive(beam_m) && is_positive(gm_m)
               ? 2.0 * c * beam_m / sqrt(gm_m)
               : NAN;
}

double
roll_gm_m(double c, double beam_m, double period_s)
{
    if (!is_positive(c) || !is_positive(beam_m) || !is_positive(period_s))
        return NAN;
    double root = 2.0 * c * beam_m / period_s;
    return root * root;
}
