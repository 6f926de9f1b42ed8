/* The longest chain of work before a day: how soon the boat can be ready at best.
 *
 * Each task begins when what comes before it is done, cured and delivered, and goes on at the hours that all who may do it give
 * together, as if nobody had anything else to do. What is busy elsewhere only makes it later: a day that this misses is missed. */
#pragma once

#include "checks/work/work.h"

typedef struct {
    int from_day;     /* tasks that are `held` begin no earlier; the others today */
    int until_day;    /* how far one looks, and two months more */
    const bool *held; /* [n_tasks] */
    const bool *
        target; /* [n_tasks] launches, whose beginning counts; without one of them all that is held, ended and cured */
} ChainAsked;

typedef struct {
    size_t n;        /* tasks of the chain, the first one first */
    size_t *task;    /* [n] */
    double *lasts_d; /* [n] days of each */
    double *
        idle_d; /* [n + 1] days of waiting before each, of the first since the day all begins; then after the last */
    size_t bought; /* the purchase that the first task waits for, or NO_TASK */
    bool dated;    /* the first task waits for a day that the owner set */
    double begin_day, ready_day, spread_d;
} WorkChain;

/* false: the order holds a circle, or nothing is asked for. */
bool work_chain_find(const Work *work, const ChainAsked *asked, WorkChain *chain);
void work_chain_clear(WorkChain *chain);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(WorkChain, work_chain_clear)
