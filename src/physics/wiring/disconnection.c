/* Disconnection. Invariant: a higher voltage never has more time. */
#include "physics/wiring/disconnection.h"

#include "physics/domain.h"

const Method disconnection_time_method = {
    "Time to cut a fault off",
    "t = table(earthing, U)",
    {"IEC 60364-4-41 Table 41.1; docs/methods/wires.md 5.3", STANDING_READ}};
const Method disconnection_distribution_method = {
    "Time to cut a fault of a distribution circuit off",
    "t = table(earthing)",
    {"IEC 60364-4-41 (as remembered); docs/methods/wires.md 5.3", STANDING_MEMORY}};
const Method electrode_limit_method = {
    "Earth electrode that a residual current device allows",
    "R_A = U_t / I_dn",
    {"tester manual, example 50 V / 30 mA; docs/methods/wires.md 5.3", STANDING_READ}};
const Method rcd_time_method = {"Break time of a residual current device",
                                "t = table(kind, I / I_dn)",
                                {"IEC 61008; docs/methods/wires.md 5.3", STANDING_READ}};

Validity
disconnection_time(Earthing earthing, CurrentKind current, CircuitRank rank, double voltage_V,
                   double *time_s)
{
    static const double above_V[] = {400.0, 230.0, 120.0, 50.0};
    static const double final_s[][4] = {
        [EARTHING_TN] = {0.1, 0.2, 0.4, 0.8}, [EARTHING_TT] = {0.04, 0.07, 0.2, 0.3}};
    static const double direct_s[] = {[EARTHING_TN] = 5.0, [EARTHING_TT] = 0.4};
    static const double distribution_s[] = {[EARTHING_TN] = 5.0, [EARTHING_TT] = 1.0};
    bool direct = current == CURRENT_DIRECT;
    *time_s = NAN;
    if (!is_number(voltage_V) || !(voltage_V > (direct ? 120.0 : 50.0)) ||
        (direct && voltage_V > 230.0))
        return REFUSED;
    int row = 0;
    while (voltage_V <= above_V[row])
        row++;
    double limit = direct ? direct_s[earthing] : final_s[earthing][row];
    *time_s = rank == CIRCUIT_DISTRIBUTION ? distribution_s[earthing] : limit;
    return VALID;
}

double
electrode_limit_ohm(double residual_A, double touch_V)
{
    return is_positive(residual_A) && is_positive(touch_V) ? touch_V / residual_A : NAN;
}

RcdTimes
rcd_times(RcdKind kind)
{
    static const RcdTimes times[] = {
        [RCD_GENERAL] = {0.3, 0.15, 0.04}, [RCD_SELECTIVE] = {NAN, 0.2, 0.15}};
    return times[kind];
}
