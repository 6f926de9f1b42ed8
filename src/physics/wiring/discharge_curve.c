/* Discharge curve. Invariant: the fitted 2009 curve goes through its two later points exactly. */
#include "physics/wiring/discharge_curve.h"

#include "physics/domain.h"

const Method discharge_2007_method = {
    "Voltage along a discharge (2007 form)",
    "V = E0 - R * i - K * Q / (Q - it) + A * exp(-B * it)",
    {"Tremblay, Dessaint, Dekkiche 2007; docs/methods/wires.md 4.4", STANDING_SECONDARY}};
const Method discharge_2009_method = {
    "Voltage along a discharge (2009 form)",
    "V = E0 - R * i - K * Q / (Q - it) * (it / 3600 + i) + A * exp(-B * it)",
    {"Tremblay and Dessaint 2009; docs/methods/wires.md 4.4", STANDING_SECONDARY}};
const Method discharge_b_method = {
    "Rate of the exponential part",
    "B = 3 / Q_exp",
    {"Tremblay and Dessaint 2009; docs/methods/wires.md 4.4", STANDING_SECONDARY}};

/* What K is multiplied by. */
static double
polarising(const DischargeCurve *c, double current, double drawn)
{
    double whole = c->capacity_As / (c->capacity_As - drawn);
    return c->form == FORM_2007 ? whole : whole * (drawn / 3600.0 + current);
}

static bool
points_usable(const DischargePoints *p, const DischargeCurve *c)
{
    return is_positive(c->capacity_As) && is_positive(c->resistance_ohm) &&
           is_positive(p->exponential_As) && p->nominal_As > p->exponential_As &&
           c->capacity_As > p->nominal_As && is_positive(p->nominal_V) &&
           p->exponential_V > p->nominal_V && p->full_V > p->exponential_V &&
           is_number(p->full_V) && is_not_negative(p->test_A);
}

static bool
curve_usable(const DischargeCurve *c)
{
    return is_positive(c->capacity_As) && is_positive(c->resistance_ohm) && is_number(c->e0_V) &&
           is_positive(c->polarisation) && is_positive(c->a_V) && is_positive(c->b_per_As);
}

static void
fit_2007(const DischargePoints *p, DischargeCurve *c)
{
    double gone = exp(-c->b_per_As * p->nominal_As);
    c->a_V = p->full_V - p->exponential_V;
    c->polarisation = (p->full_V - p->nominal_V + c->a_V * (gone - 1.0)) *
                      (c->capacity_As - p->nominal_As) / p->nominal_As;
    c->e0_V = p->full_V + c->polarisation + c->resistance_ohm * p->test_A - c->a_V;
}

/* V_full less each later point: a (1 - exp(-B it)) + k polarising = fall. */
static void
fit_2009(const DischargePoints *p, DischargeCurve *c)
{
    double a1 = 1.0 - exp(-c->b_per_As * p->exponential_As);
    double a2 = 1.0 - exp(-c->b_per_As * p->nominal_As);
    double k1 = polarising(c, p->test_A, p->exponential_As);
    double k2 = polarising(c, p->test_A, p->nominal_As);
    double fall1 = p->full_V - p->exponential_V, fall2 = p->full_V - p->nominal_V;
    double determinant = a1 * k2 - a2 * k1;
    c->a_V = (fall1 * k2 - fall2 * k1) / determinant;
    c->polarisation = (a1 * fall2 - a2 * fall1) / determinant;
    c->e0_V = p->full_V + c->resistance_ohm * p->test_A - c->a_V;
}

Validity
discharge_curve_fit(const DischargePoints *points, DischargeCurve *curve)
{
    curve->e0_V = curve->polarisation = curve->a_V = curve->b_per_As = NAN;
    if (!points_usable(points, curve))
        return REFUSED;
    curve->b_per_As = 3.0 / points->exponential_As;
    if (curve->form == FORM_2007)
        fit_2007(points, curve);
    else
        fit_2009(points, curve);
    if (curve_usable(curve))
        return VALID;
    curve->e0_V = curve->polarisation = curve->a_V = curve->b_per_As = NAN;
    return REFUSED;
}

Validity
discharge_curve_voltage(const DischargeCurve *curve, double current_A, double drawn_As,
                        double *voltage_V)
{
    *voltage_V = NAN;
    if (!curve_usable(curve) || !is_not_negative(current_A) || !is_not_negative(drawn_As) ||
        drawn_As >= curve->capacity_As)
        return REFUSED;
    double V = curve->e0_V - curve->resistance_ohm * current_A -
               curve->polarisation * polarising(curve, current_A, drawn_As) +
               curve->a_V * exp(-curve->b_per_As * drawn_As);
    if (!(V > 0.0))
        return REFUSED;
    *voltage_V = V;
    return VALID;
}
