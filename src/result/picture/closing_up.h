/* Every space of the boat with what still keeps it open. */
#pragma once

#include "result/picture/parts.h"

typedef struct {
    const char *path, *name; /* of the work */
    const char *why;         /* "its cables are not tested yet" */
    bool misses_test;        /* it would be covered without a test or a photograph */
} OpenReason;

typedef struct {
    Block block;            /* of the space; a surface outside has none: all NAN */
    const char *cover_path; /* the work that closes it, or NULL: nothing covers it */
    const char *cover_name;
    size_t reasons;
    const OpenReason *reason; /* nothing: it may be closed */
    bool closed;              /* its cover is on */
} OpenSpace;

typedef struct {
    const char *caption;
    size_t deck_points; /* outline of the hull, aft to forward; 0: not known */
    const double *deck_x_m, *deck_y_m;
    size_t spaces;
    const OpenSpace *space; /* aft to forward */
} ClosingUpPicture;
