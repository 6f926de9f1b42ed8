/* The rules of the order of work as arcs. Invariant: arcs of one task are made together, so that a pair is met once: `mark` holds
 * the arc that the task at hand already has to each other one.
 *
 * Where only what orders is asked for, a task is tied to the next layer of its zone and no further when somebody of that layer
 * hands the order on: of a place with m tasks in each of six layers that leaves 5 m^2 arcs of 15 m^2, and they are not looked at. */
#include "physics/work/order.h"

#include <math.h>
#include <string.h>

#include "physics/memory.h"

/* Lists of tasks by zone or opening, and of zones by zone. */
typedef struct {
    size_t *first, *at; /* first[n + 1] into at */
} Index;

enum { LAYERS = 7 }; /* of a zone: none, then 0 to 5 */

typedef struct {
    const OrderFacts *facts;
    Index in_zone, faces, ties; /* tasks by zone and layer; zones by zone; stated ties by from */
    Index whole;                /* as in_zone, of tasks whose arcs are all made */
    Index parts;                /* tasks by opening, once for each of their parts */
    bool all;                   /* every arc is made */
    size_t *mark;               /* [n] arc of the task at hand to this one, plus 1 */
    OrderArc *arc;
    size_t arcs, room;
    bool cut_short;
} Maker;

static Index
index_new(size_t n, const size_t count[])
{
    Index index = {fresh(n + 1, sizeof(size_t)), NULL};
    for (size_t i = 0; i < n; i++)
        index.first[i + 1] = index.first[i] + count[i];
    index.at = fresh(index.first[n], sizeof(size_t));
    return index;
}

static void
index_clear(Index *index)
{
    free(index->first);
    free(index->at);
}

static size_t
bucket(size_t zone, int layer)
{
    return zone * LAYERS + (size_t) (layer + 1);
}

static Index
tasks_by_zone(const OrderFacts *f, bool only_whole)
{
    size_t *count = fresh(f->zones * LAYERS, sizeof(size_t));
    Index index = {NULL, NULL};
    for (int pass = 0; pass < 2; pass++) {
        for (size_t i = 0; i < f->n; i++)
            for (size_t k = 0; k < f->task[i].zones && (!only_whole || f->task[i].whole); k++) {
                size_t at = bucket(f->task[i].zone[k], f->task[i].layer);
                if (pass == 1)
                    index.at[index.first[at] + count[at]] = i;
                count[at]++;
            }
        if (pass == 0)
            index = index_new(f->zones * LAYERS, count);
        memset(count, 0, f->zones * LAYERS * sizeof count[0]);
    }
    free(count);
    return index;
}

static Index
tasks_by_opening(const OrderFacts *f)
{
    size_t *count = fresh(f->openings, sizeof(size_t));
    for (size_t i = 0; i < f->n; i++)
        for (size_t k = 0; k < f->task[i].parts; k++)
            count[f->task[i].part[k].opening]++;
    Index index = index_new(f->openings, count);
    memset(count, 0, f->openings * sizeof count[0]);
    for (size_t i = 0; i < f->n; i++)
        for (size_t k = 0; k < f->task[i].parts; k++) {
            size_t o = f->task[i].part[k].opening;
            index.at[index.first[o] + count[o]++] = i;
        }
    free(count);
    return index;
}

static Index
zones_by_zone(const OrderFacts *f, bool air)
{
    size_t *count = fresh(f->zones, sizeof(size_t));
    for (int pass = 0; pass < 2; pass++) {
        Index index = pass == 0 ? (Index){NULL, NULL} : index_new(f->zones, count);
        if (pass == 1)
            memset(count, 0, f->zones * sizeof count[0]);
        for (size_t k = 0; k < f->pairs; k++) {
            const ZonePair *pair = &f->pair[k];
            if (air ? !pair->air : !pair->face)
                continue;
            if (pass == 1) {
                index.at[index.first[pair->a] + count[pair->a]] = pair->b;
                index.at[index.first[pair->b] + count[pair->b]] = pair->a;
            }
            count[pair->a]++;
            count[pair->b]++;
        }
        if (pass == 1) {
            free(count);
            return index;
        }
    }
    return (Index){NULL, NULL};
}

static Index
ties_by_from(const OrderFacts *f)
{
    size_t *count = fresh(f->n, sizeof(size_t));
    for (size_t k = 0; k < f->ties; k++)
        count[f->tie[k].from]++;
    Index index = index_new(f->n, count);
    memset(count, 0, f->n * sizeof count[0]);
    for (size_t k = 0; k < f->ties; k++) {
        size_t from = f->tie[k].from;
        index.at[index.first[from] + count[from]++] = k;
    }
    free(count);
    return index;
}

