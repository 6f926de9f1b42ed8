/* Ventilation of batteries. Invariant: air, openings and distance follow from one gas current. */
#include "physics/wiring/hydrogen.h"

#include "physics/domain.h"

#define RULE "EN 62485-2; docs/methods/wires.md 4.6"
const Method hydrogen_airflow_method = {
    "Air for hydrogen", "Q = 0.05 * n * I_gas / 3600", {RULE, STANDING_READ}};
const Method hydrogen_opening_method = {
    "Each of two openings", "A = 28 * Q * 3600 / 10000", {RULE, STANDING_READ}};
const Method hydrogen_spark_method = {"Distance of sparks",
                                      "d = 0.0288 * (1000 * I_gas)^(1 / 3)",
                                      {RULE " (as remembered)", STANDING_MEMORY}};
const Method hydrogen_by_charge_method = {
    "Air by charging current",
    "Q = 0.006 * n * I / 1000",
    {"Australian practice; docs/methods/wires.md 4.6", STANDING_READ}};

double
hydrogen_current_A(GassingKind kind, ChargeStage stage, double capacity_As)
{
    /* A per A h */
    static const double gassing[][2] = {[GASSING_VENTED_LEAD] = {5e-3, 20e-3},
                                        [GASSING_VRLA] = {1e-3, 8e-3},
                                        [GASSING_NICD] = {5e-3, 50e-3}};
    return is_positive(capacity_As) ? gassing[kind][stage] * capacity_As / 3600.0 : NAN;
}

Validity
hydrogen_ventilation(double gas_A, double cells, double charge_A, Hydrogen *out)
{
    *out = (Hydrogen){NAN, NAN, NAN, NAN};
    if (!is_positive(gas_A) || !is_within(cells, 1.0, 1e6) || cells != floor(cells) ||
        (!isnan(charge_A) && !is_not_negative(charge_A)))
        return REFUSED;
    double m3_per_h = 0.05 * cells * gas_A;
    *out = (Hydrogen){m3_per_h / 3600.0, 28e-4 * m3_per_h, 28.8e-3 * cbrt(1e3 * gas_A),
                      6e-6 * cells * charge_A};
    return VALID;
}
