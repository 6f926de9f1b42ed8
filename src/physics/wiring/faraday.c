/* Faraday's law. Invariant: charge in, metal out. */
#include "physics/wiring/faraday.h"

#include "physics/domain.h"

#define LAW                                                                                        \
    {                                                                                              \
        "Faraday's law; docs/methods/wires.md 7.1", STANDING_DERIVED                               \
    }
const Method faraday_capacity_method = {"Charge of a metal", "q = z * F / M", LAW};
const Method faraday_mass_method = {"Metal dissolved", "m = I * t / q", LAW};
const Method faraday_depth_method = {"Depth eaten", "d = m / (rho * A)", LAW};

static const double faraday_C_per_mol = 96485.33;
static const struct {
    double kg_per_mol, electrons, kg_per_m3;
} metals[] = {[DISSOLVES_IRON] = {55.845e-3, 2.0, 7850.0},
              [DISSOLVES_ZINC] = {65.38e-3, 2.0, 7140.0},
              [DISSOLVES_ALUMINIUM] = {26.9815e-3, 3.0, 2700.0},
              [DISSOLVES_MAGNESIUM] = {24.305e-3, 2.0, 1740.0}};

double
faraday_capacity_C_per_kg(Dissolving metal)
{
    return metals[metal].electrons * faraday_C_per_mol / metals[metal].kg_per_mol;
}

Validity
faraday_loss(Dissolving metal, double current_A, double duration_s, double area_m2, double *mass_kg,
             double *depth_m)
{
    *mass_kg = *depth_m = NAN;
    if (!is_not_negative(current_A) || !is_not_negative(duration_s) ||
        (!isnan(area_m2) && !is_positive(area_m2)))
        return REFUSED;
    *mass_kg = current_A * duration_s / faraday_capacity_C_per_kg(metal);
    *depth_m = *mass_kg / (metals[metal].kg_per_m3 * area_m2);
    return VALID;
}
