/* Roll period from the metacentric height, and the height from a timed roll.
 *
 *     T = 2 C B / sqrt(GM)    C = 0.373 + 0.023 B/d - 0.043 L/100    or 2 C = f of the rolling test
 *
 * Given    beam_m > 0; c > 0; gm_m or period_s > 0
 * Gives    roll_coefficient C; the period, s; the height, m; NAN outside the ranges
 * Source   46 CFR 28.575 (C); IMO resolution A.749(18) Annex 3 (f: 0.88 empty or in ballast, 0.60
 * with live-fish well, else 0.73 to 0.95, scatter 0.05); docs/methods/float.md 8. A plausibility
 * check: 0.05 in f is 12 % of GM Checked  roll-period in tests/cases/float.csv */
#pragma once

#include "base/source.h"

double roll_coefficient(double beam_m, double draught_m, double lwl_m);
double roll_period_s(double c, double beam_m, double gm_m);
double roll_gm_m(double c, double beam_m, double period_s);

extern const Method roll_coefficient_method, roll_period_method, roll_gm_method;
