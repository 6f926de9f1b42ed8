/* The unknowns of a network and where they stand in the matrix.
 * Invariant: what carries nothing and what is held at 0 has no row. */
#include <stdlib.h>

#include "physics/memory.h"
#include "physics/wiring/network_parts.h"

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

/* Peels off, end by end, resistors that are the only way to their outer node: what hangs there carries nothing. */
typedef struct {
    size_t *ways,
        *last; /* of each node: elements there; all their numbers in one, by exclusive or */
    size_t *ends, n_ends;
} Peel;

static void
peel_count(Peel *peel, size_t node, size_t element, bool more)
{
    peel->ways[node] += more ? 1 : (size_t) -1;
    peel->last[node] ^= element;
    if (!more && peel->ways[node] == 1 && node > 0)
        peel->ends[peel->n_ends++] = node;
}

static void
peel_end(Solver *s, Peel *peel, size_t outer)
{
    if (peel->ways[outer] != 1)
        return;
    size_t i = peel->last[outer];
    const NetworkElement *e = &s->network->element[i];
    if (e->kind != ELEMENT_RESISTOR)
        return;
    size_t inner = e->from == outer ? e->to : e->from;
    s->point[i].idle = true;
    s->outer[s->idle] = outer;
    s->inner[s->idle++] = inner;
    peel_count(peel, outer, i, false);
    peel_count(peel, inner, i, false);
}

static void
find_idle(Solver *s)
{
    const Network *net = s->network;
    Peel peel = {.ways = fresh(net->nodes, sizeof(size_t)),
                 .last = fresh(net->nodes, sizeof(size_t)),
                 .ends = fresh(2 * net->nodes, sizeof(size_t))};
    for (size_t i = 0; i < net->n; i++)
        if (!s->point[i].dead) {
            peel_count(&peel, net->element[i].from, i, true);
            peel_count(&peel, net->element[i].to, i, true);
        }
    for (size_t k = 1; k < net->nodes; k++)
        if (peel.ways[k] == 1)
            peel.ends[peel.n_ends++] = k;
    for (size_t k = 0; k < peel.n_ends; k++)
        peel_end(s, &peel, peel.ends[k]);
    free(peel.ways);
    free(peel.last);
    free(peel.ends);
}

static void
find_rows(Solver *s, const bool *reached)
{
    const Network *net = s->network;
    for (size_t k = 0; k <= s->unknowns; k++)
        s->row[k] = k == 0 || (k < net->nodes && !reached[k]) ? NO_ROW : 0;
    for (size_t k = 0; k < s->idle; k++)
        s->row[s->outer[k]] = NO_ROW;
    for (size_t i = 0; i < net->n; i++) {
        const Point *p = &s->point[i];
        bool carries = !p->dead && !p->idle;
        if (carries)
            s->active[s->n_active++] = i;
        if (carries && net->element[i].kind == ELEMENT_POWER_LOAD)
            s->load[s->n_loads++] = i;
        if (!carries && p->branch > 0)
            s->row[p->branch] = NO_ROW;
    }
    for (size_t k = 1; k <= s->unknowns; k++)
        if (s->row[k] != NO_ROW) {
            s->unknown[s->rows] = k;
            s->row[k] = s->rows++;
        }
}

static void
lay_out(Solver *s)
{
    size_t most = 5 * s->n_active + 1, entries = 0;
    size_t *row = fresh(most, sizeof *row), *column = fresh(most, sizeof *column);
    for (size_t a = 0; a < s->n_active; a++) {
        Point *p = &s->point[s->active[a]];
        size_t r[5], c[5];
        places_of(&s->network->element[s->active[a]], p->branch, r, c);
        for (int k = 0; k < 5; k++) {
            bool real = r[k] > 0 && c[k] > 0;
            p->entry[k] = real ? entries : NO_ENTRY;
            if (real)
                row[entries] = s->row[r[k]], column[entries] = s->row[c[k]], entries++;
        }
    }
    s->matrix = s->rows > 0 ? sparse_new(s->rows, entries, row, column) : NULL;
    free(row);
    free(column);
}

static void
find_unknowns(Solver *s, const bool *reached)
{
    const Network *net = s->network;
    s->unknowns = net->nodes - 1;
    s->point = fresh(net->n, sizeof *s->point);
    for (size_t i = 0; i < net->n; i++) {
        const NetworkElement *e = &net->element[i];
        s->point[i].dead = !reached[e->from] || !reached[e->to];
        if (element_is_branch(e))
            s->point[i].branch = ++s->unknowns;
    }
}

void
solver_init(Solver *s, const Network *network, const bool *reached, bool whole)
{
    const double boltzmann_J_per_K = 1.380649e-23, charge_C = 1.602176634e-19;
    *s = (Solver){.network = network,
                  .thermal_V = boltzmann_J_per_K * network->temperature_K / charge_C};
    find_unknowns(s, reached);
    s->x = fresh(s->unknowns + 1, sizeof *s->x);
    s->b = fresh(s->unknowns + 1, sizeof *s->b);
    s->row = fresh(s->unknowns + 1, sizeof *s->row);
    s->unknown = fresh(s->unknowns + 1, sizeof *s->unknown);
    s->outer = fresh(network->nodes, sizeof *s->outer);
    s->inner = fresh(network->nodes, sizeof *s->inner);
    s->active = fresh(network->n, sizeof *s->active);
    s->load = fresh(network->n, sizeof *s->load);
    s->kept = fresh(network->n, sizeof *s->kept);
    if (!whole)
        find_idle(s);
    find_rows(s, reached);
    lay_out(s);
    solver_begin(s);
}

void
solver_clear(Solver *s)
{
    sparse_free(s->matrix);
    free(s->point);
    free(s->x);
    free(s->b);
    free(s->row);
    free(s->unknown);
    free(s->outer);
    free(s->inner);
    free(s->active);
    free(s->load);
    free(s->kept);
}
