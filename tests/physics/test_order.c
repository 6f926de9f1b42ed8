/* The order of work on a boat: each rule of docs/methods/work.md 3.2 alone, and small boats solved by hand. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "physics/dice.h"
#include "physics/work/plan_check.h"

enum { CABIN, LOCKER, OUTSIDE, ZONES };
enum { HOLE, HATCH, OPENINGS };

static const size_t in_cabin[] = {CABIN}, in_locker[] = {LOCKER}, outside[] = {OUTSIDE};
static const OrderPart supports[] = {{ROLE_SUPPORT, HOLE}}, cuts[] = {{ROLE_CUT, HOLE}},
                       closes[] = {{ROLE_CLOSE, HOLE}}, unsupports[] = {{ROLE_UNSUPPORT, HOLE}},
                       large[] = {{ROLE_LARGE, HATCH}}, shuts[] = {{ROLE_CLOSE, HATCH}};

#define TASK(where, depth, ...)                                                                    \
    {                                                                                              \
        .zones = (where) == NULL ? 0 : 1, .zone = (where), .layer = (depth), __VA_ARGS__           \
    }
#define NOWHERE ((const size_t *) NULL)
#define PART(which) .parts = 1, .part = (which)

static OrderFacts
facts_of(size_t n, const OrderTask task[])
{
    static const ZonePair pairs[] = {{CABIN, OUTSIDE, true, false}, {CABIN, LOCKER, false, true}};
    return (OrderFacts){
        .n = n, .zones = ZONES, .openings = OPENINGS, .pairs = 2, .task = task, .pair = pairs};
}

/* The arc between two tasks; rule ORDER_AIRING stands for none. */
static OrderArc
arc_of(const OrderFacts *facts, size_t from, size_t to)
{
    OrderArc *arc, found = {0, 0, 0.0, ORDER_AIRING, ORDER_AIRING, 0};
    bool cut_short;
    size_t n = order_arcs(facts, &arc, &cut_short);
    assert_false(cut_short);
    for (size_t k = 0; k < n; k++)
        if (arc[k].from == from && arc[k].to == to)
            found = arc[k];
    free(arc);
    return found;
}

static size_t
count_arcs(const OrderFacts *facts)
{
    OrderArc *arc;
    bool cut_short;
    size_t n = order_arcs(facts, &arc, &cut_short);
    free(arc);
    return n;
}

static void
r1_cover(void **state)
{
    (void) state;
    const OrderTask tasks[] = {TASK(in_cabin, 4), TASK(in_cabin, 2), TASK(in_locker, 0),
                               TASK(in_cabin, 2), TASK(in_cabin, -1)};
    OrderFacts facts = facts_of(5, tasks);
    assert_int_equal(arc_of(&facts, 1, 0).rule, ORDER_COVER);
    assert_int_equal(arc_of(&facts, 1, 0).what, CABIN);
    assert_int_equal(arc_of(&facts, 3, 0).rule, ORDER_COVER);
    /* Neither the other space, nor the same layer, nor what has none. */
    assert_int_equal(count_arcs(&facts), 2);
}

static void
r2_heat(void **state)
{
    (void) state;
    const OrderTask tasks[] = {TASK(outside, 0, .tags = ORDER_HOT),
                               TASK(in_cabin, 3),
                               TASK(in_cabin, 5),
                               TASK(in_cabin, 0),
                               TASK(in_locker, 3),
                               TASK(outside, 1)};
    OrderFacts facts = facts_of(6, tasks);
    assert_int_equal(arc_of(&facts, 0, 1).rule, ORDER_HEAT);   /* through the plate */
    assert_int_equal(arc_of(&facts, 0, 2).rule, ORDER_AIRING); /* furniture stands free */
    assert_int_equal(arc_of(&facts, 0, 3).rule, ORDER_AIRING);
    assert_int_equal(arc_of(&facts, 0, 4).rule, ORDER_AIRING); /* shares air, no plate */
    assert_int_equal(arc_of(&facts, 0, 5).rule,
                     ORDER_COVER); /* its own zone: cover is named first */
}

