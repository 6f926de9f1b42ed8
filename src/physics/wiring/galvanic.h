/* Two metals that touch in seawater: which is eaten, and how strong the couple is.
 *
 *     difference = |U1 - U2|    the more negative metal corrodes
 *
 * Given    metals, by their place in galvanic.def; series a or b
 * Gives    GalvanicCouple; corrodes 0 or 1, -1 when the potentials are equal
 * Returns  VALID; REFUSED for a metal that the chosen series does not have: the two are taken against different
 *          electrodes and in different water, and are not mixed
 * Misses   how fast: that is a matter of areas (a small anode on a large cathode is eaten quickly), of paint, salt
 *          and flow. Spread of the series: 0.04 V for iron, 0.02 V for copper alloys. More than 0.2 V asks for
 *          protection (read). Fresh water has another order
 * Source   galvanic.def; docs/methods/wires.md 7.1
 * Checked  galvanic-couple in tests/cases/wires.csv; tests/physics/test_corrosion.c: every row of the sheet */
#pragma once

#include <stddef.h>

#include "base/source.h"
#include "base/validity.h"

typedef enum { SERIES_A, SERIES_B } GalvanicSeries;

typedef struct {
    double potential_1_V, potential_2_V, difference_V;
    int corrodes;
} GalvanicCouple;

/* Place of a metal by its word; behind the last when there is none. */
size_t galvanic_metal(const char *word);
/* NAN when the metal is not in that series. */
double galvanic_potential_V(size_t metal, GalvanicSeries series);
Validity galvanic_couple(size_t metal_1, size_t metal_2, GalvanicSeries series,
                         GalvanicCouple *out);

extern const Method galvanic_couple_method;
