/* Permanent-magnet motor. Invariant: all three ways round give the same point. */
#include "physics/wiring/pm_motor.h"

#include "physics/domain.h"

#define SHEET                                                                                      \
    {                                                                                              \
        "textbook; docs/methods/wires.md 8", STANDING_DERIVED                                      \
    }
const Method pm_voltage_method = {"Voltage of a permanent-magnet motor", "V = k_e * omega + R * I",
                                  SHEET};
const Method pm_torque_method = {"Torque of a permanent-magnet motor", "T = k_t * I - T_f", SHEET};
const Method pm_no_load_method = {"Speed without load", "omega_0 = V / k_e", SHEET};
const Method pm_stall_method = {"Torque when held fast", "T_st = k_t * V / R", SHEET};
const Method pm_power_limit_method = {"Most power at the shaft", "P_max = V^2 / (4 * R)", SHEET};

static bool
usable(const PmMotor *m, double V, double w, double T)
{
    return is_positive(m->emf_constant) && is_positive(m->torque_constant) &&
           is_positive(m->resistance_ohm) && is_not_negative(m->friction_Nm) &&
           isnan(V) + isnan(w) + isnan(T) == 1 && (isnan(V) || is_not_negative(V)) &&
           (isnan(w) || is_not_negative(w)) && (isnan(T) || is_number(T));
}

Validity
pm_motor(const PmMotor *motor, double voltage_V, double speed_rad_per_s, double torque_Nm,
         PmPoint *out)
{
    const double ke = motor->emf_constant, kt = motor->torque_constant, R = motor->resistance_ohm;
    double V = voltage_V, w = speed_rad_per_s, T = torque_Nm;
    *out = (PmPoint){NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN};
    if (!usable(motor, V, w, T))
        return REFUSED;
    double I = isnan(T) ? (V - ke * w) / R : (T + motor->friction_Nm) / kt;
    if (isnan(T))
        T = kt * I - motor->friction_Nm;
    if (isnan(w))
        w = (V - R * I) / ke;
    if (isnan(V))
        V = ke * w + R * I;
    *out = (PmPoint){V,      w,     T,          I,
                     ke * w, V * I, T * w,      V * I - T * w,
                     V / ke, V / R, kt * V / R, V * V / (4.0 * R)};
    bool same = fabs(kt / ke - 1.0) <= 0.1;
    return same && V >= 0.0 && w >= 0.0 ? VALID : EXTRAPOLATED;
}
