/* Wind that grows with height. Invariant: an area adds to the lever in proportion to the square of
 * its own wind. */
#include "physics/afloat/wind_height.h"

#include "physics/domain.h"

#define RULE "46 CFR 28.575; docs/methods/float.md 5.2"
const Method wind_speed_method = {
    "Wind at the centroid of an area", "V = S * (0.127 * ln(h) + 0.772)", {RULE, STANDING_READ}};
const Method wind_lever_method = {"Heeling lever of the wind",
                                  "l_w = 1.113 * sum(V^2 * A * Z) / (m * 9.80665)",
                                  {RULE, STANDING_READ}};

Validity
wind_lever(size_t n, const WindArea area[], double mass_kg, bool protected_waters,
           double *speed_m_per_s, double *lever_m)
{
    *lever_m = NAN;
    for (size_t i = 0; speed_m_per_s != NULL && i < n; i++)
        speed_m_per_s[i] = NAN;
    for (size_t i = 0; i < n; i++)
        if (!is_not_negative(area[i].area_m2) || !is_positive(area[i].height_m) ||
            !is_number(area[i].lever_m))
            return REFUSED;
    if (n == 0 || !is_positive(mass_kg))
        return REFUSED;
    double sum = 0.0;
    for (size_t i = 0; i < n; i++) {
        double v =
            (protected_waters ? 19.5 : 26.0) * fmax(0.0, 0.127 * log(area[i].height_m) + 0.772);
        if (speed_m_per_s != NULL)
            speed_m_per_s[i] = v;
        sum += v * v * area[i].area_m2 * area[i].lever_m;
    }
    *lever_m = 1.113 * sum / (mass_kg * 9.80665);
    return VALID;
}
