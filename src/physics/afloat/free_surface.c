/* Free surface of a rectangular tank. Invariant: the mass of the liquid does not enter the
 * correction. */
#include "physics/afloat/free_surface.h"

#include "physics/afloat/liquid.h"
#include "physics/domain.h"

#define BOOK "Barrass and Derrett, Ship Stability for Masters and Mates, 5th ed., p. 193-195"
const Method surface_inertia_method = {"Second moment of the surface, n equal parts",
                                       "i = l * b^3 / (12 * n^2)",
                                       {BOOK, STANDING_READ}};
const Method surface_loss_method = {"What one free surface takes from the metacentric height",
                                    "FS = rho_t * i / D",
                                    {BOOK, STANDING_READ}};
const Method tank_lever_corrected_method = {"Shift of the liquid, surface unbroken",
                                            "lever = b^2 / (12 * d) * sin(heel)",
                                            {"docs/methods/float.md 3", STANDING_DERIVED}};

Validity
free_surface(double length_m, double breadth_m, double mass_kg, double density_kg_per_m3,
             double divisions, FreeSurface *out)
{
    *out = (FreeSurface){NAN, NAN, NAN, NAN, NAN};
    if (!is_positive(length_m) || !is_positive(breadth_m) || !is_positive(mass_kg) ||
        !is_positive(density_kg_per_m3) || !is_within(divisions, 1.0, 1e6) ||
        divisions != floor(divisions))
        return REFUSED;
    const double l = length_m, b = breadth_m, n = divisions;
    double i = l * b * b * b / (12.0 * n * n), i_l = b * l * l * l / 12.0;
    double ratio = density_kg_per_m3 / mass_kg;
    *out = (FreeSurface){i, density_kg_per_m3 * i, ratio * i, i_l, ratio * i_l};
    return VALID;
}

Validity
tank_lever(double breadth_m, double height_m, double fill_m, double heel_rad, TankLever *out)
{
    *out = (TankLever){NAN, NAN, NAN, NAN, NAN};
    if (!is_within(breadth_m, 1e-6, 1e4) || !is_within(height_m, 1e-6, 1e4) ||
        !is_positive(fill_m) || !(fill_m < height_m) || !(fabs(heel_rad) <= degrees(90.0) + 1e-12))
        return REFUSED;
    const Tank tank = {0.0, 1.0,      -0.5 * breadth_m,  0.5 * breadth_m,
                       0.0, height_m, fill_m / height_m, 1000.0};
    TankLiquid lies;
    tank_lies(&tank, heel_rad, 0.0, &lies);
    double across = -lies.y_m * cos(heel_rad) + (lies.z_m - 0.5 * fill_m) * sin(heel_rad);
    *out = (TankLever){across, breadth_m * breadth_m / (12.0 * fill_m) * sin(heel_rad), lies.y_m,
                       lies.z_m, atan(2.0 * fmin(fill_m, height_m - fill_m) / breadth_m)};
    return VALID;
}
