/* Terminal voltage along a discharge, by the curve of Tremblay and Dessaint.
 *
 *     2007  V = E0 - R i - K Q/(Q - it) + A exp(-B it)                     K in V
 *     2009  V = E0 - R i - K Q/(Q - it) (it/(1 h) + i) + A exp(-B it)      K in ohm
 *     from the data sheet, at its test current: B = 3/Q_exp, and
 *     2007  A = V_full - V_exp    K = (V_full - V_nom + A (exp(-B Q_nom) - 1)) (Q - Q_nom)/Q_nom
 *           E0 = V_full + K + R i - A
 *     2009  the curve through (Q_exp, V_exp) and (Q_nom, V_nom), and V_full = E0 - R i + A
 *
 * Given    capacity_As, resistance_ohm > 0; parameters A, K, B > 0 and E0; or the sheet's points,
 *          0 < Q_exp < Q_nom < Q and V_full > V_exp > V_nom > 0, test current >= 0
 *          current_A >= 0 (discharge only), 0 <= drawn_As < Q
 * Gives    the parameters; the voltage
 * Returns  VALID; REFUSED outside the ranges, when the points give A <= 0 or K <= 0 (the curve does not fit
 *          that battery: take its rest voltage, resistance and Peukert's law), and past its end (V <= 0)
 * Misses   charging, and for lead and nickel the slow return of the exponential part (its hysteresis)
 * Source   Tremblay, Dessaint, Dekkiche, IEEE VPPC 2007; Tremblay and Dessaint, World Electric Vehicle
 *          Journal 3, 2009; docs/methods/wires.md 4.4
 * Checked  battery-curve in tests/cases/wires.csv; tests/physics/test_battery.c: through its own points */
#pragma once

#include "base/source.h"
#include "base/validity.h"

typedef enum { FORM_2007, FORM_2009 } CurveForm;

typedef struct {
    CurveForm form;
    double capacity_As, resistance_ohm;
    double e0_V, polarisation, a_V, b_per_As; /* polarisation in V (2007) or ohm (2009) */
} DischargeCurve;

typedef struct {
    double full_V, exponential_V, exponential_As, nominal_V, nominal_As, test_A;
} DischargePoints;

/* Sets the four parameters of *curve from the points; form, capacity and resistance are given in it. */
Validity discharge_curve_fit(const DischargePoints *points, DischargeCurve *curve);
Validity discharge_curve_voltage(const DischargeCurve *curve, double current_A, double drawn_As,
                                 double *voltage_V);

extern const Method discharge_2007_method, discharge_2009_method, discharge_b_method;
