/* What a battery bank drives into a dead short.
 *
 *     I = E / (R_bank + R_path);   E = s E_1;   R_bank = s R_1 / p
 *
 * Given    emf_V and ohm of one battery, both > 0; series and parallel, whole numbers >= 1; path_ohm >= 0
 * Gives    emf and resistance of the bank; current at its terminals and at the end of the path
 * Returns  VALID, or REFUSED outside the ranges
 * Note     breaking capacity asks for the resistance of a new, full, warm battery; whether a fuse clears in time
 *          for that of an old, cold one
 * Source   ABYC E-11, note on interrupting capacity; docs/methods/wires.md 2.4
 * Checked  bank-fault in tests/cases/wires.csv */
#pragma once

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double emf_V, ohm;
    double series, parallel, path_ohm;
} Bank;

typedef struct {
    double emf_V, ohm, terminal_A, fault_A;
} BankFault;

Validity bank_fault(const Bank *bank, BankFault *out);

extern const Method bank_resistance_method, bank_fault_method;
