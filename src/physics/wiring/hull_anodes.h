/* Current, mass and number of flush anodes for a coated hull in seawater, by the offshore method.
 *
 *     I_c = (A f_c + A_bare) i_c    f_i = min(1, a + b t_0)    f_m = min(1, a + b (t_0 + t/2))
 *     f_f = min(1, a + b (t_0 + t))
 *     M = I_m t/(u q)    I_a = dE/R    n = max(M/m_a, I_i/I_a,i, I_f/I_a,f), rounded up
 *     R by the short flush form: at first A = L W + 2 t (L + W), at the end L W
 *
 * Given    area_m2 coated and bare_m2 bare besides, >= 0 and not both 0; coating and climate (depth 0 to 30 m);
 *          life_s > 0, a year of 8760 h; age_s >= 0 of the paint on the first day; anode with length >= width > 0, thickness, mass > 0; utilisation above
 *          0 to 1; capacity, driving voltage and resistivity > 0
 * Gives    HullAnodes; densities i by climate: tropical 0.15, 0.07, 0.10; subtropical 0.17, 0.08, 0.11; temperate 0.20,
 *          0.10, 0.13; arctic 0.25, 0.12, 0.17 A/m2 (initial, mean, final); a, b per year by coating: 1 0.10, 0.10;
 *          2 0.05, 0.025; 3 0.02, 0.012; none 1, 0
 * Returns  VALID; EXTRAPOLATED for an anode of four widths or longer (the long form fits it better), and for water
 *          outside 0.15 to 0.50 ohm m, for which the densities were not made; REFUSED outside the ranges
 * Misses   a yacht's worn paint and tidal water: for category 3 the method asks about 4 mA/m2 where surveyors take 20
 *          to 35: show both. Flow, connected neighbours, and how far each anode reaches
 * Source   DNV-RP-B401:2010 (as reproduced; tropical initial densities from memory); docs/methods/wires.md 7.2
 * Checked  hull-anodes in tests/cases/wires.csv; tests/physics/test_corrosion.c */
#pragma once

#include "base/source.h"
#include "base/validity.h"
#include "physics/wiring/anode.h"

typedef enum { COATING_NONE, COATING_CATEGORY_1, COATING_CATEGORY_2, COATING_CATEGORY_3 } Coating;
typedef enum { CLIMATE_TROPICAL, CLIMATE_SUBTROPICAL, CLIMATE_TEMPERATE, CLIMATE_ARCTIC } Climate;

typedef struct {
    double area_m2, bare_m2, life_s, age_s;
    Coating coating;
    Climate climate;
    double length_m, width_m, thickness_m, mass_kg; /* of one anode */
    double utilisation, capacity_C_per_kg, driving_V, resistivity_ohm_m;
} AnodedHull;

typedef struct {
    double coating_mean, coating_final;
    double initial_A, mean_A, final_A; /* asked of all anodes */
    double mass_kg;
    double initial_ohm, final_ohm, anode_initial_A, anode_final_A; /* of one anode */
    double count_mass, count_initial, count_final, anodes;
} HullAnodes;

/* What an anode metal gives in seawater: zinc 780 A h/kg, 0.20 V; aluminium 2000, 0.25; magnesium 1200, 0.70 (memory). */
double anode_metal_capacity_C_per_kg(AnodeMetal metal);
double anode_metal_driving_V(AnodeMetal metal);

/* Share of a coating that has failed at an age, and what a square metre of bare steel asks for. */
double hull_anodes_failed_frac(Coating coating, double age_s);
double hull_anodes_mean_A_per_m2(Climate climate);
double hull_anodes_final_A_per_m2(Climate climate);

Validity hull_anodes(const AnodedHull *hull, HullAnodes *out);

extern const Method hull_anodes_current_method, hull_anodes_coating_method, hull_anodes_mass_method,
    hull_anodes_count_method;
