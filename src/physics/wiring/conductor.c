/* Resistance of metals over temperature, a straight line. */
#include "physics/wiring/conductor.h"

#include "physics/domain.h"

const Method conductor_resistance_method = {
    "Resistance of a conductor at its temperature",
    "R = r_20 * L * (1 + alpha * (theta - theta_20))",
    {"IEC 60228:2004 and docs/methods/wires.md 1.1", STANDING_SECONDARY}};
const Method reading_to_20_method = {"Reading of a resistance brought to 20 degC",
                                     "R_20 = R_t * 250 / (230 + t)",
                                     {"IEC 60228:2004, as reproduced", STANDING_SECONDARY}};

double
conductor_warmth(bool aluminium, double temperature_K)
{
    double alpha_per_K = aluminium ? 0.00403 : 0.00393;
    double warmth = 1.0 + alpha_per_K * (temperature_K - (CELSIUS_0_K + 20.0));
    return is_positive(warmth) ? warmth : NAN;
}

double
reading_to_20(double temperature_K)
{
    double factor = 250.0 / (230.0 + temperature_K - CELSIUS_0_K);
    return is_positive(factor) ? factor : NAN;
}
