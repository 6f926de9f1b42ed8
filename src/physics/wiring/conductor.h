/* Resistance of a conductor at its working temperature.
 *
 *     R = r_20 L (1 + alpha (theta - 20 degC))
 *
 * Given    temperature_K of the metal
 * Gives    conductor_warmth, resistance over that at 20 degC; reading_to_20, what a reading taken at
 *          that temperature is multiplied by to stand for 20 degC. NAN where the law gives none
 * Source   temperature coefficients 0.00393 /K copper, 0.00403 /K aluminium; IEC 60228:2004, correction of
 *          readings 250 / (230 + t)
 * Checked  conductor-resistance in tests/cases/wires.csv */
#pragma once

#include <stdbool.h>

#include "base/source.h"

#define CELSIUS_0_K 273.15
#define COPPER_RESISTIVITY_OHM_M 0.017241e-6 /* annealed, 20 degC, IEC 60028 */

double conductor_warmth(bool aluminium, double temperature_K);
double reading_to_20(double temperature_K);

extern const Method conductor_resistance_method, reading_to_20_method;
