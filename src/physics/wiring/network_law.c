/* What each kind of element does at a voltage. Invariant: slopes are of the current that is given. */
#include <math.h>

#include "physics/domain.h"
#include "physics/wiring/network_parts.h"

static const double leak_S = 1e-12;   /* beside every diode */
static const double stiff_ohm = 1e-6; /* below this a current is an unknown of its own */

bool
network_element_sound(const Network *network, const NetworkElement *e)
{
    if (e->from >= network->nodes || e->to >= network->nodes)
        return false;
    switch (e->kind) {
    case ELEMENT_BATTERY:
    case ELEMENT_MOTOR:
        return is_number(e->voltage_V) && is_not_negative(e->ohm);
    case ELEMENT_CHARGER:
        return is_number(e->voltage_V) && is_not_negative(e->ohm) && e->current_A >= 0.0;
    case ELEMENT_RESISTOR:
        return is_not_negative(e->ohm);
    case ELEMENT_CURRENT_LOAD:
        return is_number(e->current_A);
    case ELEMENT_POWER_LOAD:
        return is_number(e->power_W) && is_not_negative(e->cutoff_V);
    case ELEMENT_POWER_LAW:
        return is_not_negative(e->coefficient) && is_within(e->exponent, 0.0, 10.0);
    case ELEMENT_DIODE:
        return is_positive(e->saturation_A) && is_positive(e->ideality) &&
               is_positive(network->temperature_K);
    }
    return false;
}

bool
element_is_branch(const NetworkElement *e)
{
    switch (e->kind) {
    case ELEMENT_CHARGER:
        return true;
    case ELEMENT_BATTERY:
    case ELEMENT_MOTOR:
    case ELEMENT_RESISTOR:
        return e->ohm < stiff_ohm;
    default:
        return false;
    }
}

static double
emf_V(const NetworkElement *e)
{
    return e->kind == ELEMENT_RESISTOR ? 0.0 : e->voltage_V;
}

static bool
below_cutoff(const NetworkElement *e, double across_V)
{
    return e->power_W > 0.0 && e->cutoff_V > 0.0 && across_V < e->cutoff_V;
}

static LawPoint
power_law(const NetworkElement *e, double across_V)
{
    double size_V = fmax(fabs(across_V), 1e-9);
    double current_A = e->coefficient * pow(size_V, e->exponent);
    return (LawPoint){copysign(current_A, across_V), e->exponent * current_A / size_V};
}

static LawPoint
diode(const Solver *solver, const NetworkElement *e, double across_V)
{
    double unit_V = e->ideality * solver->thermal_V;
    double grown = exp(fmin(across_V / unit_V, 600.0));
    return (LawPoint){e->saturation_A * (grown - 1.0) + leak_S * across_V,
                      e->saturation_A / unit_V * grown + leak_S};
}

static LawPoint
power_load(const NetworkElement *e, double across_V)
{
    if (e->power_W == 0.0)
        return (LawPoint){0.0, 0.0};
    if (below_cutoff(e, across_V)) {
        double slope_S = e->power_W / (e->cutoff_V * e->cutoff_V);
        return (LawPoint){slope_S * across_V, slope_S};
    }
    return (LawPoint){e->power_W / across_V, -e->power_W / (across_V * across_V)};
}

static LawPoint
law_at(const Solver *solver, const NetworkElement *e, double across_V)
{
    switch (e->kind) {
    case ELEMENT_CURRENT_LOAD:
        return (LawPoint){e->current_A, 0.0};
    case ELEMENT_POWER_LAW:
        return power_law(e, across_V);
    case ELEMENT_DIODE:
        return diode(solver, e, across_V);
    case ELEMENT_POWER_LOAD:
        return power_load(e, across_V);
    default:
        return (LawPoint){(across_V - emf_V(e)) / e->ohm, 1.0 / e->ohm};
    }
}

LawPoint
element_law(const Solver *solver, size_t element, LoadMode mode)
{
    const NetworkElement *e = &solver->network->element[element];
    const Point *point = &solver->point[element];
    bool load = e->kind == ELEMENT_POWER_LOAD;
    if (point->dead || (load && (mode == LOADS_OPEN || point->state == STATE_CUT_OUT)))
        return (LawPoint){0.0, 0.0};
    LawPoint law = law_at(solver, e, point->at_V);
    if (load && mode == LOADS_FIXED && law.slope_S < 0.0)
        law.slope_S = 0.0;
    return law;
}

double
element_law_A(const Solver *solver, size_t element, double across_V)
{
    const Point *point = &solver->point[element];
    if (point->dead || point->state == STATE_CUT_OUT)
        return 0.0;
    return law_at(solver, &solver->network->element[element], across_V).current_A;
}

/* Junction voltages grow by logarithms, or the exponential runs away (Nagel 1975). */
static double
junction_step(const Solver *solver, const NetworkElement *e, double from_V, double to_V)
{
    double unit_V = e->ideality * solver->thermal_V;
    double knee_V = unit_V * log(unit_V / (M_SQRT2 * e->saturation_A));
    if (to_V <= knee_V || fabs(to_V - from_V) <= 2.0 * unit_V)
        return to_V;
    if (from_V <= 0.0)
        return fmax(unit_V * log(to_V / unit_V), 0.0);
    double share = 1.0 + (to_V - from_V) / unit_V;
    return share > 0.0 ? from_V + unit_V * log(share) : fmax(knee_V, 0.0);
}

bool
element_follow(const Solver *solver, size_t element, LoadMode mode, double across_V)
{
    const NetworkElement *e = &solver->network->element[element];
    Point *point = &solver->point[element];
    double from_V = point->at_V, to_V = across_V;
    if (e->kind == ELEMENT_POWER_LOAD && mode != LOADS_TANGENT)
        return true;
    if (e->kind == ELEMENT_DIODE)
        to_V = junction_step(solver, e, from_V, across_V);
    if (e->kind == ELEMENT_POWER_LOAD && !below_cutoff(e, across_V))
        to_V = fmax(across_V, 0.5 * from_V);
    if (e->kind == ELEMENT_POWER_LAW && across_V * from_V < 0.0)
        to_V = -0.1 * from_V;
    point->at_V = to_V;
    return to_V == across_V;
}
