/* Newton on the nodes. Invariant: x satisfies the laws as they are linearised at the points. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "physics/memory.h"
#include "physics/wiring/network_parts.h"

enum { MOST_STEPS = 400, FLIP_ALL_STEPS = 30 };

/* Entries of a branch: its own row (from, to, itself), and its current in the rows of its nodes; of the rest the four of a
 * conductance. */
static void
places_of(const NetworkElement *e, size_t branch, size_t row[5], size_t column[5])
{
    const size_t a = e->from, b = e->to;
    if (branch > 0) {
        const size_t rows[] = {branch, branch, branch, a, b},
                     columns[] = {a, b, branch, branch, branch};
        for (int k = 0; k < 5; k++)
            row[k] = rows[k], column[k] = columns[k];
        return;
    }
    const size_t rows[] = {a, a, b, b, 0}, columns[] = {a, b, a, b, 0};
    for (int k = 0; k < 5; k++)
        row[k] = rows[k], column[k] = columns[k];
}

static void
lay_out(Solver *s, const bool *reached)
{
    const Network *net = s->network;
    size_t most = 5 * net->n + net->nodes, entries = 0;
    size_t *row = fresh(most, sizeof *row), *column = fresh(most, sizeof *column);
    for (size_t i = 0; i < net->n; i++) {
        size_t r[5], c[5];
        places_of(&net->element[i], s->point[i].branch, r, c);
        for (int k = 0; k < 5; k++) {
            bool real = r[k] > 0 && c[k] > 0;
            s->point[i].entry[k] = real ? entries : NO_ENTRY;
            if (real)
                row[entries] = r[k] - 1, column[entries] = c[k] - 1, entries++;
        }
    }
    s->first_pin = entries;
    for (size_t k = 1; k < net->nodes; k++)
        if (!reached[k])
            row[entries] = column[entries] = k - 1, entries++;
    s->pins = entries - s->first_pin;
    s->matrix = sparse_new(s->unknowns, entries, row, column);
    free(row);
    free(column);
}

void
solver_init(Solver *s, const Network *network, const bool *reached)
{
    const double boltzmann_J_per_K = 1.380649e-23, charge_C = 1.602176634e-19;
    *s = (Solver){.network = network,
                  .thermal_V = boltzmann_J_per_K * network->temperature_K / charge_C,
                  .unknowns = network->nodes - 1};
    s->point = fresh(network->n, sizeof *s->point);
    for (size_t i = 0; i < network->n; i++) {
        const NetworkElement *e = &network->element[i];
        s->point[i].dead = !reached[e->from] || !reached[e->to];
        if (element_is_branch(e))
            s->point[i].branch = ++s->unknowns;
    }
    s->x = fresh(s->unknowns + 1, sizeof *s->x);
    lay_out(s, reached);
    solver_begin(s);
}

bool
solver_fits(const Solver *s)
{
    for (size_t i = 0; i < s->network->n; i++)
        if ((s->point[i].branch > 0) != element_is_branch(&s->network->element[i]))
            return false;
    return true;
}

void
solver_begin(Solver *s)
{
    for (size_t i = 0; i < s->network->n; i++) {
        s->point[i].at_V = 0.0;
        s->point[i].state =
            s->network->element[i].kind == ELEMENT_CHARGER ? STATE_HOLDING : STATE_ON;
    }
}

void
solver_clear(Solver *s)
{
    sparse_free(s->matrix);
    free(s->point);
    free(s->x);
}

double
solver_across_V(const Solver *s, const NetworkElement *e)
{
    return s->x[e->from] - s->x[e->to];
}

double
solver_current_A(const Solver *s, size_t i)
{
    if (s->point[i].branch > 0)
        return s->x[s->point[i].branch];
    return element_law_A(s, i, solver_across_V(s, &s->network->element[i]));
}

static void
put(Solver *s, size_t entry, double value)
{
    if (entry != NO_ENTRY)
        sparse_add(s->matrix, entry, value);
}

