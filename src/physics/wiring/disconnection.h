/* How fast a fault to earth must be cut off, the earth electrode a residual current device allows, and how fast it breaks.
 *
 * Given    earthing, supply, circuit (final: up to 32 A); voltage_V to earth
 *          residual_A, touch_V > 0
 * Gives    time limit in s: alternating current above 50 to 120, to 230, to 400, above 400 V
 *              TN 0.8, 0.4, 0.2, 0.1    TT 0.3, 0.2, 0.07, 0.04    direct current above 120 to 230 V: 5, 0.4
 *              distribution circuits TN 5, TT 1 (memory)
 *          electrode R_A = U_t/I_dn; break times at 1, 2 and 5 times I_dn, NAN where none is asked
 * Returns  VALID; REFUSED at or below 50 V of alternating current, where none is asked, for direct current at other
 *          voltages, and outside the ranges
 * Misses   a boat in the water is not a house: swimmers are hurt by currents in fresh water that no such time
 *          bounds. The local code and a licensed electrician decide
 * Source   IEC 60364-4-41 Table 41.1 (read), IEC 61008 (read; 0.3 s at 1 I_dn from memory); docs/methods/wires.md 5.3
 * Checked  disconnection-time in tests/cases/wires.csv; tests/physics/test_mains.c */
#pragma once

#include "base/source.h"
#include "base/validity.h"

typedef enum { EARTHING_TN, EARTHING_TT } Earthing;
typedef enum { CURRENT_ALTERNATING, CURRENT_DIRECT } CurrentKind;
typedef enum { CIRCUIT_FINAL, CIRCUIT_DISTRIBUTION } CircuitRank;
typedef enum { RCD_GENERAL, RCD_SELECTIVE } RcdKind;

typedef struct {
    double at_1_s, at_2_s, at_5_s;
} RcdTimes;

Validity disconnection_time(Earthing earthing, CurrentKind current, CircuitRank rank,
                            double voltage_V, double *time_s);
/* NAN outside the ranges. */
double electrode_limit_ohm(double residual_A, double touch_V);
RcdTimes rcd_times(RcdKind kind);

extern const Method disconnection_time_method, disconnection_distribution_method,
    electrode_limit_method, rcd_time_method;
