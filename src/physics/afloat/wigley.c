/* Wigley form. Invariant: everything but the wetted surface is a closed form. */
#include "physics/afloat/wigley.h"

#include "physics/domain.h"
#include "physics/gauss.h"

const Method wigley_volume_method = {"Volume of the Wigley form",
                                     "V = 4 * L * B * T / 9",
                                     {"docs/methods/float.md 9.4", STANDING_DERIVED}};

/* Both sides, a quarter of the length at a time: the integrand is smooth. */
static double
wetted(double L, double B, double T)
{
    enum { PIECES = 8 };
    double sum = 0.0;
    for (int p = 0; p < PIECES; p++)
        for (size_t i = 0; i < gauss_16.n; i++) {
            double x = 0.5 * (p + gauss_16.at[i]) / PIECES; /* x / L from midships */
            for (size_t k = 0; k < gauss_16.n; k++) {
                double u = 1.0 - gauss_16.at[k]; /* 1 - z / T */
                double yx = -4.0 * B / L * x * (1.0 - u * u);
                double yz = B / T * (1.0 - 4.0 * x * x) * u;
                sum += gauss_16.weight[i] * gauss_16.weight[k] * sqrt(1.0 + yx * yx + yz * yz);
            }
        }
    return 2.0 * L * T * sum / PIECES;
}

Validity
wigley_hull(double length_m, double beam_m, double draught_m, Wigley *wigley)
{
    *wigley = (Wigley){NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN};
    if (!is_positive(length_m) || !is_positive(beam_m) || !is_positive(draught_m))
        return REFUSED;
    const double L = length_m, B = beam_m, T = draught_m;
    *wigley = (Wigley){.volume_m3 = 4.0 * L * B * T / 9.0,
                       .waterplane_m2 = 2.0 * L * B / 3.0,
                       .kb_m = 5.0 * T / 8.0,
                       .inertia_t_m4 = 4.0 * L * B * B * B / 105.0,
                       .inertia_l_m4 = B * L * L * L / 30.0,
                       .bm_m = 3.0 * B * B / (35.0 * T),
                       .bm_l_m = 3.0 * L * L / (40.0 * T),
                       .wetted_m2 = wetted(L, B, T)};
    return VALID;
}
