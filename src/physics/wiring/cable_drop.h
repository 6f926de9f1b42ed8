/* Voltage lost in a direct-current cable: by its resistance, and by the two short formulas of small craft.
 *
 *     E = I R;   ISO: E = 0.0164 I L / S;   ABYC: E = 10.75 I L / CM, L in ft, CM in circular mils
 *
 * Given    constant_ohm_m, one of the two below; current_A, length_m of the whole conductor, out and back,
 *          area_m2; drop_V allowed
 * Gives    drop, area for a drop, length for a drop: the three ways to read E = c I L / S
 * Note     0.0164 ohm mm2/m is less than the resistivity of annealed copper at 20 degC: against the limits of
 *          IEC 60228, class 5 tinned, that formula understates the drop by 18 to 25 %. Size by resistance
 * Source   ABYC E-11 cl. 11.14.2.6 as excerpted; ISO 10133:2012 and ISO 13297 Annex A as recalled
 * Checked  cable-drop and cable-size in tests/cases/wires.csv */
#pragma once

#include "base/source.h"

#define DROP_ISO_OHM_M 0.0164e-6
extern const double drop_abyc_ohm_m; /* 10.75 ohm circular mil / ft: 0.0178712 ohm mm2/m */

double short_formula_drop_V(double constant_ohm_m, double current_A, double length_m,
                            double area_m2);
double short_formula_area_m2(double constant_ohm_m, double current_A, double length_m,
                             double drop_V);
double short_formula_length_m(double constant_ohm_m, double current_A, double area_m2,
                              double drop_V);

/* Longest conductor whose drop stays within drop_V when contacts take their part first; NAN when they
 * take it all. */
double drop_length_m(double current_A, double ohm_per_m, double contacts_ohm, double drop_V);

extern const Method cable_drop_method, cable_drop_iso_method, cable_drop_abyc_method,
    cable_length_method, cable_ohm_limit_method;
