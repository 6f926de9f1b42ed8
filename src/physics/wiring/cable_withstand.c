/* Adiabatic heating. Invariant: a printed constant stands beside the temperatures it was printed for. */
#include "physics/wiring/cable_withstand.h"

#include <stddef.h>

#include "physics/domain.h"

const Method cable_constant_method = {"Constant of a copper conductor in its insulation",
                                      "k = 226 * sqrt(ln((234.5 + theta_f) / (234.5 + theta_i)))",
                                      {"IEC 60364-5-54, as reproduced", STANDING_SECONDARY}};
const Method cable_withstand_method = {"Least area for a short circuit",
                                       "S = sqrt(I^2 * t) / k",
                                       {"IEC 60364-4-43, as reproduced", STANDING_SECONDARY}};

static const struct {
    ConductorMetal metal;
    ConductorJacket jacket;
    double before_C, after_C, printed;
} rows[] = {
    {METAL_COPPER, JACKET_PVC_70, 70, 160, 115},
    {METAL_COPPER, JACKET_PVC_70_LARGE, 70, 140, 103},
    {METAL_COPPER, JACKET_PVC_90, 90, 160, 100},
    {METAL_COPPER, JACKET_PVC_90_LARGE, 90, 140, 86},
    {METAL_COPPER, JACKET_XLPE_90, 90, 250, 143},
    {METAL_COPPER, JACKET_RUBBER_60, 60, 200, 141},
    {METAL_COPPER, JACKET_RUBBER_85, 85, 220, 134},
    {METAL_COPPER, JACKET_SILICONE_180, 180, 350, 132},
    {METAL_COPPER, JACKET_BARE, 30, 250, NAN},
    {METAL_COPPER, JACKET_PVC_70_APART, 30, 160, NAN},
    {METAL_ALUMINIUM, JACKET_PVC_70, 70, 160, 76},
    {METAL_ALUMINIUM, JACKET_XLPE_90, 90, 250, 94},
    {METAL_STEEL, JACKET_PVC_70, 70, 160, 42},
    {METAL_STEEL, JACKET_XLPE_90, 90, 250, 52},
};

static double
computed(ConductorMetal metal, double before_C, double after_C)
{
    static const double factor[] = {226, 148, 78}, zero_C[] = {234.5, 228, 202};
    return factor[metal] * sqrt(log((zero_C[metal] + after_C) / (zero_C[metal] + before_C)));
}

double
cable_constant_between(ConductorMetal metal, double before_C, double after_C)
{
    return before_C > -200.0 && before_C < after_C ? computed(metal, before_C, after_C) : NAN;
}

Validity
cable_constant(ConductorMetal metal, ConductorJacket jacket, CableConstant *out)
{
    *out = (CableConstant){NAN, NAN, NAN, NAN};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        if (rows[i].metal != metal || rows[i].jacket != jacket)
            continue;
        double k = computed(metal, rows[i].before_C, rows[i].after_C);
        *out = (CableConstant){isnan(rows[i].printed) ? round(k) : rows[i].printed, k,
                               rows[i].before_C, rows[i].after_C};
        return VALID;
    }
    return REFUSED;
}

double
withstand_area_m2(double constant, double current_A, double time_s)
{
    return 1e-6 * current_A * sqrt(time_s) / constant;
}

double
withstand_A2s(double constant, double area_m2)
{
    double root = constant * 1e6 * area_m2;
    return root * root;
}
