/* The Wigley form, y = B/2 (1 - (2 x/L)^2) (1 - (1 - z/T)^2): exact hydrostatics to test others
 * against.
 *
 *     V = 4 L B T / 9    A_wp = 2 L B / 3    KB = 5 T / 8    I_T = 4 L B^3 / 105    I_L = B L^3 /
 * 30
 *
 * Given    length_m, beam_m, draught_m > 0
 * Gives    Wigley; the wetted surface by quadrature, to 1e-9 of itself
 * Returns  VALID or REFUSED
 * Source   docs/methods/float.md 9.4, derived
 * Checked  wigley-hull in tests/cases/float.csv */
#pragma once

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double volume_m3, waterplane_m2, kb_m, inertia_t_m4, inertia_l_m4, bm_m, bm_l_m, wetted_m2;
} Wigley;

Validity wigley_hull(double length_m, double beam_m, double draught_m, Wigley *wigley);

extern const Method wigley_volume_method;
