/* Energy and charge that the loads draw over a day, the battery for it, and the peak on the source.
 *
 *     E = sum(P f t / eta) + U I_0 T    Q = E / U    C = Q periods / usable
 *     P_peak = sum of P f, continuous + 0.35 sum of P, intermittent + the largest start
 *
 * Given    loads   power_W >= 0 as rated, time_s 0 to the period, factor 0 to 1 (share of the time or of the
 *                  rating), efficiency above 0 to 1 of what feeds it (an inverter), start_W >= 0 extra
 *          system_V, period_s > 0; standby_A >= 0, drawn all the time; usable above 0 to 1; periods > 0
 * Gives    LoadBalance; the peak is in the loads' own watts, before the efficiency of what feeds them
 * Returns  VALID, or REFUSED outside the ranges
 * Misses   what comes in meanwhile; take several balances (at anchor, on passage, laid up)
 * Source   sums; 0.35 for intermittent loads: J. Marine Engineering Society of Japan 25(4), 1990 (read);
 *          docs/methods/wires.md 6
 * Checked  load-balance in tests/cases/wires.csv; tests/physics/test_charging.c */
#pragma once

#include <stdbool.h>
#include <stddef.h>

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double power_W, time_s, factor, efficiency, start_W;
    bool intermittent;
} DayLoad;

typedef struct {
    double system_V, standby_A, period_s, usable, periods;
} DaySupply;

typedef struct {
    double energy_J, charge_As, average_W, capacity_As, peak_W;
} LoadBalance;

Validity load_balance(size_t n, const DayLoad load[static n], const DaySupply *supply,
                      LoadBalance *out);

extern const Method load_energy_method, load_charge_method, load_capacity_method, load_peak_method;