/* --- arcs ------------------------------------------------------------------------------------------------------------ */

static OrderArc *
arc_to(Maker *m, size_t from, size_t to, OrderRule rule, size_t what)
{
    if (m->mark[to] > 0)
        return &m->arc[m->mark[to] - 1];
    if (m->arcs == ORDER_MOST_ARCS) {
        m->cut_short = true;
        return NULL;
    }
    if (m->arcs == m->room) {
        m->room = m->room > 0 ? 2 * m->room : 256;
        OrderArc *more = realloc(m->arc, m->room * sizeof *more);
        if (more == NULL)
            abort();
        m->arc = more;
    }
    m->arc[m->arcs] = (OrderArc){from, to, 0.0, rule, rule, what};
    m->mark[to] = ++m->arcs;
    return &m->arc[m->arcs - 1];
}

static void
arc_wait(OrderArc *arc, double lag_h, OrderRule rule)
{
    if (arc == NULL || !(lag_h > arc->lag_h))
        return;
    arc->lag_h = lag_h;
    arc->lag_rule = rule;
}

/* Whether every way that leads out of the task makes the same wait, so that what is handed on is as good as said. */
static bool
waits_alike(const Maker *m, size_t i)
{
    const OrderTask *task = &m->facts->task[i];
    double wait_h = fmax(task->wait_h, (task->tags & ORDER_HOT) != 0 ? task->watch_h : 0.0);
    bool alike = !(task->launch_h > wait_h);
    for (size_t t = m->ties.first[i]; t < m->ties.first[i + 1]; t++)
        alike &= !(m->facts->tie[m->ties.at[t]].lag_h > wait_h);
    return alike;
}

/* Arcs from i to the layers of a zone; once somebody of a lower one hands the order on, only to those who take all of it. */
static void
arcs_to_layers(Maker *m, size_t i, size_t zone, int lowest, int highest, OrderRule rule,
               size_t what)
{
    bool handed_on = false, all = m->all || m->facts->task[i].whole || !waits_alike(m, i);
    for (int layer = lowest; layer <= highest; layer++) {
        size_t at = bucket(zone, layer);
        const Index *index = handed_on ? &m->whole : &m->in_zone;
        for (size_t t = index->first[at]; t < index->first[at + 1]; t++) {
            size_t j = index->at[t];
            if (j == i)
                continue;
            arc_to(m, i, j, rule, what);
            handed_on |= !all && !m->facts->task[j].whole;
        }
    }
}

static void
cover_and_test(Maker *m, size_t i, bool test)
{
    const OrderTask *task = &m->facts->task[i];
    for (size_t k = 0; task->layer >= 0 && k < task->zones; k++)
        arcs_to_layers(m, i, task->zone[k], task->layer + 1, 5, test ? ORDER_TESTED : ORDER_COVER,
                       task->zone[k]);
}

static void
heat(Maker *m, size_t i)
{
    const OrderTask *task = &m->facts->task[i];
    for (size_t k = 0; k < task->zones; k++) {
        size_t zone = task->zone[k];
        arcs_to_layers(m, i, zone, 1, 4, ORDER_HEAT, zone);
        for (size_t t = m->faces.first[zone]; t < m->faces.first[zone + 1]; t++)
            arcs_to_layers(m, i, m->faces.at[t], 1, 4, ORDER_HEAT, zone);
    }
}

static bool
has_part(const OrderTask *task, OrderRole role, size_t opening)
{
    for (size_t k = 0; k < task->parts; k++)
        if (task->part[k].role == role && task->part[k].opening == opening)
            return true;
    return false;
}

/* Tasks of that role of the opening get an arc from i; whether there is one. */
static bool
arcs_to_role(Maker *m, size_t i, OrderRole role, size_t opening, OrderRule rule)
{
    bool found = false;
    for (size_t t = m->parts.first[opening]; t < m->parts.first[opening + 1]; t++) {
        size_t j = m->parts.at[t];
        if (j == i || !has_part(&m->facts->task[j], role, opening))
            continue;
        found = true;
        arc_to(m, i, j, rule, opening);
    }
    return found;
}