static void
r3_test_before_cover(void **state)
{
    (void) state;
    const OrderTask tasks[] = {TASK(in_cabin, 2, .tags = ORDER_TEST), TASK(in_cabin, 3),
                               TASK(in_cabin, 2)};
    OrderFacts facts = facts_of(3, tasks);
    assert_int_equal(arc_of(&facts, 0, 1).from, 0);
    assert_true(arc_of(&facts, 0, 1).rule == ORDER_COVER); /* the same arc: cover is named */
    assert_int_equal(arc_of(&facts, 0, 2).rule, ORDER_AIRING);
    const double start[] = {10.0, 5.0, 0.0}, lasts[] = {1.0, 1.0, 1.0}, need[] = {1.0, 1.0, 1.0};
    DatedPlan plan = {start, lasts, need, 1.0};
    Broken *broken;
    size_t n = plan_check(&facts, &plan, &broken);
    assert_int_equal(n, 1);
    assert_int_equal(broken[0].first, 0);
    assert_int_equal(broken[0].then, 1);
    free(broken);
}

static void
r4_support(void **state)
{
    (void) state;
    const OrderTask tasks[] = {TASK(NOWHERE, -1, PART(unsupports)), TASK(NOWHERE, -1, PART(closes)),
                               TASK(NOWHERE, -1, PART(supports)), TASK(NOWHERE, -1, PART(cuts))};
    OrderFacts facts = facts_of(4, tasks);
    assert_int_equal(arc_of(&facts, 2, 3).rule, ORDER_SUPPORT);
    assert_int_equal(arc_of(&facts, 3, 1).rule, ORDER_SUPPORT);
    assert_int_equal(arc_of(&facts, 1, 0).rule, ORDER_SUPPORT);
    assert_int_equal(count_arcs(&facts), 3);
    /* Without the cut, what is supported is closed. */
    OrderTask fewer[] = {tasks[0], tasks[1], tasks[2]};
    OrderFacts less = facts_of(3, fewer);
    assert_int_equal(arc_of(&less, 2, 1).rule, ORDER_SUPPORT);
    assert_int_equal(count_arcs(&less), 2);
}

static void
r5_integrity(void **state)
{
    (void) state;
    const OrderTask tasks[] = {TASK(NOWHERE, -1, PART(cuts)), TASK(NOWHERE, -1, PART(closes)),
                               TASK(NOWHERE, -1, .tags = ORDER_LAUNCH)};
    OrderFacts facts = facts_of(3, tasks);
    OrderApart *apart;
    assert_int_equal(order_aparts(&facts, &apart), 1);
    assert_int_equal(apart[0].kind, APART_INTEGRITY);
    assert_int_equal(apart[0].first, 0);
    assert_int_equal(apart[0].last, 1);
    assert_int_equal(apart[0].other, 2);
    free(apart);
    const double lasts[] = {1.0, 1.0, 1.0}, need[] = {0.0, 0.0, 0.0};
    const struct {
        double launch_h;
        size_t broken;
    } plans[] = {{5.0, 1}, {11.0, 0}, {-1.0, 0}, {10.5, 1}};
    for (size_t k = 0; k < sizeof plans / sizeof plans[0]; k++) {
        const double start[] = {0.0, 10.0, plans[k].launch_h};
        DatedPlan plan = {start, lasts, need, 1.0};
        Broken *broken;
        assert_int_equal(plan_check(&facts, &plan, &broken), plans[k].broken);
        free(broken);
    }
}

static void
r6_ashore(void **state)
{
    (void) state;
    const OrderTask tasks[] = {
        TASK(NOWHERE, -1, .tags = ORDER_HAUL), TASK(NOWHERE, -1, .tags = ORDER_LAUNCH),
        TASK(NOWHERE, -1, .tags = ORDER_ASHORE), TASK(NOWHERE, -1, .tags = ORDER_AFLOAT)};
    OrderFacts facts = facts_of(4, tasks);
    assert_int_equal(arc_of(&facts, 0, 2).rule, ORDER_LIES);
    assert_int_equal(arc_of(&facts, 2, 1).rule, ORDER_LIES);
    assert_int_equal(count_arcs(&facts), 2);
    OrderApart *apart;
    assert_int_equal(order_aparts(&facts, &apart), 1);
    assert_int_equal(apart[0].kind, APART_ASHORE);
    assert_int_equal(apart[0].other, 3);
    free(apart);
    /* She lies ashore: what needs the water waits for the launch. */
    OrderFacts ashore = facts_of(3, tasks + 1);
    ashore.lies_ashore = true;
    assert_int_equal(arc_of(&ashore, 0, 2).rule, ORDER_LIES);
}

