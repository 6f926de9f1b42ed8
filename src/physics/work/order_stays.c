/* Which time ashore each task belongs to, when she is hauled out or launched more than once.
 *
 * Invariant: haul-outs and launches are numbered in an order that contradicts no arc; a task gets the first stay that what comes before
 * it leaves, so that no circle is made that is not there. */
#include <string.h>

#include "physics/memory.h"
#include "physics/work/order.h"

enum { MOST_MARKS = 64 };

typedef struct {
    const OrderFacts *facts;
    size_t arcs;
    OrderArc *arc;
    size_t marks, mark[MOST_MARKS]; /* haul-outs and launches by number, then in their order */
    bool before[MOST_MARKS][MOST_MARKS];
} Stays;

static bool
is_haul(const Stays *s, size_t task)
{
    return (s->facts->task[task].tags & ORDER_HAUL) != 0;
}

/* Arcs that say nothing of land and water; false: they hold a loop, or the marks are too many to be meant. */
static bool
arcs_without_water(Stays *s)
{
    const OrderFacts *f = s->facts;
    OrderTask *task = fresh(f->n, sizeof *task);
    OrderFacts dry = *f;
    bool cut_short;
    for (size_t i = 0; i < f->n; i++) {
        task[i] = f->task[i];
        task[i].tags &= ~(unsigned) (ORDER_HAUL | ORDER_LAUNCH | ORDER_ASHORE | ORDER_AFLOAT);
        task[i].launch_h = 0.0;
    }
    dry.task = task;
    s->arcs = order_few_arcs(&dry, &s->arc, &cut_short);
    free(task);
    return !cut_short;
}

static bool
find_marks(Stays *s)
{
    const OrderFacts *f = s->facts;
    size_t hauls = 0;
    for (size_t i = 0; i < f->n; i++) {
        if ((f->task[i].tags & (ORDER_HAUL | ORDER_LAUNCH)) == 0)
            continue;
        if (s->marks == MOST_MARKS)
            return false;
        hauls += is_haul(s, i);
        s->mark[s->marks++] = i;
    }
    size_t launches = s->marks - hauls;
    return hauls > 1 || launches > 1 || (f->lies_ashore && hauls + launches > 1);
}

static void
note_before(Stays *s)
{
    bool *reach = fresh(s->facts->n, sizeof *reach);
    for (size_t a = 0; a < s->marks; a++) {
        order_reach(s->facts->n, s->arcs, s->arc, s->mark[a], reach);
        for (size_t b = 0; b < s->marks; b++)
            s->before[a][b] = reach[s->mark[b]];
    }
    free(reach);
}

static bool
may_be_next(const Stays *s, const bool taken[], size_t k)
{
    bool may = !taken[k];
    for (size_t a = 0; a < s->marks && may; a++)
        may = taken[a] || !s->before[a][k];
    return may;
}

static bool
is_waited_for(const Stays *s, const bool taken[], size_t k)
{
    for (size_t b = 0; b < s->marks; b++)
        if (!taken[b] && s->before[k][b])
            return true;
    return false;
}

/* Out and in by turns: those first that another one waits for, then by number; any, when none of the kind can be next. */
static void
put_in_order(Stays *s)
{
    bool taken[MOST_MARKS] = {false}, out = !s->facts->lies_ashore;
    size_t order[MOST_MARKS] = {0};
    for (size_t n = 0; n < s->marks; n++) {
        size_t next = s->marks;
        for (int pass = 0; pass < 3 && next == s->marks; pass++)
            for (size_t k = 0; k < s->marks && next == s->marks; k++)
                if (may_be_next(s, taken, k) && (pass == 2 || is_haul(s, s->mark[k]) == out) &&
                    (pass > 0 || is_waited_for(s, taken, k)))
                    next = k;
        taken[next] = true;
        order[n] = s->mark[next];
        out = !is_haul(s, order[n]);
    }
    memcpy(s->mark, order, s->marks * sizeof order[0]);
}

/* Stays of haul-outs and launches; how many there are. */
static int
number_marks(const Stays *s, OrderTask task[])
{
    int stay = -1;
    for (size_t n = 0; n < s->marks; n++) {
        if (is_haul(s, s->mark[n]) || stay < 0)
            stay++;
        task[s->mark[n]].stay = stay;
    }
    return stay + 1;
}

static int
larger(int a, int b)
{
    return a > b ? a : b;
}

/* Phases: 2 s ashore for the stay s, 2 s + 1 afloat after it, -1 afloat before the first. */
static int
phase_of(const OrderTask *task, int earliest, int stays)
{
    int phase = earliest;
    if ((task->tags & ORDER_ASHORE) != 0 && phase % 2 != 0)
        phase++;
    if ((task->tags & ORDER_AFLOAT) != 0 && phase % 2 == 0)
        phase++;
    return (task->tags & ORDER_ASHORE) != 0 && phase > 2 * (stays - 1) ? 2 * (stays - 1) : phase;
}

static void
number_tasks(const Stays *s, const size_t order[], int stays, OrderTask task[])
{
    size_t n = s->facts->n;
    int *phase = fresh(n, sizeof *phase);
    for (size_t i = 0; i < n; i++)
        phase[i] = is_haul(s, s->mark[0]) ? -1 : 0;
    size_t *first = fresh(n + 1, sizeof *first);
    for (size_t k = 0; k < s->arcs; k++)
        first[s->arc[k].from + 1]++;
    for (size_t i = 0; i < n; i++)
        first[i + 1] += first[i];
    for (size_t at = 0; at < n; at++) {
        size_t i = order[at];
        bool mark = (task[i].tags & (ORDER_HAUL | ORDER_LAUNCH)) != 0;
        phase[i] = mark ? 2 * task[i].stay + !is_haul(s, i) : phase_of(&task[i], phase[i], stays);
        if (!mark)
            task[i].stay = (phase[i] + 1) / 2 < stays ? (phase[i] + 1) / 2 : stays - 1;
        for (size_t k = first[i]; k < first[i + 1]; k++)
            phase[s->arc[k].to] = larger(phase[s->arc[k].to], phase[i]);
    }
    free(first);
    free(phase);
}

static bool
order_of(const Stays *s, size_t order[])
{
    Tie *tie = fresh(s->arcs, sizeof *tie);
    for (size_t k = 0; k < s->arcs; k++)
        tie[k] = (Tie){s->arc[k].from, s->arc[k].to, TIE_FINISH_START, 0.0};
    TaskNetwork net = {.n = s->facts->n, .ties = s->arcs, .tie = tie};
    bool possible = task_order(&net, order);
    free(tie);
    return possible;
}

size_t
order_stays(const OrderFacts *facts, OrderTask task[])
{
    Stays s = {.facts = facts};
    size_t *order = fresh(facts->n, sizeof *order);
    int stays = 1;
    if (find_marks(&s) && arcs_without_water(&s) && order_of(&s, order)) {
        note_before(&s);
        put_in_order(&s);
        stays = number_marks(&s, task);
        number_tasks(&s, order, stays, task);
    }
    free(s.arc);
    free(order);
    return (size_t) stays;
}
