/* Resistance of an anode in water, and the mass of anodes that a current asks for.
 *
 *     long stand-off    R = rho/(2 pi L) (ln(4 L/r) - 1), L >= 4 r, 0.30 m clear; near (0.15 to 0.30 m): times 1.3
 *     short stand-off   R = rho/(2 pi L) (ln(2 L/r (1 + s)) + r/(2 L) - s), s = sqrt(1 + (r/(2 L))^2), L < 4 r
 *     long flush        R = rho/(L + W), L >= 4 W    short flush, bracelet   R = 0.315 rho/sqrt(A)
 *     m = I t/(q u)
 *
 * Given    resistivity_ohm_m > 0; length, radius, width or exposed area > 0 as the shape asks
 *          current_A, duration_s >= 0; capacity_C_per_kg > 0; utilisation above 0 to 1
 * Gives    ohm; kg
 * Returns  VALID; EXTRAPOLATED for a long shape that is short or the other way; REFUSED outside the ranges
 * Misses   anodes near each other, a corner of the hull in their way, the skin that stops aluminium in fresh water.
 *          A mass is no promise of reach: count and places matter, magnesium in salt water lifts the paint
 * Source   DNV-RP-B401:2010 Table 10-7 (forms of Dwight, Lloyd, McCoy; short stand-off from memory); mass by the ABYC
 *          corrosion study guide; docs/methods/wires.md 7.2, 7.3
 * Checked  anode-resistance, anode-mass in tests/cases/wires.csv; tests/physics/test_corrosion.c: forms meet */
#pragma once

#include "base/source.h"
#include "base/validity.h"

typedef enum {
    ANODE_LONG_STAND_OFF,
    ANODE_NEAR_STAND_OFF,
    ANODE_SHORT_STAND_OFF,
    ANODE_LONG_FLUSH,
    ANODE_SHORT_FLUSH,
    ANODE_BRACELET
} AnodeShape;

typedef enum { ANODE_OF_ZINC, ANODE_OF_ALUMINIUM, ANODE_OF_MAGNESIUM } AnodeMetal;
typedef enum { WETTED_FULL, WETTED_MEDIUM, WETTED_LIGHT } WettedForm; /* displacement of her kind */

typedef struct {
    double length_m, radius_m, width_m, exposed_m2;
} AnodeSize;

Validity anode_resistance(AnodeShape shape, double resistivity_ohm_m, const AnodeSize *size,
                          double *resistance_ohm);
/* Wetted area f L (B + D), f 1.0, 0.75, 0.50 by form; NAN outside the ranges. */
double anode_hull_area_m2(WettedForm form, double waterline_m, double beam_m, double draught_m);
/* What the small-craft rule counts on: zinc 368, aluminium 1108 A h/lb; NAN for magnesium. */
double anode_guide_capacity_C_per_kg(AnodeMetal metal);
Validity anode_mass(double current_A, double duration_s, double capacity_C_per_kg,
                    double utilisation, double *mass_kg);

extern const Method anode_stand_off_method, anode_short_stand_off_method, anode_long_flush_method,
    anode_short_flush_method, anode_mass_method, anode_hull_area_method;