static void
r7_cure(void **state)
{
    (void) state;
    const OrderTask tasks[] = {TASK(in_cabin, 1, .tags = ORDER_WET, .wait_h = 16.0),
                               TASK(in_cabin, 2), TASK(NOWHERE, -1), TASK(in_locker, 2)};
    const Tie ties[] = {{0, 2, TIE_FINISH_START, 4.0}};
    OrderFacts facts = facts_of(4, tasks);
    facts.ties = 1;
    facts.tie = ties;
    assert_float_equal(arc_of(&facts, 0, 1).lag_h, 16.0, 0.0);
    assert_int_equal(arc_of(&facts, 0, 1).lag_rule, ORDER_CURE);
    assert_float_equal(arc_of(&facts, 0, 2).lag_h, 16.0, 0.0); /* the longer of the two */
    assert_int_equal(arc_of(&facts, 0, 3).rule, ORDER_AIRING);
}

static void
r8_immersion(void **state)
{
    (void) state;
    const OrderTask tasks[] = {
        TASK(outside, 1, .tags = ORDER_WET | ORDER_ASHORE, .wait_h = 12.0, .launch_h = 120.0),
        TASK(NOWHERE, -1, .tags = ORDER_LAUNCH), TASK(outside, 1, .launch_h = 72.0)};
    OrderFacts facts = facts_of(3, tasks);
    assert_float_equal(arc_of(&facts, 0, 1).lag_h, 120.0, 0.0);
    assert_int_equal(arc_of(&facts, 0, 1).lag_rule, ORDER_IMMERSION);
    assert_int_equal(arc_of(&facts, 0, 1).rule, ORDER_LIES);
    /* Without the need to be ashore the coat still keeps her out of the water. */
    assert_int_equal(arc_of(&facts, 2, 1).rule, ORDER_IMMERSION);
    assert_float_equal(arc_of(&facts, 2, 1).lag_h, 72.0, 0.0);
}

static void
r9_airing(void **state)
{
    (void) state;
    const OrderTask tasks[] = {TASK(in_cabin, 1, .tags = ORDER_WET, .airing_h = 24.0),
                               TASK(in_locker, 0, .tags = ORDER_DUSTY),
                               TASK(outside, 0, .tags = ORDER_DUSTY),
                               TASK(in_cabin, 0, .tags = ORDER_HOT)};
    OrderFacts facts = facts_of(4, tasks);
    OrderApart *apart;
    size_t n = order_aparts(&facts, &apart);
    assert_int_equal(n, 2); /* the locker shares air, the outside does not */
    assert_int_equal(apart[0].other, 1);
    assert_int_equal(apart[1].other, 3);
    assert_float_equal(apart[0].lag_h, 24.0, 0.0);
    free(apart);
    const double lasts[] = {2.0, 1.0, 1.0, 1.0}, need[] = {0.0, 0.0, 0.0, 0.0};
    const struct {
        double dust_h;
        size_t broken;
    } plans[] = {{27.0, 1}, {28.0, 0}, {1.5, 1}, {1.0, 0}};
    for (size_t k = 0; k < sizeof plans / sizeof plans[0]; k++) {
        const double start[] = {2.0, plans[k].dust_h, 0.0, 0.0};
        DatedPlan plan = {start, lasts, need, 1.0};
        Broken *broken;
        assert_int_equal(plan_check(&facts, &plan, &broken), plans[k].broken);
        free(broken);
    }
}

static void
r10_fire_watch(void **state)
{
    (void) state;
    const OrderTask tasks[] = {TASK(in_cabin, 0, .tags = ORDER_HOT, .watch_h = 1.0),
                               TASK(in_cabin, 1), TASK(in_cabin, 0, .watch_h = 1.0)};
    OrderFacts facts = facts_of(3, tasks);
    assert_float_equal(arc_of(&facts, 0, 1).lag_h, 1.0, 0.0);
    assert_int_equal(arc_of(&facts, 0, 1).lag_rule, ORDER_WATCH);
    assert_float_equal(arc_of(&facts, 2, 1).lag_h, 0.0, 0.0); /* not hot: no watch */
}

static void
r11_passage(void **state)
{
    (void) state;
    const OrderTask tasks[] = {TASK(NOWHERE, -1, PART(shuts)), TASK(in_cabin, 5, PART(large))};
    OrderFacts facts = facts_of(2, tasks);
    assert_int_equal(arc_of(&facts, 1, 0).rule, ORDER_PASSAGE);
    assert_int_equal(arc_of(&facts, 1, 0).what, HATCH);
    assert_int_equal(count_arcs(&facts), 1);
}

