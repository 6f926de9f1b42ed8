/* Voltage drop of cables. */
#include "physics/wiring/cable_drop.h"

#include "physics/domain.h"
#include "physics/wiring/gauge.h"

const Method cable_drop_method = {"Voltage lost in a cable with its contacts",
                                  "E = I * (r * L + R_contacts)",
                                  {"docs/methods/wires.md 1.2", STANDING_DERIVED}};
const Method cable_drop_iso_method = {
    "Voltage lost by the formula of ISO 10133",
    "E = 0.0164e-6 * I * L / S",
    {"ISO 10133:2012 Annex A as recalled; 5 % below copper at 20 degC", STANDING_MEMORY}};
const Method cable_drop_abyc_method = {
    "Voltage lost by the formula of ABYC E-11",
    "E = 0.0178712e-6 * I * L / S",
    {"ABYC E-11 cl. 11.14.2.6 as excerpted: 10.75 ohm circular mil per foot", STANDING_SECONDARY}};
const Method cable_length_method = {"Longest cable for a drop",
                                    "L = (E_max / I - R_contacts) / r",
                                    {"docs/methods/wires.md 1.2", STANDING_DERIVED}};
const Method cable_ohm_limit_method = {"Resistance per length that a drop allows",
                                       "r_max = E_max / (I * L)",
                                       {"docs/methods/wires.md 1.2", STANDING_DERIVED}};

const double drop_abyc_ohm_m = 10.75 * CIRCULAR_MIL_M2 / 0.3048;

double
short_formula_drop_V(double constant_ohm_m, double current_A, double length_m, double area_m2)
{
    return constant_ohm_m * current_A * length_m / area_m2;
}

double
short_formula_area_m2(double constant_ohm_m, double current_A, double length_m, double drop_V)
{
    return constant_ohm_m * current_A * length_m / drop_V;
}

double
short_formula_length_m(double constant_ohm_m, double current_A, double area_m2, double drop_V)
{
    return drop_V * area_m2 / (constant_ohm_m * current_A);
}

double
drop_length_m(double current_A, double ohm_per_m, double contacts_ohm, double drop_V)
{
    double left_ohm = drop_V / current_A - contacts_ohm;
    return left_ohm >= 0.0 ? left_ohm / ohm_per_m : NAN;
}
