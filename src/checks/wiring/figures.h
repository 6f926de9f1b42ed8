/* Filling the pictures of the wiring. */
#pragma once

#include "checks/figure_store.h"
#include "checks/wiring/wiring.h"

/* Each gives the picture's struct, or NULL and why not. */
void *figure_one_line(FigureStore *store);
