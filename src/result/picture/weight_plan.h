/* What weighs where: bubbles sized by moment about G, in side view and plan. */
#pragma once

#include "result/picture/parts.h"

typedef struct {
    const char *caption, *situation;
    size_t items;
    const MassMark *item; /* items, people, liquids, loose ballast: all of the sum */
    size_t deck_points;   /* outline of the hull, aft to forward */
    const double *deck_x_m, *deck_y_m, *deck_z_m, *bottom_z_m; /* [deck_points] */
    double total_kg, total_spread_kg;
    Spot g, g_spread; /* g_spread: 95 % along each axis, NAN: not followed */
    double lcb_m;     /* where the water carries her */
} WeightPlanPicture;
