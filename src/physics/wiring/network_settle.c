/* Newton on the nodes. Invariant: x satisfies the laws as they are linearised at the points. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "physics/memory.h"
#include "physics/wiring/network_parts.h"

enum { MOST_STEPS = 400, FLIP_ALL_STEPS = 30 };

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
    bool stiff = p->state != STATE_LIMITED && p->state != STATE_OFF;
    if (!stiff) {
        put(s, p->entry[2], 1.0);
        rhs[p->branch] = p->state == STATE_LIMITED ? -e->current_A : 0.0;
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

void
solver_answer(Solver *s, double x[])
{
    for (size_t k = 0; k < s->rows; k++)
        s->b[k] = x[s->unknown[k]];
    for (size_t k = 0; k <= s->unknowns; k++)
        x[k] = 0.0;
    if (s->rows > 0)
        sparse_solve(s->matrix, s->b);
    for (size_t k = 0; k < s->rows; k++)
        x[s->unknown[k]] = s->b[k];
    for (size_t k = s->idle; k-- > 0;)
        x[s->outer[k]] = x[s->inner[k]];
}

static bool
linear_solve(Solver *s, LoadMode mode)
{
    if (s->rows > 0)
        sparse_clear(s->matrix);
    for (size_t k = 0; k <= s->unknowns; k++)
        s->x[k] = 0.0;
    for (size_t a = 0; a < s->n_active; a++) {
        size_t i = s->active[a];
        const NetworkElement *e = &s->network->element[i];
        const Point *p = &s->point[i];
        if (p->branch > 0)
            stamp_branch(s, e, p, s->x);
        else
            stamp_law(s, e, p, element_law(s, i, mode), s->x);
    }
    if (s->rows > 0 && !sparse_factor(s->matrix))
        return false;
    solver_answer(s, s->x);
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
    for (size_t a = 0; a < s->n_active; a++) {
        size_t i = s->active[a];
        const NetworkElement *e = &s->network->element[i];
        bool curved = e->kind == ELEMENT_DIODE || e->kind == ELEMENT_POWER_LAW ||
                      (e->kind == ELEMENT_POWER_LOAD && mode == LOADS_TANGENT);
        if (!curved || s->point[i].state == STATE_CUT_OUT)
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

/* A live load as its tangent sees it: how its current falls as its voltage rises. */
typedef struct {
    size_t from, to;
    double root_S, u; /* square root of the slope; its share of the vector that is turned */
} Falling;

/* Those that fall; *sound: each of them has a voltage. */
static size_t
find_falling(const Solver *s, Falling load[], bool *sound)
{
    size_t n = 0;
    *sound = true;
    for (size_t k = 0; k < s->n_loads; k++) {
        size_t i = s->load[k];
        const NetworkElement *e = &s->network->element[i];
        double slope_S = -element_law(s, i, LOADS_TANGENT).slope_S; /* 0 when cut out */
        if (!(slope_S > 0.0))
            continue;
        load[n++] = (Falling){e->from, e->to, sqrt(slope_S), 1.0};
        *sound &= s->point[i].at_V > 0.0;
    }
    return n;
}

/* One turn of u -> sqrt(d) Z sqrt(d) u, Z the network as each load sees it; gives the share u' u / u u. */
static double
turn(Solver *s, size_t n, Falling load[], double *answer)
{
    double before = 0.0, both = 0.0, after = 0.0;
    for (size_t k = 0; k <= s->unknowns; k++)
        answer[k] = 0.0;
    for (size_t k = 0; k < n; k++) {
        answer[load[k].from] += load[k].root_S * load[k].u;
        answer[load[k].to] -= load[k].root_S * load[k].u;
        before += load[k].u * load[k].u;
    }
    solver_answer(s, answer);
    for (size_t k = 0; k < n; k++) {
        double next = load[k].root_S * (answer[load[k].from] - answer[load[k].to]);
        both += load[k].u * next;
        after += next * next;
        load[k].u = next;
    }
    for (size_t k = 0; k < n && after > 0.0; k++)
        load[k].u /= sqrt(after);
    return before > 0.0 ? both / before : 0.0;
}

static bool
fixed_would_come_back(Solver *s, size_t n, Falling load[])
{
    enum { TURNS = 12, FIRST_TURNS = 3 };
    double before = 0.0;
    bool upper = true;
    for (int k = 0; k < TURNS && upper; k++) {
        double share = turn(s, n, load, s->x);
        upper = share < 1.0;
        /* The shares only grow; one that stands still far below 1 has come to its end. */
        if (k >= FIRST_TURNS && share < 0.5 && share - before < 0.01 * share)
            break;
        before = share;
    }
    return upper;
}

/* Fixed currents come back to the upper root and run away from any other: the greatest eigenvalue of `turn` is below 1 there. */
bool
solver_upper_root(Solver *s)
{
    Falling *load = fresh(s->n_loads, sizeof *load);
    double *kept = fresh(s->unknowns + 1, sizeof *kept);
    bool upper;
    size_t n = find_falling(s, load, &upper);
    memcpy(kept, s->x, (s->unknowns + 1) * sizeof *kept);
    if (n > 0 && upper && linear_solve(s, LOADS_FIXED))
        upper = fixed_would_come_back(s, n, load);
    memcpy(s->x, kept, (s->unknowns + 1) * sizeof *kept);
    free(kept);
    free(load);
    return upper;
}
