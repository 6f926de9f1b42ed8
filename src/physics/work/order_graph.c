/* What follows from the arcs together: what is needless, what comes behind what, loops, in how many ways the work can be ordered.
 * Invariant: arcs are sorted by the task they lead out of, as order_arcs gives them. */
#include <math.h>
#include <stdint.h>
#include <string.h>

#include "physics/memory.h"
#include "physics/work/order.h"

static TaskNetwork
network_of(size_t n, size_t arcs, const OrderArc arc[], Tie **ties)
{
    *ties = fresh(arcs, sizeof(Tie));
    for (size_t k = 0; k < arcs; k++)
        (*ties)[k] = (Tie){arc[k].from, arc[k].to, TIE_FINISH_START, 0.0};
    return (TaskNetwork){.n = n, .ties = arcs, .tie = *ties};
}

size_t
order_loop(size_t n, size_t arcs, const OrderArc arc[], size_t task[], size_t which[])
{
    Tie *ties;
    TaskNetwork net = network_of(n, arcs, arc, &ties);
    size_t length = task_loop(&net, task, which);
    free(ties);
    return length;
}

/* Where the arcs of each task begin. */
static size_t *
arcs_by_task(size_t n, size_t arcs, const OrderArc arc[])
{
    size_t *first = fresh(n + 1, sizeof(size_t));
    for (size_t k = 0; k < arcs; k++)
        first[arc[k].from + 1]++;
    for (size_t i = 0; i < n; i++)
        first[i + 1] += first[i];
    return first;
}

/* Tasks are numbered here as they can be done: what comes behind one has a higher number. */
typedef struct {
    size_t words;
    const size_t *place; /* [n] number of each task */
    uint64_t *reach;     /* [n][words] what comes behind each number */
    uint64_t *far;       /* [words] what comes behind the tasks at hand that wait longest */
} Reach;

static void
join(Reach *r, uint64_t *into, size_t place)
{
    for (size_t w = place / 64; w < r->words; w++)
        into[w] |= r->reach[place * r->words + w];
}

static bool
holds(const uint64_t *set, size_t task)
{
    return (set[task / 64] >> (task % 64) & 1u) != 0;
}

/* The arcs of one task; what lies behind their ends is known. */
static void
reduce_task(Reach *r, size_t task, size_t n, const OrderArc arc[], bool all_lags, bool needless[])
{
    uint64_t *mine = r->reach + r->place[task] * r->words;
    double longest_h = 0.0;
    for (size_t k = 0; k < n; k++)
        longest_h = fmax(longest_h, arc[k].lag_h);
    bool far = longest_h > 0.0 && !all_lags;
    if (far)
        memset(r->far, 0, r->words * sizeof *r->far);
    for (size_t k = 0; k < n; k++) {
        join(r, mine, r->place[arc[k].to]);
        if (far && !(arc[k].lag_h < longest_h))
            join(r, r->far, r->place[arc[k].to]);
    }
    for (size_t k = 0; k < n; k++) {
        size_t to = r->place[arc[k].to];
        needless[k] = arc[k].lag_h > 0.0 ? far && holds(r->far, to) : holds(mine, to);
    }
    for (size_t k = 0; k < n; k++) {
        size_t to = r->place[arc[k].to];
        mine[to / 64] |= (uint64_t) 1 << (to % 64);
    }
}

bool
order_reduce(size_t n, size_t arcs, const OrderArc arc[], bool all_lags, bool needless[])
{
    if (arcs == 0)
        return true;
    Tie *ties;
    TaskNetwork net = network_of(n, arcs, arc, &ties);
    size_t *order = fresh(n, sizeof(size_t)), *first = arcs_by_task(n, arcs, arc);
    bool possible = task_order(&net, order);
    memset(needless, 0, arcs * sizeof needless[0]);
    if (possible) {
        size_t words = (n + 63) / 64, *place = fresh(n, sizeof(size_t));
        for (size_t at = 0; at < n; at++)
            place[order[at]] = at;
        Reach r = {words, place, fresh(n * words, sizeof(uint64_t)),
                   fresh(words, sizeof(uint64_t))};
        for (size_t at = n; at-- > 0;) {
            size_t i = order[at];
            reduce_task(&r, i, first[i + 1] - first[i], arc + first[i], all_lags,
                        needless + first[i]);
        }
        free(place);
        free(r.reach);
        free(r.far);
    }
    free(ties);
    free(order);
    free(first);
    return possible;
}

void
order_reach(size_t n, size_t arcs, const OrderArc arc[], size_t from, bool reach[])
{
    size_t *first = arcs_by_task(n, arcs, arc), *queue = fresh(n + 1, sizeof(size_t));
    size_t head = 0, tail = 0;
    memset(reach, 0, n * sizeof reach[0]);
    queue[tail++] = from;
    while (head < tail) {
        size_t i = queue[head++];
        for (size_t k = first[i]; k < first[i + 1]; k++)
            if (!reach[arc[k].to]) {
                reach[arc[k].to] = true;
                queue[tail++] = arc[k].to;
            }
    }
    free(first);
    free(queue);
}

/* Ways to finish each set of tasks that can be finished first: a task may come last when all it waits for is in the set. */
double
order_count(size_t n, size_t arcs, const OrderArc arc[])
{
    uint32_t before[ORDER_MOST_COUNTED] = {0};
    if (n > ORDER_MOST_COUNTED)
        return NAN;
    for (size_t k = 0; k < arcs; k++)
        before[arc[k].to] |= (uint32_t) 1 << arc[k].from;
    size_t sets = (size_t) 1 << n;
    double *ways = fresh(sets, sizeof *ways);
    ways[0] = 1.0;
    for (size_t set = 0; set + 1 < sets; set++)
        for (size_t i = 0; ways[set] > 0.0 && i < n; i++)
            if ((set >> i & 1u) == 0 && (before[i] & ~set) == 0)
                ways[set | (size_t) 1 << i] += ways[set];
    double count = ways[sets - 1];
    free(ways);
    return count;
}
