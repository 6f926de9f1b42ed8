/* Cables on the plan of the boat, from end to end. */
#pragma once

#include "result/picture/parts.h"

typedef struct { /* where cables end */
    const char *path, *name;
    Spot at;    /* z NAN: not known */
    bool feeds; /* cables lead on from here: a board, a bank, a source */
} RouteEnd;

typedef struct {
    const char *path, *name;
    size_t from, to;          /* ends */
    double area_m2, length_m; /* as typed; NAN: not known */
    double straight_m;        /* between its ends, as the crow flies */
    bool too_short;    /* shorter than that, even at the far end of what the places may be off */
    const char *label; /* at both its ends, as the papers have it; NULL: it bears none */
} CableRoute;

typedef struct {
    const char *caption;
    const char *unplaced; /* a sentence: which circuits are not drawn and why; or NULL */
    size_t deck_points;   /* outline of the hull, aft to forward; 0: not known */
    const double *deck_x_m, *deck_y_m;
    size_t ends, routes;
    const RouteEnd *end; /* aft to forward */
    const CableRoute *route;
} CableRoutesPicture;
