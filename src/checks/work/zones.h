/* Zones of the boat for the rules of order: of each space its inside, its outer skin and the deck above it. */
#pragma once

#include "checks/work/work.h"

enum { SIDES = 3 };

static inline size_t
zone_of(size_t space, int side)
{
    return SIDES * space + (size_t) side;
}

/* Fills pair and faces of the work: zones that are two faces of a plate or share air. */
void zones_note(Work *work);
/* Zones of a task; what is done outside or on deck of no space in particular is done on all of them. g_free. */
size_t *zones_of_task(const WorkPlan *plan, const WorkTask *task, size_t *n);
/* "the engine room", "the outside of the saloon". */
const char *zone_words(WorkPlan *plan, size_t zone);
/* Whether the two tasks meet: in one zone (1), in two that are faces of a plate (2), nowhere (0). */
int zones_meet(const Work *work, const WorkTask *a, const WorkTask *b);
