/* Which work must come first on a boat, from zones, layers and tags alone.
 *
 *     R1 cover      in one zone: the lower layer before the higher
 *     R2 heat       hot work before layers 1 to 4 of its zone and of the other faces of the plate
 *     R3 test       in one zone: the test before every higher layer
 *     R4 support    of one opening: support, cut, close, take the support away, each before the next that is there
 *     R6 ashore     haul out, work that needs her ashore, launch; what needs her afloat comes after the launch when she lies ashore
 *     R7 cure       what follows a task waits until it has cured: the lag of every arc out of it
 *     R8 immersion  the launch waits for the last coat below water
 *     R10 watch     what follows hot work waits for the watch after it
 *     R11 passage   a large thing goes through an opening before that is closed
 *     stated        what somebody said
 *
 * Of the same task and the same next task there is one arc, of the first rule in the order cover, heat, test, support, ashore,
 * passage, stated, with the longest of the lags. Two more rules forbid an overlap and give no order:
 *
 *     R5 integrity  no move, haul or launch from the first cut of an opening to its last close
 *     R9 airing     nothing hot or dusty from the start of wet work in the same or an air zone until it has aired
 *     R6 ashore     nothing that needs her afloat from the start of a haul-out to the end of the launch
 *
 * Where she is hauled out more than once, R6 and R8 hold of each stay ashore for itself, and the next haul-out follows the launch.
 *
 * Given    tasks by number; zones and openings by number; pairs of zones that are two faces of a plate or share air
 * Source   docs/methods/work.md 3.2; 29 CFR 1915.53 behind R2 (read); the rest common practice
 * Checked  work-order and plan-check in tests/cases/work.csv; tests/physics/test_order.c: each rule, small boats solved by hand */
#pragma once

#include "base/source.h"
#include "physics/work/task_network.h"

typedef enum {
    ORDER_HOT = 1 << 0,
    ORDER_DUSTY = 1 << 1,
    ORDER_WET = 1 << 2,
    ORDER_TEST = 1 << 3,
    ORDER_HAUL = 1 << 4,
    ORDER_LAUNCH = 1 << 5,
    ORDER_MOVE = 1 << 6,
    ORDER_ASHORE = 1 << 7, /* needs her ashore */
    ORDER_AFLOAT = 1 << 8
} OrderTag;
typedef enum { ROLE_SUPPORT, ROLE_CUT, ROLE_CLOSE, ROLE_UNSUPPORT, ROLE_LARGE } OrderRole;
typedef struct {
    OrderRole role;
    size_t opening;
} OrderPart;

typedef struct {
    size_t zones;
    const size_t *zone; /* [zones], none twice */
    int layer;          /* 0 to 5; -1: none */
    unsigned tags;
    size_t parts;
    const OrderPart *part;
    double wait_h;   /* R7; 0: none */
    double watch_h;  /* R10; 0: none */
    double launch_h; /* R8; 0: none */
    double airing_h; /* R9 */
    bool whole;      /* every arc of it counts, for it may be overruled */
    int stay;        /* the time ashore it belongs to, from 0; of one afloat the next one */
} OrderTask;

typedef struct {
    size_t a, b; /* zones, valid both ways */
    bool face, air;
} ZonePair;

typedef struct {
    size_t n, zones, openings, pairs, ties;
    const OrderTask *task; /* [n] */
    const ZonePair *pair;  /* [pairs] */
    const Tie *tie;        /* [ties] stated, finish-start */
    bool lies_ashore;
    size_t stays; /* times ashore; 0 and 1: there is one, to which all belong */
} OrderFacts;

/* Sets `stay` of tasks, which are those of the facts, and returns how many times she is ashore. Haul-outs and launches take turns by
 * number where no arc says otherwise; a task belongs to the first stay that what comes before it leaves. With one haul-out and one
 * launch, or a loop, all is one. */
size_t order_stays(const OrderFacts *facts, OrderTask task[]);

/* In the order in which one of several rules is named; numbers of the sheet stand in order_rule_number. */
typedef enum {
    ORDER_COVER,
    ORDER_HEAT,
    ORDER_TESTED,
    ORDER_SUPPORT,
    ORDER_LIES, /* R6 */
    ORDER_PASSAGE,
    ORDER_STATED,
    ORDER_IMMERSION, /* the launch waits; names no arc of its own that R6 does not make */
    ORDER_CURE,
    ORDER_WATCH,
    ORDER_INTEGRITY,
    ORDER_AIRING
} OrderRule;

typedef struct {
    size_t from, to;
    double lag_h;
    OrderRule rule;
    OrderRule
        lag_rule; /* ORDER_CURE, ORDER_WATCH, ORDER_IMMERSION or ORDER_STATED; the rule itself without lag */
    size_t what; /* zone of cover, heat and test (of from); opening; number of the stated tie */
} OrderArc;

/* More arcs than this are not made: so many tasks in one place are no refit. */
enum { ORDER_MOST_ARCS = 500000 };

/* Arcs in the order of from, then to; free() them. *cut_short: there were too many. */
size_t order_arcs(const OrderFacts *facts, OrderArc **arc, bool *cut_short);
/* The same without arcs that order_reduce would find needless, all_lags being false, as far as layers alone say it: with the same
 * loops and the same arcs left by it. Of a task that is `whole` every arc is there. */
size_t order_few_arcs(const OrderFacts *facts, OrderArc **arc, bool *cut_short);
/* Marks arcs whose end is also reached by another way. An arc with a lag is kept; but where all_lags is false only when no other
 * way begins with the longest lag out of its task. false when the arcs hold a loop. */
bool order_reduce(size_t n, size_t arcs, const OrderArc arc[], bool all_lags, bool needless[]);
/* Fills reach[n]: whether a task comes behind `from` by one arc or several. */
void order_reach(size_t n, size_t arcs, const OrderArc arc[], size_t from, bool reach[]);
/* As order_task_loop of the arcs: see task_loop. */
size_t order_loop(size_t n, size_t arcs, const OrderArc arc[], size_t task[], size_t which[]);
/* Linear orders that respect the arcs; NAN above ORDER_MOST_COUNTED tasks, 0 with a loop. */
enum { ORDER_MOST_COUNTED = 24 };
double order_count(size_t n, size_t arcs, const OrderArc arc[]);

typedef enum { APART_INTEGRITY, APART_AIRING, APART_ASHORE } ApartKind;
typedef struct {
    size_t first, last; /* of an airing both are the wet task; last = n: nothing closes it */
    size_t other;       /* not from the start of first to lag_h after the end of last */
    double lag_h;
    ApartKind kind;
    size_t what; /* opening, zone of the wet task */
} OrderApart;
/* Sorted by first, then other; free() them. */
size_t order_aparts(const OrderFacts *facts, OrderApart **apart);
