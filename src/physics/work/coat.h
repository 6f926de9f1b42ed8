/* How long a coat must wait for the next one.
 *
 *     rate = 2^((T - T_ref)/10 K), 0 below the least temperature; the wait is over when the integral of the rate is the wait of the sheet
 *
 * Given    reference_h >= 0, wait at reference_K; temperature_K[n], n >= 1, each held for spell_h[i] >= 0, the last on and on;
 *          least_K below which nothing cures, or NAN: none
 * Gives    wait_h, h
 * Returns  VALID; REFUSED when the coat never gets there or outside the ranges above
 * Misses   the law of Arrhenius, which differs by a few per cent over 10 K; moisture, film thickness
 * Source   planning rule of a factor two per 10 K, an assumption that the pot life in UFGS 09970 and 09971 supports;
 *          docs/methods/work.md 3.5
 * Checked  coat-wait in tests/cases/work.csv; tests/physics/test_coats.c */
#pragma once

#include <stddef.h>

#include "base/source.h"
#include "base/validity.h"

Validity coat_wait(double reference_h, double reference_K, size_t n, const double temperature_K[],
                   const double spell_h[], double least_K, double *wait_h);

/* Polyurethane on polyurethane, by the surface temperature rounded to a whole degree: 16 to 38 degC VALID, to 49 degC
 * EXTRAPOLATED (the sister documents stop at 38), else REFUSED.
 * Source   UFGS 09971 recoat table, as read for docs/methods/work.md 3.5 */
Validity recoat_window(double surface_K, double *least_h, double *most_h);

extern const Method coat_rate_method, recoat_window_method;