static void
r12_people(void **state)
{
    (void) state;
    const OrderTask tasks[] = {TASK(in_cabin, -1), TASK(in_locker, -1), TASK(outside, -1)};
    OrderFacts facts = facts_of(3, tasks);
    const double start[] = {0.0, 1.0, 2.0}, lasts[] = {2.0, 2.0, 1.0}, need[] = {1.0, 1.0, 2.0};
    const size_t broken_with[] = {3, 2, 1, 0}; /* with 0, 1, 2, 3 people, by hand */
    for (size_t people = 1; people < 4; people++) {
        DatedPlan plan = {start, lasts, need, (double) people};
        Broken *broken;
        assert_int_equal(plan_check(&facts, &plan, &broken), broken_with[people]);
        if (people == 1)
            assert_int_equal(broken[0].rule, BROKEN_PEOPLE);
        free(broken);
    }
}

/* --- together -------------------------------------------------------------------------------------------------------- */

/* A pipe is laid, tested, boxed in; the box is painted. Of four tasks in one place one order is left. */
static void
cover_and_uncover(void **state)
{
    (void) state;
    const OrderTask tasks[] = {TASK(in_cabin, 4), TASK(in_cabin, 2),
                               TASK(in_cabin, 2, .tags = ORDER_TEST), TASK(in_cabin, 5)};
    const Tie ties[] = {{1, 2, TIE_FINISH_START, 0.0}};
    OrderFacts facts = facts_of(4, tasks);
    facts.ties = 1;
    facts.tie = ties;
    OrderArc *arc;
    bool cut_short, needless[8];
    size_t n = order_arcs(&facts, &arc, &cut_short), kept = 0;
    assert_int_equal(n, 6);
    assert_true(order_reduce(4, n, arc, true, needless));
    for (size_t k = 0; k < n; k++)
        kept += !needless[k];
    assert_int_equal(kept, 3);
    assert_float_equal(order_count(4, n, arc), 1.0, 0.0);
    free(arc);
}

/* The primer cures 16 h before all that lies over it: one wait says it. */
static void
one_wait_says_it(void **state)
{
    (void) state;
    const OrderTask tasks[] = {TASK(in_cabin, 1, .wait_h = 16.0), TASK(in_cabin, 2),
                               TASK(in_cabin, 3)};
    OrderFacts facts = facts_of(3, tasks);
    OrderArc *arc;
    bool cut_short, needless[3];
    size_t n = order_arcs(&facts, &arc, &cut_short);
    assert_int_equal(n, 3);
    assert_true(order_reduce(3, n, arc, true, needless));
    assert_false(needless[0] || needless[1] || needless[2]);
    assert_true(order_reduce(3, n, arc, false, needless));
    assert_true(!needless[0] && needless[1] && !needless[2]);
    free(arc);
}

/* The box is to be opened again for a weld: hot work in a lined place is a circle of two. */
static void
a_circle_names_its_reasons(void **state)
{
    (void) state;
    const OrderTask tasks[] = {TASK(in_cabin, 5, .tags = ORDER_HOT), TASK(in_cabin, 4)};
    OrderFacts facts = facts_of(2, tasks);
    OrderArc *arc;
    bool cut_short, needless[4];
    size_t task[2], which[2], n = order_arcs(&facts, &arc, &cut_short);
    assert_int_equal(n, 2);
    assert_false(order_reduce(2, n, arc, true, needless));
    assert_int_equal(order_loop(2, n, arc, task, which), 2);
    assert_int_equal(arc[which[0]].rule, ORDER_HEAT);
    assert_int_equal(arc[which[1]].rule, ORDER_COVER);
    assert_float_equal(order_count(2, n, arc), 0.0, 0.0);
    free(arc);
}

static double
factorial(size_t n)
{
    return n < 2 ? 1.0 : (double) n * factorial(n - 1);
}

static void
free_tasks_have_all_orders(void **state)
{
    (void) state;
    for (size_t n = 0; n <= 10; n++)
        assert_float_equal(order_count(n, 0, NULL), factorial(n), 0.0);
    assert_true(isnan(order_count(ORDER_MOST_COUNTED + 1, 0, NULL)));
}

static void
ten_thousand_in_one_place_are_cut_short(void **state)
{
    (void) state;
    size_t n = 10000;
    OrderTask *tasks = calloc(n, sizeof *tasks);
    bool cut_short;
    for (size_t i = 0; i < n; i++)
        tasks[i] = (OrderTask) TASK(in_cabin, (int) (i % 6));
    OrderFacts facts = facts_of(n, tasks);
    OrderArc *arc;
    assert_int_equal(order_arcs(&facts, &arc, &cut_short), ORDER_MOST_ARCS);
    assert_true(cut_short);
    free(arc);
    free(tasks);
}