static void
stamp_branch(Solver *s, const NetworkElement *e, const Point *p, double *rhs)
{
    put(s, p->entry[3], 1.0);
    put(s, p->entry[4], -1.0);
    bool stiff = !p->dead && p->state != STATE_LIMITED && p->state != STATE_OFF;
    if (!stiff) {
        put(s, p->entry[2], 1.0);
        rhs[p->branch] = p->state == STATE_LIMITED && !p->dead ? -e->current_A : 0.0;
        return;
    }
    put(s, p->entry[0], 1.0);
    put(s, p->entry[1], -1.0);
    put(s, p->entry[2], -e->ohm);
    rhs[p->branch] = e->kind == ELEMENT_RESISTOR ? 0.0 : e->voltage_V;
}

static void
stamp_law(Solver *s, const NetworkElement *e, const Point *p, LawPoint law, double *rhs)
{
    double rest_A = law.current_A - law.slope_S * p->at_V;
    put(s, p->entry[0], law.slope_S);
    put(s, p->entry[1], -law.slope_S);
    put(s, p->entry[2], -law.slope_S);
    put(s, p->entry[3], law.slope_S);
    rhs[e->from] -= rest_A;
    rhs[e->to] += rest_A;
}

static bool
linear_solve(Solver *s, LoadMode mode)
{
    const Network *net = s->network;
    sparse_clear(s->matrix);
    for (size_t k = 0; k <= s->unknowns; k++)
        s->x[k] = 0.0;
    for (size_t i = 0; i < net->n; i++) {
        const Point *p = &s->point[i];
        if (p->branch > 0)
            stamp_branch(s, &net->element[i], p, s->x);
        else
            stamp_law(s, &net->element[i], p, element_law(s, i, mode), s->x);
    }
    for (size_t k = 0; k < s->pins; k++)
        sparse_add(s->matrix, s->first_pin + k, 1.0);
    s->x[0] = 0.0;
    if (!sparse_factor(s->matrix))
        return false;
    sparse_solve(s->matrix, s->x + 1);
    return true;
}

static ElementState
charger_wants(const Solver *s, size_t i)
{
    const NetworkElement *e = &s->network->element[i];
    double across_V = solver_across_V(s, e), given_A = -s->x[s->point[i].branch];
    switch (s->point[i].state) {
    case STATE_LIMITED:
        return across_V > e->voltage_V - e->ohm * e->current_A + 1e-9 ? STATE_HOLDING
                                                                      : STATE_LIMITED;
    case STATE_OFF:
        return across_V < e->voltage_V - 1e-9 ? STATE_HOLDING : STATE_OFF;
    default:
        if (given_A > e->current_A * (1.0 + 1e-9) + 1e-9)
            return STATE_LIMITED;
        return given_A < -1e-9 ? STATE_OFF : STATE_HOLDING;
    }
}

/* Chargers that are in the wrong state change it: all at once to begin with; then, whenever the rest agrees, the first in the
 * list alone, which cannot go round in circles in a network of resistances (Murty 1974). */
static bool
chargers_flip(Solver *s, bool all)
{
    bool flipped = false;
    for (size_t i = 0; i < s->network->n && (all || !flipped); i++) {
        if (s->network->element[i].kind != ELEMENT_CHARGER || s->point[i].dead)
            continue;
        ElementState wanted = charger_wants(s, i);
        flipped |= wanted != s->point[i].state;
        s->point[i].state = wanted;
    }
    return flipped;
}

