/* Which alternating-current circuits are live, from which source, and where neutral is bonded to earth.
 *
 *     in       = transfer on shore and shore live, or transfer on generator and generator running
 *     inverting = not in, switched on, battery above its cut-off
 *     kept output = in or inverting    pass output, charger = in
 *
 * Given    AcSwitches
 * Gives    AcState; bonds is how many bonds the energised system has aboard; exactly one in all, ashore or aboard,
 *          is right, so shore power has 0 aboard, or 1 at the secondary of an isolation transformer
 * Misses   faults: it is what should be, with a break-before-make transfer of both poles, a generator that is bonded
 *          at itself, and an inverter whose relay makes the bond when it inverts and opens it when not. Prove the
 *          bond by measuring; a socket that is dead here may still be live in a boat wired otherwise
 * Source   docs/methods/wires.md 5.1: bonding by two application notes (read), the rest logic
 * Checked  ac-state in tests/cases/wires.csv; tests/physics/test_mains.c: every position of every switch */
#pragma once

#include <stdbool.h>

typedef enum { TRANSFER_SHORE, TRANSFER_GENERATOR, TRANSFER_OFF } AcTransfer;
typedef enum { AC_FROM_SHORE, AC_FROM_GENERATOR, AC_FROM_INVERTER, AC_FROM_NONE } AcSource;
typedef enum {
    BOND_AT_SHORE,
    BOND_AT_TRANSFORMER,
    BOND_AT_GENERATOR,
    BOND_AT_INVERTER,
    BOND_NONE
} AcBond;

typedef struct {
    bool shore_live, generator_runs, inverter_on, battery_charged, isolation_transformer;
    AcTransfer transfer;
} AcSwitches;

typedef struct {
    bool in_live, kept_live, pass_live, charger_on;
    AcSource source;
    int bonds_aboard;
    AcBond bond_at;
} AcState;

AcState ac_state(const AcSwitches *switches);
