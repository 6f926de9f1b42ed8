/* What heat and neighbours leave of the current a cable bears.
 *
 *     I_z = I_table f_place f_bundle;   f_air = sqrt((theta_max - theta) / (theta_max - 30 degC))
 *
 * Given    a table of counts from which a factor holds, rising; count, a whole number >= 1
 * Gives    bundle_factor, the factor of the last row not above the count, NAN for no count;
 *          grouping_factor, of the first row not below it, NAN past the last row
 * Given    insulation_K, the conductor's greatest temperature; n rows of printed factors over air_K; air_K
 * Gives    ambient_factor
 * Returns  VALID between the printed rows, EXTRAPOLATED below them (the first row holds) and above (the
 *          square root), REFUSED at or above insulation_K
 * Source   IEC 60364-5-52 Tables B.52.14 and B.52.17; 33 CFR 183.425; ABYC E-11
 * Checked  ampacity cases of tests/cases/wires.csv */
#pragma once

#include <stddef.h>

#include "base/source.h"
#include "base/validity.h"

double bundle_factor(size_t n, const double from[], const double factor[], double count);
double grouping_factor(size_t n, const double counts[], const double factor[], double count);
Validity ambient_factor(size_t n, const double air_K[], const double factor[], double insulation_K,
                        double at_K, double *value);

extern const Method ampacity_method, ampacity_fixed_method, ambient_factor_method;
