/* Cycle life. Invariant: deeper is never longer. */
#include "physics/wiring/cycle_life.h"

#include "physics/domain.h"

#define SHEET                                                                                      \
    {                                                                                              \
        "power law through two figures of the maker; docs/methods/wires.md 4.5",                   \
            STANDING_SECONDARY                                                                     \
    }
const Method cycle_life_method = {"Cycles at a depth", "N = N1 * (D1 / D)^b", SHEET};
const Method cycle_life_exponent_method = {"Exponent of cycle life",
                                           "b = ln(N1 / N2) / ln(D2 / D1)", SHEET};

Validity
cycle_life(double depth_1, double cycles_1, double depth_2, double cycles_2, double depth,
           double *exponent, double *cycles)
{
    *exponent = *cycles = NAN;
    if (!is_share(depth_1) || !is_share(depth_2) || !is_share(depth) || !is_positive(cycles_1) ||
        !is_positive(cycles_2) || fabs(depth_1 / depth_2 - 1.0) < 1e-9)
        return REFUSED;
    double b = log(cycles_1 / cycles_2) / log(depth_2 / depth_1);
    if (!(b >= 0.0))
        return REFUSED;
    *exponent = b;
    *cycles = cycles_1 * pow(depth_1 / depth, b);
    bool between = is_within(depth, fmin(depth_1, depth_2), fmax(depth_1, depth_2));
    return between ? VALID : EXTRAPOLATED;
}
