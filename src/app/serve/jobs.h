/* Work beside the main thread: what saves goes one after the other in its order, the rest several at once. */
#pragma once

#include <stdbool.h>

typedef struct Jobs Jobs;

Jobs *jobs_new(void);
/* work on a worker, then done on the main thread. False: too many wait. */
bool jobs_push(Jobs *jobs, bool saves, void (*work)(void *data), void (*done)(void *data),
               void *data);
/* What was begun goes on as a reader, before those that wait. False: all is ending. */
bool jobs_go_on(Jobs *jobs, void (*work)(void *data), void (*done)(void *data), void *data);
unsigned jobs_open(const Jobs *jobs); /* not yet done */
void jobs_free(Jobs *jobs);           /* what waits is not begun, what runs is waited for */
