/* The boat as she is lifted and set down: slings, what they bear, and the first block. */
#pragma once

#include "result/picture/parts.h"

typedef struct {
    double x_m;
    double load_kg, spread_kg; /* NAN: she would tip out */
} SlingMark;

typedef enum { SLINGS_HOLD, SLINGS_MAY_SLACKEN, SLINGS_TIP } SlingsHold;

typedef struct {
    const char *caption;
    SideOutline hull;
    size_t houses;
    const Block *house;
    Spot g;
    double lcg_spread_m, mass_kg, mass_spread_kg;
    double crane_kg;    /* what to tell the crane */
    SlingMark sling[2]; /* aft, forward */
    bool slings_assumed;
    SlingsHold hold;
    double block_x_m, block_z_m; /* first block; NAN: a flat bottom, or the keel never lands */
    bool block_assumed;
    double block_kg, block_spread_kg; /* as the whole keel comes to bear */
    double left_m;                    /* metacentric height then */
} SlingsPicture;
