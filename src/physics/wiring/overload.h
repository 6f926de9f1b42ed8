/* How long a cold machine may run above its continuous current, by one thermal time constant.
 *
 *     t = tau ln(p^2 / (p^2 - 1))
 *
 * Given    time_constant_s > 0; overload p, current over continuous current, > 1
 * Gives    time_s until its rated temperature rise is reached
 * Returns  VALID; REFUSED at p <= 1, where there is no limit, and outside the ranges
 * Source   docs/methods/wires.md 8, duty type S2 of IEC 60034-1 by one time constant
 * Checked  overload-time in tests/cases/wires.csv */
#pragma once

#include "base/source.h"
#include "base/validity.h"

Validity overload_time(double time_constant_s, double overload, double *time_s);

extern const Method overload_time_method;
