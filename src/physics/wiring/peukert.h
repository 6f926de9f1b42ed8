/* How long a lead battery lasts at a current: Peukert's law.
 *
 *     t = H (C / (I H))^k    dDoD/dt = (I / I_H)^k / H    I_H = C / H    k = ln(t2/t1) / ln(I1/I2)
 *
 * Below I_H the exponent is 1: a battery gives no more than its rating however gently it is used. The
 * `plain` depth uses the exponent throughout.
 *
 * Given    capacity_As at the rate_s rate > 0 (not the charge at 1 A); exponent > 0; currents of
 *          discharge >= 0; a duration >= 0 for each current
 * Gives    time_s to empty, infinite at no current; depth drawn, 1 when empty (a sum of shares, whatever
 *          the order: charge recovered at rest is not in it); exponent from two ratings
 * Returns  VALID; EXTRAPOLATED for an exponent outside 1 to 1.5 (a given or found exponent below 1 says
 *          that more comes out the faster it is drawn: one of the ratings is wrong); REFUSED outside the
 *          ranges, and two ratings that are not two currents
 * Misses   temperature, age, and the cut-off voltage, which a large load meets sooner; lithium (k about
 *          1.02 to 1.05) is cut off by its guard
 * Source   W. Peukert, Elektrotechnische Zeitschrift 27, 1897 (the law); docs/methods/wires.md 4.1
 * Checked  peukert, peukert-exponent in tests/cases/wires.csv; tests/physics/test_battery.c */
#pragma once

#include <stddef.h>

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double capacity_As, rate_s, exponent;
} PeukertBattery;

Validity peukert_time(const PeukertBattery *battery, double current_A, double *time_s);
Validity peukert_depth(const PeukertBattery *battery, size_t n, const double current_A[static n],
                       const double duration_s[static n], double *depth, double *plain);
Validity peukert_exponent(double current_1_A, double time_1_s, double current_2_A, double time_2_s,
                          double *exponent);

extern const Method peukert_time_method, peukert_depth_method, peukert_exponent_method;