static void
support_and_passage(Maker *m, size_t i, bool passage)
{
    const OrderTask *task = &m->facts->task[i];
    for (size_t k = 0; k < task->parts; k++) {
        OrderPart part = task->part[k];
        if (passage && part.role == ROLE_LARGE)
            arcs_to_role(m, i, ROLE_CLOSE, part.opening, ORDER_PASSAGE);
        for (OrderRole role = part.role + 1; !passage && role <= ROLE_UNSUPPORT; role++)
            if (arcs_to_role(m, i, role, part.opening, ORDER_SUPPORT))
                break;
    }
}

/* Out, in, and out again. */
static bool
takes_turns(const OrderTask *from, const OrderTask *to)
{
    bool in_again = (from->tags & ORDER_HAUL) != 0 && (to->tags & ORDER_LAUNCH) != 0;
    bool out_again = (from->tags & ORDER_LAUNCH) != 0 && (to->tags & ORDER_HAUL) != 0;
    return (in_again && from->stay == to->stay) || (out_again && from->stay + 1 == to->stay);
}

static bool
needs_order_by_water(const OrderFacts *f, const OrderTask *from, const OrderTask *to)
{
    bool same = f->stays <= 1 || from->stay == to->stay;
    bool hauled = (from->tags & ORDER_HAUL) != 0 && (to->tags & ORDER_ASHORE) != 0 && same;
    bool launched = (from->tags & ORDER_ASHORE) != 0 && (to->tags & ORDER_LAUNCH) != 0 && same;
    bool floats = f->lies_ashore && (from->tags & ORDER_LAUNCH) != 0 &&
                  (to->tags & ORDER_AFLOAT) != 0 && (f->stays <= 1 || from->stay == 0);
    return hauled || launched || floats || (f->stays > 1 && takes_turns(from, to));
}

/* Only hauls and launches have much to do with others, and there are few of them. */
static void
water(Maker *m, size_t i, size_t marked, const size_t mark_task[])
{
    const OrderFacts *f = m->facts;
    unsigned tags = f->task[i].tags;
    bool ends = (tags & (ORDER_HAUL | ORDER_LAUNCH)) != 0;
    for (size_t k = 0; k < (ends ? f->n : marked); k++) {
        size_t j = ends ? k : mark_task[k];
        if (j != i && needs_order_by_water(f, &f->task[i], &f->task[j]))
            arc_to(m, i, j, ORDER_LIES, 0);
    }
    for (size_t k = 0; f->task[i].launch_h > 0.0 && k < marked; k++) {
        size_t j = mark_task[k];
        bool same = f->stays <= 1 || f->task[i].stay == f->task[j].stay;
        if (j != i && same && (f->task[j].tags & ORDER_LAUNCH) != 0)
            arc_wait(arc_to(m, i, j, ORDER_IMMERSION, 0), f->task[i].launch_h, ORDER_IMMERSION);
    }
}

static void
stated(Maker *m, size_t i)
{
    for (size_t t = m->ties.first[i]; t < m->ties.first[i + 1]; t++) {
        const Tie *tie = &m->facts->tie[m->ties.at[t]];
        arc_wait(arc_to(m, i, tie->to, ORDER_STATED, m->ties.at[t]), tie->lag_h, ORDER_STATED);
    }
}

static void
arcs_of(Maker *m, size_t i, size_t marked, const size_t mark_task[])
{
    const OrderTask *task = &m->facts->task[i];
    size_t first = m->arcs;
    cover_and_test(m, i, false);
    if ((task->tags & ORDER_HOT) != 0)
        heat(m, i);
    if ((task->tags & ORDER_TEST) != 0)
        cover_and_test(m, i, true);
    support_and_passage(m, i, false);
    water(m, i, marked, mark_task);
    support_and_passage(m, i, true);
    stated(m, i);
    for (size_t k = first; k < m->arcs; k++) {
        arc_wait(&m->arc[k], task->wait_h, ORDER_CURE);
        if ((task->tags & ORDER_HOT) != 0)
            arc_wait(&m->arc[k], task->watch_h, ORDER_WATCH);
    }
    for (size_t k = first; k < m->arcs; k++)
        m->mark[m->arc[k].to] = 0;
}

/* Puts arcs in the order of one end, those of the same end as they were. */
static void
sort_by(bool end, size_t n, size_t arcs, const OrderArc arc[], OrderArc sorted[])
{
    size_t *place = fresh(n + 1, sizeof(size_t));
    for (size_t k = 0; k < arcs; k++)
        place[(end ? arc[k].to : arc[k].from) + 1]++;
    for (size_t i = 0; i < n; i++)
        place[i + 1] += place[i];
    for (size_t k = 0; k < arcs; k++)
        sorted[place[end ? arc[k].to : arc[k].from]++] = arc[k];
    free(place);
}

