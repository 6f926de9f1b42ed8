/* Working time at low water inside the hours of the day.
 *
 *     low k = first + k interval      window = low -+ half      usable = what of it lies between opens and closes of every day it touches
 *
 * Given    hours from midnight of day 0; half_window_h within 0 to interval/2; 0 <= opens_h < closes_h <= 24; interval_h > 0, 12 h 25 min on
 *          average
 * Gives    usable_h[n], of each low water
 * Returns  REFUSED outside the ranges
 * Misses   springs and neaps: low waters that lie higher dry out for a shorter time
 * Source   derived; interval from memory; docs/methods/work.md 3.5
 * Checked  tide-work in tests/cases/work.csv */
#pragma once

#include <stddef.h>

#include "base/source.h"
#include "base/validity.h"

Validity tide_window(double first_low_h, double half_window_h, double opens_h, double closes_h,
                     double interval_h, size_t n, double usable_h[]);

extern const Method tide_window_method;
