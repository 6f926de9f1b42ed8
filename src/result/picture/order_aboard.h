/* The order of the work drawn where it happens. */
#pragma once

#include "result/picture/parts.h"

typedef struct {
    const char *path, *name;
    Spot at;       /* NAN: it happens nowhere in particular, and stands in the list alone */
    size_t number; /* its place in the order, from 1; 0: done */
    bool hot, test, cover, ashore;
} OrderTask;

typedef struct {
    size_t from, to; /* tasks */
    const char *why; /* in one sentence */
    bool derived;    /* from the boat herself; else the owner wrote it */
} OrderTie;

typedef struct {
    const char *caption;
    size_t deck_points; /* outline of the hull, aft to forward; 0: not known */
    const double *deck_x_m, *deck_y_m;
    size_t tasks, ties;
    const OrderTask *task; /* in their order */
    const OrderTie *tie;   /* none that follows from others */
} OrderAboardPicture;
