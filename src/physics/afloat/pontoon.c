/* Pontoons. Invariant: every figure here is from memory and says so. */
#include "physics/afloat/pontoon.h"

#include "physics/domain.h"

#define CODE "2008 IS Code Part B 2.2 as remembered; docs/methods/float.md 5.3"
const Source pontoon_source = {CODE, STANDING_MEMORY};
const Method pontoon_lever_method = {
    "Wind lever of a pontoon", "l_w = 540 * A * Z / (9.81 * m)", {CODE, STANDING_MEMORY}};
const Method pontoon_heel_method = {
    "Heel that uses up half the freeboard", "heel = atan(f / B)", {CODE, STANDING_MEMORY}};

Validity
pontoon_criterion(double length_m, double beam_m, double freeboard_m, double lateral_m2,
                  double lever_m, double mass_kg, Pontoon *pontoon)
{
    *pontoon = (Pontoon){NAN, NAN, NAN, NAN};
    if (!is_positive(length_m) || !is_positive(beam_m) || !is_positive(freeboard_m) ||
        !is_positive(lateral_m2) || !is_positive(lever_m) || !is_positive(mass_kg))
        return REFUSED;
    double share = fmin(1.0, fmax(0.0, (length_m - 100.0) / 50.0));
    *pontoon =
        (Pontoon){0.08, degrees(20.0 - 5.0 * share),
                  540.0 * lateral_m2 * lever_m / (9.81 * mass_kg), atan(freeboard_m / beam_m)};
    return VALID;
}
