/* What a limited shore supply carries, what the inverter must add, and what is left for charging.
 *
 *     P_s = U I    P_load <= P_s: charger takes min(P_s - P_load, its limit), battery gets P eta_c / U_b
 *     P_load > P_s: battery gives P_load - P_s at (P_load - P_s) / (eta_i U_b)
 *
 * Given    shore_A, load_W, charger_W (limit on its input side; NAN: none) >= 0; shore_V, battery_V > 0;
 *          efficiencies above 0 to 1
 * Gives    ShoreShare; shore_W is what flows, not what could
 * Returns  VALID, or REFUSED outside the ranges
 * Misses   power factor (watts and volt-amperes are taken alike), start currents, an inverter that cannot run in
 *          parallel with the shore or is too small: loads must then be shed
 * Source   power balance; docs/methods/wires.md 5.2
 * Checked  shore-share in tests/cases/wires.csv; tests/physics/test_mains.c: energy */
#pragma once

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double shore_A, shore_V, load_W, battery_V, inverter_efficiency, charger_efficiency, charger_W;
} SharedSupply;

typedef struct {
    double shore_W, help_W, help_A, charger_W, charge_A;
} ShoreShare;

Validity shore_share(const SharedSupply *supply, ShoreShare *out);

extern const Method shore_help_method, shore_charger_method, shore_charge_method,
    shore_help_current_method;