static void
sort_arcs(size_t n, size_t arcs, OrderArc arc[])
{
    OrderArc *by_end = fresh(arcs, sizeof *by_end);
    sort_by(true, n, arcs, arc, by_end);
    sort_by(false, n, arcs, by_end, arc);
    free(by_end);
}

static size_t
make_arcs(const OrderFacts *facts, bool all, OrderArc **arc, bool *cut_short)
{
    Maker m = {.facts = facts,
               .all = all,
               .in_zone = tasks_by_zone(facts, false),
               .whole = tasks_by_zone(facts, true),
               .faces = zones_by_zone(facts, false),
               .ties = ties_by_from(facts),
               .parts = tasks_by_opening(facts),
               .mark = fresh(facts->n, sizeof(size_t))};
    size_t marked = 0, *mark_task = fresh(facts->n, sizeof(size_t));
    for (size_t i = 0; i < facts->n; i++)
        if ((facts->task[i].tags & (ORDER_HAUL | ORDER_LAUNCH)) != 0)
            mark_task[marked++] = i;
    for (size_t i = 0; i < facts->n && !m.cut_short; i++)
        arcs_of(&m, i, marked, mark_task);
    sort_arcs(facts->n, m.arcs, m.arc);
    *arc = m.arc;
    *cut_short = m.cut_short;
    free(mark_task);
    free(m.mark);
    index_clear(&m.in_zone);
    index_clear(&m.whole);
    index_clear(&m.faces);
    index_clear(&m.ties);
    index_clear(&m.parts);
    return m.arcs;
}

size_t
order_arcs(const OrderFacts *facts, OrderArc **arc, bool *cut_short)
{
    return make_arcs(facts, true, arc, cut_short);
}

size_t
order_few_arcs(const OrderFacts *facts, OrderArc **arc, bool *cut_short)
{
    return make_arcs(facts, false, arc, cut_short);
}

/* --- what must not overlap ------------------------------------------------------------------------------------------- */

typedef struct {
    OrderApart *apart;
    size_t n, room;
} Aparts;

static void
apart_add(Aparts *a, OrderApart apart)
{
    if (a->n == ORDER_MOST_ARCS)
        return;
    if (a->n == a->room) {
        a->room = a->room > 0 ? 2 * a->room : 64;
        OrderApart *more = realloc(a->apart, a->room * sizeof *more);
        if (more == NULL)
            abort();
        a->apart = more;
    }
    a->apart[a->n++] = apart;
}

static void
airing_zone(Aparts *a, const OrderFacts *f, const Index *sparks, size_t wet, size_t zone,
            bool seen[])
{
    for (size_t t = sparks->first[zone]; t < sparks->first[zone + 1]; t++) {
        size_t j = sparks->at[t];
        if (j == wet || seen[j])
            continue;
        seen[j] = true;
        apart_add(a, (OrderApart){wet, wet, j, f->task[wet].airing_h, APART_AIRING, zone});
    }
}

/* Hot and dusty tasks by zone. */
static Index
sparks_by_zone(const OrderFacts *f)
{
    size_t *count = fresh(f->zones, sizeof(size_t));
    Index index = {NULL, NULL};
    for (int pass = 0; pass < 2; pass++) {
        for (size_t i = 0; i < f->n; i++)
            for (size_t k = 0;
                 k < f->task[i].zones && (f->task[i].tags & (ORDER_HOT | ORDER_DUSTY)) != 0; k++) {
                size_t zone = f->task[i].zone[k];
                if (pass == 1)
                    index.at[index.first[zone] + count[zone]] = i;
                count[zone]++;
            }
        if (pass == 0)
            index = index_new(f->zones, count);
        memset(count, 0, f->zones * sizeof count[0]);
    }
    free(count);
    return index;
}

static void
airing(Aparts *a, const OrderFacts *f)
{
    Index sparks = sparks_by_zone(f), airs = zones_by_zone(f, true);
    bool *seen = fresh(f->n, sizeof *seen);
    for (size_t i = 0; i < f->n; i++) {
        const OrderTask *task = &f->task[i];
        size_t before = a->n;
        for (size_t k = 0; (task->tags & ORDER_WET) != 0 && k < task->zones; k++) {
            size_t zone = task->zone[k];
            airing_zone(a, f, &sparks, i, zone, seen);
            for (size_t t = airs.first[zone]; t < airs.first[zone + 1]; t++)
                airing_zone(a, f, &sparks, i, airs.at[t], seen);
        }
        for (size_t k = before; k < a->n; k++)
            seen[a->apart[k].other] = false;
    }
    free(seen);
    index_clear(&sparks);
    index_clear(&airs);
}