/* --- plans drawn by chance, against all pairs by brute force ------------------------------------------------------------ */

enum { MOST = 14, DRAWN_ZONES = 4, DRAWN = 4000 };

typedef struct {
    OrderTask task[MOST];
    size_t zone[MOST][2];
    OrderPart part[MOST];
    Tie tie[3];
    ZonePair pair[3];
    OrderFacts facts;
} Drawn;

static void
draw_task(Dice *dice, Drawn *d, size_t i)
{
    static const unsigned tags[] = {
        0, 0, 0, ORDER_HOT, ORDER_WET, ORDER_TEST, ORDER_ASHORE, ORDER_HAUL, ORDER_LAUNCH};
    OrderTask *task = &d->task[i];
    *task = (OrderTask){.zone = d->zone[i], .layer = (int) dice_below(dice, 7) - 1};
    d->zone[i][0] = dice_below(dice, DRAWN_ZONES - 1);
    d->zone[i][1] = d->zone[i][0] + 1;
    task->zones = dice_below(dice, 3);
    task->tags = tags[dice_below(dice, sizeof tags / sizeof tags[0])];
    task->wait_h = dice_below(dice, 3) == 0 ? 8.0 : 0.0;
    task->watch_h = (double) dice_below(dice, 2);
    task->launch_h = dice_below(dice, 4) == 0 ? 4.0 * (double) dice_below(dice, 5) : 0.0;
    task->whole = dice_below(dice, 6) == 0;
    d->part[i] = (OrderPart){(OrderRole) dice_below(dice, 5), dice_below(dice, OPENINGS)};
    task->parts = dice_below(dice, 5) == 0;
    task->part = &d->part[i];
}

/* With layers that mostly rise with the number, so that about half of the plans have no loop. */
static void
draw_plan(Dice *dice, Drawn *d)
{
    size_t n = 2 + dice_below(dice, MOST - 1);
    for (size_t i = 0; i < n; i++)
        draw_task(dice, d, i);
    bool tame = dice_below(dice, 4) > 0;
    for (size_t i = 0; tame && i < n; i++) {
        d->task[i].layer = d->task[i].layer < 0 ? -1 : (int) (6 * i / n);
        if ((d->task[i].tags & ORDER_HOT) != 0 && i > n / 3)
            d->task[i].tags = 0;
    }
    for (size_t k = 0; k < 3; k++) {
        d->pair[k] = (ZonePair){k, k + 1, dice_below(dice, 2) == 0, false};
        size_t from = dice_below(dice, n), to = dice_below(dice, n);
        d->tie[k] = (Tie){tame && from > to ? to : from, tame && from > to ? from : to,
                          TIE_FINISH_START, 8.0 * (double) dice_below(dice, 3)};
    }
    d->facts = (OrderFacts){n,
                            DRAWN_ZONES,
                            OPENINGS,
                            3,
                            dice_below(dice, 4),
                            d->task,
                            d->pair,
                            d->tie,
                            dice_below(dice, 2) == 0};
}

static bool
share_zone(const Drawn *d, size_t i, size_t j, bool faces)
{
    for (size_t a = 0; a < d->task[i].zones; a++)
        for (size_t b = 0; b < d->task[j].zones; b++) {
            size_t x = d->zone[i][a], y = d->zone[j][b];
            if (x == y ||
                (faces && ((x + 1 == y && d->pair[x].face) || (y + 1 == x && d->pair[y].face))))
                return true;
        }
    return false;
}

static bool
has_role(const Drawn *d, OrderRole role, size_t opening)
{
    for (size_t i = 0; i < d->facts.n; i++)
        if (d->task[i].parts > 0 && d->part[i].role == role && d->part[i].opening == opening)
            return true;
    return false;
}

/* The next role of the same opening that anybody has, or a large thing before the closing. */
static bool
by_opening(const Drawn *d, size_t i, size_t j)
{
    if (d->task[i].parts == 0 || d->task[j].parts == 0 || d->part[i].opening != d->part[j].opening)
        return false;
    OrderRole a = d->part[i].role, b = d->part[j].role;
    bool next = b <= ROLE_UNSUPPORT && a < b;
    for (OrderRole between = a + 1; next && between < b; between++)
        next = !has_role(d, between, d->part[i].opening);
    return next || (a == ROLE_LARGE && b == ROLE_CLOSE);
}

