/* What is to be bought, and by when. */
#pragma once

#include "report/work/work_lines.h"

typedef struct {
    const WorkPurchase *purchase;
    double needed_day; /* the plan's earliest begin of what needs it; NAN: no dates */
    double order_day;  /* the last day to order, by the longest delivery; NAN: no dates */
    size_t first_task; /* that needs it; NO_TASK */
    size_t rank;       /* of that task in the order of the work */
} ToBuy;

/* ToBuy, what is wanted or on its way, by the day to order, then in the order of the work. g_array_unref. */
GArray *buying_list(const WorkLines *lines);
