/* Series motor. Invariant: what the circuit gives it turns at the shaft or heats the winding. */
#include "physics/wiring/series_motor.h"

#include "physics/domain.h"

#define SHEET                                                                                      \
    {                                                                                              \
        "textbook; docs/methods/wires.md 8", STANDING_DERIVED                                      \
    }
const Method series_current_method = {"Current of a series motor", "I = sqrt(T / k)", SHEET};
const Method series_speed_method = {"Speed of a series motor", "omega = (V - I * R) / (k * I)",
                                    SHEET};
const Method series_stall_method = {"Torque when held fast", "T_st = k * (V / R)^2", SHEET};

Validity
series_motor(double voltage_V, double resistance_ohm, double torque_coefficient, double torque_Nm,
             SeriesPoint *out)
{
    *out = (SeriesPoint){NAN, NAN, NAN, NAN};
    if (!is_positive(voltage_V) || !is_positive(resistance_ohm) ||
        !is_positive(torque_coefficient) || !is_positive(torque_Nm))
        return REFUSED;
    double V = voltage_V, R = resistance_ohm, k = torque_coefficient;
    double stall = V / R, I = sqrt(torque_Nm / k);
    if (I > stall)
        return REFUSED;
    *out = (SeriesPoint){I, (V - I * R) / (k * I), stall, k * stall * stall};
    return VALID;
}
