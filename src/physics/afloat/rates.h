/* Immersion and trim rates, fresh-water allowance, block coefficient.
 *
 *     TPC = rho A    MCT = D GM_L / L    FWA = D / (40 TPC)    C_B = V / (L B T)
 *
 * Given    volume_m3, waterplane_m2, density_kg_per_m3 > 0; gm_l_m, length_m, beam_m, draught_m NAN
 * when not known Gives    NAN where its inputs are not known Returns  VALID or REFUSED Source
 * Barrass and Derrett p. 74-79; docs/methods/float.md 2.5 (there FWA = D/(4 TPC) mm with TPC in
 * t/cm, the same) Checked  displacement-rates in tests/cases/float.csv */
#pragma once

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double mass_kg, tpc_kg_per_m, mct_kgm_per_m, fresh_water_allowance_m, block_coefficient;
} Rates;

Validity displacement_rates(double volume_m3, double waterplane_m2, double density_kg_per_m3,
                            double gm_l_m, double length_m, double beam_m, double draught_m,
                            Rates *rates);

extern const Method tpc_method, mct_method, fresh_water_allowance_method, block_coefficient_method;
