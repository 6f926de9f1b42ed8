/* A battery from two loads. Invariant: the line through both points falls. */
#include "physics/wiring/two_point.h"

#include "physics/domain.h"

#define SHEET                                                                                      \
    {                                                                                              \
        "straight line through two readings; docs/methods/wires.md 4.2", STANDING_DERIVED          \
    }
const Method two_point_resistance_method = {"Internal resistance", "R = (U1 - U2) / (I2 - I1)",
                                            SHEET};
const Method two_point_emf_method = {"Open voltage", "E = U1 + R * I1", SHEET};
const Method two_point_short_method = {"Short-circuit current", "I_sc = E / R", SHEET};

Validity
two_point(double voltage_1_V, double current_1_A, double voltage_2_V, double current_2_A,
          TwoPoint *out)
{
    *out = (TwoPoint){NAN, NAN, NAN};
    double fall = voltage_1_V - voltage_2_V, more = current_2_A - current_1_A;
    if (!is_number(voltage_1_V) || !is_number(voltage_2_V) || !is_number(current_1_A) ||
        !is_number(current_2_A) || !(fall * more > 0.0))
        return REFUSED;
    double R = fall / more, E = voltage_1_V + R * current_1_A;
    if (!(E > 0.0) || !is_positive(R))
        return REFUSED;
    *out = (TwoPoint){R, E, E / R};
    return VALID;
}