/* Each rule of the sheet for one pair, written down a second time. */
static bool
comes_before(const Drawn *d, size_t i, size_t j)
{
    const OrderTask *a = &d->task[i], *b = &d->task[j];
    bool stated = false;
    for (size_t k = 0; k < d->facts.ties; k++)
        stated |= d->tie[k].from == i && d->tie[k].to == j;
    if (i == j)
        return stated;
    bool cover = a->layer >= 0 && a->layer < b->layer && share_zone(d, i, j, false);
    bool heat =
        (a->tags & ORDER_HOT) != 0 && b->layer >= 1 && b->layer <= 4 && share_zone(d, i, j, true);
    bool water =
        ((a->tags & ORDER_HAUL) != 0 && (b->tags & ORDER_ASHORE) != 0) ||
        ((b->tags & ORDER_LAUNCH) != 0 && ((a->tags & ORDER_ASHORE) != 0 || a->launch_h > 0.0));
    return stated || cover || heat || water || by_opening(d, i, j);
}

static void
all_ways(size_t n, bool reach[MOST][MOST])
{
    for (size_t k = 0; k < n; k++)
        for (size_t i = 0; i < n; i++)
            for (size_t j = 0; j < n; j++)
                reach[i][j] |= reach[i][k] && reach[k][j];
}

static void
reach_of_arcs(size_t n, size_t arcs, const OrderArc arc[], bool reach[MOST][MOST])
{
    memset(reach, 0, MOST * sizeof reach[0]);
    for (size_t k = 0; k < arcs; k++)
        reach[arc[k].from][arc[k].to] = true;
    all_ways(n, reach);
}

/* By its definition: another way begins at the same task, and with its longest wait where this one waits. */
static bool
is_needless(const OrderArc *arc, size_t arcs, const OrderArc all[], bool reach[MOST][MOST])
{
    double longest_h = 0.0;
    for (size_t k = 0; k < arcs; k++)
        if (all[k].from == arc->from && all[k].lag_h > longest_h)
            longest_h = all[k].lag_h;
    for (size_t k = 0; k < arcs; k++)
        if (all[k].from == arc->from && reach[all[k].to][arc->to] &&
            (arc->lag_h <= 0.0 || all[k].lag_h >= longest_h))
            return true;
    return false;
}

static size_t
kept_arcs(size_t n, size_t arcs, OrderArc arc[])
{
    bool needless[MOST * MOST];
    size_t kept = 0;
    assert_true(order_reduce(n, arcs, arc, false, needless));
    for (size_t k = 0; k < arcs; k++)
        if (!needless[k])
            arc[kept++] = arc[k];
    return kept;
}

static void
same_kept(size_t n, size_t arcs, OrderArc all[], size_t some, OrderArc few[],
          bool reach[MOST][MOST])
{
    OrderArc wanted[MOST * MOST];
    size_t want = 0;
    for (size_t k = 0; k < arcs; k++)
        if (!is_needless(&all[k], arcs, all, reach))
            wanted[want++] = all[k];
    assert_int_equal(kept_arcs(n, arcs, all), want);
    assert_int_equal(kept_arcs(n, some, few), want);
    for (size_t k = 0; k < want; k++) {
        assert_memory_equal(&all[k], &wanted[k], sizeof wanted[k]);
        assert_memory_equal(&few[k], &wanted[k], sizeof wanted[k]);
    }
}

static void
few_arcs_say_the_same(void **state)
{
    (void) state;
    Dice dice = {20261126};
    size_t loops = 0, fewer = 0;
    for (int round = 0; round < DRAWN; round++) {
        Drawn d;
        bool want[MOST][MOST] = {{false}}, got[MOST][MOST], cut_short, loop = false;
        OrderArc *all, *few;
        draw_plan(&dice, &d);
        size_t n = d.facts.n, arcs = order_arcs(&d.facts, &all, &cut_short),
               some = order_few_arcs(&d.facts, &few, &cut_short);
        for (size_t i = 0; i < n; i++)
            for (size_t j = 0; j < n; j++)
                want[i][j] = comes_before(&d, i, j);
        all_ways(n, want);
        reach_of_arcs(n, arcs, all, got);
        assert_memory_equal(got, want, sizeof want);
        reach_of_arcs(n, some, few, got);
        assert_memory_equal(got, want, sizeof want);
        for (size_t i = 0; i < n; i++)
            loop |= want[i][i];
        bool needless[MOST * MOST];
        assert_int_equal(order_reduce(n, some, few, false, needless), !loop);
        if (!loop)
            same_kept(n, arcs, all, some, few, got);
        loops += loop;
        fewer += some < arcs;
        free(all);
        free(few);
    }
    assert_in_range(loops, DRAWN / 10, DRAWN * 9 / 10);
    assert_in_range(fewer, DRAWN / 10, DRAWN);
}

