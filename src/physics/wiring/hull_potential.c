/* Hull potential. Invariant: more negative is never less protected. */
#include "physics/wiring/hull_potential.h"

#include "physics/domain.h"

const Method hull_potential_method = {
    "Potential against silver chloride",
    "U = U_read + U_electrode",
    {"electrode shifts as remembered; docs/methods/wires.md 7.1", STANDING_MEMORY}};

static const double meter_V = 1e-9; /* -0.85 + 0.05 is -0.80 */

void
hull_potential_limits(HullMetal metal, double *protected_V, double *over_V)
{
    static const double limit_V[][2] = {[HULL_STEEL] = {-0.80, -1.10},
                                        [HULL_STEEL_ANAEROBIC] = {-0.90, -1.10},
                                        [HULL_HIGH_STRENGTH_STEEL] = {-0.80, -0.95},
                                        [HULL_COPPER_ALLOY] = {-0.45, -0.60}};
    *protected_V = limit_V[metal][0];
    *over_V = limit_V[metal][1];
}

Validity
hull_potential(double reading_V, Electrode electrode, HullMetal metal, double *potential_V,
               HullProtection *state)
{
    static const double shift_V[] = {[ELECTRODE_SILVER_CHLORIDE] = 0.0,
                                     [ELECTRODE_ZINC] = -1.05,
                                     [ELECTRODE_COPPER_SULPHATE] = 0.05};
    double enough, much;
    *potential_V = NAN;
    *state = HULL_UNPROTECTED;
    if (!is_within(reading_V, -3.0, 3.0))
        return REFUSED;
    *potential_V = reading_V + shift_V[electrode];
    hull_potential_limits(metal, &enough, &much);
    if (*potential_V <= enough + meter_V)
        *state = *potential_V < much - meter_V ? HULL_OVER_PROTECTED : HULL_PROTECTED;
    return VALID;
}
