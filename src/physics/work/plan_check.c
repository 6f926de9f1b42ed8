/* A plan with dates against the rules. Invariant: a pair stands once a rule. */
#include "physics/work/plan_check.h"

#include <math.h>

#include "physics/memory.h"

#define SLACK_H 1e-9

typedef struct {
    const OrderFacts *facts;
    const DatedPlan *plan;
    Broken *broken;
    size_t n, room;
} Look;

static double
finish_h(const Look *l, size_t i)
{
    return l->plan->start_h[i] + l->plan->duration_h[i];
}

static void
note(Look *l, size_t first, size_t then, BrokenRule rule)
{
    if (l->n == l->room) {
        l->room = l->room > 0 ? 2 * l->room : 64;
        Broken *more = realloc(l->broken, l->room * sizeof *more);
        if (more == NULL)
            abort();
        l->broken = more;
    }
    l->broken[l->n++] = (Broken){first, then, rule};
}

/* Whether the task overlaps the time; one without duration does so when it lies inside. */
static bool
overlaps(const Look *l, size_t i, double from_h, double to_h)
{
    return l->plan->start_h[i] < to_h - SLACK_H && finish_h(l, i) > from_h + SLACK_H;
}

static void
look_at_arcs(Look *l)
{
    static const BrokenRule rule[] = {
        [ORDER_COVER] = BROKEN_COVER,   [ORDER_HEAT] = BROKEN_HEAT,
        [ORDER_TESTED] = BROKEN_TEST,   [ORDER_SUPPORT] = BROKEN_SUPPORT,
        [ORDER_LIES] = BROKEN_ASHORE,   [ORDER_PASSAGE] = BROKEN_PASSAGE,
        [ORDER_STATED] = BROKEN_STATED, [ORDER_IMMERSION] = BROKEN_ASHORE};
    OrderArc *arc;
    bool cut_short;
    size_t arcs = order_arcs(l->facts, &arc, &cut_short);
    for (size_t k = 0; k < arcs; k++)
        if (l->plan->start_h[arc[k].to] < finish_h(l, arc[k].from) + arc[k].lag_h - SLACK_H)
            note(l, arc[k].from, arc[k].to, rule[arc[k].rule]);
    free(arc);
}

static void
look_at_air(Look *l)
{
    OrderApart *apart;
    size_t n = order_aparts(l->facts, &apart);
    for (size_t k = 0; k < n; k++) {
        size_t wet = apart[k].first;
        if (apart[k].kind == APART_AIRING &&
            overlaps(l, apart[k].other, l->plan->start_h[wet], finish_h(l, wet) + apart[k].lag_h))
            note(l, wet, apart[k].other, BROKEN_AIRING);
    }
    free(apart);
}

static bool
plays(const OrderTask *task, OrderRole role, size_t opening)
{
    for (size_t k = 0; k < task->parts; k++)
        if (task->part[k].role == role && task->part[k].opening == opening)
            return true;
    return false;
}

static void
look_at_opening(Look *l, size_t opening)
{
    size_t n = l->facts->n, cut = n;
    double shut_h = -INFINITY;
    for (size_t i = 0; i < n; i++) {
        const OrderTask *task = &l->facts->task[i];
        if (plays(task, ROLE_CUT, opening) &&
            (cut == n || l->plan->start_h[i] < l->plan->start_h[cut]))
            cut = i;
        if (plays(task, ROLE_CLOSE, opening))
            shut_h = fmax(shut_h, finish_h(l, i));
    }
    if (cut == n)
        return;
    if (shut_h == -INFINITY)
        shut_h = INFINITY;
    for (size_t i = 0; i < n; i++)
        if (i != cut && (l->facts->task[i].tags & (ORDER_MOVE | ORDER_HAUL | ORDER_LAUNCH)) != 0 &&
            overlaps(l, i, l->plan->start_h[cut], shut_h))
            note(l, cut, i, BROKEN_INTEGRITY);
}

static double
next_launch_h(const Look *l, size_t haul)
{
    size_t launch = l->facts->n;
    for (size_t i = 0; i < l->facts->n; i++)
        if ((l->facts->task[i].tags & ORDER_LAUNCH) != 0 &&
            l->plan->start_h[i] >= l->plan->start_h[haul] &&
            (launch == l->facts->n || l->plan->start_h[i] < l->plan->start_h[launch]))
            launch = i;
    return launch == l->facts->n ? INFINITY : finish_h(l, launch);
}

static void
look_at_water(Look *l)
{
    for (size_t haul = 0; haul < l->facts->n; haul++) {
        if ((l->facts->task[haul].tags & ORDER_HAUL) == 0)
            continue;
        double back_h = next_launch_h(l, haul);
        for (size_t i = 0; i < l->facts->n; i++)
            if ((l->facts->task[i].tags & ORDER_AFLOAT) != 0 &&
                overlaps(l, i, l->plan->start_h[haul], back_h))
                note(l, haul, i, BROKEN_ASHORE);
    }
}

static void
look_at_people(Look *l)
{
    for (size_t i = 0; i < l->facts->n; i++) {
        double at_h = l->plan->start_h[i], need = 0.0;
        size_t first = l->facts->n, last = 0;
        for (size_t j = 0; j < l->facts->n; j++) {
            bool runs = l->plan->start_h[j] <= at_h + SLACK_H && finish_h(l, j) > at_h + SLACK_H;
            if (j != i && !runs)
                continue;
            need += l->plan->need[j];
            first = first == l->facts->n ? j : first;
            last = j;
        }
        if (need > l->plan->people + SLACK_H)
            note(l, first, last, BROKEN_PEOPLE);
    }
}

static int
by_pair(const void *a, const void *b)
{
    const Broken *x = a, *y = b;
    if (x->first != y->first)
        return x->first > y->first ? 1 : -1;
    if (x->then != y->then)
        return x->then > y->then ? 1 : -1;
    return (int) x->rule - (int) y->rule;
}

size_t
plan_check(const OrderFacts *facts, const DatedPlan *plan, Broken **broken)
{
    Look l = {.facts = facts, .plan = plan};
    look_at_arcs(&l);
    look_at_air(&l);
    for (size_t o = 0; o < facts->openings; o++)
        look_at_opening(&l, o);
    look_at_water(&l);
    look_at_people(&l);
    if (l.n > 0)
        qsort(l.broken, l.n, sizeof *l.broken, by_pair);
    size_t kept = 0;
    for (size_t k = 0; k < l.n; k++)
        if (kept == 0 || by_pair(&l.broken[kept - 1], &l.broken[k]) != 0)
            l.broken[kept++] = l.broken[k];
    *broken = l.broken;
    return kept;
}
