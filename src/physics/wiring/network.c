/* Networks solved. Invariant: what is handed out is the solution reached from open circuit, or NAN. */
#include "physics/wiring/network.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "physics/domain.h"
#include "physics/memory.h"
#include "physics/wiring/network_parts.h"

enum { FIRST_STEPS = 3, MOST_FIXED_STEPS = 3000 };

const Method network_node_method = {
    "Currents at a node", "sum(I) = 0", {"Kirchhoff; docs/methods/wires.md 2.2", STANDING_DERIVED}};
const Method network_resistor_method = {"Current through a source or a cable",
                                        "I = (V_from - V_to - E) / R",
                                        {"docs/methods/wires.md 2.1", STANDING_DERIVED}};
const Method network_power_method = {"Current of a load of constant power",
                                     "I = P / (V_from - V_to)",
                                     {"docs/methods/wires.md 2.1", STANDING_DERIVED}};
const Method network_diode_method = {"Current through a diode",
                                     "I = I_S * (exp((V_from - V_to) / (N * V_t)) - 1)",
                                     {"Shockley; docs/methods/wires.md 2.1", STANDING_DERIVED}};

static size_t
root_of(size_t *parent, size_t node)
{
    while (parent[node] != node)
        node = parent[node] = parent[parent[node]];
    return node;
}

void
network_reach(const Network *network, bool reached[])
{
    size_t *parent = fresh(network->nodes, sizeof *parent);
    for (size_t k = 0; k < network->nodes; k++)
        parent[k] = k;
    for (size_t i = 0; i < network->n; i++) {
        const NetworkElement *e = &network->element[i];
        if (e->kind != ELEMENT_CURRENT_LOAD && e->kind != ELEMENT_POWER_LOAD)
            parent[root_of(parent, e->from)] = root_of(parent, e->to);
    }
    for (size_t k = 0; k < network->nodes; k++)
        reached[k] = root_of(parent, k) == root_of(parent, 0);
    free(parent);
}

/* The next power load that was not cut out, from number *k on among them; the number of elements when there is none. */
static size_t
next_load(const Solver *s, size_t *k)
{
    while (*k < s->n_loads && s->point[s->load[*k]].state == STATE_CUT_OUT)
        ++*k;
    return *k < s->n_loads ? s->load[(*k)++] : s->network->n;
}

/* Loads begin at the voltage they see when no power load runs; what feeds in, not below a volt. */
static void
loads_begin(Solver *s)
{
    for (size_t k = 0, i; (i = next_load(s, &k)) < s->network->n;) {
        const NetworkElement *e = &s->network->element[i];
        double open_V = solver_across_V(s, e);
        s->point[i].at_V = e->power_W < 0.0 ? fmax(open_V, 1.0) : open_V;
    }
}

/* The first load without a voltage to draw its power at, or n. */
static size_t
starved_load(const Solver *s)
{
    for (size_t k = 0, i; (i = next_load(s, &k)) < s->network->n;) {
        const NetworkElement *e = &s->network->element[i];
        if (e->power_W > 0.0 && !(e->cutoff_V > 0.0) && !(s->point[i].at_V > 0.0))
            return i;
    }
    return s->network->n;
}

/* Takes the fixed currents at the voltages they led to; the greatest change as a share. */
static double
loads_step(Solver *s)
{
    double most = 0.0;
    for (size_t k = 0, i; (i = next_load(s, &k)) < s->network->n;) {
        const NetworkElement *e = &s->network->element[i];
        double across_V = solver_across_V(s, e), was_V = s->point[i].at_V;
        if (e->power_W < 0.0)
            across_V = fmax(across_V, 0.5 * was_V);
        most = fmax(most, fabs(across_V - was_V) / fmax(fabs(was_V), 1e-6));
        s->point[i].at_V = across_V;
    }
    return most;
}

static size_t
hardest_load(const Solver *s)
{
    size_t worst = s->network->n;
    double least = INFINITY;
    for (size_t k = 0, i; (i = next_load(s, &k)) < s->network->n;)
        if (s->network->element[i].power_W > 0.0 && s->point[i].at_V < least) {
            least = s->point[i].at_V;
            worst = i;
        }
    return worst;
}

static bool
feeds_in(const Solver *s)
{
    for (size_t k = 0, i; (i = next_load(s, &k)) < s->network->n;)
        if (s->network->element[i].power_W < 0.0)
            return true;
    return false;
}

/* Tangents from where the points stand; puts them back when that does not end on the upper root. */
static bool
newton_ends(Solver *s)
{
    size_t bytes = s->network->n * sizeof *s->point;
    memcpy(s->kept, s->point, bytes);
    bool ends = solver_settle(s, LOADS_TANGENT) == SETTLED && solver_upper_root(s);
    if (!ends)
        memcpy(s->point, s->kept, bytes);
    return ends;
}

/* Currents fixed at the last voltages come down to the upper root step by step and never past it; tangents finish. Where
 * there is no such root the voltage of some load goes through zero. */
static NetworkOutcome
loads_settle(Solver *s, size_t *where)
{
    if (hardest_load(s) == s->network->n && !feeds_in(s))
        return NETWORK_SOLVED;
    for (int step = 0, next_try = FIRST_STEPS; step < MOST_FIXED_STEPS; step++) {
        if ((*where = starved_load(s)) < s->network->n)
            return NETWORK_COLLAPSED;
        if (step == next_try) {
            if (newton_ends(s))
                return NETWORK_SOLVED;
            next_try *= 4;
        }
        if (solver_settle(s, LOADS_FIXED) != SETTLED)
            break;
        if (loads_step(s) < 1e-9)
            next_try = step + 1;
    }
    *where = hardest_load(s);
    return NETWORK_COLLAPSED;
}

