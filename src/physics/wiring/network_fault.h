/* A dead short between two nodes of a network, and how stiff the supply is there.
 *
 *     R = V_open / I_fault;   P_max = V_open I_fault / 4
 *
 * Given    network as for network_solve; at and back, two nodes that differ
 * Gives    fault: current from `at` to `back` through 0 ohm; open voltage between them; the two figures above, exact while
 *          the network is linear; linear: no diode and no charger is in it
 *          solution: of the shorted network; loads carry nothing
 * Returns  as network_solve; NETWORK_FLOATS also when nothing feeds one of the two nodes once the loads are taken out
 * Note     power, current and power-law loads are taken out; resistors, motors, chargers and diodes stay. Breaking capacity
 *          asks for new, full, warm batteries, clearing in time for old, cold ones and hot cables
 * Source   docs/methods/wires.md 2.4: Thevenin
 * Checked  dc-fault in tests/cases/wires.csv; tests/physics/test_network.c against unit currents */
#pragma once

#include "physics/wiring/network.h"

typedef struct {
    double fault_A, open_V, source_ohm, power_limit_W;
    bool linear;
} NetworkFault;

NetworkOutcome network_fault(const Network *network, size_t at, size_t back, NetworkFault *fault,
                             NetworkSolution *solution);

/* The same current for many pairs of nodes, each shorted alone: fault_A[n], NAN where nothing feeds a point or nothing limits
 * the current. A linear network is factored once for all of them. Returns as network_solve, of the network without loads. */
NetworkOutcome network_faults(const Network *network, size_t n, const size_t at[],
                              const size_t back[], double fault_A[]);

extern const Method network_source_method, network_power_limit_method;
