/* A plan of work made by hand, and a forecast of it: a tunnel welded ashore, cables behind a lining, purchases of every state.
 * Invented boat. */
#pragma once

#include "report/work/work_papers.h"

enum {
    DEMO_HAUL,
    DEMO_CUT,
    DEMO_PRIME,
    DEMO_CABLES,
    DEMO_TEST,
    DEMO_LINE,
    DEMO_LAUNCH,
    DEMO_STOVE,
    DEMO_TASKS
};

typedef struct {
    Boat *boat;
    Result *result;
    WorkPlan *plan;
    WorkForecast *forecast;
    Asked asked;
} DemoWork;

/* hostile: the owner's texts would break a page, a table, a calendar. */
DemoWork *demo_work_new(bool hostile);
void demo_work_free(DemoWork *demo);
/* dated: with the forecast. */
WorkSource demo_work_source(const DemoWork *demo, bool dated);