/* The points follow x; whether each law agrees with what it was linearised to. */
static bool
points_follow(Solver *s, LoadMode mode)
{
    bool agree = true;
    for (size_t i = 0; i < s->network->n; i++) {
        const NetworkElement *e = &s->network->element[i];
        bool curved = e->kind == ELEMENT_DIODE || e->kind == ELEMENT_POWER_LAW ||
                      (e->kind == ELEMENT_POWER_LOAD && mode == LOADS_TANGENT);
        if (!curved || s->point[i].dead || s->point[i].state == STATE_CUT_OUT)
            continue;
        LawPoint law = element_law(s, i, mode);
        double across_V = solver_across_V(s, e), true_A = element_law_A(s, i, across_V);
        double line_A = law.current_A + law.slope_S * (across_V - s->point[i].at_V);
        bool near = fabs(true_A - line_A) <= 1e-11 * fabs(true_A) + 1e-12;
        agree &= element_follow(s, i, mode, across_V) && near;
    }
    return agree;
}

Settling
solver_settle(Solver *s, LoadMode mode)
{
    for (int step = 0; step < MOST_STEPS; step++) {
        if (!linear_solve(s, mode))
            return SINGULAR;
        bool early = step < FLIP_ALL_STEPS, agree = points_follow(s, mode);
        bool flipped = (early || agree) && chargers_flip(s, early);
        if (agree && !flipped)
            return SETTLED;
    }
    return RESTLESS;
}

/* Slope with which a live load answers to its voltage, 0 where it has no constant power to draw. */
static double
falling_slope_S(const Solver *s, size_t i)
{
    const NetworkElement *e = &s->network->element[i];
    const Point *p = &s->point[i];
    if (e->kind != ELEMENT_POWER_LOAD || p->dead || p->state == STATE_CUT_OUT)
        return 0.0;
    return fmax(0.0, -element_law(s, i, LOADS_TANGENT).slope_S);
}

/* One turn of u -> sqrt(d) Z sqrt(d) u, Z the network as each load sees it; gives the share u' u / u u. */
static double
turn(Solver *s, double *u, double *answer)
{
    const Network *net = s->network;
    double before = 0.0, both = 0.0, after = 0.0;
    for (size_t k = 0; k <= s->unknowns; k++)
        answer[k] = 0.0;
    for (size_t i = 0; i < net->n; i++) {
        double weight = sqrt(falling_slope_S(s, i));
        answer[net->element[i].from] += weight * u[i];
        answer[net->element[i].to] -= weight * u[i];
        before += u[i] * u[i];
    }
    answer[0] = 0.0;
    sparse_solve(s->matrix, answer + 1);
    for (size_t i = 0; i < net->n; i++) {
        const NetworkElement *e = &net->element[i];
        double next = sqrt(falling_slope_S(s, i)) * (answer[e->from] - answer[e->to]);
        both += u[i] * next;
        after += next * next;
        u[i] = next;
    }
    for (size_t i = 0; i < net->n && after > 0.0; i++)
        u[i] /= sqrt(after);
    return before > 0.0 ? both / before : 0.0;
}

/* Fixed currents come back to the upper root and run away from any other: the greatest eigenvalue of `turn` is below 1 there. */
bool
solver_upper_root(Solver *s)
{
    enum { TURNS = 12, FIRST_TURNS = 3 };
    const Network *net = s->network;
    double *kept = fresh(s->unknowns + 1, sizeof *kept), *u = fresh(net->n, sizeof *u);
    bool loaded = false, upper = true;
    double before = 0.0;
    for (size_t i = 0; i < net->n; i++) {
        u[i] = falling_slope_S(s, i) > 0.0 ? 1.0 : 0.0;
        loaded |= u[i] > 0.0;
        upper &= u[i] == 0.0 || s->point[i].at_V > 0.0;
    }
    memcpy(kept, s->x, (s->unknowns + 1) * sizeof *kept);
    if (loaded && upper && linear_solve(s, LOADS_FIXED))
        for (int k = 0; k < TURNS && upper; k++) {
            double share = turn(s, u, s->x);
            upper = share < 1.0;
            /* The shares only grow; one that stands still far below 1 has come to its end. */
            if (k >= FIRST_TURNS && share < 0.5 && share - before < 0.01 * share)
                break;
            before = share;
        }
    memcpy(s->x, kept, (s->unknowns + 1) * sizeof *kept);
    free(kept);
    free(u);
    return upper;
}
