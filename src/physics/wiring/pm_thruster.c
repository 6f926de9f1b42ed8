/* Thruster. Invariant: motor and propeller agree on the torque. */
#include "physics/wiring/pm_thruster.h"

#include "physics/domain.h"

#define SHEET                                                                                      \
    {                                                                                              \
        "motor and propeller in balance; docs/methods/wires.md 8", STANDING_DERIVED                \
    }
const Method pm_thruster_speed_method = {"Speed at which motor and propeller agree",
                                         "R * c / k * omega^2 + k * omega = E", SHEET};
const Method pm_thruster_ratio_method = {"Thrust against that on the other cable",
                                         "ratio = (omega / omega_0)^2", SHEET};

const Method pm_thruster_share_method = {
    "Thrust and current of a thruster, of those on its plate",
    "share = ((sqrt((1 - r)^2 + 4 * r * u) - (1 - r)) / (2 * r))^2", SHEET};

double
pm_thruster_share(double volts_frac, double armature_frac)
{
    double r = armature_frac, u = volts_frac;
    if (!is_not_negative(u) || !is_not_negative(r) || r >= 1.0)
        return NAN;
    double k = 1.0 - r, y = 2.0 * u / (k + sqrt(k * k + 4.0 * r * u));
    return y * y;
}

double
pm_thruster_exponent(double armature_frac)
{
    return is_not_negative(armature_frac) && armature_frac < 1.0 ? 2.0 / (1.0 + armature_frac)
                                                                 : NAN;
}

double
pm_thruster_speed(double emf_V, double whole_ohm, double constant_V_s, double load_Nm_s2)
{
    if (!is_positive(emf_V) || !is_positive(whole_ohm) || !is_positive(constant_V_s) ||
        !is_not_negative(load_Nm_s2))
        return NAN;
    /* This form of the root keeps its digits when the load is small. */
    double k = constant_V_s, a = whole_ohm * load_Nm_s2 / k;
    return 2.0 * emf_V / (k + sqrt(k * k + 4.0 * a * emf_V));
}

Validity
pm_thruster(const Thruster *thruster, double compared_ohm, ThrusterPoint *out)
{
    const Thruster *t = thruster;
    *out = (ThrusterPoint){NAN, NAN, NAN, NAN, NAN, NAN};
    if (!is_positive(t->armature_ohm) || !is_not_negative(t->source_ohm) ||
        !is_not_negative(compared_ohm) || !is_positive(t->load_Nm_s2))
        return REFUSED;
    double w = pm_thruster_speed(t->emf_V, t->source_ohm + t->armature_ohm, t->constant_V_s,
                                 t->load_Nm_s2);
    double other =
        pm_thruster_speed(t->emf_V, compared_ohm + t->armature_ohm, t->constant_V_s, t->load_Nm_s2);
    if (isnan(w))
        return REFUSED;
    double torque = t->load_Nm_s2 * w * w, I = torque / t->constant_V_s;
    *out = (ThrusterPoint){w,      I,          t->emf_V - t->source_ohm * I,
                           torque, torque * w, w * w / (other * other)};
    return VALID;
}
