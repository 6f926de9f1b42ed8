/* Air that keeps the hydrogen of charging batteries thin, openings for it, and the distance of sparks.
 *
 *     Q = 0.05 n I_gas m3/h, I_gas in A    A = 28 Q cm2, each of two openings, Q in m3/h
 *     d = 28.8 mm (I_gas / 1 mA)^(1/3)     Q' = 0.006 n I_charge L/s
 *
 * 0.05 is 24 (to 4 % of hydrogen) times 0.42e-3 m3 per A h and cell, times 5 for safety.
 *
 * Given    kind and stage, which set I_gas per capacity, mA/A h, float and boost: vented lead 5, 20; valve-
 *          regulated lead 1, 8; nickel-cadmium 5, 50; or gas_A > 0, the whole (NAN: by the table)
 *          cells  in series, a whole number >= 1; capacity_As > 0, of all strings together
 *          charge_A >= 0 or NAN
 * Gives    Hydrogen; by_charge NAN without charge_A
 * Returns  VALID, or REFUSED outside the ranges
 * Misses   a charger that fails and boils the battery; a space with no way out at its top, where the gas
 *          gathers; lithium, which does not gas in use. d is for one cell behind one vent: six cells behind
 *          one vent ask for the cube root of 6 times as much (memory)
 * Source   EN 62485-2 (read), EN 50272-3 (derivation read); d from memory; Q' Australian practice (read);
 *          docs/methods/wires.md 4.6
 * Checked  battery-ventilation in tests/cases/wires.csv; tests/physics/test_charging.c: from Faraday's law */
#pragma once

#include "base/source.h"
#include "base/validity.h"

typedef enum { GASSING_VENTED_LEAD, GASSING_VRLA, GASSING_NICD } GassingKind;
typedef enum { STAGE_FLOAT, STAGE_BOOST } ChargeStage;

typedef struct {
    double airflow_m3_per_s, opening_m2, spark_m, by_charge_m3_per_s;
} Hydrogen;

/* Gas current of a battery by the table, A. */
double hydrogen_current_A(GassingKind kind, ChargeStage stage, double capacity_As);
Validity hydrogen_ventilation(double gas_A, double cells, double charge_A, Hydrogen *out);

extern const Method hydrogen_airflow_method, hydrogen_opening_method, hydrogen_spark_method,
    hydrogen_by_charge_method;