/* The load lowest against its cut-off, or n when all stand above theirs. */
static size_t
lowest_load(const Solver *s)
{
    size_t worst = s->network->n;
    double least = 1.0;
    for (size_t k = 0, i; (i = next_load(s, &k)) < s->network->n;) {
        const NetworkElement *e = &s->network->element[i];
        double share = s->point[i].at_V / e->cutoff_V;
        if (e->power_W > 0.0 && e->cutoff_V > 0.0 && share < least) {
            least = share;
            worst = i;
        }
    }
    return worst;
}

static bool
has_cut_out(const Solver *s)
{
    for (size_t k = 0; k < s->n_loads; k++)
        if (s->point[s->load[k]].state == STATE_CUT_OUT)
            return true;
    return false;
}

static NetworkOutcome
solve_cutting_out(Solver *s, size_t *where)
{
    for (;;) {
        if (solver_settle(s, LOADS_OPEN) != SETTLED) {
            size_t row = sparse_singular(s->matrix);
            size_t node = row < s->rows ? s->unknown[row] : s->network->nodes;
            *where = node < s->network->nodes ? node : s->network->nodes;
            return NETWORK_CONTRADICTS;
        }
        loads_begin(s);
        NetworkOutcome outcome = loads_settle(s, where);
        size_t low = lowest_load(s);
        if (low == s->network->n)
            return outcome;
        s->point[low].state = STATE_CUT_OUT;
    }
}

static void
hand_out(const Solver *s, NetworkSolution *out)
{
    const Network *net = s->network;
    for (size_t k = 0; k < net->nodes; k++)
        out->voltage_V[k] = s->x[k];
    for (size_t i = 0; i < net->n; i++) {
        bool source =
            net->element[i].kind == ELEMENT_BATTERY || net->element[i].kind == ELEMENT_CHARGER;
        out->current_A[i] = source ? -solver_current_A(s, i) : solver_current_A(s, i);
        out->state[i] = s->point[i].state;
    }
}

static NetworkOutcome
examine(const Network *network, const bool *reached, size_t *where)
{
    for (*where = 0; *where < network->n; ++*where)
        if (!network_element_sound(network, &network->element[*where]))
            return NETWORK_BAD;
    for (*where = 0; *where < network->nodes; ++*where)
        if (!reached[*where] && !network->hold_floating)
            return NETWORK_FLOATS;
    return NETWORK_SOLVED;
}

struct NetworkSolver {
    Solver solver;
    bool *reached;
    bool laid_out; /* false while an element was bad */
    bool near;     /* its points solved the network with the values it had last */
};

/* An element that is outside its ranges may name a node that is not there. */
static bool
ends_sound(const Network *network)
{
    for (size_t i = 0; i < network->n; i++)
        if (network->element[i].from >= network->nodes || network->element[i].to >= network->nodes)
            return false;
    return true;
}

NetworkSolver *
network_solver_new(const Network *network)
{
    NetworkSolver *s = fresh(1, sizeof *s);
    s->solver.network = network;
    s->reached = fresh(network->nodes, sizeof *s->reached);
    s->laid_out = network->nodes > 1 && ends_sound(network);
    if (s->laid_out) {
        network_reach(network, s->reached);
        solver_init(&s->solver, network, s->reached, false);
    } else if (network->nodes > 0) {
        s->reached[0] = true;
    }
    return s;
}

void
network_solver_free(NetworkSolver *s)
{
    if (s == NULL)
        return;
    if (s->laid_out)
        solver_clear(&s->solver);
    free(s->reached);
    free(s);
}

NetworkOutcome
network_solver_run(NetworkSolver *s, NetworkSolution *out)
{
    const Network *network = s->solver.network;
    for (size_t k = 0; k < network->nodes; k++)
        out->voltage_V[k] = NAN;
    for (size_t i = 0; i < network->n; i++) {
        out->current_A[i] = NAN;
        out->state[i] = STATE_ON;
    }
    NetworkOutcome outcome = examine(network, s->reached, &out->where);
    if (outcome != NETWORK_SOLVED || !s->laid_out)
        return outcome;
    if (!solver_fits(&s->solver)) {
        solver_clear(&s->solver);
        solver_init(&s->solver, network, s->reached, false);
        s->near = false;
    }
    if (!s->near || !newton_ends(&s->solver) || lowest_load(&s->solver) < network->n) {
        solver_begin(&s->solver);
        outcome = solve_cutting_out(&s->solver, &out->where);
    }
    s->near = outcome == NETWORK_SOLVED && !has_cut_out(&s->solver);
    if (outcome == NETWORK_SOLVED)
        hand_out(&s->solver, out);
    return outcome;
}

NetworkOutcome
network_solve(const Network *network, NetworkSolution *out)
{
    NetworkSolver *solver = network_solver_new(network);
    NetworkOutcome outcome = network_solver_run(solver, out);
    network_solver_free(solver);
    return outcome;
}

double
network_imbalance_W(const Network *network, const NetworkSolution *solution, double *scale_W)
{
    double sum_W = 0.0;
    *scale_W = 0.0;
    for (size_t i = 0; i < network->n; i++) {
        const NetworkElement *e = &network->element[i];
        double across_V = solution->voltage_V[e->from] - solution->voltage_V[e->to];
        bool source = e->kind == ELEMENT_BATTERY || e->kind == ELEMENT_CHARGER;
        double power_W = (source ? -across_V : across_V) * solution->current_A[i];
        sum_W += power_W;
        *scale_W += fabs(power_W);
    }
    return sum_W;
}
