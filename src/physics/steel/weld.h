/* Weld metal: cross-section, mass, filler, gas and time.
 *
 *     fillet   A = z^2/2 (1 + convexity), bare z^2/2, w = sqrt(2) z
 *     butt     A = t g + (t - f)^2 tan(a/2) + 2/3 h (w + 2 mm), the last for a cap h > 0;  w = g + 2 (t - f) tan(a/2)
 *     metal = A L rho   filler = metal/eta   arc time = metal/rate   elapsed = arc time/k   gas = flow arc time
 *
 * Given    leg, thickness > 0; gap, root face, cap, convexity >= 0; root face not above thickness; included angle 0 to below pi;
 *          area, length >= 0; rate, density > 0; operating factor and efficiency above 0 to 1; gas flow >= 0
 * Gives    m2, m, kg, s, m3
 * Returns  VALID; REFUSED outside the ranges above
 * Source   geometry; efficiencies: filler-metal handbook, "Calculating Filler Metal Consumption", read (names of rows from memory);
 *          docs/methods/steel.md D4
 * Checked  weld-area and weld-consumption in tests/cases/steel.csv and work.csv; tests/physics/test_weld.c */
#pragma once

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double bare_m2, area_m2, top_width_m;
} WeldArea;

typedef struct {
    double thickness_m, gap_m, angle_rad, root_face_m, cap_m;
} ButtWeld;

Validity weld_fillet(double leg_m, double convexity, WeldArea *out);
Validity weld_butt(const ButtWeld *butt, WeldArea *out);

typedef enum {
    WELD_SUBMERGED,
    WELD_MIG_ARGON,
    WELD_MAG_MIXED,
    WELD_MAG_CO2,
    WELD_METAL_CORED,
    WELD_FLUX_CORED,
    WELD_SELF_SHIELDED,
    WELD_ELECTRODE_300,
    WELD_ELECTRODE_350,
    WELD_ELECTRODE_450
} WeldProcess;

/* Share of the filler that becomes weld metal; electrodes with a stub of 50 mm. */
double weld_efficiency(WeldProcess process);

typedef struct {
    double area_m2, length_m, rate_kg_per_s, operating_factor, efficiency, gas_m3_per_s;
    double density_kg_per_m3;
} WeldRun;

typedef struct {
    double metal_kg, filler_kg, arc_s, elapsed_s, gas_m3;
} WeldConsumption;

Validity weld_consumption(const WeldRun *run, WeldConsumption *out);

extern const Method weld_fillet_method, weld_butt_method, weld_metal_method, weld_filler_method,
    weld_time_method;
