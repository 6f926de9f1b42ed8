/* Dead shorts. Invariant: element n of the shorted network is the short, the others keep their numbers. */
#include "physics/wiring/network_fault.h"

#include <math.h>
#include <string.h>

#include "physics/memory.h"
#include "physics/wiring/network_parts.h"

const Method network_source_method = {"Resistance of the supply at a point",
                                      "R = V_open / I_fault",
                                      {"Thevenin; docs/methods/wires.md 2.3", STANDING_DERIVED}};
const Method network_power_limit_method = {
    "Most power that can be drawn at a point",
    "P_max = V_open * I_fault / 4",
    {"Thevenin; docs/methods/wires.md 2.3", STANDING_DERIVED}};

static bool
is_load(ElementKind kind)
{
    return kind == ELEMENT_CURRENT_LOAD || kind == ELEMENT_POWER_LOAD || kind == ELEMENT_POWER_LAW;
}

/* A load becomes one of 0 A, which is no path. */
static NetworkElement *
without_loads(const Network *network, bool *linear)
{
    NetworkElement *element = fresh(network->n + 1, sizeof *element);
    *linear = true;
    for (size_t i = 0; i < network->n; i++) {
        element[i] = network->element[i];
        ElementKind kind = element[i].kind;
        *linear &= kind != ELEMENT_DIODE && kind != ELEMENT_CHARGER;
        if (is_load(kind))
            element[i] = (NetworkElement){
                .kind = ELEMENT_CURRENT_LOAD, .from = element[i].from, .to = element[i].to};
    }
    return element;
}

static bool
both_fed(const Network *network, size_t at, size_t back, size_t *where)
{
    bool *reached = fresh(network->nodes, sizeof *reached);
    network_reach(network, reached);
    *where = reached[at] ? back : at;
    bool fed = reached[at] && reached[back];
    free(reached);
    return fed;
}

static NetworkOutcome
short_it(Network *bare, size_t at, size_t back, NetworkFault *fault, NetworkSolution *solution)
{
    NetworkElement *element = (NetworkElement *) bare->element;
    NetworkOutcome outcome = network_solve(bare, solution);
    if (outcome != NETWORK_SOLVED)
        return outcome;
    fault->open_V = solution->voltage_V[at] - solution->voltage_V[back];
    element[bare->n++] = (NetworkElement){.kind = ELEMENT_RESISTOR, .from = at, .to = back};
    outcome = network_solve(bare, solution);
    if (outcome != NETWORK_SOLVED)
        return outcome;
    fault->fault_A = solution->current_A[bare->n - 1];
    fault->source_ohm = fault->fault_A != 0.0 ? fault->open_V / fault->fault_A : NAN;
    fault->power_limit_W = 0.25 * fault->open_V * fault->fault_A;
    return NETWORK_SOLVED;
}

NetworkOutcome
network_fault(const Network *network, size_t at, size_t back, NetworkFault *fault,
              NetworkSolution *out)
{
    *fault = (NetworkFault){NAN, NAN, NAN, NAN, true};
    for (out->where = 0; out->where < network->n; out->where++)
        if (!network_element_sound(network, &network->element[out->where]))
            return NETWORK_BAD;
    Network bare = *network;
    NetworkElement *element = without_loads(network, &fault->linear);
    bare.element = element;
    bare.hold_floating = true;
    NetworkSolution shorted = *out;
    shorted.current_A = fresh(network->n + 1, sizeof *shorted.current_A);
    shorted.state = fresh(network->n + 1, sizeof *shorted.state);
    NetworkOutcome outcome = NETWORK_FLOATS;
    if (both_fed(&bare, at, back, &shorted.where))
        outcome = short_it(&bare, at, back, fault, &shorted);
    memcpy(out->current_A, shorted.current_A, network->n * sizeof *out->current_A);
    memcpy(out->state, shorted.state, network->n * sizeof *out->state);
    out->where = shorted.where;
    if (outcome != NETWORK_SOLVED)
        *fault = (NetworkFault){NAN, NAN, NAN, NAN, fault->linear};
    free(shorted.current_A);
    free(shorted.state);
    free(element);
    return outcome;
}

/* Open voltage over the answer to one ampere, for each pair. */
static void
faults_by_thevenin(Solver *s, const bool *reached, size_t n, const size_t at[], const size_t back[],
                   double fault_A[])
{
    double *answer_V = fresh(s->unknowns + 1, sizeof *answer_V);
    for (size_t k = 0; k < n; k++) {
        if (!reached[at[k]] || !reached[back[k]] || at[k] == back[k])
            continue;
        for (size_t i = 0; i <= s->unknowns; i++)
            answer_V[i] = 0.0;
        answer_V[at[k]] = 1.0;
        answer_V[back[k]] = -1.0;
        solver_answer(s, answer_V);
        double open_V = s->x[at[k]] - s->x[back[k]],
               source_ohm = answer_V[at[k]] - answer_V[back[k]];
        fault_A[k] = source_ohm > 0.0 ? open_V / source_ohm : NAN;
    }
    free(answer_V);
}

static NetworkOutcome
faults_linear(const Network *bare, size_t n, const size_t at[], const size_t back[],
              double fault_A[])
{
    bool *reached = fresh(bare->nodes, sizeof *reached);
    Solver solver;
    network_reach(bare, reached);
    solver_init(&solver, bare, reached, true);
    bool settled = bare->nodes < 2 || solver_settle(&solver, LOADS_OPEN) == SETTLED;
    if (settled)
        faults_by_thevenin(&solver, reached, n, at, back, fault_A);
    solver_clear(&solver);
    free(reached);
    return settled ? NETWORK_SOLVED : NETWORK_CONTRADICTS;
}

static NetworkOutcome
faults_one_by_one(const Network *network, size_t n, const size_t at[], const size_t back[],
                  double fault_A[])
{
    NetworkSolution out = {.voltage_V = fresh(network->nodes, sizeof *out.voltage_V),
                           .current_A = fresh(network->n, sizeof *out.current_A),
                           .state = fresh(network->n, sizeof *out.state)};
    for (size_t k = 0; k < n; k++) {
        NetworkFault fault;
        if (at[k] != back[k] &&
            network_fault(network, at[k], back[k], &fault, &out) == NETWORK_SOLVED)
            fault_A[k] = fault.fault_A;
    }
    free(out.voltage_V);
    free(out.current_A);
    free(out.state);
    return NETWORK_SOLVED;
}

NetworkOutcome
network_faults(const Network *network, size_t n, const size_t at[], const size_t back[],
               double fault_A[])
{
    for (size_t k = 0; k < n; k++)
        fault_A[k] = NAN;
    for (size_t i = 0; i < network->n; i++)
        if (!network_element_sound(network, &network->element[i]))
            return NETWORK_BAD;
    bool linear;
    Network bare = *network;
    NetworkElement *element = without_loads(network, &linear);
    bare.element = element;
    bare.hold_floating = true;
    NetworkOutcome outcome = linear ? faults_linear(&bare, n, at, back, fault_A)
                                    : faults_one_by_one(network, n, at, back, fault_A);
    free(element);
    return outcome;
}
