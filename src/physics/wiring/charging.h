/* How long a charge takes: bulk at the charger's current, then absorption while the battery takes less and less.
 *
 *     I_a = min(I, I_acc)    tau = (1 - s_a) C / (eta I_a)
 *     bulk       (min(s_a, s1) - s0) C / (eta I)          none when already past s_a
 *     absorption tau ln((1 - max(s_a, s0)) / (1 - s1))    none when s1 lies below s_a
 *
 * Given    capacity_As, current_A, acceptance_A (what it takes at s_a) > 0; efficiency above 0 to 1
 *          0 <= from <= to < 1 of charge; bulk_to above 0 and below 1 (lead about 0.8, lithium about 0.95)
 * Gives    ChargeTime
 * Returns  VALID, or REFUSED outside the ranges: the last of the charge takes for ever
 * Misses   temperature, a charger that changes over by the clock, equalising
 * Source   exponential tail of a current that falls with the charge still missing (derived); its
 *          parameters from memory; docs/methods/wires.md 4.5. The sheet's bulk runs to s_a even when the
 *          charge ends sooner, with a negative absorption; here it ends where the charge does
 * Checked  charge-time in tests/cases/wires.csv; tests/physics/test_charging.c: step by step */
#pragma once

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double capacity_As, current_A, acceptance_A, efficiency, from, to, bulk_to;
} Charge;

typedef struct {
    double bulk_s, tau_s, absorption_s, total_s;
} ChargeTime;

Validity charge_time(const Charge *charge, ChargeTime *out);

extern const Method charge_bulk_method, charge_tau_method, charge_absorption_method;
