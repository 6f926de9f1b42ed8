/* What a reading between hull and a reference electrode in the water says of its protection.
 *
 *     against silver chloride in seawater: zinc reading - 1.05 V, copper sulphate reading + 0.05 V
 *     steel protected at or below -0.80 V, over-protected below -1.10 V; in foul mud -0.90, -1.10;
 *     high-strength steel -0.80, -0.95; copper alloys -0.45, -0.60
 *
 * Given    reading_V  hull against the electrode, the meter's red lead on the hull: negative for a silver chloride
 *                     electrode, positive for zinc; within 3 V
 * Gives    potential_V, state
 * Returns  VALID, or REFUSED outside the ranges
 * Misses   fresh and brackish water (the electrode itself shifts there), the spot that was not measured, current
 *          from the shore lead while reading. The zinc electrode is good to some 0.05 V
 * Source   EN 12473 type criteria (read in handbooks); electrode shifts from memory; docs/methods/wires.md 7.1
 * Checked  hull-potential in tests/cases/wires.csv; tests/physics/test_corrosion.c */
#pragma once

#include "base/source.h"
#include "base/validity.h"

typedef enum { ELECTRODE_SILVER_CHLORIDE, ELECTRODE_ZINC, ELECTRODE_COPPER_SULPHATE } Electrode;
typedef enum {
    HULL_STEEL,
    HULL_STEEL_ANAEROBIC,
    HULL_HIGH_STRENGTH_STEEL,
    HULL_COPPER_ALLOY
} HullMetal;
typedef enum { HULL_UNPROTECTED, HULL_PROTECTED, HULL_OVER_PROTECTED } HullProtection;

Validity hull_potential(double reading_V, Electrode electrode, HullMetal metal, double *potential_V,
                        HullProtection *state);
/* At or below the first protected, below the second too much. */
void hull_potential_limits(HullMetal metal, double *protected_V, double *over_V);

extern const Method hull_potential_method;
