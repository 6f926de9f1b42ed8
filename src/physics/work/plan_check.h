/* Which rules of the order of work a plan with dates breaks.
 *
 *     an arc          S_then >= F_first + lag
 *     integrity, R5   no move, haul or launch between the first cut of an opening and its last close; first is the cut
 *     airing, R9      nothing hot or dusty from the start of wet work in the same or an air zone until it has aired
 *     ashore, R6      nothing that needs her afloat from the start of a haul-out to the end of the launch after it
 *     people, R12     at the start of a task the running ones need no more hands than there are; named are the first and last of them
 *
 * Touching is not overlapping. Every pair is listed once a rule, by first, then, and rule.
 *
 * Given    start_h[n], duration_h[n] >= 0, need[n] >= 0
 * Source   docs/methods/work.md 3.2
 * Checked  plan-check in tests/cases/work.csv; tests/physics/test_order.c */
#pragma once

#include "physics/work/order.h"

typedef enum {
    BROKEN_ASHORE,
    BROKEN_COVER,
    BROKEN_HEAT,
    BROKEN_INTEGRITY,
    BROKEN_PASSAGE,
    BROKEN_PEOPLE,
    BROKEN_STATED,
    BROKEN_SUPPORT,
    BROKEN_TEST,
    BROKEN_AIRING
} BrokenRule; /* in the order of their words; that of airing is `vapour` */

typedef struct {
    size_t first, then;
    BrokenRule rule;
} Broken;

typedef struct {
    const double *start_h, *duration_h, *need; /* [n] */
    double people;
} DatedPlan;

/* How many are broken; free() them. */
size_t plan_check(const OrderFacts *facts, const DatedPlan *plan, Broken **broken);