/* A whole boat of a place with m tasks in each of its layers: only neighbours are tied. */
static void
layers_hand_the_order_on(void **state)
{
    (void) state;
    enum { EACH = 50, ALL = 6 * EACH };
    OrderTask *tasks = calloc(ALL, sizeof *tasks);
    for (size_t i = 0; i < ALL; i++)
        tasks[i] = (OrderTask) TASK(in_cabin, (int) (i % 6));
    OrderFacts facts = facts_of(ALL, tasks);
    OrderArc *arc;
    bool cut_short;
    assert_int_equal(order_arcs(&facts, &arc, &cut_short), 15 * EACH * EACH);
    free(arc);
    assert_int_equal(order_few_arcs(&facts, &arc, &cut_short), 5 * EACH * EACH);
    free(arc);
    free(tasks);
}

/* Two welds close one hole: she is moved before the cut or after both. */
static void
the_last_closing_counts(void **state)
{
    (void) state;
    const OrderTask tasks[] = {TASK(NOWHERE, -1, PART(cuts)), TASK(NOWHERE, -1, PART(closes)),
                               TASK(NOWHERE, -1, PART(closes)),
                               TASK(NOWHERE, -1, .tags = ORDER_MOVE)};
    OrderFacts facts = facts_of(4, tasks);
    OrderApart *apart;
    assert_int_equal(order_aparts(&facts, &apart), 2);
    assert_int_equal(apart[0].last, 1);
    assert_int_equal(apart[1].last, 2);
    free(apart);
}

/* --- several times ashore ------------------------------------------------------------------------------------------------ */

enum { HAUL_B, LAUNCH_B, WELD, HAUL_A, LAUNCH_A, TRIAL, PAINT, STAY_TASKS };
#define MARK(tag) TASK(NOWHERE, -1, .tags = (tag))
static const OrderTask two_stays[STAY_TASKS] = {
    [HAUL_B] = MARK(ORDER_HAUL),
    [LAUNCH_B] = MARK(ORDER_LAUNCH),
    [WELD] = TASK(outside, 0, .tags = ORDER_ASHORE | ORDER_HOT),
    [HAUL_A] = MARK(ORDER_HAUL),
    [LAUNCH_A] = MARK(ORDER_LAUNCH),
    [TRIAL] = TASK(NOWHERE, -1, .tags = ORDER_AFLOAT),
    [PAINT] = TASK(outside, 1, .tags = ORDER_ASHORE, .launch_h = 72.0)};

static bool
is_tied(const OrderFacts *facts, size_t from, size_t to)
{
    return arc_of(facts, from, to).rule == ORDER_LIES;
}

/* Out, welded, in, tried under way; out again, painted, in: told by `after` alone, in spite of the numbers. */
static void
she_is_hauled_out_twice(void **state)
{
    (void) state;
    OrderTask tasks[STAY_TASKS];
    memcpy(tasks, two_stays, sizeof tasks);
    const Tie ties[] = {{LAUNCH_A, TRIAL, TIE_FINISH_START, 0.0},
                        {TRIAL, HAUL_B, TIE_FINISH_START, 0.0},
                        {TRIAL, PAINT, TIE_FINISH_START, 0.0}};
    OrderFacts facts = facts_of(STAY_TASKS, tasks);
    facts.ties = 3;
    facts.tie = ties;
    facts.stays = order_stays(&facts, tasks);
    assert_int_equal(facts.stays, 2);
    assert_int_equal(tasks[HAUL_A].stay, 0);
    assert_int_equal(tasks[LAUNCH_A].stay, 0);
    assert_int_equal(tasks[WELD].stay, 0);
    assert_int_equal(tasks[HAUL_B].stay, 1);
    assert_int_equal(tasks[LAUNCH_B].stay, 1);
    assert_int_equal(tasks[PAINT].stay, 1);
    assert_true(is_tied(&facts, HAUL_A, WELD) && is_tied(&facts, WELD, LAUNCH_A));
    assert_true(is_tied(&facts, LAUNCH_A, HAUL_B) && is_tied(&facts, HAUL_B, PAINT));
    assert_float_equal(arc_of(&facts, PAINT, LAUNCH_B).lag_h, 72.0, 0.0);
    assert_false(is_tied(&facts, HAUL_B, WELD) || is_tied(&facts, PAINT, LAUNCH_A));
    OrderApart *apart;
    assert_int_equal(order_aparts(&facts, &apart), 2);
    assert_int_equal(apart[0].first, HAUL_B);
    assert_int_equal(apart[0].last, LAUNCH_B);
    assert_int_equal(apart[1].first, HAUL_A);
    assert_int_equal(apart[1].last, LAUNCH_A);
    assert_int_equal(apart[1].other, TRIAL);
    free(apart);
}

