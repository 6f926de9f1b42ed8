/* Filling the pictures of the work. Those of the forecast need one in the store. */
#pragma once

#include "checks/figure_store.h"

void *figure_closing_up(FigureStore *store);
void *figure_timeline(FigureStore *store);     /* of a forecast */
void *figure_order_aboard(FigureStore *store); /* of a forecast */
void *figure_tornado(FigureStore *store);      /* of a forecast */
