/* The order of the work and its loops. Invariant: ties are looked at in the order they stand, so that the answers do not hang on
 * chance. */
#include "physics/work/task_network.h"

#include <string.h>

#include "physics/memory.h"

/* Ties by the task they lead out of. */
typedef struct {
    size_t *first; /* [n + 1] into tie */
    size_t *tie;
} Leads;

bool
tie_orders(const Tie *tie)
{
    return tie->kind != TIE_NO_LATER && tie->kind != TIE_APART;
}

static Leads
leads_new(const TaskNetwork *net)
{
    Leads leads = {fresh(net->n + 1, sizeof(size_t)), fresh(net->ties, sizeof(size_t))};
    size_t *place = fresh(net->n + 1, sizeof(size_t));
    for (size_t k = 0; k < net->ties; k++)
        if (tie_orders(&net->tie[k]))
            leads.first[net->tie[k].from + 1]++;
    for (size_t i = 0; i < net->n; i++)
        place[i + 1] = leads.first[i + 1] += leads.first[i];
    for (size_t k = 0; k < net->ties; k++)
        if (tie_orders(&net->tie[k]))
            leads.tie[place[net->tie[k].from]++] = k;
    free(place);
    return leads;
}

static void
leads_clear(Leads *leads)
{
    free(leads->first);
    free(leads->tie);
}

/* --- a heap of task numbers, the lowest on top ---------------------------------------------------------------------- */

static void
heap_push(size_t heap[], size_t *n, size_t value)
{
    size_t i = (*n)++;
    for (; i > 0 && heap[(i - 1) / 2] > value; i = (i - 1) / 2)
        heap[i] = heap[(i - 1) / 2];
    heap[i] = value;
}

static size_t
heap_pop(size_t heap[], size_t *n)
{
    size_t top = heap[0], last = heap[--*n], i = 0;
    for (size_t child = 1; child < *n; child = 2 * i + 1) {
        if (child + 1 < *n && heap[child + 1] < heap[child])
            child++;
        if (heap[child] >= last)
            break;
        heap[i] = heap[child];
        i = child;
    }
    heap[i] = last;
    return top;
}

/* Fills order with what can be ordered and open[i] with the ties that still lead into i; returns how many could. */
static size_t
order_from(const TaskNetwork *net, const Leads *leads, size_t order[], size_t open[])
{
    size_t *heap = fresh(net->n, sizeof(size_t)), waiting = 0, done = 0;
    memset(open, 0, net->n * sizeof open[0]);
    for (size_t k = 0; k < leads->first[net->n]; k++)
        open[net->tie[leads->tie[k]].to]++;
    for (size_t i = 0; i < net->n; i++)
        if (open[i] == 0)
            heap_push(heap, &waiting, i);
    while (waiting > 0) {
        size_t i = order[done++] = heap_pop(heap, &waiting);
        for (size_t k = leads->first[i]; k < leads->first[i + 1]; k++)
            if (--open[net->tie[leads->tie[k]].to] == 0)
                heap_push(heap, &waiting, net->tie[leads->tie[k]].to);
    }
    free(heap);
    return done;
}

bool
task_order(const TaskNetwork *net, size_t order[])
{
    Leads leads = leads_new(net);
    size_t *open = fresh(net->n, sizeof(size_t));
    size_t done = order_from(net, &leads, order, open);
    free(open);
    leads_clear(&leads);
    return done == net->n;
}

/* --- loops ---------------------------------------------------------------------------------------------------------- */

typedef struct {
    const TaskNetwork *net;
    Leads leads;
    const size_t *open;        /* 0: the task is in no loop */
    size_t *queue, *by, *seen; /* tie that reached a task; the search that saw it */
} Loops;

/* Breadth first from the task until it meets itself, not beyond limit ties; the number of ties, or 0. */
static size_t
loop_from(const Loops *l, size_t task, size_t limit)
{
    size_t head = 0, tail = 0, level_end = 1, length = 1;
    l->queue[tail++] = task;
    while (head < tail && length < limit) {
        size_t i = l->queue[head++];
        for (size_t k = l->leads.first[i]; k < l->leads.first[i + 1]; k++) {
            size_t to = l->net->tie[l->leads.tie[k]].to;
            if (to != task && (l->open[to] == 0 || l->seen[to] == task + 1))
                continue;
            l->seen[to] = task + 1;
            l->by[to] = l->leads.tie[k];
            l->queue[tail++] = to;
            if (to == task)
                return length;
        }
        if (head == level_end) {
            level_end = tail;
            length++;
        }
    }
    return 0;
}

static void
loop_take(const Loops *l, size_t first, size_t length, size_t task[], size_t tie[])
{
    size_t at = first;
    for (size_t k = length; k-- > 0;) {
        tie[k] = l->by[at];
        task[k] = at = l->net->tie[tie[k]].from;
    }
}

size_t
task_loop(const TaskNetwork *net, size_t task[], size_t tie[])
{
    size_t n = net->n, best = 0;
    size_t *open = fresh(n, sizeof(size_t)), *order = fresh(n, sizeof(size_t));
    Loops l = {net,
               leads_new(net),
               open,
               fresh(n + 1, sizeof(size_t)),
               fresh(n, sizeof(size_t)),
               fresh(n, sizeof(size_t))};
    if (order_from(net, &l.leads, order, open) < n)
        for (size_t i = 0; i < n && best != 1; i++) {
            size_t length = open[i] > 0 ? loop_from(&l, i, best > 0 ? best : n + 1) : 0;
            if (length > 0)
                loop_take(&l, i, best = length, task, tie);
        }
    free(open);
    free(order);
    free(l.queue);
    free(l.by);
    free(l.seen);
    leads_clear(&l.leads);
    return best;
}
