/* Fault current of a generator or inverter, and the largest breaker that it can trip at once.
 *
 *     I_n = S/U    I'' = I_n/X''    I' = I_n/X'    I_k = I_n/X    I_lim = limit I_n
 *     largest breaker = fault current / 5 (B), / 10 (C), / 20 (D)
 *
 * Given    apparent_VA, voltage_V > 0; reactances per unit > 0 and limit (of rated current) > 0, NAN where not known
 * Gives    WeakSource; the breakers from the limited current where a limit is given, else from the transient
 *          current (it lasts about 0.25 s), NAN without either
 * Returns  VALID, or REFUSED outside the ranges
 * Misses   the cable up to the fault; an inverter that shuts down before the breaker moves: then a residual current
 *          device is what protects people. Excitation that forces the current (about 3 I_n for 10 s, memory)
 * Source   definition of per-unit reactances; a medium-voltage design guide; docs/methods/wires.md 5.4
 * Checked  weak-source-fault in tests/cases/wires.csv; tests/physics/test_mains.c */
#pragma once

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double apparent_VA, voltage_V, subtransient, transient, permanent, limit;
} WeakMachine;

typedef struct {
    double rated_A, subtransient_A, transient_A, permanent_A, limited_A;
    double breaker_b_A, breaker_c_A, breaker_d_A;
} WeakSource;

Validity weak_source(const WeakMachine *machine, WeakSource *out);

extern const Method weak_source_rated_method, weak_source_fault_method, weak_source_limited_method,
    weak_source_breaker_method;
