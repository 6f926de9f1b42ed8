/* The body plan: stations as they were taken, over the sections of the hull that was joined from them. */
#pragma once

#include "result/picture/parts.h"

typedef struct {
    double y_m, z_m;
    bool knuckle;
    const char *name; /* of the knuckle, or NULL */
} TakenPoint;

typedef struct {
    const char *path, *name;
    size_t n;
    const TakenPoint *point; /* [n], bottom to deck edge; n 0: only the joined section is known */
    HalfSection joined;      /* the hull's own section there; its x_m is the place */
} TakenStation;

/* A tape reading that stands apart from its neighbours. */
typedef struct {
    const char *path, *name; /* "plumb-4, reading 3" */
    double x_m, y_m, z_m;
    double out_m; /* from where the neighbours have it, + outward or up; NAN: not said */
} SuspectPoint;

typedef enum { STATIONS_TAKEN, STATIONS_TAPED, STATIONS_FROM_FORM } StationsFrom;

typedef struct {
    const char *caption;
    StationsFrom from;
    double within_m; /* 95 % of every half-breadth and height */
    size_t stations, suspects;
    const TakenStation *station; /* [stations], aft to forward */
    const SuspectPoint *suspect;
    double middle_m; /* stations aft of it stand to the left */
    Lie lie;         /* origin_depth NAN: no water line; the list is not shown */
} StationsPicture;
