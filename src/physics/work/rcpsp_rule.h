/* Priority rules for single passes: a key for every task, small is urgent.
 *
 *     LFT     latest finish, LST latest start, both from the length without limits of capacity
 *     MTS     all that follows, direct or not, most first       GRPW    own duration and those that follow directly, most first
 *     RPWALL  own duration and those of all that follows        SPT     own duration, least first
 *
 * Source   Kolisch 1996, EJOR 90, 320-333 (memory); docs/methods/work.md 2.3
 * Checked  the twelve columns of tests/cases/psplib/j30.csv, all 96 projects */
#pragma once

#include "physics/work/rcpsp.h"

typedef enum {
    RCPSP_LFT,
    RCPSP_LST,
    RCPSP_MTS,
    RCPSP_GRPW,
    RCPSP_RPWALL,
    RCPSP_SPT,
    RCPSP_RULES
} RcpspRule;

/* Fills key[n]. */
void rcpsp_rule(Rcpsp *project, RcpspRule rule, double key[]);

/* Forward-backward improvement of a schedule: all tasks pushed to its end, the one that finishes last first, then back to its
 * beginning, the one that starts first first, as long as the makespan falls.
 *
 * start_h[n] is improved in place; list[n] becomes the order of the last pass; right_h[n], or NULL, the starts after the first
 * push to the end, counted from the earliest of them. Gives the makespan; *schedules, or NULL, grows by one a direction.
 * Source   Li and Willis 1992; Valls, Ballestin, Quintanilla, EJOR 165 (2005) 375-386 (memory); docs/methods/work.md 2.5 */
double rcpsp_improve(Rcpsp *project, double start_h[], size_t list[], double right_h[],
                     size_t *schedules);
