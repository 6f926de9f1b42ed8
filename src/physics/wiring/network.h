/* A direct-current network: batteries, chargers, cables, loads, motors and diodes between nodes.
 *
 *     sum of the currents that leave a node = 0
 *     with v = v(from) - v(to) and j the current from -> to through the element
 *     battery, motor, resistor   v = E + R j        charger       i = -j = min(limit, (E - v) / R), never below 0
 *     current load               j = I              power load    j = P / v; below its cut-off v P / cutoff^2
 *     power law                  j = c (v / 1 V)^m  diode         j = IS (exp(v / (N Vt)) - 1) + 1e-12 S v
 *
 * Given    nodes, of which 0 is the reference; elements between them, R >= 0; temperature_K of the diodes
 * Gives    voltage of each node; current of each element, from -> to, for batteries and chargers out of `from` (so that it is
 *          positive when discharging); its state
 * Returns  NETWORK_SOLVED: the solution reached from open circuit (upper root). A power load that ends below its cut-off is
 *          taken off, the one lowest against its cut-off first, and the rest solved again.
 *          NETWORK_COLLAPSED: a power load asks for more than can reach it; where: that element
 *          NETWORK_FLOATS: a node has no path to the reference; where: that node
 *          NETWORK_CONTRADICTS: no voltages fit, such as two stiff sources joined or two zero-ohm paths side by side; where: a
 *          node, or `nodes` when it cannot be told
 *          NETWORK_BAD: an element outside its ranges; where: that element. Outputs are NAN unless solved
 * Source   docs/methods/wires.md 2.1, 2.2, 2.3: modified nodal analysis with Newton; limiting of junction voltages after
 *          Nagel, SPICE2, UCB/ERL M520, 1975
 * Checked  tests/physics/test_network.c: closed forms, a dense method of its own, power balance, reciprocity;
 *          tests/physics/test_netlists.py: 200 networks of up to 300 nodes solved by ngspice too; dc-network in
 *          tests/cases/wires.csv */
#pragma once

#include <stdbool.h>
#include <stddef.h>

#include "base/source.h"

typedef enum {
    ELEMENT_BATTERY,
    ELEMENT_CHARGER,
    ELEMENT_RESISTOR,
    ELEMENT_CURRENT_LOAD,
    ELEMENT_POWER_LOAD,
    ELEMENT_POWER_LAW,
    ELEMENT_MOTOR,
    ELEMENT_DIODE
} ElementKind;

typedef enum { STATE_ON, STATE_HOLDING, STATE_LIMITED, STATE_OFF, STATE_CUT_OUT } ElementState;

typedef struct {
    ElementKind kind;
    size_t from, to;
    double ohm;                    /* battery, charger, resistor, motor */
    double voltage_V;              /* battery: open; charger: set; motor: back-EMF */
    double current_A;              /* current load; charger: its limit, INFINITY for none */
    double power_W, cutoff_V;      /* power load, negative when it feeds in; cut-off 0 for none */
    double coefficient, exponent;  /* power law, A */
    double saturation_A, ideality; /* diode */
} NetworkElement;

typedef struct {
    size_t nodes, n;
    const NetworkElement *element;
    double temperature_K;
    bool
        hold_floating; /* a node without a path is held at 0 V and what hangs on it is dead; else NETWORK_FLOATS */
} Network;

typedef enum {
    NETWORK_SOLVED,
    NETWORK_COLLAPSED,
    NETWORK_FLOATS,
    NETWORK_CONTRADICTS,
    NETWORK_BAD
} NetworkOutcome;

typedef struct {
    double *voltage_V;   /* [nodes] */
    double *current_A;   /* [n] */
    ElementState *state; /* [n] */
    size_t where;
} NetworkSolution;

/* The arrays are the caller's. */
NetworkOutcome network_solve(const Network *network, NetworkSolution *solution);

/* The same network many times while only values of its elements change (not their kinds and ends, nor n): what it looks like is
 * worked out once. The network is borrowed. */
typedef struct NetworkSolver NetworkSolver;
NetworkSolver *network_solver_new(const Network *network);
NetworkOutcome network_solver_run(NetworkSolver *solver, NetworkSolution *solution);
void network_solver_free(NetworkSolver *solver);

/* Whether an element lies in its ranges. */
bool network_element_sound(const Network *network, const NetworkElement *element);

/* Marks what has a path to the reference: through all but current and power loads. */
void network_reach(const Network *network, bool reached[]);

/* Sum of v j over all elements, what sources give less what is taken: 0 when the solution is one. scale_W: sum of |v j|. */
double network_imbalance_W(const Network *network, const NetworkSolution *solution,
                           double *scale_W);

extern const Method network_node_method, network_resistor_method, network_power_method,
    network_diode_method;