/* Nothing said: all work ashore is for the first time, but what lies over work of the second is for the second: no circle. */
static void
the_first_stay_that_the_order_leaves(void **state)
{
    (void) state;
    OrderTask tasks[STAY_TASKS];
    memcpy(tasks, two_stays, sizeof tasks);
    OrderFacts facts = facts_of(STAY_TASKS, tasks);
    facts.stays = order_stays(&facts, tasks);
    assert_int_equal(facts.stays, 2);
    assert_int_equal(tasks[WELD].stay, 0);
    assert_int_equal(tasks[PAINT].stay, 0);
    const Tie tie = {LAUNCH_B, WELD, TIE_FINISH_START, 0.0};
    facts.ties = 1;
    facts.tie = &tie;
    facts.stays = order_stays(&facts, tasks);
    assert_int_equal(tasks[HAUL_B].stay, 0); /* the lower number */
    assert_int_equal(tasks[WELD].stay, 1);
    assert_int_equal(tasks[PAINT].stay, 1); /* R1: over the weld */
    OrderArc *arc;
    bool cut_short, needless[64];
    size_t n = order_arcs(&facts, &arc, &cut_short);
    assert_true(n <= 64 && order_reduce(STAY_TASKS, n, arc, false, needless));
    free(arc);
}

/* Ashore now: launched, then hauled out once more. With one launch alone all is one stay. */
static void
she_lies_ashore_and_comes_again(void **state)
{
    (void) state;
    OrderTask tasks[] = {MARK(ORDER_HAUL), MARK(ORDER_LAUNCH),
                         TASK(outside, 0, .tags = ORDER_ASHORE),
                         TASK(NOWHERE, -1, .tags = ORDER_AFLOAT)};
    OrderFacts facts = facts_of(4, tasks);
    facts.lies_ashore = true;
    facts.stays = order_stays(&facts, tasks);
    assert_int_equal(facts.stays, 2);
    assert_int_equal(tasks[1].stay, 0);
    assert_int_equal(tasks[0].stay, 1);
    assert_int_equal(tasks[2].stay, 0);
    assert_true(is_tied(&facts, 2, 1) && is_tied(&facts, 1, 3) && is_tied(&facts, 1, 0));
    assert_false(is_tied(&facts, 0, 2));
    OrderFacts once = facts_of(3, &tasks[1]);
    once.lies_ashore = true;
    assert_int_equal(order_stays(&once, &tasks[1]), 1);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(r1_cover),
        cmocka_unit_test(r2_heat),
        cmocka_unit_test(r3_test_before_cover),
        cmocka_unit_test(r4_support),
        cmocka_unit_test(r5_integrity),
        cmocka_unit_test(r6_ashore),
        cmocka_unit_test(r7_cure),
        cmocka_unit_test(r8_immersion),
        cmocka_unit_test(r9_airing),
        cmocka_unit_test(r10_fire_watch),
        cmocka_unit_test(r11_passage),
        cmocka_unit_test(r12_people),
        cmocka_unit_test(cover_and_uncover),
        cmocka_unit_test(one_wait_says_it),
        cmocka_unit_test(a_circle_names_its_reasons),
        cmocka_unit_test(free_tasks_have_all_orders),
        cmocka_unit_test(ten_thousand_in_one_place_are_cut_short),
        cmocka_unit_test(few_arcs_say_the_same),
        cmocka_unit_test(layers_hand_the_order_on),
        cmocka_unit_test(the_last_closing_counts),
        cmocka_unit_test(she_is_hauled_out_twice),
        cmocka_unit_test(the_first_stay_that_the_order_leaves),
        cmocka_unit_test(she_lies_ashore_and_comes_again),
    };
    return cmocka_run_group_tests_name("order", tests, NULL, NULL);
}
