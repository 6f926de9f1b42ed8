/* States of the alternating-current side. Invariant: one source at a time, and one bond with it. */
#include "physics/wiring/ac_state.h"

static AcSource
source_of(const AcSwitches *s)
{
    if (s->transfer == TRANSFER_SHORE && s->shore_live)
        return AC_FROM_SHORE;
    if (s->transfer == TRANSFER_GENERATOR && s->generator_runs)
        return AC_FROM_GENERATOR;
    return s->inverter_on && s->battery_charged ? AC_FROM_INVERTER : AC_FROM_NONE;
}

static AcBond
bond_of(const AcSwitches *s, AcSource source)
{
    switch (source) {
    case AC_FROM_SHORE:
        return s->isolation_transformer ? BOND_AT_TRANSFORMER : BOND_AT_SHORE;
    case AC_FROM_GENERATOR:
        return BOND_AT_GENERATOR;
    case AC_FROM_INVERTER:
        return BOND_AT_INVERTER;
    case AC_FROM_NONE:
        break;
    }
    return BOND_NONE;
}

AcState
ac_state(const AcSwitches *switches)
{
    AcSource source = source_of(switches);
    AcBond bond = bond_of(switches, source);
    bool in = source == AC_FROM_SHORE || source == AC_FROM_GENERATOR;
    return (AcState){.in_live = in,
                     .kept_live = source != AC_FROM_NONE,
                     .pass_live = in,
                     .charger_on = in,
                     .source = source,
                     .bonds_aboard = bond == BOND_AT_SHORE || bond == BOND_NONE ? 0 : 1,
                     .bond_at = bond};
}
