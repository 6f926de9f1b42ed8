/* What the files of rcpsp share. */
#pragma once

#include "physics/work/rcpsp.h"

typedef struct {
    size_t task;
    double lag_h;
} RcpspLead;

struct Rcpsp {
    size_t n;
    double *duration_h;
    uint64_t *need; /* four lanes of 16 bits */
    uint64_t capacity;
    size_t *first[2]; /* neighbours before [0] and after [1], with lags */
    RcpspLead *lead[2];
    TaskLists *lists;
    /* scratch */
    size_t spans;
    double *from_h; /* free[k] holds from from_h[k] to from_h[k + 1]; the last for ever */
    uint64_t *free;
    double *ready_h;
    size_t *open, *bag, *running;
};

/* Lanes hold up to 2^15 - 1, so that the sixteenth bit shows which of them would fall below 0. */
#define RCPSP_GUARD UINT64_C(0x8000800080008000)

static inline bool
rcpsp_fits(uint64_t free, uint64_t need)
{
    return (((free | RCPSP_GUARD) - need) & RCPSP_GUARD) == RCPSP_GUARD;
}

static inline unsigned
rcpsp_lane(uint64_t word, size_t kind)
{
    return (unsigned) (word >> (16 * kind)) & 0x7fffu;
}