/* Tasks stand once for each of their parts, one after the other. */
static bool
stands_again(const Index *parts, size_t opening, size_t t)
{
    return t > parts->first[opening] && parts->at[t] == parts->at[t - 1];
}

/* What moves her may not come between the cut and any closing of the opening. */
static void
integrity_of(Aparts *a, const OrderFacts *f, const Index *parts, size_t o, size_t cut)
{
    static const unsigned moving = ORDER_MOVE | ORDER_HAUL | ORDER_LAUNCH;
    size_t closes = 0;
    for (size_t s = parts->first[o]; s < parts->first[o + 1]; s++) {
        size_t close = parts->at[s];
        if (stands_again(parts, o, s) || !has_part(&f->task[close], ROLE_CLOSE, o))
            continue;
        closes++;
        for (size_t j = 0; j < f->n; j++)
            if (j != cut && j != close && (f->task[j].tags & moving) != 0)
                apart_add(a, (OrderApart){cut, close, j, 0.0, APART_INTEGRITY, o});
    }
    for (size_t j = 0; closes == 0 && j < f->n; j++)
        if (j != cut && (f->task[j].tags & moving) != 0)
            apart_add(a, (OrderApart){cut, f->n, j, 0.0, APART_INTEGRITY, o});
}

static void
integrity(Aparts *a, const OrderFacts *f, const Index *parts)
{
    for (size_t o = 0; o < f->openings; o++)
        for (size_t t = parts->first[o]; t < parts->first[o + 1]; t++)
            if (!stands_again(parts, o, t) && has_part(&f->task[parts->at[t]], ROLE_CUT, o))
                integrity_of(a, f, parts, o, parts->at[t]);
}

/* She is out of the water between a haul-out and the launch after it. */
static void
ashore(Aparts *a, const OrderFacts *f, int stay)
{
    size_t haul = f->n, launch = haul, hauls = 0, launches = 0;
    for (size_t i = 0; i < f->n; i++) {
        if (f->stays > 1 && f->task[i].stay != stay)
            continue;
        if ((f->task[i].tags & ORDER_HAUL) != 0 && hauls++ == 0)
            haul = i;
        if ((f->task[i].tags & ORDER_LAUNCH) != 0 && launches++ == 0)
            launch = i;
    }
    for (size_t j = 0; hauls == 1 && launches <= 1 && j < f->n; j++)
        if ((f->task[j].tags & ORDER_AFLOAT) != 0 && j != haul && j != launch)
            apart_add(a, (OrderApart){haul, launch, j, 0.0, APART_ASHORE, 0});
}

static int
by_first(const void *a, const void *b)
{
    const OrderApart *x = a, *y = b;
    if (x->first != y->first)
        return x->first > y->first ? 1 : -1;
    if (x->other != y->other)
        return x->other > y->other ? 1 : -1;
    if (x->kind != y->kind)
        return (int) x->kind - (int) y->kind;
    if (x->last != y->last)
        return x->last > y->last ? 1 : -1;
    return (x->what > y->what) - (x->what < y->what);
}

/* One cut may make two holes that one close shuts: that is one time apart. */
static size_t
take_once(size_t n, OrderApart apart[])
{
    size_t kept = 0;
    for (size_t k = 0; k < n; k++) {
        const OrderApart *x = &apart[k], *y = &apart[kept - (kept > 0)];
        bool again = kept > 0 && x->first == y->first && x->other == y->other &&
                     x->kind == y->kind && x->last == y->last;
        if (!again)
            apart[kept++] = *x;
    }
    return kept;
}

size_t
order_aparts(const OrderFacts *facts, OrderApart **apart)
{
    Aparts a = {0};
    Index parts = tasks_by_opening(facts);
    airing(&a, facts);
    integrity(&a, facts, &parts);
    for (int stay = 0; stay == 0 || stay < (int) facts->stays; stay++)
        ashore(&a, facts, stay);
    if (a.n > 0)
        qsort(a.apart, a.n, sizeof *a.apart, by_first);
    a.n = take_once(a.n, a.apart);
    index_clear(&parts);
    *apart = a.apart;
    return a.n;
}
