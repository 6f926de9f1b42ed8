/* Whether any schedule keeps the windows: all schedules in the order of time, with proofs why most need not be looked at.
 *
 * At every instant at which something finishes or has waited long enough, each task that could start does so or is put off. A task put
 * off may not start later when it could have run in the meantime. A state is dropped when a window can no longer be kept, when the
 * work that is left does not fit into the capacity that is left, or when a state with the same tasks begun, none of them finished
 * later, has been refuted before.
 *
 * Source   Demeulemeester and Herroelen, Management Science 43 (1997) 1485-1492 (cutsets, left shifts; memory)
 * Checked  tests/physics/test_rcpsp_exact.c: the optima of 96 open projects */
#pragma once

#include "physics/work/rcpsp_window.h"

typedef enum { REFUTE_FOUND, REFUTE_NONE, REFUTE_CUT } RefuteOutcome;

/* Keeps what it has refuted from call to call, as long as the window stays the same. */
typedef struct RcpspRefuter RcpspRefuter;
RcpspRefuter *rcpsp_refuter_new(const RcpspWindow *window);
void rcpsp_refuter_free(RcpspRefuter *refuter);
/* REFUTE_FOUND: start[n] is filled. REFUTE_CUT: not decided after that many states. */
RefuteOutcome rcpsp_refute(RcpspRefuter *refuter, size_t states, int start[]);
